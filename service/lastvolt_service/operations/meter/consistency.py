"""Whether readings hold together, and whether they can prove anything, before any part is blamed.

What counts as open, as a trickle or as the same factor for all wires is common practice.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.judging import MARGINAL_SHARE
from lastvolt_service.operations.meter.readings import (
    DropDiagnosisRequest,
    Readings,
    ReadPart,
    WireReading,
)
from lastvolt_service.rows import given

Doubt = Literal[
    "leads_swapped",
    "shorted",
    "open_part",
    "load_open",
    "read_twice",
    "readings_contradict",
    "current_contradicts",
    "trickle",
]
# Of the supply: what stands across a part that is open, and what its load then has at the most.
OPEN_SHARE, LEFT_SHARE = 0.9, 0.1
# Of the nominal voltage, where the supply was not read: a battery that lies low has less.
OPEN_SHARE_OF_NOMINAL = 0.8
# Least currents at which a fault shows: a starter's control circuit takes ten amperes and more.
LEAST_A = {"starter_motor": 50.0, "starter_control": 2.0, "intermittent": 0.5, "continuous": 0.5}
# What a load takes at most that is open or off: a pilot takes hundredths of an ampere, a starter's
# motor never so little. Who says what it takes at work may read at a trickle on purpose.
NOTHING_SHARE, OPEN_CIRCUIT_A, OPEN_MOTOR_A = 0.1, 0.005, 5.0
# What is no load of a car, whatever lies before it: it keeps little of its supply while much flows,
# and would take more at the nominal voltage than any that is on for long.
SHORTED_SHARE, SHORTED_A, MOST_OF_A_LOAD_A = 0.2, 30.0, 250.0
# All wires drop so many times what new ones do, alike within this share, or so much less.
WRONG_FACTOR, ALIKE = 1.5, 0.2
# So many times as much, alike in all wires, is the current, whatever the contacts do.
SURELY_WRONG = 5.0


@dataclass(frozen=True, slots=True)
class Consistency:
    """What speaks against readings.

    Attributes
    ----------
    doubt : str or None
        What weighs most; see `Doubt`.
    parts : tuple of str
        The parts that it is about.
    """

    doubt: Doubt | None = None
    parts: tuple[str, ...] = ()


def consistency(asked: DropDiagnosisRequest, taken: Readings, nominal_v: float) -> Consistency:
    """Look for what makes the readings worthless, what is plainest first."""
    swapped = _names(each for each in taken.parts if each.reading.measured_v < -each.uncertainty_v)
    if swapped:
        return Consistency("leads_swapped", swapped)
    if _is_shorted(asked, taken, nominal_v):
        return Consistency("shorted")
    opened = _names(each for each in taken.parts if _is_open(asked, each, nominal_v))
    if opened:
        return Consistency("open_part", opened)
    if _is_load_open(asked):
        return Consistency("load_open")
    if taken.contradiction_v > MARGINAL_SHARE * taken.total_v:
        twice = _names(each for each in taken.parts if _adds_up_without(each, taken))
        return Consistency("read_twice" if twice else "readings_contradict", twice)
    factor = _alike(taken)
    if _less_than_copper(taken) or (
        factor > 0 and (factor >= SURELY_WRONG or not _proven_contacts(taken))
    ):
        return Consistency("current_contradicts")
    is_trickle = not given(asked.working_current_a) and asked.current_a < LEAST_A[asked.circuit]
    if is_trickle and not any(each.proven for each in taken.parts):
        return Consistency("trickle")
    return Consistency()


def _names(parts: Iterable[ReadPart]) -> tuple[str, ...]:
    return tuple(each.reading.name for each in parts)


def _is_shorted(asked: DropDiagnosisRequest, taken: Readings, nominal_v: float) -> bool:
    """Whether what is read at the load and through it can be no load."""
    if asked.circuit.startswith("starter") or not given(asked.load_voltage_v):
        return False
    load_v, current_a = asked.load_voltage_v, asked.current_a
    keeps_little = load_v <= SHORTED_SHARE * (load_v + taken.total_v)
    takes_much = current_a * nominal_v > MOST_OF_A_LOAD_A * load_v
    return bool(keeps_little and takes_much and current_a >= SHORTED_A)


def _is_open(asked: DropDiagnosisRequest, each: ReadPart, nominal_v: float) -> bool:
    """Whether nearly all of the supply stands across a part, and nothing of it at the load."""
    supply_v, share = asked.supply_v, OPEN_SHARE
    if not given(supply_v):
        supply_v, share = nominal_v, OPEN_SHARE_OF_NOMINAL
    load_v = asked.load_voltage_v if given(asked.load_voltage_v) else 0.0
    return bool(each.reading.measured_v >= share * supply_v and load_v <= LEFT_SHARE * supply_v)


def _is_load_open(asked: DropDiagnosisRequest) -> bool:
    """Whether nearly all of the supply stands at a load that takes next to nothing."""
    most_a = OPEN_MOTOR_A if asked.circuit == STARTER_MOTOR else OPEN_CIRCUIT_A
    if given(asked.working_current_a):
        most_a = min(OPEN_CIRCUIT_A, NOTHING_SHARE * asked.working_current_a)
    at_load = asked.load_voltage_v >= OPEN_SHARE * asked.supply_v
    return bool(at_load and asked.current_a < most_a)


def _adds_up_without(each: ReadPart, taken: Readings) -> bool:
    """Whether the readings make up the supply when this one is left out."""
    left_v = taken.unaccounted_v + each.reading.measured_v
    return bool(abs(left_v) <= taken.unaccounted_uncertainty_v)


def _wires(taken: Readings) -> list[ReadPart]:
    return [
        each
        for each in taken.parts
        if isinstance(each.reading, WireReading) and each.expected_v > 0
    ]


def _factor(each: ReadPart) -> float:
    return float(each.reading.measured_v / each.expected_v)


def _less_than_copper(taken: Readings) -> bool:
    """Whether all wires drop less than new ones can, whatever the contacts do."""
    wires = _wires(taken)
    beyond = all(each.expected_v - each.reading.measured_v > each.error_v for each in wires)
    return bool(wires) and beyond and max(map(_factor, wires)) <= 1 / WRONG_FACTOR


def _alike(taken: Readings) -> float:
    """The multiple of what new wires drop that all of them do alike; 0 where there is none."""
    wires = _wires(taken)
    if len(wires) < 2 or not all(each.proven for each in wires):
        return 0.0
    factors = [_factor(each) for each in wires]
    alike = min(factors) >= WRONG_FACTOR and max(factors) <= (1 + ALIKE) * min(factors)
    return min(factors) if alike else 0.0


def _proven_contacts(taken: Readings) -> bool:
    return any(each.proven for each in taken.parts if not isinstance(each.reading, WireReading))
