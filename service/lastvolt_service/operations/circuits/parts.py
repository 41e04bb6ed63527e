"""What requests say of the conductors of a circuit: wires, contacts and known resistances.

Any quantity may be an `Interval`; where one number of each is wanted, `Pins` has put it there.
"""

from collections.abc import Sequence
from typing import Any, ClassVar, TypeAlias

from lastvolt_service.fields import ABSENT, Fields, Groups, choice, flag, many, quantity
from lastvolt_service.fields import name as label
from lastvolt_service.operations.wires.fields import HIGHEST_CONDUCTOR_C, LENGTH, WireInPlace
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.limits import contact_limits

ZONE = "zone that the part lies in, for its ambient in each case"


def nodes(meaning: str, *, optional: bool = False) -> Any:
    """Describe the two nodes that a part joins."""
    return many(label("a node"), meaning, minimum=2, maximum=2, optional=optional)


class Toleranced(Fields):
    """Any quantity may be given as ``{"low": …, "high": …}``."""

    toleranced: ClassVar[bool] = True


class Placed(Toleranced):
    """A part in a zone."""

    name: str = label("what the answer calls this part")
    zone: str | None = label(ZONE, default=ABSENT)


class Joined(Placed):
    """A part between two nodes."""

    nodes: Sequence[str] = nodes(
        "the two nodes that it joins; currents count from the first to the second"
    )


class ChainWire(Placed, WireInPlace):
    """A wire; its ambient is that of its zone unless it gives its own."""

    at_most_one_of: ClassVar[Groups] = (("temperature_c", "ambient_c"),)

    kind: str = choice("wire", ("wire",))
    length_m: float = quantity(LENGTH)
    temperature_c: float = quantity(
        "temperature of the conductor; without it the current and the ambient decide",
        maximum=HIGHEST_CONDUCTOR_C,
        default=ABSENT,
    )


class ChainContact(Placed):
    """A contact: a switch, a connector, a fuse, a ground joint."""

    kind: str = choice("contact", ("contact",))
    part: str = choice("what makes the contact", tuple(contact_limits()))
    resistance_ohm: float = quantity("of the contact as it is", maximum=1e3)
    rating_a: float = quantity("that the part is rated for", minimum=1e-3, default=ABSENT)
    fuse_family: str | None = choice(
        "family of a fuse; by default any of those that have its rating",
        fuse_families(),
        default=ABSENT,
    )
    ages: bool = flag("whether the ageing factor of a case acts on it", default=True)


class ChainResistance(Placed):
    """A known resistance."""

    kind: str = choice("resistance", ("resistance",))
    resistance_ohm: float = quantity("of the part")


class CircuitWire(Joined, ChainWire):
    """A wire of a circuit."""


class CircuitContact(Joined, ChainContact):
    """A contact of a circuit."""

    isolates: bool = flag(
        "whether it is an isolator: what is new must be dead when it is open", default=False
    )


class CircuitResistance(Joined, ChainResistance):
    """A known resistance of a circuit."""


Branch: TypeAlias = CircuitWire | CircuitContact | CircuitResistance
ChainPart: TypeAlias = ChainWire | ChainContact | ChainResistance
CHAIN = {"wire": ChainWire, "contact": ChainContact, "resistance": ChainResistance}
BRANCHES = {"wire": CircuitWire, "contact": CircuitContact, "resistance": CircuitResistance}
