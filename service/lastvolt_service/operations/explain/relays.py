"""Steps to what a relay's coil and contact do."""

from collections.abc import Mapping
from typing import Any

from lastvolt_service.operations.conductors import copper_change, copper_coefficient_per_k
from lastvolt_service.operations.explain.conductors import LINEAR
from lastvolt_service.operations.explain.steps import (
    GIVEN,
    JOULE,
    OHM,
    Steps,
    interpolated,
)
from lastvolt_service.operations.relay_coil import SCALING, RelayCoil
from lastvolt_service.operations.relay_contact import RelayContact
from lastvolt_service.physics import coil as physics
from lastvolt_service.tables.limits import inrush
from lastvolt_service.tables.materials import material

SELF_HEATING = "self-heating of a coil whose resistance rises with it: positive root"
AT_SWITCH_OFF = "the current of an inductance goes on at the first moment"
DECAY = "L di/dt = -(R + R_s) i - V_c, solved for the time to drop-out"
FORWARD = "common practice: forward voltage of a silicon diode"
RATIO = "1 + copper_per_k * ({} - 20)"


def copper_steps(steps: Steps, symbol: str, hot: str, cold: str) -> str:
    """Take the step to the ratio of copper's resistances at two temperatures.

    Parameters
    ----------
    steps : Steps
        Where to.
    symbol : str
        What the ratio is called.
    hot, cold : str
        Symbols of the temperatures.

    Returns
    -------
    str
        The symbol.
    """
    copper = material("copper")
    steps.published(
        "copper_per_k",
        copper_coefficient_per_k(),
        "temperature coefficient of copper at 20 degC",
        copper.citation,
    )
    return steps.computed(
        symbol,
        f"({RATIO.format(hot)}) / ({RATIO.format(cold)})",
        copper_change(steps.value(hot), steps.value(cold)),
        f"resistance of copper at {hot} over that at {cold}",
        LINEAR,
    )


def explain_coil(arguments: Mapping[str, Any], answer: RelayCoil, steps: Steps) -> None:
    """Explain ``relay-coil``."""
    _given(steps, arguments)
    drive_v = arguments.get("maximum_v")
    given = "nominal_v" if drive_v is None else "maximum_v"
    steps.computed(
        "drive_v",
        given,
        arguments[given],
        "highest lasting voltage at the coil",
        GIVEN,
    )
    cold = copper_steps(steps, "change_cold", "ambient_c", "reference_temperature_c")
    cold_ohm = arguments["coil_resistance_ohm"] * steps.value(cold)
    steps.computed(
        "cold_resistance_ohm", f"reference_resistance_ohm * {cold}", cold_ohm, "at ambient", LINEAR
    )
    if arguments.get("thermal_resistance_k_per_w") is not None:
        _warm(steps, arguments)
    is_warm = arguments["energised_before"] and "warm_c" in steps
    at = "warm_c" if is_warm else "ambient_c"
    change = "change_warm" if is_warm else "change_cold"
    steps.computed(
        "coil_temperature_c", at, answer.coil_temperature_c, "warm from use, or at ambient", SCALING
    )
    _headlines(steps, answer, change)
    if arguments.get("coil_limit_c") is not None and answer.maximum_continuous_v is not None:
        _longest(steps, arguments, answer.maximum_continuous_v)
    _switch_off(steps, arguments, answer)


def _given(steps: Steps, arguments: Mapping[str, Any]) -> None:
    for symbol, field, meaning in (
        ("nominal_v", "nominal_v", "nominal voltage of the coil"),
        ("reference_resistance_ohm", "coil_resistance_ohm", "of the coil, by its maker"),
        ("reference_pick_up_v", "pick_up_v", "that closes it, by its maker"),
        ("reference_drop_out_v", "drop_out_v", "below which it opens, by its maker"),
        ("reference_temperature_c", "reference_temperature_c", "temperature of these values"),
        ("ambient_c", "ambient_c", "temperature around the relay"),
        ("available_v", "available_v", "at the coil when it must close"),
        ("dip_v", "dip_v", "at the coil while it must hold"),
        ("maximum_v", "maximum_v", "highest lasting voltage at the coil"),
        ("thermal_resistance_k_per_w", "thermal_resistance_k_per_w", "of the coil"),
        ("coil_limit_c", "coil_limit_c", "highest temperature of its insulation"),
    ):
        if arguments.get(field) is not None:
            steps.given(symbol, arguments[field], meaning)


