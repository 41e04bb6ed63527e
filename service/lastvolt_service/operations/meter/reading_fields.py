"""Meters and readings of circuits, as requests give them.

A meter errs by a share of what it reads, the same in all its readings, and by some steps of its
last digit, another in each. Which of these a usual meter has is common practice.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar, Literal

import numpy as np

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    Groups,
    choice,
    count,
    known,
    many,
    quantity,
)
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.parts import nodes
from lastvolt_service.operations.common_fields import named_there
from lastvolt_service.physics.uncertainty import rectangular
from lastvolt_service.tables import Unproven

Kind = Literal["volts", "amperes", "ohms"]
KINDS: tuple[Kind, ...] = ("volts", "amperes", "ohms")
MAX_METERS, MAX_READINGS = 20, 60
MOST_V, MOST_A = 100.0, 3000.0
# Ohms below so many times leads and last digit are noise: what is read then is the leads.
LEAST_SHARE = 10.0
# Ranges that a meter has at most, a decade each, and by how little a value is in the next one.
RANGES, JUST_OVER = 8, 1.0 + 1e-8
USUAL_COUNTS, USUAL_LEADS_OHM = 2000, 0.2
# A zero is read in the range that was set for the battery; leads pick up less than its last digit.
RANGE_OF_ZERO_V = 15.0


@dataclass(frozen=True, slots=True)
class Usual:
    """What a usual meter of one kind has.

    Attributes
    ----------
    accuracy_percent, accuracy_digits : float
        Largest errors: of what it reads, and in steps of the last digit.
    finest : float
        Smallest step of the last digit in any range, in V, A or ohm.
    unit : str
        Of what it reads.
    citation : str
        That it is common practice.
    """

    accuracy_percent: float
    accuracy_digits: float
    finest: float
    unit: str
    citation: str


USUAL: Mapping[str, Usual] = {
    "volts": Usual(0.5, 2, 1e-4, "V", Unproven("a usual voltmeter: 0.5 % and 2 digits of 2,000")),
    "amperes": Usual(2.0, 5, 1e-2, "A", Unproven("a usual clamp: 2 % and 5 digits of 2,000")),
    "ohms": Usual(
        0.8, 3, 0.1, "ohm", Unproven("a usual ohmmeter: 0.8 % and 3 digits of 2,000, leads 0.2 ohm")
    ),
}
# What the names of its fields end with.
_ENDS = {"volts": "v", "amperes": "a", "ohms": "ohm"}


class MeterData(Fields):
    """A meter, by what its sheet says of one kind of reading; what is not given is as usual."""

    at_most_one_of: ClassVar[Groups] = (("resolution_v", "resolution_a", "resolution_ohm"),)

    name: str = label("what readings call it")
    kind: str = choice("what it reads; amperes by a clamp for direct current", KINDS)
    accuracy_percent: float = quantity(
        "largest error as a share of what it reads, the same in all its readings; by default 0.5 "
        "of volts, 2 of amperes and 0.8 of ohms (common practice)",
        maximum=50.0,
        default=ABSENT,
    )
    accuracy_digits: float = count(
        "largest error in steps of the last digit, beside rounding; by default 2 of volts, 5 of "
        "amperes and 3 of ohms (common practice)",
        minimum=0,
        maximum=1000,
        default=ABSENT,
    )
    counts: float = count(
        "largest number that it shows, without the point: it takes the finest range that holds a "
        "reading, and for 0 V that of the battery",
        minimum=100,
        maximum=10_000_000,
        default=USUAL_COUNTS,
    )
    resolution_v: float = quantity(
        "step of the last digit of volts, whatever the range", minimum=1e-6, default=ABSENT
    )
    resolution_a: float = quantity(
        "step of the last digit of amperes, whatever the range", minimum=1e-6, default=ABSENT
    )
    resolution_ohm: float = quantity(
        "step of the last digit of ohms, whatever the range", minimum=1e-6, default=ABSENT
    )
    leads_ohm: float = quantity(
        "resistance of its leads, which a reading of ohms includes; half as much more or less is "
        "reckoned with",
        maximum=10.0,
        default=USUAL_LEADS_OHM,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """A meter of one kind has the resolution of that kind."""
        for kind, end in _ENDS.items():
            name = f"resolution_{end}"
            wrong = kind != self.kind and known(getattr(self, name))
            yield wrong, (name,), f"This is of a meter for {kind}, and the meter reads {self.kind}."

    @property
    def usual(self) -> Usual:
        """What a usual meter of this kind has."""
        return USUAL[self.kind]

    @property
    def basis(self) -> tuple[str, ...]:
        """What is practice of it: nothing where both of its errors are given."""
        is_given = known(self.accuracy_percent) and known(self.accuracy_digits)
        return () if is_given else (self.usual.citation,)

    @property
    def share(self) -> float:
        """Largest error as a share of what it reads."""
        own = self.accuracy_percent
        return float(own if known(own) else self.usual.accuracy_percent) / 100.0

    @property
    def steps(self) -> float:
        """Largest error in steps of the last digit, beside rounding."""
        own = self.accuracy_digits
        return float(own if known(own) else self.usual.accuracy_digits)

    @property
    def gain(self) -> float:
        """Standard uncertainty of its factor, common to its readings."""
        return float(rectangular(self.share))

    def step(self, value: Any) -> Any:
        """Step of the last digit at a reading, or at each of many, in its unit."""
        own = float(getattr(self, f"resolution_{_ENDS[self.kind]}"))
        if known(own):
            return own
        size = np.abs(value)
        if self.kind == "volts":
            size = np.where(size == 0.0, RANGE_OF_ZERO_V, size)
        over = np.maximum(size / (self.counts * self.usual.finest), 1.0)
        return self.usual.finest * 10.0 ** np.ceil(np.log10(over) - 1e-9)

    def digits(self, value: Any) -> Any:
        """Standard uncertainty of a reading by its digits and their rounding, in its unit."""
        step = self.step(value)
        leads_ohm = self.leads_ohm if self.kind == "ohms" else 0.0
        return np.sqrt(
            rectangular(self.steps * step) ** 2
            + rectangular(0.5 * step) ** 2
            + rectangular(0.5 * leads_ohm) ** 2
        )

    def most_off(self, value: float) -> float:
        """How far off it may be at most at a reading of volts or amperes, rounding included."""
        return float(self.share * abs(value) + (self.steps + 0.5) * self.step(value))

    def least_and_most(self, low: float, high: float) -> tuple[float, float]:
        """Least and most that it may show of volts or amperes that lie between two values.

        Where it takes its next range it is further off than just below.
        """
        ends = [low, high]
        if not known(getattr(self, f"resolution_{_ENDS[self.kind]}")):
            ranges = [self.counts * self.usual.finest * 10.0**k for k in range(RANGES)]
            nexts = [side * each * JUST_OVER for each in ranges for side in (-1.0, 1.0)]
            ends += [each for each in nexts if low < each < high]
        return (
            min(each - self.most_off(each) for each in ends),
            max(each + self.most_off(each) for each in ends),
        )

    @property
    def least_ohm(self) -> float:
        """Least reading of ohms that is more than leads and last digit. [ohm]."""
        return float(LEAST_SHARE * (self.leads_ohm + self.step(0.0)))


# Of a reading, in its unit: nothing that is read in a vehicle is known better.
LEAST_UNCERTAINTY = 1e-6
_OWN = "of a recording's reading, or of a mean, with all that its meter adds; in place of `meter`"
# What lasts no longer a meter misses: it shows a few readings a second. Common practice.
MISSED_S = 0.3
MISSED = (
    f"A meter misses what lasts less than {MISSED_S} s: take a recording, or the largest of a "
    "min/max hold, and give its standard uncertainty."
)


class MeterReading(Fields):
    """What a meter showed: volts between two nodes, amperes through a part, or ohms without power.

    Its red lead is at the first node; a clamp's arrow points from a part's first node to its
    second.
    """

    exactly_one_of: ClassVar[Groups] = (
        ("between", "through", "of"),
        ("value_v", "value_a", "value_ohm"),
    )

    case: str = label("the case in which it was read")
    between: Sequence[str] = nodes("nodes at the red and at the black lead", optional=True)
    through: str | None = label(
        "branch, load or relay that the clamp lies round; a relay's contact is meant",
        default=ABSENT,
    )
    of: str | None = label(
        "part whose ohms were read by itself, one end of it taken off; of a relay its coil",
        default=ABSENT,
    )
    value_v: float = quantity("that was shown", minimum=-MOST_V, maximum=MOST_V, default=ABSENT)
    value_a: float = quantity("that was shown", minimum=-MOST_A, maximum=MOST_A, default=ABSENT)
    value_ohm: float = quantity("that was shown, power off", default=ABSENT)
    meter: str | None = label("the meter; by default a usual one of its kind", default=ABSENT)
    standard_uncertainty_v: float = quantity(_OWN, minimum=LEAST_UNCERTAINTY, default=ABSENT)
    standard_uncertainty_a: float = quantity(_OWN, minimum=LEAST_UNCERTAINTY, default=ABSENT)
    standard_uncertainty_ohm: float = quantity(_OWN, minimum=LEAST_UNCERTAINTY, default=ABSENT)
    duration_s: float = quantity("how long it lasted", minimum=0.0, default=ABSENT)

    @property
    def kind(self) -> Kind:
        """What was read."""
        return next(kind for kind in KINDS if known(getattr(self, f"value_{_ENDS[kind]}")))

    @property
    def value(self) -> float:
        """What was shown, in V, A or ohm."""
        return float(getattr(self, f"value_{_ENDS[self.kind]}"))

    @property
    def own_uncertainty(self) -> float:
        """Its standard uncertainty where it comes with one, in its unit; else NaN."""
        return float(getattr(self, f"standard_uncertainty_{_ENDS[self.kind]}"))

    def broken_rules(self) -> Iterator[Broken]:
        """Volts stand between nodes, amperes go through a part, ohms are of either."""
        if not any(known(getattr(self, f"value_{end}")) for end in _ENDS.values()):
            return
        kind = self.kind
        yield kind == "volts" and not self.between, ("between",), "Volts stand between two nodes."
        wrong = kind == "amperes" and self.through is None
        yield wrong, ("through",), "Amperes go through a part."
        wrong = kind != "amperes" and self.through is not None
        yield wrong, ("through",), "Through a part go amperes: give value_a."
        wrong = kind != "ohms" and self.of is not None
        yield wrong, ("of",), "Of a part by itself ohms are read: give value_ohm."
        for each, end in _ENDS.items():
            name = f"standard_uncertainty_{end}"
            wrong = each != kind and known(getattr(self, name))
            yield wrong, (name,), f"This is of {each}, and {kind} were read."
        own = known(self.own_uncertainty)
        yield own and self.meter is not None, ("meter",), "It comes with its own uncertainty."
        missed = not own and self.duration_s < MISSED_S
        yield missed, ("duration_s",), MISSED
        same = len(self.between) == 2 and self.between[0] == self.between[1]
        yield same, ("between",), "Both leads are at one node."


METERS = many(
    MeterData, "meters that readings name; a usual one needs none", minimum=0, maximum=MAX_METERS
)
READINGS = many(MeterReading, "what was read", maximum=MAX_READINGS)


def meter_of(reading: MeterReading, meters: Sequence[MeterData]) -> MeterData:
    """Find the meter of a reading; by default the usual one of its kind.

    What comes with an uncertainty of its own has all that its meters add in it.
    """
    if known(reading.own_uncertainty):
        return _faultless_meter(reading.kind)
    found = (each for each in meters if each.name == reading.meter)
    return next(found, None) or usual_meter(reading.kind)


@cache  # one meter has one factor, and is known by itself: a request may call its own so, too
def usual_meter(kind: Kind) -> MeterData:
    """The usual meter of a kind."""
    return MeterData(
        name=f"usual {kind}", kind=kind, counts=USUAL_COUNTS, leads_ohm=USUAL_LEADS_OHM
    )


@cache
def _faultless_meter(kind: Kind) -> MeterData:
    return MeterData(
        name="as recorded",
        kind=kind,
        accuracy_percent=0.0,
        accuracy_digits=0,
        counts=USUAL_COUNTS,
        leads_ohm=0.0,
    )


def broken_readings(
    readings: Sequence[MeterReading],
    meters: Sequence[MeterData],
    circuit: Circuit,
    left_out: Mapping[str, Sequence[str]],
    field: str = "readings",
) -> Iterator[Broken]:
    """Find readings of what is not there; `left_out` are the parts that each case leaves out."""
    by_name = {each.name: each for each in meters}
    there = circuit.node_names()
    parts = {part.name for part in (*circuit.branches, *circuit.loads, *circuit.relays)}
    for place, each in enumerate(readings):
        path = (field, place)
        yield named_there(each.case, left_out, (*path, "case"), "No case has this name")
        for end, node in enumerate(each.between):
            at = (*path, "between", end)
            yield named_there(node, there, at, "No node of the circuit has this name")
        for whole in ("through", "of"):
            name = getattr(each, whole)
            if name is not None:
                missing = "No branch, load or relay of the circuit has this name"
                yield named_there(name, parts, (*path, whole), missing)
                off = name in left_out.get(each.case, ())
                yield off, (*path, whole), "This case leaves the part out: nothing is to be read."
        if each.meter is not None:
            own = by_name.get(each.meter)
            yield own is None, (*path, "meter"), "No meter has this name."
            wrong = own is not None and own.kind != each.kind
            yield wrong, (*path, "meter"), f"This meter does not read {each.kind}."
