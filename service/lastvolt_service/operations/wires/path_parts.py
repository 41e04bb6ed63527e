"""Parts of a path in series, in requests, and what tables know of each of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import ABSENT, Fields, Groups, changed, choice, name, quantity
from lastvolt_service.laws import OHM, by, finer, is_recording, published
from lastvolt_service.operations.judging import Fault
from lastvolt_service.operations.lookup import Found, Refusal, look_up
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.wires.conductors import Conductor
from lastvolt_service.operations.wires.fields import HIGHEST_CONDUCTOR_C, LENGTH, WireInPlace
from lastvolt_service.operations.wires.heated_wire import HeatedWire, lay
from lastvolt_service.operations.wires.insulated_wire import known_wires
from lastvolt_service.operations.wires.resistance import (
    ASSUMED,
    ASSUMED_C,
    known_conductors,
    warm_ohm_per_m,
)
from lastvolt_service.rows import (
    Flags,
    Numbers,
    Texts,
    are,
    given,
    negate,
    pick,
    some,
    texts_where,
)
from lastvolt_service.tables.limits import CRANKING_A, Limit, contact_limit, contact_limits


class WireSegment(WireInPlace):
    """A wire in a path, at a given temperature or at the one that its current heats it to."""

    at_most_one_of: ClassVar[Groups] = (("temperature_c", "ambient_c"),)

    name: Texts = name("what the answer calls this wire")
    kind: Texts = choice("wire", ("wire",))
    length_m: Numbers = quantity(LENGTH)
    temperature_c: Numbers = quantity(
        "temperature of the conductor; without it and without ambient_c 20 degC are assumed",
        maximum=HIGHEST_CONDUCTOR_C,
        default=ABSENT,
    )


class ContactSegment(Fields):
    """A contact in a path."""

    name: Texts = name("what the answer calls this contact")
    kind: Texts = choice("contact", ("contact",))
    part: Texts = choice("what makes the contact", tuple(contact_limits()))
    resistance_ohm: Numbers = quantity("resistance of the contact as it is", maximum=1e3)
    rating_a: Numbers = quantity(
        "steady current that the part is rated for", minimum=1e-3, default=ABSENT
    )


class ResistanceSegment(Fields):
    """A known resistance in a path."""

    name: Texts = name("what the answer calls this part")
    kind: Texts = choice("resistance", ("resistance",))
    resistance_ohm: Numbers = quantity("resistance of the part")


class Segment(WireSegment, ContactSegment, ResistanceSegment):
    """A part of a path, of whichever kind; in columns each row's own."""


SEGMENTS = {"wire": WireSegment, "contact": ContactSegment, "resistance": ResistanceSegment}


@dataclass(frozen=True, slots=True)
class SegmentDrop:
    """What one part of the path takes."""

    name: Annotated[str, "the part as the request names it"]
    kind: Annotated[str, "wire, contact or resistance"]
    resistance_ohm: Annotated[float, "of the part"]
    drop_v: Annotated[float, "voltage across the part"]
    power_w: Annotated[float, "heat made in the part"]
    share_percent: Annotated[float, "share of the whole drop; 0 where nothing drops"]
    temperature_c: Annotated[
        float | None,
        "of the conductor; null for parts that are no wire, and where one heats up without end",
    ]
    temperature_source: Annotated[
        Literal["given", "assumed", "solved"] | None,
        "given by the caller; assumed, 20 degC, where he gives none; or solved from ambient_c and "
        "the current",
    ]