def _thermal(steps: Steps, arguments: Mapping[str, Any]) -> dict[str, float]:
    return {
        "resistance_ohm": steps.value("cold_resistance_ohm"),
        "ambient_c": arguments["ambient_c"],
        "thermal_resistance_k_per_w": arguments["thermal_resistance_k_per_w"],
        "temperature_coefficient_per_k": copper_coefficient_per_k(),
    }


def _slope(steps: Steps) -> None:
    ratio = 1.0 + copper_coefficient_per_k() * (steps.value("ambient_c") - 20.0)
    steps.computed(
        "ambient_slope_per_k",
        f"copper_per_k / ({RATIO.format('ambient_c')})",
        copper_coefficient_per_k() / ratio,
        "temperature coefficient of copper at ambient",
        LINEAR,
    )


def _warm(steps: Steps, arguments: Mapping[str, Any]) -> None:
    _slope(steps)
    thermal = _thermal(steps, arguments)
    drive_v = steps.value("drive_v")
    steps.computed(
        "first_rise_k",
        "thermal_resistance_k_per_w * drive_v ** 2 / cold_resistance_ohm",
        thermal["thermal_resistance_k_per_w"] * drive_v**2 / thermal["resistance_ohm"],
        "rise, if the resistance did not grow",
        JOULE,
    )
    rise = float(physics.self_heating_rise(coil_v=drive_v, **thermal))
    steps.computed(
        "rise_k",
        "2 * first_rise_k / (1 + sqrt(1 + 4 * ambient_slope_per_k * first_rise_k))",
        rise,
        "rise of the coil once it has settled",
        SELF_HEATING,
    )
    warm = arguments["ambient_c"] + rise
    steps.computed("warm_c", "ambient_c + rise_k", warm, "coil warm from use", SELF_HEATING)
    copper_steps(steps, "change_warm", "warm_c", "reference_temperature_c")
    warm_v = arguments["pick_up_v"] * steps.value("change_warm")
    formula = "reference_pick_up_v * change_warm"
    steps.computed("warm_pick_up_v", formula, warm_v, "that closes it warm from use", SCALING)
    cold_v = arguments["pick_up_v"] * steps.value("change_cold")
    formula = "reference_pick_up_v * change_cold"
    steps.computed("cold_pick_up_v", formula, cold_v, "that closes it at ambient", SCALING)


def _headlines(steps: Steps, answer: RelayCoil, change: str) -> None:
    for symbol, formula, meaning, source in (
        ("coil_resistance_ohm", f"reference_resistance_ohm * {change}", "of the coil", LINEAR),
        ("coil_current_a", "drive_v / coil_resistance_ohm", "of the coil at drive_v", OHM),
        ("coil_power_w", "drive_v ** 2 / coil_resistance_ohm", "heat in the coil", JOULE),
        ("pick_up_v", f"reference_pick_up_v * {change}", "that closes the relay", SCALING),
        ("drop_out_v", f"reference_drop_out_v * {change}", "below which it opens", SCALING),
        ("pick_up_margin_v", "available_v - pick_up_v", "to spare for closing", SCALING),
        ("hold_margin_v", "dip_v - drop_out_v", "to spare for holding", SCALING),
    ):
        value = getattr(answer, symbol)
        if value is not None:
            steps.computed(symbol, formula, value, meaning, source)


def _longest(steps: Steps, arguments: Mapping[str, Any], longest_v: float) -> None:
    _slope(steps)
    rise = max(arguments["coil_limit_c"] - arguments["ambient_c"], 0.0)
    formula = "max(coil_limit_c - ambient_c, 0)"
    steps.computed("allowed_rise_k", formula, rise, "up to the coil's limit", SELF_HEATING)
    steps.computed(
        "maximum_continuous_v",
        "sqrt(allowed_rise_k * (1 + ambient_slope_per_k * allowed_rise_k) * cold_resistance_ohm / "
        "thermal_resistance_k_per_w)",
        longest_v,
        "voltage that heats the coil to its limit",
        SELF_HEATING,
    )


