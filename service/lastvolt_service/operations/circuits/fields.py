"""What requests say of a circuit: its parts and its source.

Any quantity may be an `Interval`; where one number of each is wanted, `pinned` has put it there.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any, ClassVar, TypeAlias

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    Groups,
    choice,
    flag,
    many,
    part,
    quantity,
)
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.common_fields import MAX_SUPPLY_V, supply
from lastvolt_service.operations.relays.data import CoilData, ContactData
from lastvolt_service.operations.solenoids.descriptions import (
    Plunger,
    RatedSolenoid,
    SolenoidWindings,
)
from lastvolt_service.operations.sources.battery import Battery
from lastvolt_service.operations.wires.fields import (
    CIRCUITS,
    HIGHEST_CONDUCTOR_C,
    LENGTH,
    WireInPlace,
)
from lastvolt_service.rows import Numbers
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.limits import contact_limits, inrush
from lastvolt_service.tables.practice import GROUND

MAX_NODES = 200
MAX_BRANCHES = 500
ZONE = "zone that the part lies in, for its ambient in each case"
JOINTS = ("nodes", "coil_nodes", "contact_nodes", "break_nodes")


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


class Load(Joined):
    """What every load has."""

    needed_v: float = quantity(
        "lowest voltage that it works at", minimum=0.1, maximum=MAX_SUPPLY_V, default=ABSENT
    )
    circuit: str | None = choice(
        "kind of circuit, to hold the drop from the source to the load and back against practice",
        CIRCUITS,
        default=ABSENT,
    )


class ResistanceLoad(Load):
    """A load of constant resistance, or of a copper winding."""

    kind: str = choice("resistance", ("resistance",))
    resistance_ohm: float = quantity("of the load at 20 degC", minimum=1e-4)
    copper: bool = flag("whether it is a copper winding as warm as its zone", default=False)


class CurrentLoad(Load):
    """A load of constant current."""

    kind: str = choice("current", ("current",))
    current_a: float = quantity("that it takes at any voltage")


class PowerLoad(Load):
    """A load of constant power."""

    kind: str = choice("power", ("power",))
    power_w: float = quantity("that it takes at any voltage")


class CircuitRated(Toleranced, RatedSolenoid):
    """A solenoid of a circuit by its pull-in voltage."""

    resistance_ohm: float = quantity(
        "between its terminal and ground before it closes", minimum=1e-3
    )


class CircuitWindings(Toleranced, SolenoidWindings):
    """A starter solenoid of a circuit by its two windings."""


class CircuitPlunger(Toleranced, Plunger):
    """A solenoid of a circuit by the force that its plunger needs."""


class SolenoidLoad(Load):
    """A solenoid as warm as its zone; the voltage it needs follows from that."""

    exactly_one_of: ClassVar[Groups] = (("rated", "windings", "plunger"),)

    kind: str = choice("solenoid", ("solenoid",))
    rated: CircuitRated | None = part(
        CircuitRated, "the solenoid by its pull-in voltage", default=ABSENT
    )
    windings: CircuitWindings | None = part(
        CircuitWindings, "the solenoid by its two windings", default=ABSENT
    )
    plunger: CircuitPlunger | None = part(
        CircuitPlunger, "the solenoid by force and air gap", default=ABSENT
    )


AnyLoad: TypeAlias = ResistanceLoad | CurrentLoad | PowerLoad | SolenoidLoad


class RelayData(CoilData, ContactData, Placed):
    """What is known of a relay, wherever it is wired; what is not given is not judged, and told."""

    drop_out_v: Numbers = supply(CoilData.described["drop_out_v"].meaning, minimum=0.01)
    maximum_v: Numbers = supply(
        "highest lasting voltage at the coil; by default that of the source without load, which "
        "is too much where a resistor lies before the coil",
        default=ABSENT,
    )
    contact_resistance_ohm: float = quantity("of the closed contact", maximum=1e3)
    break_rating_a: Numbers = quantity(
        "steady current that the break contact, 87a, is rated for at rating_ambient_c",
        minimum=1e-3,
        default=ABSENT,
    )
    load_kind: str | None = choice(
        "kind of load that the contact closes on, for its inrush; that of a single solenoid or "
        "coil is told from the circuit",
        tuple(inrush()),
        default=ABSENT,
    )
    ages: bool = flag("whether the ageing factor of a case acts on its contact", default=True)

    def broken_rules(self) -> Iterator[Broken]:
        """Those of coil and contact."""
        yield from CoilData.broken_rules(self)
        yield from ContactData.broken_rules(self)


class Relay(RelayData):
    """A relay of a circuit: terminals 85, 86, 30 and 87, and 87a where it changes over."""

    coil_nodes: Sequence[str] = nodes("nodes at 86 and 85")
    contact_nodes: Sequence[str] = nodes("nodes at 30 and 87")
    break_nodes: Sequence[str] = nodes("nodes at 30 and 87a", optional=True)


AnyPart: TypeAlias = Branch | AnyLoad | Relay


class CircuitBattery(Toleranced, Battery):
    """The battery of a circuit by its ratings and state."""


class Source(Toleranced):
    """What feeds the circuit, at a battery post."""

    exactly_one_of: ClassVar[Groups] = (("open_circuit_v", "battery"),)
    needs: ClassVar[Groups] = (("open_circuit_v", "internal_resistance_ohm"),)

    plus: str = label("node at the positive post; with positive ground that is the ground's")
    minus: str | None = label("node at the negative post; by default the ground", default=ABSENT)
    zone: str | None = label(ZONE, default=ABSENT)
    open_circuit_v: float = supply("voltage without load", default=ABSENT)
    internal_resistance_ohm: float = quantity("of the source", maximum=10.0, default=ABSENT)
    battery: CircuitBattery | None = part(
        CircuitBattery, "the battery by its ratings", default=ABSENT
    )


class Circuit(Toleranced):
    """A network as it lies in the vehicle; nodes are there because parts name them."""

    ground: str | None = label(f"node at 0 V; by default {GROUND!r}", default=ABSENT)
    source: Source = part(Source, "what feeds the circuit")
    branches: Sequence[Branch] = many(
        BRANCHES,
        "wires, contacts and resistances, the body and its joints included",
        minimum=0,
        optional=False,
        maximum=MAX_BRANCHES,
    )
    loads: Sequence[AnyLoad] = many(
        {
            "resistance": ResistanceLoad,
            "current": CurrentLoad,
            "power": PowerLoad,
            "solenoid": SolenoidLoad,
        },
        "what is fed",
        maximum=MAX_BRANCHES,
    )
    relays: Sequence[Relay] = many(Relay, "relays", minimum=0, maximum=50)

    @property
    def parts(self) -> list[AnyPart]:
        """Every part, in the order of the request."""
        return [*self.branches, *self.loads, *self.relays]

    @property
    def positive_ground(self) -> bool:
        """Whether metal joins the ground to the positive post and not to the negative one."""
        plus, minus = self._plus_and_minus
        if minus == self.ground_node:
            return False
        joined = (each.nodes for each in self.branches)
        at_ground = reached(self.ground_node, ((first, second) for first, second in joined))
        return plus in at_ground and minus not in at_ground

    @property
    def posts(self) -> tuple[str, str]:
        """Nodes at the live post of the source and at the one that is joined to the ground."""
        plus, minus = self._plus_and_minus
        return (minus, plus) if self.positive_ground else (plus, minus)

    @property
    def _plus_and_minus(self) -> tuple[str, str]:
        return self.source.plus, self.source.minus or self.ground_node

    @property
    def ground_node(self) -> str:
        """Node at 0 V."""
        return self.ground or GROUND

    def node_names(self) -> set[str]:
        """Collect the nodes."""
        joined = (node for each in self.parts for ends in _joints(each).values() for node in ends)
        return {self.ground_node, *self.posts, *joined}

    def broken_rules(self) -> Iterator[Broken]:
        """Each part has a name of its own and joins two nodes, and the solver takes so many."""
        counted = Counter(each.name for each in self.parts)
        for group in ("branches", "loads", "relays"):
            for index, each in enumerate(getattr(self, group)):
                twice = counted[each.name] > 1
                yield twice, (group, index, "name"), "Another part has this name."
                for field, (first, second) in _joints(each).items():
                    same = first == second
                    yield same, (group, index, field), "A part must join two different nodes."
        plus, minus = self._plus_and_minus
        yield plus == minus, ("source", "minus"), "Both posts are at this node: name the other."
        few = len(self.parts) <= MAX_BRANCHES
        yield not few, (), f"A circuit may have {MAX_BRANCHES} parts at most."
        many_nodes = few and len(self.node_names()) > MAX_NODES
        yield many_nodes, (), f"A circuit may have {MAX_NODES} nodes at most."


def _joints(each: Fields) -> dict[str, Sequence[str]]:
    """The pairs of nodes that a part joins, by field."""
    return {field: ends for field in JOINTS if (ends := getattr(each, field, None))}
