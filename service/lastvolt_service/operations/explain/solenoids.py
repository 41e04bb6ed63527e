"""Steps to the voltage that moves a solenoid's plunger."""

from collections.abc import Mapping
from typing import Any

from lastvolt_service import tables
from lastvolt_service.operations.explain.conductors import LINEAR
from lastvolt_service.operations.explain.relays import RATIO, copper_steps
from lastvolt_service.operations.explain.steps import KIRCHHOFF, OHM, Steps
from lastvolt_service.operations.solenoid_pull_in import (
    SCALING,
    Solenoid,
    SolenoidPullIn,
    describe,
)
from lastvolt_service.physics.constants import MAGNETIC_CONSTANT_N_PER_A2
from lastvolt_service.physics.solenoid import ampere_turns_for_force
from lastvolt_service.rows import number

CODATA = "CODATA recommended values 2022"
SAME_CURRENT = "ampere-turns are constant, and so is the current that moves the plunger"
DESCRIPTIONS = ("rated", "windings", "plunger")


def reference_steps(steps: Steps, data: Mapping[str, Any], prefix: str = "") -> Solenoid:
    """Take the steps from any of the three descriptions to voltages at its reference.

    Parameters
    ----------
    steps : Steps
        Where to.
    data : mapping
        With ``rated``, ``windings`` or ``plunger``.
    prefix : str
        Before each symbol.

    Returns
    -------
    Solenoid
        What they come to.
    """
    given = {name: data.get(name) for name in DESCRIPTIONS}
    found = describe(**given)
    kind = next(name for name, value in given.items() if value is not None)
    own = given[kind] or {}
    p = prefix
    steps.given(f"{p}reference_temperature_c", float(found.reference_c), "of these values")
    {"rated": _rated, "windings": _windings, "plunger": _plunger}[kind](steps, own, found, p)
    return found


def _rated(steps: Steps, own: Mapping[str, Any], _found: Solenoid, p: str) -> None:
    for symbol, field, meaning in (
        ("reference_pull_in_v", "pull_in_v", "that moves the plunger"),
        ("reference_hold_in_v", "hold_in_v", "that keeps it closed"),
        ("reference_resistance_ohm", "resistance_ohm", "between terminal and ground"),
    ):
        if own.get(field) is not None:
            steps.given(f"{p}{symbol}", own[field], f"{meaning}, at the reference")


def _windings(steps: Steps, own: Mapping[str, Any], found: Solenoid, p: str) -> None:
    for field, value in own.items():
        if field != "reference_temperature_c":
            steps.given(f"{p}{field}", value, field.replace("_", " "))
    cited = tables.citation("solenoids", "two_windings")
    through_motor = f"({p}pull_in_resistance_ohm + {p}motor_resistance_ohm)"
    steps.computed(
        f"{p}reference_pull_in_v",
        f"{p}ampere_turns / ({p}pull_in_turns / {through_motor} + "
        f"{p}hold_in_turns / {p}hold_in_resistance_ohm)",
        float(found.pull_in_v),
        "at terminal 50, both windings pulling the same way",
        cited,
    )
    steps.computed(
        f"{p}reference_resistance_ohm",
        f"{through_motor} * {p}hold_in_resistance_ohm / "
        f"({through_motor} + {p}hold_in_resistance_ohm)",
        float(found.resistance_ohm),
        "both windings in parallel",
        OHM,
    )
    steps.computed(
        f"{p}reference_hold_in_v",
        f"{p}hold_ampere_turns * {p}hold_in_resistance_ohm / {p}hold_in_turns",
        float(found.hold_in_v),
        "with the pull-in winding shorted out",
        cited,
    )


def _plunger(steps: Steps, own: Mapping[str, Any], found: Solenoid, p: str) -> None:
    for field, value in own.items():
        if field != "reference_temperature_c":
            name = "reference_resistance_ohm" if field == "resistance_ohm" else field
            steps.given(f"{p}{name}", value, field.replace("_", " "))
    steps.published("magnetic_constant", MAGNETIC_CONSTANT_N_PER_A2, "mu_0", CODATA, unit="N/A2")
    cited = tables.citation("solenoids", "force")
    for state, goal, value in (
        ("", "pull_in", found.pull_in_v),
        ("hold_", "hold_in", found.hold_in_v),
    ):
        if f"{p}{state}force_n" not in steps:
            continue
        needed = ampere_turns_for_force(
            force_n=own[f"{state}force_n"], gap_mm=own[f"{state}gap_mm"], area_mm2=own["area_mm2"]
        )
        turns = steps.computed(
            f"{p}{state}ampere_turns",
            f"{p}{state}gap_mm * sqrt(2 * {p}{state}force_n / (magnetic_constant * {p}area_mm2))",
            float(needed),
            "that pull with this force over the gap",
            cited,
        )
        steps.computed(
            f"{p}reference_{goal}_v",
            f"{turns} / {p}turns * {p}reference_resistance_ohm",
            float(value),
            "voltage at the winding",
            OHM,
        )


