"""What is judged of a path as a whole: its battery, its cold drop, and voltage collapse."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from lastvolt_service.laws import named
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL, STARTER_MOTOR
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    Judged,
    asked_if,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.sources.supply import judge_too_low
from lastvolt_service.operations.wires.drop_limits import (
    BOTH_WINDINGS_C,
    BY_DESIGN_V,
    NO_WIRE_OHM,
    judge_supply,
)
from lastvolt_service.operations.wires.drop_request import VoltageDropRequest
from lastvolt_service.operations.wires.path_parts import PathPart, Segment, in_series
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, are, given, negate, pick, plain, some

LARGEST_POWER = "largest power through a resistance: supply squared over four times the resistance"


def judge_battery(
    asked: VoltageDropRequest, nominal_v: Numbers, current_a: Numbers, load_v: Numbers
) -> Checked:
    """Whether there is enough at the start of the path, and as much as a battery keeps."""
    starts = are(asked.circuit, STARTER_CONTROL) | are(asked.circuit, STARTER_MOTOR)
    needed = judge_supply(asked)
    battery = judge_too_low(asked.supply_v, nominal_v, current_a, starts=starts)
    judged = battery.judged
    # A flat battery that brings what is needed is what was asked about.
    is_enough = (judged.verdict == FAIL) & (load_v >= asked.needed_v)
    judged = judged._replace(verdict=pick(is_enough, MARGINAL, judged.verdict))
    falls_short = needed.judged.verdict == FAIL
    judged = Judged(*map(pick, [falls_short] * 4, needed.judged, judged))
    if falls_short is True:
        return needed
    return replace(battery, judged=judged, detail="of_the_battery")


def cold_drop_v(
    asked: VoltageDropRequest, parts: Sequence[PathPart], hot_c: Sequence[Numbers], drop_v: Numbers
) -> Numbers:
    """Drop with all wires at the temperature that a limit speaks of. [V]."""
    if not some(are(asked.circuit, STARTER_CONTROL)):
        return drop_v
    hot, cold = (
        in_series([plain(part.ohm(each)) for part, each in zip(parts, temperatures_c, strict=True)])
        for temperatures_c in (hot_c, [BOTH_WINDINGS_C] * len(parts))
    )
    by_ohm = asked.supply_v * cold / (cold + asked.load_resistance_ohm)
    # A load of constant power takes less current the less is lost: its drop is no more than this.
    in_share = drop_v * (cold / pick(hot > 0, hot, 1.0))
    found: Numbers = pick(given(asked.load_resistance_ohm), by_ohm, in_share)
    return found


def cables_ohm(parts: Sequence[PathPart], ohms: Sequence[Numbers]) -> Numbers:
    """Of the cables with their ends, without the contacts between them. [ohm].

    Nobody puts a resistor before a starter's motor: what is given as ohms stands for a cable.
    """
    return in_series(
        pick(part.is_wire | _is_joint(part.segment) | _is_resistance(part.segment), ohm, 0.0)
        for part, ohm in zip(parts, ohms, strict=True)
    )


def poor_contacts(
    parts: Sequence[PathPart], checks: Sequence[Checked], of_cables: Flags
) -> list[Numbers]:
    """What each part drops beyond a sound contact, of those in what the limit speaks of. [V]."""
    judged = {check.place: check.judged for check in checks if check.code == "contact_drop"}
    return [
        pick(
            (judged[part.column].verdict == FAIL) & (negate(of_cables) | _is_joint(part.segment)),
            -judged[part.column].margin,
            0.0,
        )
        if part.column in judged
        else 0.0
        for part in parts
    ]


def by_design(parts: Sequence[PathPart], segments: dict[str, Any]) -> list[tuple[Numbers, Flags]]:
    """What each part takes that is a resistance and may be meant to, and whether that is sure."""
    found: list[tuple[Numbers, Flags]] = []
    for part in parts:
        drop_v, ohm = segments[f"{part.column}_drop_v"], part.segment.resistance_ohm
        takes = _is_resistance(part.segment) & (drop_v >= BY_DESIGN_V)
        found.append((pick(takes, drop_v, 0.0), takes & (ohm >= NO_WIRE_OHM)))
    return found


def _is_resistance(segment: Segment) -> Flags:
    found: Flags = are(segment.kind, "resistance")
    return found


def _is_joint(segment: Segment) -> Flags:
    found: Flags = are(segment.part, "terminal") | are(segment.part, "ground")
    return found


def collapse(asked: VoltageDropRequest, path_ohm: Numbers) -> Checked:
    """How far a load of constant power is from what the path can deliver at most."""
    most_w = asked.supply_v**2 / (4 * pick(path_ohm > 0, path_ohm, NOT_GIVEN))
    judged = stays_within(asked.load_power_w, named("most_power_w", most_w, "the path delivers"))
    # Nothing to ask without a load of constant power, or without a path to speak of.
    return Checked(
        "voltage_collapse", asked_if(abs(judged.margin) < math.inf, judged), "W", LARGEST_POWER
    )