def _switch_off(steps: Steps, arguments: Mapping[str, Any], answer: RelayCoil) -> None:
    found, suppression = answer.suppression, arguments["suppression"]
    if found.peak_v is None:
        return
    kind = found.kind
    clamp_v = physics.DIODE_FORWARD_V if kind == "diode" else suppression.get("zener_v", 0.0)
    source = FORWARD if kind == "diode" else GIVEN
    steps.given("clamp_v", clamp_v, f"constant part of the {kind}'s voltage", source)
    ohm = suppression.get("resistance_ohm", 0.0)
    steps.given("clamp_resistance_ohm", ohm, f"resistance of the {kind}")
    steps.computed(
        "suppression_peak_v",
        "drive_v + clamp_v + drive_v / cold_resistance_ohm * clamp_resistance_ohm",
        found.peak_v,
        "peak across the switch that opens the coil",
        AT_SWITCH_OFF,
    )
    for symbol, formula, value, meaning, source in (
        (
            "suppression_resistor_current_a",
            "drive_v / clamp_resistance_ohm",
            found.resistor_current_a,
            "lasting current of the resistor",
            OHM,
        ),
        (
            "suppression_resistor_power_w",
            "suppression_resistor_current_a * drive_v",
            found.resistor_power_w,
            "heat in the resistor",
            JOULE,
        ),
    ):
        if value is not None:
            steps.computed(symbol, formula, value, meaning, source)
    if found.release_time_constants is not None:
        released = arguments["drop_out_v"] * steps.value("change_cold")
        formula = "reference_drop_out_v * change_cold"
        steps.computed("cold_drop_out_v", formula, released, "at ambient", SCALING)
        stretch = "(1 + clamp_resistance_ohm / cold_resistance_ohm)"
        steps.computed(
            "suppression_release_time_constants",
            f"ln((max(drive_v, cold_drop_out_v) * {stretch} + clamp_v) / "
            f"(cold_drop_out_v * {stretch} + clamp_v)) / {stretch}",
            found.release_time_constants,
            "time to drop-out, in multiples of the coil's L/R",
            DECAY,
        )


def explain_contact(arguments: Mapping[str, Any], answer: RelayContact, steps: Steps) -> None:
    """Explain ``relay-contact``."""
    for symbol, meaning in (
        ("ambient_c", "temperature around the relay"),
        ("load_current_a", "steady current of the load"),
        ("contact_resistance_ohm", "of the closed contact"),
    ):
        if arguments.get(symbol) is not None:
            steps.given(symbol, arguments[symbol], meaning)
    if answer.derated_current_a is not None:
        points = [(arguments["rating_ambient_c"], arguments["rating_a"])]
        points += [(point["ambient_c"], point["current_a"]) for point in arguments["derating"]]
        meaning, value = "current allowed, by the maker's points", answer.derated_current_a
        interpolated(steps, "derated_current_a", "ambient_c", tuple(points), value, meaning, GIVEN)
    _first_current(steps, arguments, answer)
    for symbol, formula, meaning, source in (
        (
            "utilisation_percent",
            "100 * load_current_a / derated_current_a",
            "of the current allowed",
            "proportion",
        ),
        ("contact_drop_v", "load_current_a * contact_resistance_ohm", "across it", OHM),
        ("contact_power_w", "load_current_a ** 2 * contact_resistance_ohm", "heat in it", JOULE),
    ):
        found = getattr(answer, symbol)
        if found is not None:
            steps.computed(symbol, formula, found, meaning, source)


def _first_current(steps: Steps, arguments: Mapping[str, Any], answer: RelayContact) -> None:
    meaning = "first current of the load"
    if answer.inrush_estimated:
        multiple = inrush()[arguments["load_kind"]]
        steps.published(
            "inrush_multiple",
            multiple.highest_multiple,
            "high end of first over steady current",
            multiple.citation,
        )
        formula, source = "inrush_multiple * load_current_a", multiple.citation
    else:
        steps.given("measured_inrush_a", arguments["inrush_current_a"], "first current, measured")
        formula, source = "max(measured_inrush_a, load_current_a)", GIVEN
    steps.computed("inrush_current_a", formula, answer.inrush_current_a, meaning, source)
