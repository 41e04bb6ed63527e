"""How a proposed relay is joined to the vehicle, terminal by terminal."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal, NamedTuple

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import AnyPart, Circuit, Relay, RelayData
from lastvolt_service.operations.circuits.loads import AnyLoad, SolenoidLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.parts import (
    ChainPart,
    ChainWire,
    CircuitContact,
    CircuitWire,
)
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest, with_relay
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.units import high_end

# Of DIN 72552, in the order in which a table lists them.
RELAY_TERMINALS = ("30", "85", "86", "87")
# Leads that a proposal implies and does not describe.
LEAD_TO_86, LEAD_TO_85, LOAD_GROUND = "lead to 86", "lead to 85", "ground lead of the load"
IMPLIED = frozenset({LEAD_TO_86, LEAD_TO_85, LOAD_GROUND})
OF_A_STARTER = frozenset({"starter_control", "starter_motor"})
WITH_A_DIODE = frozenset({"diode", "zener"})

# Contacts at the end of a wire, which come off with it.
PLUGS = frozenset({"connector", "terminal"})

EndKind = Literal["relay", "part", "load", "old_lead", "node", "joint"]


class End(NamedTuple):
    """One end of a lead: what it is on, which terminal of that, and what kind of thing it is."""

    part: str
    terminal: str | None
    kind: EndKind


@dataclass(frozen=True, slots=True)
class Lead:
    """A wire to be laid.

    Attributes
    ----------
    name : str
        As the proposal has it, or one of `IMPLIED`.
    like : ChainWire
        A wire of the same size, which may be that of the proposal itself.
    insulation : str or None
        Kind of insulated wire.
    length_m : float or None
        Along its way; None where nobody has measured. [m]
    moves : bool
        Whether it goes to an engine that moves on its mounts.
    continues : str or None
        The old wire that it goes on from.
    """

    name: str
    like: ChainWire
    insulation: str | None
    length_m: float | None
    moves: bool
    continues: str | None = None


@dataclass(frozen=True, slots=True)
class Link:
    """Two ends, and the lead between them; None where they are joined without one."""

    start: End
    end: End
    lead: Lead | None


@dataclass(frozen=True, slots=True)
class Connection:
    """One line of a wiring table."""

    number: Annotated[int, "of the line, to mark the lead with"]
    from_part: Annotated[str, "a part or a node, as the request names it"]
    from_terminal: Annotated[str | None, "which of its terminals; null of a node"]
    to_part: Annotated[str, "a part or a node, as the request names it"]
    to_terminal: Annotated[str | None, "which of its terminals; null of a node"]
    wire: Annotated[str | None, "the lead between; null where the two are joined without one"]
    size: Annotated[str | None, "of the lead"]
    colour: Annotated[str | None, "of the lead, as the request writes it; null: fill it in"]


@dataclass(frozen=True, slots=True)
class Polarity:
    """Where the two ends of a relay's coil go.

    Attributes
    ----------
    at_86, at_85 : str
        Nodes.
    matters : bool
        Whether a diode lies across the coil, or may: then 86 has plus.
    """

    at_86: str
    at_85: str
    matters: bool

    @classmethod
    def of(cls, circuit: Circuit, relay: Relay) -> "Polarity":
        """Put 86 at plus where a diode is across the coil, or where nobody says that none is."""
        matters = relay.suppression is None or relay.suppression.kind in WITH_A_DIODE
        first, second = relay.coil_nodes
        if matters:
            first, second = Sides(circuit).live_first(relay.coil_nodes)
            if circuit.positive_ground:
                first, second = second, first
        return cls(first, second, matters)


@dataclass(frozen=True, slots=True)
class Fitting:
    """A relay and what is done for it.

    Attributes
    ----------
    asked : RelayRetrofitRequest
        The question.
    circuit : Circuit
        With the relay, the nodes of its coil in the order 86 and 85.
    polarity : Polarity
        Of its coil.
    old, moved : Load
        The load as it is, and at the relay.
    terminal, ground : str
        Nodes of the load as it is, the live one first.
    """

    asked: RelayRetrofitRequest
    circuit: Circuit
    polarity: Polarity
    old: AnyLoad
    moved: AnyLoad
    terminal: str
    ground: str

    @classmethod
    def of(cls, asked: RelayRetrofitRequest) -> "Fitting":
        """Look at a proposal."""
        circuit = with_relay(asked)
        *others, relay = circuit.relays
        polarity = Polarity.of(circuit, relay)
        turned = changed(relay, coil_nodes=[polarity.at_86, polarity.at_85])
        old, moved = (
            next(each for each in some.loads if each.name == asked.load)
            for some in (asked.circuit, circuit)
        )
        terminal, ground = Sides(asked.circuit).live_first(old.nodes)
        with_it = changed(circuit, relays=[*others, turned])
        return cls(asked, with_it, polarity, old, moved, terminal, ground)

    @property
    def relay(self) -> RelayData:
        """The proposed one."""
        return self.asked.proposal.relay

    @property
    def of_a_starter(self) -> bool:
        """Whether the load sits on an engine."""
        return of_a_starter(self.old)

    @property
    def new_ground(self) -> str | None:
        """Node that the load is grounded at, where that is another one than it was."""
        _, ground = self.moved.nodes
        return None if ground == self.ground else ground

    @property
    def taken_off(self) -> tuple[str, ...]:
        """Nodes whose leads come off the load."""
        return (self.terminal,) if self.new_ground is None else (self.terminal, self.ground)

    def old_leads(self, node: str) -> tuple[str, ...]:
        """All whose ends come off the load at a node, the thickest wire first; else the node."""
        circuit = self.asked.circuit
        if node not in self.taken_off or node in {circuit.ground_node, *circuit.posts}:
            return ()
        parts = [each for each in circuit.parts if node in _ends(each) and each is not self.old]
        wires = {each.name: self._wire_of(each, node) for each in parts}
        names = [wire.name if wire else name for name, wire in wires.items()]
        thickest = self.wire_at(node)
        first = [thickest.name] if thickest else []
        return tuple(dict.fromkeys((*first, *names))) or (node,)

    def wire_at(self, node: str) -> CircuitWire | None:
        """The thickest wire of the circuit as it is that ends at a node, or at a plug there."""
        found = [
            wire
            for each in self.asked.circuit.branches
            if node in each.nodes and (wire := self._wire_of(each, node))
        ]
        return min(found, key=_ohm_per_m, default=None)

    def _wire_of(self, part: AnyPart, node: str) -> CircuitWire | None:
        """The wire that ends there itself, or in a plug; None of what is neither."""
        if isinstance(part, CircuitWire):
            return part
        if not (isinstance(part, CircuitContact) and part.part in PLUGS):
            return None
        others = {*part.nodes} - {node}
        wires = (e for e in self.asked.circuit.branches if isinstance(e, CircuitWire))
        return next((each for each in wires if others & {*each.nodes}), None)

    def links(self) -> Iterator[Link]:
        """Every two terminals that are to be joined: feed, contact, coil, ground."""
        proposal, name = self.asked.proposal, self.relay.name
        at_load = End(self.old.name, self.terminal, "load")
        feed = [each for each in proposal.feed if isinstance(each, ChainWire)]
        outlet = [each for each in proposal.outlet if isinstance(each, ChainWire)]
        moving: set[str] = set()
        if self.of_a_starter:  # and so may be where the feed is taken, unless it is the post
            at_post = proposal.feed_node == self.circuit.posts[0]
            moving = {each.name for each in (*outlet[-1:], *([] if at_post else feed[:1]))}
        start, end = End(proposal.feed_node, None, "node"), End(name, "30", "relay")
        yield from _chain(proposal.feed, start, end, moving)
        yield from _chain(proposal.outlet, End(name, "87", "relay"), at_load, moving)
        new_wires = (*feed, *outlet)
        if not new_wires:
            return
        for number, node, lead in (
            ("86", self.polarity.at_86, LEAD_TO_86),
            ("85", self.polarity.at_85, LEAD_TO_85),
        ):
            yield Link(self._place(node), End(name, number, "relay"), self._implied(lead, node))
            first, *others = self.old_leads(node) or (node,)
            for other in others:  # what was joined at the load stays joined
                yield Link(End(other, node, "old_lead"), End(first, node, "old_lead"), None)
        for each in proposal.wires:
            start, end = map(self._end_of, self._ends_of(each.name))
            length_m = float(high_end(each.length_m))
            redrawn = Lead(each.name, each, known_text(each), length_m, self.of_a_starter)
            yield Link(start, end, redrawn)
        if self.new_ground is not None:
            lead_of = outlet[-1] if outlet else feed[-1]
            ground = Lead(LOAD_GROUND, lead_of, known_text(lead_of), None, self.of_a_starter)
            at_ground = End(self.old.name, self.ground, "load")
            yield Link(at_ground, End(self.new_ground, None, "node"), ground)

    def _ends_of(self, wire: str) -> Sequence[str]:
        return next(each.nodes for each in self.asked.circuit.branches if each.name == wire)

    def _end_of(self, node: str) -> End:
        """Where a wire that is drawn anew ends: on the load, or where the old one did."""
        stays = node in self.moved.nodes
        return End(self.old.name, node, "load") if stays else End(node, None, "node")

    def _place(self, node: str) -> End:
        leads = self.old_leads(node)
        return End(leads[0], node, "old_lead") if leads else End(node, None, "node")

    def _implied(self, name: str, node: str) -> Lead:
        """A lead to the coil: as thick as the wire whose fuse is to protect it."""
        proposal = self.asked.proposal
        wires = [w for w in (*proposal.outlet, *proposal.feed) if isinstance(w, ChainWire)]
        switched = proposal.coil_feed_node or self.terminal
        like = self.wire_at(switched) or wires[0]
        moves = self.of_a_starter and node != self.circuit.ground_node
        leads = self.old_leads(node)
        return Lead(name, like, known_text(wires[0]), None, moves, leads[0] if leads else None)


def of_a_starter(load: AnyLoad) -> bool:
    """Whether a load is the solenoid or the motor of a starter."""
    has_windings = isinstance(load, SolenoidLoad) and load.windings is not None
    return has_windings or load.circuit in OF_A_STARTER


def _ends(part: AnyPart) -> set[str]:
    """Nodes of a part, of a relay those of coil and contacts."""
    fields = ("nodes", "coil_nodes", "contact_nodes", "break_nodes")
    return {node for field in fields for node in getattr(part, field, None) or ()}


def _ohm_per_m(wire: CircuitWire) -> float:
    asked: Any = wire  # of one row, so that its texts are plain
    metal = conductor(asked.size, asked.standard, asked.material, asked.construction)
    return float(metal.resistance_20_ohm_per_m)


def known_text(wire: ChainWire) -> str | None:
    """The insulation of a wire, as a text."""
    return str(wire.insulation) if wire.insulation is not None else None


def _chain(parts: Sequence[ChainPart], start: End, end: End, moving: set[str]) -> Iterator[Link]:
    """The links of parts in a row; two wires that follow each other meet in a joint."""
    here, waiting = start, None
    for part in parts:
        if not isinstance(part, ChainWire):
            yield Link(here, End(part.name, "in", "part"), waiting)
            here, waiting = End(part.name, "out", "part"), None
            continue
        if waiting is not None:
            joint = End(f"{waiting.name} / {part.name}", None, "joint")
            yield Link(here, joint, waiting)
            here = joint
        length_m = high_end(part.length_m)
        waiting = Lead(part.name, part, known_text(part), float(length_m), part.name in moving)
    yield Link(here, end, waiting)


def table(links: Sequence[Link], colours: Mapping[str, str]) -> tuple[Connection, ...]:
    """Number the links, each with the colour of its lead."""
    return tuple(
        Connection(
            number,
            each.start.part,
            each.start.terminal,
            each.end.part,
            each.end.terminal,
            each.lead.name if each.lead else None,
            str(each.lead.like.size) if each.lead else None,
            colour_of(each.lead, colours) if each.lead else None,
        )
        for number, each in enumerate(links, 1)
    )


def colour_of(lead: Lead, colours: Mapping[str, str]) -> str | None:
    """As the caller writes it; of a lead that goes on from an old wire, that of the old one."""
    return colours.get(lead.name) or colours.get(lead.continues or "")
