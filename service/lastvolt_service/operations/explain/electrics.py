"""Steps to the voltage of a battery, and to what a switch carries."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from lastvolt_service.laws import JOULE, KIRCHHOFF, OHM
from lastvolt_service.operations.battery_voltage import BatteryVoltage
from lastvolt_service.operations.steps import MOST_ITEMS, Steps, interpolated
from lastvolt_service.operations.switch_loading import SwitchLoading
from lastvolt_service.physics import battery as physics
from lastvolt_service.tables import battery as table

RATED = "SAE J537: what the cold-cranking rating promises"
POWER = "largest power of a source: E**2 / (4 R)"


def _points(curve: table.Curve) -> tuple[tuple[float, float], ...]:
    return tuple(zip(curve.x.tolist(), curve.y.tolist(), strict=True))


def explain_battery(arguments: Mapping[str, Any], answer: BatteryVoltage, steps: Steps) -> None:
    """Explain ``battery-voltage``."""
    for symbol, meaning in (
        ("nominal_v", "nominal voltage of the battery"),
        ("state_of_charge_percent", "state of charge"),
        ("temperature_c", "of the electrolyte"),
        ("current_a", "drawn from it"),
        ("cold_cranking_a", "cold-cranking rating"),
    ):
        steps.given(symbol, arguments[symbol], meaning)
    steps.published("table_nominal_v", table.TABLE_NOMINAL_V, "of the published battery", RATED)
    curve = table.open_circuit()
    at_table = _rest_v(arguments["state_of_charge_percent"], table.CHARGE_TEMPERATURE_C)
    interpolated(
        steps,
        "rested_v",
        "state_of_charge_percent",
        _points(curve),
        at_table,
        "voltage of the published battery at rest",
        curve.citation,
    )
    _shift(steps)
    steps.computed(
        "open_circuit_v",
        "(rested_v + rise_v_per_k * (temperature_c - rested_at_c)) * nominal_v / table_nominal_v",
        answer.open_circuit_v,
        "without load, at its temperature",
        table.temperature_citation(),
    )
    if answer.internal_resistance_estimated:
        _estimate(steps, arguments, answer)
    else:
        steps.given("internal_resistance_ohm", answer.internal_resistance_ohm, "measured")
    steps.computed(
        "terminal_v",
        "max(open_circuit_v - current_a * internal_resistance_ohm, 0)",
        answer.terminal_v,
        "at the posts with the current flowing",
        OHM,
    )
    steps.computed(
        "short_circuit_a",
        "open_circuit_v / internal_resistance_ohm",
        answer.short_circuit_a,
        "into a dead short",
        OHM,
    )


def _rest_v(charge_percent: float, temperature_c: float) -> float:
    """Of the published battery."""
    curve = table.open_circuit()
    return float(
        physics.open_circuit_voltage(
            state_of_charge_percent=charge_percent,
            temperature_c=temperature_c,
            curve_percent=curve.x,
            curve_v=curve.y,
            curve_temperature_c=table.CHARGE_TEMPERATURE_C,
            temperature_coefficient_v_per_k=table.TEMPERATURE_COEFFICIENT_V_PER_K,
        )
    )


def _shift(steps: Steps) -> None:
    cited = table.temperature_citation()
    steps.published(
        "rise_v_per_k",
        table.TEMPERATURE_COEFFICIENT_V_PER_K,
        "of the published battery's voltage with temperature",
        cited,
    )
    steps.published(
        "rested_at_c",
        table.CHARGE_TEMPERATURE_C,
        "temperature of the published voltages",
        table.open_circuit().citation,
    )


def _estimate(steps: Steps, arguments: Mapping[str, Any], answer: BatteryVoltage) -> None:
    cited = table.cold_cranking_citation()
    curve = table.open_circuit()
    cold_c = table.COLD_CRANKING_TEMPERATURE_C
    steps.published("full_v", float(curve.y[-1]), "rested voltage, fully charged", curve.citation)
    steps.published("rating_c", cold_c, "temperature of the rating", cited)
    steps.published("cranking_v", table.COLD_CRANKING_V, "that the rating promises", cited)
    power = table.cranking_power()
    powers: Any = physics.cranking_power(
        temperature_c=np.array([cold_c, arguments["temperature_c"]]),
        curve_temperature_c=power.x,
        curve_percent=power.y,
    )
    for symbol, at, value in (
        ("rating_power_percent", "rating_c", powers[0]),
        ("power_percent", "temperature_c", powers[1]),
    ):
        interpolated(steps, symbol, at, _points(power), value, "cranking power", power.citation)
    scale = arguments["nominal_v"] / table.TABLE_NOMINAL_V
    cold_ohm = physics.cold_cranking_resistance(
        open_circuit_v=_rest_v(100.0, cold_c) * scale,
        cold_cranking_v=table.COLD_CRANKING_V * scale,
        cold_cranking_a=arguments["cold_cranking_a"],
    )
    steps.computed(
        "rated_resistance_ohm",
        "(full_v + rise_v_per_k * (rating_c - rested_at_c) - cranking_v) * nominal_v / "
        "table_nominal_v / cold_cranking_a",
        float(cold_ohm),
        "that the rating stands for, at its temperature",
        RATED,
    )
    steps.computed(
        "internal_resistance_ohm",
        "rated_resistance_ohm * rating_power_percent / power_percent",
        answer.internal_resistance_ohm,
        "at the temperature asked for",
        POWER,
    )


def explain_switch(arguments: Mapping[str, Any], answer: SwitchLoading, steps: Steps) -> None:
    """Explain ``switch-loading``."""
    loads = arguments["loads"]
    for symbol, meaning in (
        ("rating_a", "of the switch"),
        ("contact_resistance_ohm", "of the closed switch"),
        ("relay_coil_current_a", "of the coil of each relay"),
        ("supply_v", "at the switch"),
    ):
        if arguments.get(symbol) is not None:
            steps.given(symbol, arguments[symbol], meaning)
    for place, load in enumerate(loads, 1):
        steps.given(f"load_{place}_current_a", load["current_a"], f"of {load['name']}")
    for place, position in enumerate(answer.positions, 1):
        on = [_draws(number, load) for number, load in enumerate(loads, 1)
              if position.position in load["positions"]]  # fmt: skip
        p = f"position_{place}_"
        steps.computed(
            f"{p}current_a",
            " + ".join(on),
            position.current_a,
            f"through the switch in {position.position}",
            KIRCHHOFF,
        )
        for name, formula, source in (
            ("drop_v", f"{p}current_a * contact_resistance_ohm", OHM),
            ("drop_percent", f"100 * {p}drop_v / supply_v", "proportion"),
            ("power_w", f"{p}current_a ** 2 * contact_resistance_ohm", JOULE),
            ("utilisation_percent", f"100 * {p}current_a / rating_a", "proportion"),
        ):
            value = getattr(position, name)
            if value is not None:
                meaning = f"{name.rpartition('_')[0]} in {position.position}"
                steps.computed(p + name, formula, value, meaning, source)
    _relief(steps, loads, answer)
    _cumulative(steps, loads, answer)


def _draws(place: int, load: Mapping[str, Any]) -> str:
    return "relay_coil_current_a" if load["through_relay"] else f"load_{place}_current_a"


def _relief(steps: Steps, loads: Sequence[Mapping[str, Any]], answer: SwitchLoading) -> None:
    numbers = {load["name"]: place for place, load in enumerate(loads, 1)}
    worst = ", ".join(f"position_{n}_power_w" for n in range(1, len(answer.positions) + 1))
    for place, relief in enumerate(answer.relief[:MOST_ITEMS], 1):
        p = f"relief_{place}_"
        now = [
            f"position_{n}_current_a - load_{numbers[relief.name]}_current_a + relay_coil_current_a"
            if position.position in relief.positions
            else f"position_{n}_current_a"
            for n, position in enumerate(answer.positions, 1)
        ]
        steps.computed(
            f"{p}current_after_a",
            f"max({', '.join(now)})",
            relief.current_after_a,
            f"in the then worst position, with a relay for {relief.name}",
            KIRCHHOFF,
        )
        steps.computed(
            f"{p}power_after_w",
            f"{p}current_after_a ** 2 * contact_resistance_ohm",
            relief.power_after_w,
            "heat in the switch there",
            JOULE,
        )
        steps.computed(
            f"{p}power_saved_w",
            f"max({worst}) - {p}power_after_w",
            relief.power_saved_w,
            "heat taken out of the worst position",
            JOULE,
        )


def _cumulative(steps: Steps, loads: Sequence[Mapping[str, Any]], answer: SwitchLoading) -> None:
    places = {position.position: n for n, position in enumerate(answer.positions, 1)}
    numbers = {load["name"]: n for n, load in enumerate(loads, 1)}
    positions = {load["name"]: load["positions"] for load in loads}
    for place, step in enumerate(answer.cumulative[:MOST_ITEMS], 1):
        p = f"relays_{place}_"
        moved = "".join(
            f" - load_{numbers[before.name]}_current_a + relay_coil_current_a"
            for before in answer.cumulative[:place]
            if step.worst_position in positions[before.name]
        )
        steps.computed(
            f"{p}current_a",
            f"position_{places[step.worst_position]}_current_a{moved}",
            step.current_a,
            f"in {step.worst_position}, with {place} relays, the last for {step.name}",
            KIRCHHOFF,
        )
        steps.computed(
            f"{p}power_w",
            f"{p}current_a ** 2 * contact_resistance_ohm",
            step.power_w,
            "heat in the switch there",
            JOULE,
        )
        steps.computed(
            f"{p}utilisation_percent",
            f"100 * {p}current_a / rating_a",
            step.utilisation_percent,
            "of the rating",
            "proportion",
        )