@dataclass(slots=True)
class PathPart:
    """One part of a path, or that of many rows, with what the tables know of it.

    Attributes
    ----------
    segment : Segment
        As in the request.
    place : int
        Its index, from 0.
    column : str
        What the names of its results begin with.
    is_wire, is_contact, is_heated : bool or ndarray of bool
        What it is; a wire is heated by its current where its ambient is given.
    runs_away : bool or ndarray of bool
        Whether it then heats up without end.
    metal : Found of Conductor or None
        Of wires.
    wire : HeatedWire or None
        Of heated ones.
    limit, cranking_limit : Found of Limit or None
        Of what contacts may drop, and may with the current of a starter motor.
    faults, refusals
        Rows that tables do not know, or where the insulation does not fit.
    """

    segment: Segment
    place: int
    column: str
    is_wire: Flags
    is_contact: Flags
    is_heated: Flags = False
    runs_away: Flags = False
    metal: Found[Conductor] | None = None
    wire: HeatedWire | None = None
    limit: Found[Limit] | None = None
    cranking_limit: Found[Limit] | None = None
    faults: tuple[Fault, ...] = ()
    refusals: Sequence[Refusal] = ()

    @property
    def given_c(self) -> Numbers:
        """Temperature of a wire that no current heats. [degC]."""
        by_default: Numbers = ASSUMED_C
        if is_recording() and not given(self.segment.temperature_c):
            meaning = f"temperature of {self.segment.name} where the request gives none"
            by_default = published(f"{self.column}_temperature_c", by_default, meaning, ASSUMED)
        found: Numbers = pick(
            given(self.segment.temperature_c), self.segment.temperature_c, by_default
        )
        return found

    def ohm(self, temperature_c: Numbers) -> Numbers:
        """Resistance, of wires at a temperature; NaN where there is no such part. [ohm]."""
        if self.metal is None:
            return self.segment.resistance_ohm
        ohm_per_m = warm_ohm_per_m(self.metal, temperature_c, f"{self.column}_")
        warm = ohm_per_m * self.segment.length_m
        found: Numbers = pick(self.is_wire, warm, self.segment.resistance_ohm)
        return found

    @property
    def basis(self) -> tuple[str, ...]:
        """What its wire rests on."""
        if self.metal is None:
            return ()
        metal = self.metal.basis(lambda c: c.basis)
        assumed = (ASSUMED,) if some(self.is_assumed) else ()
        return merge(metal, () if self.wire is None else self.wire.basis, assumed)

    @property
    def is_assumed(self) -> Flags:
        """Where it is a wire whose temperature nobody gives, nor what heats it."""
        told = given(self.segment.temperature_c)
        found: Flags = self.is_wire & negate(told) & negate(self.is_heated)
        return found


def path_part(segment: Segment, place: int) -> PathPart:
    """Look up a part of a path.

    Raises
    ------
    UnknownSize, NotCovered
        Of one request, if its wire is in no table; the path points at the segment.
    """
    try:
        return _path_part(segment, place)
    except CalculationError as error:
        raise error.below("segments", place) from error


def _path_part(segment: Segment, place: int) -> PathPart:
    is_wire, is_contact = are(segment.kind, "wire"), are(segment.kind, "contact")
    part = PathPart(segment, place, f"segments_{place + 1}", is_wire, is_contact)
    if some(is_contact):
        part.limit = look_up(_contact_limit, part=segment.part)
        part.cranking_limit = look_up(_cranking_limit, part=segment.part)
    if not some(is_wire):
        return part
    below = ("segments", place)
    part.metal = known_conductors(segment)
    part.refusals = part.metal.refusals(below)
    is_heated = is_wire & given(segment.ambient_c)
    if some(is_heated):
        laid = changed(segment, size=texts_where(is_heated, segment.size))
        known = known_wires(laid)
        part.is_heated = is_heated
        part.wire, no_room = lay(known, laid, segment.ambient_c)
        part.faults = (no_room._replace(path=(*below, *no_room.path)),)
        part.refusals = [*part.refusals, *known.refusals(below)]
    return part


def _contact_limit(part: str | None) -> Limit | None:
    return None if part is None else contact_limits()[part]


def _cranking_limit(part: str | None) -> Limit | None:
    return None if part is None else contact_limit(part, CRANKING_A)


def in_series(resistances_ohm: Iterable[Numbers]) -> Numbers:
    """Add resistances up, NaN where there is none; what sums round away is added last. [ohm]."""
    total: Numbers = 0.0
    lost: Numbers = 0.0
    plain: Numbers | None = None
    for each in resistances_ohm:
        each = pick(given(each), each, 0.0)
        plain = each if plain is None else plain + each
        raised = total + each
        share = raised - total
        lost = lost + ((total - (raised - share)) + (each - share))
        total = raised
    return total if plain is None else finer(total + lost, by(OHM, plain))
