"""A relay's coil: closing when hot, holding in a dip, charging voltage and switch-off."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service import tables
from lastvolt_service.operations.conductors import copper_changes, copper_coefficient_per_k
from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    Check,
    Result,
    show,
    spoken,
    unknown,
)
from lastvolt_service.operations.solved import (
    MARGINAL,
    UNKNOWN,
    Judged,
    Solved,
    reaches,
    stays_within,
)
from lastvolt_service.physics import coil as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    are,
    given,
    number,
    one_row,
    optional,
    pick,
    plain,
)
from lastvolt_service.tables.materials import material

# Longest continuous coil voltage over nominal where no thermal data is given.
CONTINUOUS_SHARE = 1.2
SCALING = tables.citation("relays", "pick_up_scaling")
CAUTIONS = (HOT_SURFACE, DEFERENCE)
OFF = "suppression_"  # what happens at switch-off, among the columns


@dataclass(frozen=True, slots=True)
class SuppressionResult:
    """What happens when the coil is switched off."""

    kind: Annotated[str, "none, diode, resistor or zener"]
    peak_v: Annotated[
        float | None, "peak across the switch that opens the coil; null without suppression"
    ]
    resistor_current_a: Annotated[float | None, "lasting extra current of a resistor"]
    resistor_power_w: Annotated[float | None, "heat made in a resistor while the coil is on"]
    release_time_constants: Annotated[
        float | None,
        "time until the current falls to drop-out, in multiples of the coil's L/R; null without "
        "drop_out_v",
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayCoil(Result):
    """Answer of ``relay-coil``."""

    coil_temperature_c: Annotated[
        float, "at ambient, or warm from maximum_v (nominal_v without it) if energised before"
    ]
    coil_resistance_ohm: Annotated[float, "at that temperature"]
    coil_current_a: Annotated[float, "at maximum_v (nominal_v without it) and that temperature"]
    coil_power_w: Annotated[float, "the same as heat"]
    pick_up_v: Annotated[float, "voltage that closes the relay at that temperature"]
    drop_out_v: Annotated[float | None, "voltage below which it opens at that temperature"]
    pick_up_margin_v: Annotated[float, "available_v over pick_up_v"]
    hold_margin_v: Annotated[float | None, "dip_v over drop_out_v"]
    maximum_continuous_v: Annotated[
        float | None, "voltage that heats the coil to coil_limit_c at this ambient"
    ]
    suppression: Annotated[SuppressionResult, "what happens at switch-off"]


def relay_coil(
    *,
    nominal_v: float,
    coil_resistance_ohm: float,
    pick_up_v: float,
    reference_temperature_c: float,
    ambient_c: float,
    available_v: float,
    energised_before: bool,
    suppression: Mapping[str, Any],
    drop_out_v: float | None = None,
    dip_v: float | None = None,
    maximum_v: float | None = None,
    thermal_resistance_k_per_w: float | None = None,
    coil_limit_c: float | None = None,
    switch_limit_v: float | None = None,
) -> RelayCoil:
    """Whether a relay's coil closes, holds and survives where it is mounted.

    The pick-up current of a coil is constant, so the voltage that it needs grows with the
    resistance of its copper: in a hot engine bay, and again when it has been energised. It is
    held against the lowest voltage that reaches the coil; drop-out against the lowest voltage
    while it must hold; the charging voltage against what the coil stands at this ambient.

    Returns
    -------
    RelayCoil
    """
    kind = suppression["kind"]
    solved = solve(
        nominal_v=nominal_v,
        coil_resistance_ohm=coil_resistance_ohm,
        pick_up_v=pick_up_v,
        drop_out_v=optional(drop_out_v),
        reference_temperature_c=reference_temperature_c,
        ambient_c=ambient_c,
        available_v=available_v,
        dip_v=optional(dip_v),
        maximum_v=optional(maximum_v),
        thermal_resistance_k_per_w=optional(thermal_resistance_k_per_w),
        coil_limit_c=optional(coil_limit_c),
        energised_before=energised_before,
        suppression_kind=kind,
        suppression_resistance_ohm=suppression.get("resistance_ohm", NOT_GIVEN),
        suppression_zener_v=suppression.get("zener_v", NOT_GIVEN),
        switch_limit_v=optional(switch_limit_v),
    )
    found = one_row(solved.columns)
    off = {name.removeprefix(OFF): found.pop(name) for name in [*found] if name.startswith(OFF)}
    cold, warm, hold, continuous, peak = solved.checks.items()
    return RelayCoil(
        **found,
        suppression=SuppressionResult(kind, **off),
        checks=(
            _pick_up_check(*cold, ambient_c),
            _pick_up_check(*warm, solved.aside["warm_c"]),
            _hold_check(*hold),
            _continuous_check(*continuous, ambient_c, found["maximum_continuous_v"]),
            _peak_check(*peak, kind),
        ),
        basis=(SCALING, material("copper").citation),
        cautions=CAUTIONS,
    )


def solve(
    *,
    nominal_v: Numbers,
    coil_resistance_ohm: Numbers,
    pick_up_v: Numbers,
    drop_out_v: Numbers,
    reference_temperature_c: Numbers,
    ambient_c: Numbers,
    available_v: Numbers,
    dip_v: Numbers,
    maximum_v: Numbers,
    thermal_resistance_k_per_w: Numbers,
    coil_limit_c: Numbers,
    energised_before: Flags,
    suppression_kind: Texts,
    suppression_resistance_ohm: Numbers,
    suppression_zener_v: Numbers,
    switch_limit_v: Numbers,
) -> Solved:
    """Work out one coil or many; parameters as in requests, NaN where not given.

    Returns
    -------
    Solved
    """
    drive_v = pick(given(maximum_v), maximum_v, nominal_v)
    change_cold = copper_changes(ambient_c, reference_temperature_c)
    cold_ohm = coil_resistance_ohm * change_cold
    thermal = {
        "resistance_ohm": cold_ohm,
        "ambient_c": ambient_c,
        "thermal_resistance_k_per_w": thermal_resistance_k_per_w,
        "temperature_coefficient_per_k": copper_coefficient_per_k(),
    }
    warm_c = ambient_c + plain(physics.self_heating_rise(coil_v=drive_v, **thermal))
    change_warm = copper_changes(warm_c, reference_temperature_c)
    longest_v = plain(physics.voltage_at_rise(rise_k=coil_limit_c - ambient_c, **thermal))
    known = given(warm_c)
    is_warm = energised_before & known
    change = pick(is_warm, change_warm, change_cold)
    ohm, needed_v, released_v = (
        coil_resistance_ohm * change,
        pick_up_v * change,
        drop_out_v * change,
    )
    off = _switch_off(
        suppression_kind,
        suppression_resistance_ohm,
        suppression_zener_v,
        supply_v=drive_v,
        resistance_ohm=cold_ohm,  # the peak is highest with the largest current: cold yet
        drop_out_v=drop_out_v * change_cold,
    )
    return Solved(
        {
            "coil_temperature_c": pick(is_warm, warm_c, ambient_c),
            "coil_resistance_ohm": ohm,
            "coil_current_a": drive_v / ohm,
            "coil_power_w": drive_v**2 / ohm,
            "pick_up_v": needed_v,
            "drop_out_v": released_v,
            "pick_up_margin_v": available_v - needed_v,
            "hold_margin_v": dip_v - released_v,
            "maximum_continuous_v": longest_v,
            **off,
        },
        {
            "pick-up, coil at ambient": reaches(available_v, pick_up_v * change_cold),
            "pick-up, coil warm from use": reaches(available_v, pick_up_v * change_warm),
            "hold in a dip": reaches(dip_v, drop_out_v * pick(known, change_warm, change_cold)),
            "continuous voltage": stays_within(
                maximum_v, pick(given(longest_v), longest_v, CONTINUOUS_SHARE * nominal_v)
            ),
            "switch-off peak": _judge_peak(
                off["suppression_peak_v"], switch_limit_v, suppression_kind
            ),
        },
        aside={"warm_c": warm_c},
    )


def _switch_off(
    kind: Texts, clamp_ohm: Numbers, zener_v: Numbers, *, drop_out_v: Numbers, **coil: Numbers
) -> dict[str, Numbers]:
    """What happens at switch-off; NaN without suppression."""
    fixed_v = pick(are(kind, "diode"), physics.DIODE_FORWARD_V, zener_v)
    is_resistor = are(kind, "resistor")
    shared: dict[str, Numbers] = {
        **coil,
        "clamp_v": pick(is_resistor, 0.0, fixed_v),
        "clamp_resistance_ohm": pick(is_resistor, clamp_ohm, 0.0),
    }
    resistor_a = coil["supply_v"] / clamp_ohm
    return {
        "suppression_peak_v": physics.switch_off_peak(**shared),
        "suppression_resistor_current_a": resistor_a,
        "suppression_resistor_power_w": resistor_a * coil["supply_v"],
        "suppression_release_time_constants": plain(
            physics.release_time_constants(drop_out_v=drop_out_v, **shared)
        ),
    }


def _judge_peak(peak_v: Numbers, limit_v: Numbers, kind: Texts) -> Judged:
    judged = stays_within(peak_v, limit_v)
    # Without suppression the peak has no figure, but is known to be high.
    return judged._replace(verdict=pick(are(kind, "none"), MARGINAL, judged.verdict))


def _pick_up_check(name: str, judged: Judged, temperature_c: float) -> Check:
    if judged.verdict == UNKNOWN:
        return unknown(
            name, "V", SCALING, "Give thermal_resistance_k_per_w to know how warm the coil gets."
        )
    available, needed = show(judged.value, "V"), show(judged.limit, "V")
    at = f"at a coil temperature of {show(temperature_c, 'degC')}"
    return spoken(
        name,
        judged,
        "V",
        SCALING,
        {
            "pass": f"The relay closes {at}: {available} arrives and it needs {needed}.",
            "fail": f"The relay may not close {at}: it needs {needed} and only {available} "
            "arrives. Mend the coil's feed or take a relay with a lower pick-up voltage.",
        },
    )


def _hold_check(name: str, judged: Judged) -> Check:
    if judged.verdict == UNKNOWN:
        return unknown(name, "V", SCALING, "Give drop_out_v and dip_v to know whether it holds.")
    limit = show(judged.limit, "V")
    return spoken(
        name,
        judged,
        "V",
        SCALING,
        {
            "pass": f"The relay holds down to {limit}; the dip stays above it.",
            "fail": f"The relay lets go below {limit} and the dip reaches "
            f"{show(judged.value, 'V')}: it would chatter. Feed its coil from a point that sags "
            "less.",
        },
    )


def _continuous_check(
    name: str, judged: Judged, ambient_c: float, longest_v: float | None
) -> Check:
    if judged.verdict == UNKNOWN:
        return unknown(
            name, "V", "coil limit given by the caller", "Give maximum_v, the charging voltage."
        )
    gets, stands, at = show(judged.value, "V"), show(judged.limit, "V"), show(ambient_c, "degC")
    basis = "coil_limit_c and thermal_resistance_k_per_w given by the caller"
    if longest_v is None:
        basis = tables.citation("relays", "continuous_voltage")
    return spoken(
        name,
        judged,
        "V",
        basis,
        {
            "pass": f"The coil stands {gets} for hours at {at}; its limit there is {stands}.",
            "fail": f"The coil stands {stands} for hours at {at} and gets {gets}: mount it "
            "cooler, or take a coil of higher resistance.",
        },
    )


def _peak_check(name: str, judged: Judged, kind: str) -> Check:
    if kind == "none":
        return Check(
            name,
            "marginal",
            None,
            number(judged.limit),
            "V",
            None,
            tables.citation("relays", "unsuppressed_peak"),
            "Nothing limits the peak when the coil is switched off: 1000 V and more wear the "
            "switch and destroy electronics. Fit a resistor, diode or zener.",
        )
    slower = (
        " The plain diode makes the relay open slowly, which wears its contacts."
        if kind == "diode"
        else ""
    )
    said = f"Switching off puts {show(judged.value, 'V')} across the switch."
    if judged.verdict == UNKNOWN:
        basis = tables.citation("relays", "diode_release") if slower else SCALING
        message = f"{said}{slower} Give switch_limit_v to judge it."
        return unknown(name, "V", basis, message, value=number(judged.value))
    return spoken(
        name,
        judged,
        "V",
        "switch_limit_v given by the caller",
        {
            "pass": f"{said}{slower}",
            "fail": f"{said} It stands {show(judged.limit, 'V')}: clamp the coil lower.",
        },
    )
