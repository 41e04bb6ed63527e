"""Steps from readings to the part that drops too much."""

import math
from collections.abc import Mapping
from typing import Any

from lastvolt_service.laws import OHM
from lastvolt_service.operations.conductors import conductor
from lastvolt_service.operations.drop_diagnosis import (
    DEFAULT_NOMINAL_V,
    KIRCHHOFF,
    UNCERTAINTY_BASIS,
    DropDiagnosis,
    PartDiagnosis,
)
from lastvolt_service.operations.explain.conductors import LINEAR, conductor_steps
from lastvolt_service.operations.explain.wires import NOMINAL
from lastvolt_service.operations.readings import Readings, take_readings
from lastvolt_service.operations.steps import MOST_ITEMS, Steps
from lastvolt_service.tables.limits import contact_limits

DIVIDER = "voltages of a series circuit stand for resistances at the same current"


def explain_diagnosis(arguments: Mapping[str, Any], answer: DropDiagnosis, steps: Steps) -> None:
    """Explain ``drop-diagnosis``."""
    taken = take_readings(
        arguments["readings"],
        arguments["meter"],
        arguments["current_a"],
        arguments["current_accuracy_percent"],
        arguments["temperature_accuracy_k"],
        arguments.get("supply_v"),
        arguments.get("load_voltage_v"),
    )
    _given(steps, arguments)
    count = len(answer.readings)
    metals: dict[tuple[Any, ...], str] = {}
    for place in range(1, count + 1):
        _reading(steps, answer.readings[place - 1], place)
    for symbol, name, value, meaning in (
        ("total_measured_v", "measured_v", answer.total_measured_v, "sum of the readings"),
        ("total_uncertainty_v", "uncertainty_v", answer.total_uncertainty_v, "its largest error"),
    ):
        total = " + ".join(f"reading_{place}_{name}" for place in range(1, count + 1))
        steps.computed(symbol, total, value, meaning, UNCERTAINTY_BASIS)
    _ends(steps, answer, taken)
    _nominal(steps, arguments, answer)
    for place, part in enumerate(answer.readings, 1):
        if place <= MOST_ITEMS or part.proven:
            _expected(steps, arguments, taken, place, metals)
            _excess(steps, part, place)
    proven = [place for place, part in enumerate(answer.readings, 1) if part.proven]
    total_excess = " + ".join(f"reading_{place}_excess_v" for place in proven) or "0"
    steps.computed(
        "proven_excess_v",
        total_excess,
        math.fsum(part.excess_v for part in answer.readings if part.proven),
        "of all parts whose excess is beyond its error",
        KIRCHHOFF,
    )
    _regained(steps, "regained_v", "proven_excess_v", answer.regained_v, "all of these mended")


def _given(steps: Steps, arguments: Mapping[str, Any]) -> None:
    for symbol, meaning in (
        ("current_a", "round the path during the readings"),
        ("current_accuracy_percent", "largest error of the current"),
        ("temperature_accuracy_k", "largest error of the wires' temperatures"),
        ("supply_v", "measured at the start of the path"),
        ("load_voltage_v", "measured at the load"),
    ):
        if arguments.get(symbol) is not None:
            steps.given(symbol, arguments[symbol], meaning)
    steps.given("resolution_v", arguments["meter"]["resolution_v"], "one step of the last digit")
    steps.given("accuracy_percent", arguments["meter"]["accuracy_percent"], "of what it reads")


def _reading(steps: Steps, part: PartDiagnosis, place: int) -> None:
    p = f"reading_{place}_"
    steps.given(f"{p}measured_v", part.measured_v, f"across {part.name}")
    steps.computed(
        f"{p}uncertainty_v",
        f"resolution_v + accuracy_percent / 100 * {p}measured_v",
        part.uncertainty_v,
        f"largest error of the reading across {part.name}",
        UNCERTAINTY_BASIS,
    )


def _ends(steps: Steps, answer: DropDiagnosis, taken: Readings) -> None:
    if answer.unaccounted_v is None or answer.unaccounted_uncertainty_v is None:
        return
    steps.computed(
        "unaccounted_v",
        "supply_v - load_voltage_v - total_measured_v",
        answer.unaccounted_v,
        "lost where nothing was read; below zero, read twice",
        KIRCHHOFF,
    )
    steps.computed(
        "unaccounted_uncertainty_v",
        "2 * resolution_v + accuracy_percent / 100 * (supply_v + load_voltage_v) + "
        "total_uncertainty_v",
        answer.unaccounted_uncertainty_v,
        "its largest error",
        UNCERTAINTY_BASIS,
    )
    steps.computed(
        "contradiction_v",
        "max(0 - unaccounted_v - unaccounted_uncertainty_v, 0)",
        taken.contradiction_v,
        "by how much the readings are wrong for certain",
        UNCERTAINTY_BASIS,
    )


