"""Readings on a live circuit: what each is held against, and what their errors leave open."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import reduce
from operator import add
from typing import Any, ClassVar

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    choice,
    count,
    many,
    name,
    part,
    quantity,
)
from lastvolt_service.laws import KIRCHHOFF, OHM, by, named, published
from lastvolt_service.operations.circuits.contact_checks import sound_contact
from lastvolt_service.operations.common_fields import (
    ASK_NOMINAL,
    MAX_SUPPLY_V,
    between_systems,
    same_names,
    supply,
)
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL
from lastvolt_service.operations.judging import BOTH_WINDINGS_A
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.operations.wires.fields import (
    CIRCUITS,
    HIGHEST_CONDUCTOR_C,
    LENGTH,
    NOMINALS,
    WireSize,
)
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.diagnosis import excess_voltage, reading_uncertainty
from lastvolt_service.rows import given, pick, plain
from lastvolt_service.tables.limits import contact_limits

UNCERTAINTY_BASIS = (
    "errors add up as the worst case: one step of the last digit and the percentage of each "
    "reading, and the errors of current and temperature in what a new wire would drop"
)


# What no meter in its way tells from none. [A]
LEAST_SHOWN_A = 1e-3


class Meter(Fields):
    """The voltmeter: what its last digit is worth, and how far off it may be."""

    resolution_v: float = quantity(
        "one step of the last digit, in the range of these readings",
        minimum=1e-6,
        maximum=1.0,
        default=0.01,
    )
    accuracy_percent: float = quantity(
        "error of the meter, of what it reads", maximum=20.0, default=0.5
    )


class Reading(Fields):
    """What the meter shows across one part."""

    name: str = name("what the answer calls this part")
    kind: str = choice("what is read", ("wire", "contact"))
    measured_v: float = quantity(
        "across the part, with the current flowing; below zero where the leads are swapped",
        minimum=-MAX_SUPPLY_V,
        maximum=MAX_SUPPLY_V,
    )


class WireReading(WireSize, Reading):
    """A reading across a wire, from one end of its metal to the other."""

    kind: str = choice("wire", ("wire",))
    length_m: float = quantity(LENGTH)
    temperature_c: float = quantity(
        "temperature of the conductor", maximum=HIGHEST_CONDUCTOR_C, default=20.0
    )


class ContactReading(Reading):
    """A reading across a contact or a joint."""

    kind: str = choice("contact", ("contact",))
    part: str = choice("what makes the contact", tuple(contact_limits()))


class DropDiagnosisRequest(Fields):
    """Readings along a path, all at the same current."""

    current_a: float = quantity(
        "current round the path during the readings; 0 where the meter shows none", minimum=0.0
    )
    current_accuracy_percent: float = quantity("error of that current", maximum=50.0, default=1.0)
    working_current_a: float = quantity(
        "that the circuit takes at work, where the readings are taken at another",
        minimum=1e-3,
        default=ABSENT,
    )
    temperature_accuracy_k: float = quantity(
        "error of the temperatures given for the wires: 10 K are 4 % of their resistance",
        maximum=100.0,
        default=10.0,
    )
    meter: Meter = part(
        Meter, "the voltmeter", default={"resolution_v": 0.01, "accuracy_percent": 0.5}
    )
    supply_v: float = supply(
        "measured at the start of the path, with the current flowing", default=ABSENT
    )
    load_voltage_v: float = quantity(
        "measured at the load, with the current flowing; 0 where nothing arrives",
        minimum=0.0,
        maximum=MAX_SUPPLY_V,
        default=ABSENT,
    )
    circuit: str = choice(
        "kind of circuit, for the limit of the whole path", CIRCUITS, default="continuous"
    )
    nominal_v: float = count(
        "nominal voltage of the system, for published limits: 6, 12 or 24; by default told from "
        "supply_v, or from load_voltage_v and the readings; 12 without them",
        choices=NOMINALS,
        default=ABSENT,
    )
    readings: list[WireReading | ContactReading] = many(
        {"wire": WireReading, "contact": ContactReading},
        "parts that the current runs through, out and back, each read once",
    )

    example: ClassVar = {
        "current_a": 9.4,
        "supply_v": 12.21,
        "load_voltage_v": 9.86,
        "circuit": "starter_control",
        "meter": {"resolution_v": 0.001, "accuracy_percent": 0.5},
        "readings": [
            {
                "name": "battery lead to switch",
                "kind": "wire",
                "size": "12 AWG",
                "length_m": 6.5,
                "temperature_c": 35,
                "measured_v": 0.342,
            },
            {"name": "key switch", "kind": "contact", "part": "switch", "measured_v": 0.872},
            {"name": "bulkhead plug", "kind": "contact", "part": "connector", "measured_v": 0.295},
            {
                "name": "switch to solenoid",
                "kind": "wire",
                "size": "14 AWG",
                "length_m": 7.5,
                "temperature_c": 50,
                "measured_v": 0.678,
            },
            {"name": "engine ground", "kind": "contact", "part": "ground", "measured_v": 0.121},
        ],
    }

    def broken_rules(self) -> Iterator[Broken]:
        """Each part has a name of its own, and the supply says which system it is."""
        yield from same_names("readings", self.readings)
        supply_v = self.supply_v
        if not given(supply_v):
            supply_v = self.load_voltage_v + sum(each.measured_v for each in self.readings)
        unsettled = not given(self.nominal_v) and between_systems(supply_v)
        yield unsettled, ("nominal_v",), ASK_NOMINAL


@dataclass(frozen=True, slots=True)
class ReadPart:
    """What the meter shows across one part, and what a sound part would drop.

    Attributes
    ----------
    column : str
        What the names of its results begin with.
    reading : WireReading or ContactReading
        As in the request.
    uncertainty_v : float
        Largest error of the reading. [V]
    expected_v, error_v : float
        Of a new wire, or the most that a sound contact drops; and the largest error of the
        reading and of that together. [V]
    excess_v, excess_uncertainty_v : float
        What is measured over what is expected, 0 where it drops no more; and its largest error,
        readings that contradict each other included. [V]
    basis : tuple of str
        What the expectation rests on.
    """

    column: str
    reading: WireReading | ContactReading
    uncertainty_v: float
    expected_v: float
    error_v: float
    excess_v: float
    excess_uncertainty_v: float
    basis: tuple[str, ...]

    @property
    def proven(self) -> bool:
        """Whether the excess is beyond its largest error."""
        return self.excess_v > self.excess_uncertainty_v

    @property
    def hidden_v(self) -> float:
        """Largest excess that the reading leaves possible."""
        return max(0.0, self.reading.measured_v - self.expected_v + self.error_v)


@dataclass(frozen=True, slots=True)
class Readings:
    """All readings along a path, with those of supply and load.

    Attributes
    ----------
    parts : tuple of ReadPart
        In order.
    total_v, total_uncertainty_v : float
        Sum of the readings, and its largest error. [V]
    unaccounted_v, unaccounted_uncertainty_v : float
        Supply less load less readings, and its largest error; NaN without both ends. [V]
    missing_v, contradiction_v : float
        Lost for certain where nothing was read; and by how much the readings are wrong for
        certain. [V]
    share : float
        Of the working current that flowed: what limits in volts for that current come to; more
        than 1 where a load draws too much, or another is on.
    """

    parts: tuple[ReadPart, ...]
    total_v: float
    total_uncertainty_v: float
    unaccounted_v: float
    unaccounted_uncertainty_v: float
    missing_v: float
    contradiction_v: float
    share: float


def added(values: Iterable[float]) -> float:
    """Add numbers up, so that they remember it; there is at least one."""
    return reduce(add, values)


def take_readings(asked: DropDiagnosisRequest) -> Readings:
    """Put an expectation and an error beside every reading.

    Raises
    ------
    UnknownSize, NotCovered
        If a wire is in no table; the path points at the reading.
    """
    parts = [_read_part(asked, place) for place in range(len(asked.readings))]
    total_v = named(
        "total_measured_v",
        by(KIRCHHOFF, added(part.reading.measured_v for part in parts)),
        "sum of the readings",
    )
    total_uncertainty_v = named(
        "total_uncertainty_v", added(part.uncertainty_v for part in parts), "its largest error"
    )
    left_v = named(
        "unaccounted_v",
        by(KIRCHHOFF, asked.supply_v - asked.load_voltage_v - total_v),
        "lost where nothing was read; below zero, read twice",
    )
    ends_v = added(
        named(f"{end}_uncertainty_v", _error(asked.meter, volts), f"largest error at the {end}")
        for end, volts in (("supply", asked.supply_v), ("load", asked.load_voltage_v))
    )
    error_v = named(
        "unaccounted_uncertainty_v",
        by(UNCERTAINTY_BASIS, ends_v + total_uncertainty_v),
        "its largest error",
    )
    missing_v = contradiction_v = 0.0
    if given(left_v):
        missing_v = plain(excess_voltage(measured_v=left_v, expected_v=error_v))
        contradiction_v = named(
            "contradiction_v",
            plain(excess_voltage(measured_v=-left_v, expected_v=error_v)),
            "by how much the readings are wrong for certain",
        )
        # Where the sum is wrong, any one reading may be the wrong one.
        parts = [
            replace(part, excess_uncertainty_v=part.error_v + contradiction_v) for part in parts
        ]
    parts = [
        replace(
            part,
            excess_uncertainty_v=named(
                f"{part.column}_excess_uncertainty_v",
                by(UNCERTAINTY_BASIS, part.excess_uncertainty_v),
                f"largest error of the excess of {part.reading.name}",
            ),
        )
        for part in parts
    ]
    return Readings(
        tuple(parts),
        total_v,
        total_uncertainty_v,
        left_v,
        error_v,
        missing_v,
        contradiction_v,
        share_at_work(asked),
    )


def current_at_work(asked: DropDiagnosisRequest) -> float:
    """Current that limits in volts are for: what flows at work, if that is known."""
    working_a = asked.working_current_a
    found: float = pick(given(working_a), working_a, asked.current_a)
    return found


def share_at_work(asked: DropDiagnosisRequest) -> float:
    """Share of the working current that flowed, which may be more than all; limits are for that."""
    if not given(asked.working_current_a) or asked.current_a == asked.working_current_a:
        return 1.0
    share = asked.current_a / asked.working_current_a
    return named("share_at_work", by(OHM, share), "of the working current that flowed")


def _error(meter: Meter, reading_v: float) -> float:
    error_v: float = plain(
        reading_uncertainty(
            reading_v=-reading_v if reading_v < 0 else reading_v,
            resolution_v=meter.resolution_v,
            accuracy_percent=meter.accuracy_percent,
        )
    )
    return error_v


def _read_part(asked: DropDiagnosisRequest, place: int) -> ReadPart:
    reading, column = asked.readings[place], f"readings_{place + 1}"
    uncertainty_v = named(
        f"{column}_uncertainty_v",
        _error(asked.meter, reading.measured_v),
        f"largest error of the reading across {reading.name}",
    )
    if isinstance(reading, WireReading):
        try:
            expected_v, expected_error_v, basis = _new_wire(asked, reading, column)
        except CalculationError as refused:
            raise refused.below("readings", place) from refused
        error_v = by(UNCERTAINTY_BASIS, uncertainty_v + expected_error_v)
    else:
        # What is allowed to a contact is allowed at the working current, whatever that is: it has
        # no error; at another it is as much less or more, for the same resistance.
        at_work_a = float(current_at_work(asked))
        moves = asked.circuit == STARTER_CONTROL and at_work_a <= BOTH_WINDINGS_A
        limit = sound_contact(reading.part, at_work_a, 0.0 if moves else math.inf)
        meaning = f"most that a sound {reading.part} drops"
        share = share_at_work(asked)
        if share == 1.0:
            expected_v = published(f"{column}_expected_v", limit.limit_v, meaning, limit.citation)
        else:
            at_work_v = published(f"{column}_at_work_v", limit.limit_v, meaning, limit.citation)
            expected_v = named(
                f"{column}_expected_v", by(OHM, at_work_v * share), f"{meaning}, at this current"
            )
        error_v, basis = uncertainty_v, (limit.citation,)
    excess_v = named(
        f"{column}_excess_v",
        plain(excess_voltage(measured_v=reading.measured_v, expected_v=expected_v)),
        f"more than a sound one: {reading.name}",
    )
    return ReadPart(column, reading, uncertainty_v, expected_v, error_v, excess_v, error_v, basis)


def _new_wire(
    asked: DropDiagnosisRequest, reading: WireReading, column: str
) -> tuple[float, float, tuple[str, ...]]:
    """What a new wire drops, its largest error, and what both rest on."""
    # Plain texts, as this is one request.
    texts: Any = (reading.size, reading.standard, reading.material, reading.construction)
    wire = conductor(*texts)

    def ohm(temperature_c: float) -> float:
        ratio = resistance_ratio(
            temperature_c=temperature_c,
            temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
        )
        found: float = plain(wire.resistance_20_ohm_per_m * ratio * reading.length_m)
        return found

    as_given = named(f"{column}_ohm", ohm(reading.temperature_c), f"of a new {reading.name}")
    warmer = named(
        f"{column}_warmer_ohm",
        ohm(reading.temperature_c + asked.temperature_accuracy_k),
        "the same, if it is as warm as the error allows",
    )
    expected_v = named(
        f"{column}_expected_v",
        by(OHM, asked.current_a * as_given),
        "across a new wire of this size, length and temperature",
    )
    share = asked.current_accuracy_percent / 100
    error_v = named(
        f"{column}_expected_uncertainty_v",
        by(UNCERTAINTY_BASIS, asked.current_a * (share * as_given + (warmer - as_given))),
        "largest error of that",
    )
    return expected_v, error_v, wire.basis