def explain_solenoid(arguments: Mapping[str, Any], answer: SolenoidPullIn, steps: Steps) -> None:
    """Explain ``solenoid-pull-in``."""
    solenoid = reference_steps(steps, arguments)
    steps.given("temperature_c", arguments["temperature_c"], "of the windings")
    for symbol, meaning in (
        ("supply_v", "voltage at the start of the path"),
        ("path_resistance_ohm", "of the path, out and back"),
        ("dip_v", "lowest voltage while it must hold"),
    ):
        if arguments.get(symbol) is not None:
            steps.given(symbol, arguments[symbol], meaning)
    change = copper_steps(steps, "change", "temperature_c", "reference_temperature_c")
    for symbol, formula, meaning, source in (
        ("pull_in_v", f"reference_pull_in_v * {change}", "that moves the plunger", SCALING),
        (
            "pull_in_current_a",
            "reference_pull_in_v / reference_resistance_ohm",
            "at which it moves, at any temperature",
            SAME_CURRENT,
        ),
        ("resistance_ohm", f"reference_resistance_ohm * {change}", "of the solenoid", LINEAR),
        ("hold_in_v", f"reference_hold_in_v * {change}", "that keeps it closed", SCALING),
    ):
        value = getattr(answer, symbol)
        if value is not None:
            steps.computed(symbol, formula, value, meaning, source)
    _arriving(steps, arguments, answer)
    if answer.hold_margin_v is not None:
        formula = "dip_v - hold_in_v"
        steps.computed("hold_margin_v", formula, answer.hold_margin_v, "to spare", SCALING)
    _to_spare(steps, arguments, answer, solenoid)


def _arriving(steps: Steps, arguments: Mapping[str, Any], answer: SolenoidPullIn) -> None:
    meaning = "voltage that reaches the terminal"
    if arguments.get("supply_v") is None:
        steps.given("available_v", answer.available_v, meaning)
    else:
        formula = "supply_v * resistance_ohm / (path_resistance_ohm + resistance_ohm)"
        steps.computed("available_v", formula, answer.available_v, meaning, KIRCHHOFF)
    formula = "available_v - pull_in_v"
    steps.computed("margin_v", formula, answer.margin_v, "to spare", SCALING)


def _to_spare(
    steps: Steps, arguments: Mapping[str, Any], answer: SolenoidPullIn, solenoid: Solenoid
) -> None:
    by_path = arguments.get("supply_v") is not None
    source = "supply_v" if by_path else "available_v"
    if answer.maximum_path_resistance_ohm is not None:
        steps.computed(
            "maximum_path_resistance_ohm",
            f"{source} / pull_in_current_a - resistance_ohm",
            answer.maximum_path_resistance_ohm,
            "at which its current still moves the plunger",
            OHM,
        )
    if answer.maximum_temperature_c is None:
        return
    volts, pull_in = steps.value(source), float(solenoid.pull_in_v)
    ohm = number(solenoid.resistance_ohm)
    formula, ratio = f"{source} / reference_pull_in_v", volts / pull_in
    if ohm is not None:
        path = " - path_resistance_ohm" if by_path else ""
        formula = f"({source} / pull_in_current_a{path}) / reference_resistance_ohm"
        ratio = (volts / (pull_in / ohm) - (arguments.get("path_resistance_ohm") or 0.0)) / ohm
    steps.computed(
        "largest_change", formula, ratio, "resistance it may have, over that at the reference", OHM
    )
    steps.computed(
        "maximum_temperature_c",
        f"20 + (largest_change * ({RATIO.format('reference_temperature_c')}) - 1) / copper_per_k",
        answer.maximum_temperature_c,
        "at which it has that resistance",
        LINEAR,
    )


def change_steps(steps: Steps, prefix: str, ambient_c: float) -> str:
    """Take the step to the growth of a solenoid's resistance in its zone.

    Parameters
    ----------
    steps : Steps
        Where to; those of `reference_steps` are there.
    prefix : str
        Of its symbols.
    ambient_c : float
        Of its windings. [degC]

    Returns
    -------
    str
        Symbol of the ratio.
    """
    steps.given(f"{prefix}winding_c", ambient_c, "of the windings: that of their zone")
    return copper_steps(
        steps, f"{prefix}change", f"{prefix}winding_c", f"{prefix}reference_temperature_c"
    )