def _nominal(steps: Steps, arguments: Mapping[str, Any], answer: DropDiagnosis) -> None:
    meaning = "nominal voltage of the system"
    if arguments.get("nominal_v") is None:
        source = f"{NOMINAL}; {DEFAULT_NOMINAL_V} V where no supply is known"
        steps.published("nominal_v", answer.nominal_v, meaning, source)
    else:
        steps.given("nominal_v", answer.nominal_v, meaning)


def _expected(
    steps: Steps,
    arguments: Mapping[str, Any],
    taken: Readings,
    place: int,
    metals: dict[tuple[Any, ...], str],
) -> None:
    reading, part, p = arguments["readings"][place - 1], taken.parts[place - 1], f"reading_{place}_"
    if reading["kind"] != "wire":
        limit = contact_limits()[reading["part"]]
        meaning = f"most that a sound {reading['part']} drops"
        steps.published(f"{p}expected_v", limit.limit_v, meaning, limit.citation)
        steps.published(f"{p}expected_uncertainty_v", 0.0, "a limit has no error", limit.citation)
        return
    material, construction = reading["material"], reading["construction"]
    wire = conductor(reading["size"], reading.get("standard"), material, construction)
    key = (wire.size, wire.standard, material, construction)
    if key not in metals:
        metals[key] = f"wire_{len(metals) + 1}_"
        conductor_steps(steps, wire, material, construction, metals[key])
    metal = metals[key]
    steps.given(f"{p}temperature_c", reading["temperature_c"], f"of {part.name}")
    steps.given(f"{p}length_m", reading["length_m"], f"of {part.name}")
    steps.computed(
        f"{p}expected_v",
        f"current_a * {metal}resistance_20_ohm_per_m * (1 + "
        f"{metal}temperature_coefficient_per_k * ({p}temperature_c - 20)) * {p}length_m",
        part.expected_v,
        "across a new wire of this size, length and temperature",
        f"{OHM}; {LINEAR}",
    )
    warmer = wire.resistance_ohm_per_m(
        reading["temperature_c"] + arguments["temperature_accuracy_k"]
    )
    steps.computed(
        f"{p}warmer_v",
        f"current_a * {metal}resistance_20_ohm_per_m * (1 + "
        f"{metal}temperature_coefficient_per_k * ({p}temperature_c + temperature_accuracy_k - 20)) "
        f"* {p}length_m",
        arguments["current_a"] * warmer * reading["length_m"],
        "the same, if it is as warm as the error allows",
        f"{OHM}; {LINEAR}",
    )
    steps.computed(
        f"{p}expected_uncertainty_v",
        f"current_accuracy_percent / 100 * {p}expected_v + ({p}warmer_v - {p}expected_v)",
        part.expected_uncertainty_v,
        "largest error of that",
        UNCERTAINTY_BASIS,
    )


def _excess(steps: Steps, part: PartDiagnosis, place: int) -> None:
    p = f"reading_{place}_"
    contradiction = " + contradiction_v" if "contradiction_v" in steps else ""
    for symbol, formula, meaning, source in (
        ("excess_v", f"max({p}measured_v - {p}expected_v, 0)", "more than a sound one", KIRCHHOFF),
        (
            "excess_uncertainty_v",
            f"{p}uncertainty_v + {p}expected_uncertainty_v{contradiction}",
            "largest error of the excess",
            UNCERTAINTY_BASIS,
        ),
        ("excess_resistance_ohm", f"{p}excess_v / current_a", "the excess as a resistance", OHM),
    ):
        steps.computed(
            p + symbol, formula, getattr(part, symbol), f"{meaning}: {part.name}", source
        )
    drops = steps.value("total_measured_v") > 0
    steps.computed(
        f"{p}share_percent",
        f"100 * {p}measured_v / total_measured_v" if drops else "0",
        part.share_percent,
        f"share of {part.name} in all that is measured",
        "proportion",
    )
    _regained(steps, f"{p}regained_v", f"{p}excess_v", part.regained_v, f"{part.name} mended")


def _regained(steps: Steps, symbol: str, excess: str, value: float, what: str) -> None:
    meaning = f"what the load gains with {what}"
    if "load_voltage_v" not in steps:
        steps.computed(symbol, excess, value, f"{meaning}, at a constant current", KIRCHHOFF)
        return
    source = "load_voltage_v + total_measured_v"
    if "supply_v" in steps:
        source = f"max(supply_v, {source})"
    steps.computed(
        symbol, f"load_voltage_v * {excess} / ({source} - {excess})", value, meaning, DIVIDER
    )
