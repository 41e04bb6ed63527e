"""A relay that is proposed for a load: what requests say of it, and the circuit with it."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any, ClassVar

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import ABSENT, Broken, changed, choice, known, many, part
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.cases import Case, Cases
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.circuits.fields import Circuit, Relay, RelayData
from lastvolt_service.operations.circuits.loads import AnyLoad, SolenoidLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.parts import (
    BRANCHES,
    CHAIN,
    Branch,
    ChainContact,
    ChainPart,
    ChainWire,
    CircuitContact,
    CircuitWire,
    Toleranced,
)
from lastvolt_service.operations.circuits.switching import live, own_relay, switched_side
from lastvolt_service.operations.circuits.work import BOUND_OF_RETROFITS
from lastvolt_service.operations.common_fields import NO_SUCH_CONTACT, NO_SUCH_LOAD, named_there
from lastvolt_service.words import case_name

MAX_CHAIN = 20
# Contacts that a relay may spare.
SPARED = frozenset({"switch", "relay", "connector"})


CUT_OFF = (
    "Nothing reaches the load without these: take out of the list what is closed when it works, "
    "and give what is broken as a contact of many ohms."
)


class Proposal(Toleranced):
    """A relay near the load, its coil on the old wire, its contact fed from elsewhere."""

    relay: RelayData = part(RelayData, "the relay")
    feed_node: str = label(
        "node that the relay's contact is fed from, such as the heavy cable's end"
    )
    feed: Sequence[ChainPart] = many(
        CHAIN,
        "parts from there to terminal 30, in order: the fuse belongs here",
        minimum=0,
        maximum=MAX_CHAIN,
    )
    outlet: Sequence[ChainPart] = many(
        CHAIN, "parts from terminal 87 to the load, in order", minimum=0, maximum=MAX_CHAIN
    )
    wires: Sequence[ChainWire] = many(
        ChainWire,
        "wires that are drawn anew with it, such as a thin return wire, each with the name of the "
        "one whose place it takes",
        minimum=0,
        maximum=MAX_CHAIN,
    )
    fuse: str | None = choice(
        "none where the feed is to have no fuse; left out where one stands in the feed, or is not "
        "known",
        ("none",),
        default=ABSENT,
    )
    one_for_each: str | None = choice(
        "what the load takes such a relay for each of: beam or speed; direction, of a motor that "
        "turns both ways, which takes changeover relays; left out where this one is all",
        ("beam", "speed", "direction"),
        default=ABSENT,
    )
    coil_feed_node: str | None = label(
        "node that terminal 86 is fed from; by default the load's old wire", default=ABSENT
    )
    coil_ground_node: str | None = label(
        "node that terminal 85 is grounded at; by default where the load is", default=ABSENT
    )
    load_ground_node: str | None = label(
        "node that the load is grounded at then; by default where it is, and the ground where the "
        "switch lies in its ground lead, which then is the coil's",
        default=ABSENT,
    )

    def broken_rules(self) -> Iterator[Broken]:
        """What stands in the feed is not denied."""
        fused = any(isinstance(each, ChainContact) and each.part == "fuse" for each in self.feed)
        contradicts = self.fuse == "none" and fused
        yield contradicts, ("fuse",), "A fuse stands in the feed: leave this out."

    @property
    def names(self) -> set[str]:
        """Names of the proposed parts."""
        return {name for name, _ in self.named()}

    def named(self) -> Iterator[tuple[str, str]]:
        """Walk the names of the proposed parts, each with the field that it stands in."""
        yield self.relay.name, "relay"
        for field in ("feed", "outlet"):
            yield from ((each.name, field) for each in getattr(self, field))


class DecisionRequest(Cases):
    """A circuit as it is, a load of it that is to be helped, and what switches it."""

    load: str = label("the load to be relieved; its old wire will feed the relay's coil instead")
    switch: str = label("the switch or other contact to be spared")

    @property
    def depends_on_nominal(self) -> bool:
        """Always: what is new must be for the system."""
        return True

    @property
    def proposal(self) -> Proposal | None:
        """The relay that is weighed, if one is."""
        return None

    def asked_of(self, proposal: Proposal) -> "RelayRetrofitRequest":
        """Ask of the same circuit about a relay."""
        return RelayRetrofitRequest(**self._same, proposal=proposal)

    def asked_alone(self) -> "DecisionRequest":
        """Ask of the same circuit without one."""
        return DecisionRequest(**self._same)

    @property
    def _same(self) -> dict[str, Any]:
        return {key: getattr(self, key) for key in DecisionRequest.described}

    @property
    def new_names(self) -> frozenset[str]:
        """Names of the proposed parts."""
        return frozenset(self.proposal.names if self.proposal else ())

    def known_names(self) -> set[str]:
        """As for any cases, and the proposed parts."""
        return super().known_names() | self.new_names

    def broken_rules(self) -> Iterator[Broken]:
        """As for any cases; and the circuit has the load and the switch, in every case."""
        yield from super().broken_rules()
        wrong = [each for each in self._fits_the_circuit() if each[0]]
        yield from wrong or self._fits_the_question()

    def _fits_the_circuit(self) -> Iterator[Broken]:
        load = next((each for each in self.circuit.loads if each.name == self.load), None)
        loads = {each.name for each in self.circuit.loads}
        yield named_there(self.load, loads, ("load",), NO_SUCH_LOAD)
        wanting = load is not None and not (isinstance(load, SolenoidLoad) or known(load.needed_v))
        yield wanting, ("load",), "This load must be a solenoid or give needed_v."
        contacts = {each.name for each in self.circuit.branches if isinstance(each, CircuitContact)}
        yield named_there(self.switch, contacts, ("switch",), NO_SUCH_CONTACT)

    def _fits_the_question(self) -> Iterator[Broken]:
        """Refuse cases in which there is nothing to compare."""
        contact = next((each for each in self.circuit.branches if each.name == self.switch), None)
        joint = isinstance(contact, CircuitContact) and contact.part not in SPARED
        yield joint, ("switch",), "Name a switch or a plug: no relay spares a ground or a fuse."
        load = next(each for each in self.circuit.loads if each.name == self.load)
        aside = not joint and not self._is_ruled(load)
        yield aside, ("switch",), self._why_aside(load) if aside else ""
        yield from self._fits_the_cases(load)

    def _is_ruled(self, load: AnyLoad) -> bool:
        """Whether the switch rules the load: by its own current, unless others are read, too."""
        return switched_side(self.circuit, load, self.switch) is not None

    def _why_aside(self, load: AnyLoad) -> str:
        """Say why no current of the load runs through the contact that was named."""
        before, own = self._in_series_before(load), own_relay(self.circuit, load, self.switch)
        if before:
            return f"Between this contact and the load {before} lies in series: ask about that."
        if own:
            return (
                f"{own} feeds this load already, and this contact only its coil: another relay "
                "spares it nothing. Ask remedy-choice without a relay what to mend."
            )
        return "No current of the load runs through this contact."

    def _in_series_before(self, load: AnyLoad) -> str | None:
        """Name a load over which alone the current of this one runs through the switch."""
        others = (each for each in self.circuit.loads if each is not load)
        ways = (
            each.name
            for each in others
            if switched_side(self.circuit, load, self.switch, [each]) is not None
        )
        return next(ways, None)

    def _fits_the_cases(self, load: AnyLoad) -> Iterator[Broken]:
        needed = {self.load, self.switch}
        if self.proposal:
            needed.add(self.proposal.relay.name)
        for index, case in enumerate(self.cases):
            for place, name in enumerate(case.without):
                yield (
                    name in needed,
                    ("cases", index, "without", place),
                    "The load, the switch and the proposed relay must be there in every case.",
                )
            off = self._is_cut_off(load, case)
            yield off and needed.isdisjoint(case.without), ("cases", index, "without"), CUT_OFF
        yield from self._holds(load)

    def _is_cut_off(self, load: AnyLoad, case: Case) -> bool:
        """Whether nothing reaches the load for what a case leaves out."""
        left_out = {*case.without}
        if not left_out or case.held or not live(self.circuit, frozenset()).feeds(load.nodes):
            return False  # what was held before may hold itself
        return not live(self.circuit, left_out).feeds(load.nodes)

    def _holds(self, load: AnyLoad) -> Iterator[Broken]:
        holds = known(load.needed_v) or (isinstance(load, SolenoidLoad) and _says_what_holds(load))
        for index, case in enumerate(self.cases):
            yield (
                load.name in case.held and not holds,
                ("cases", index, "held"),
                "Give what keeps the load closed to judge whether it holds.",
            )


class RelayRetrofitRequest(DecisionRequest):
    """A circuit as it is, and the relay that is proposed for one of its loads."""

    bound: ClassVar[str] = BOUND_OF_RETROFITS

    proposal: Proposal = part(Proposal, "the relay and its wires")

    example: ClassVar = {
        **{key: CircuitCheckRequest.example[key] for key in ("circuit", "cases")},
        "load": "starter solenoid",
        "switch": "key switch",
        "proposal": {
            "relay": {
                "name": "start relay",
                "zone": "engine bay",
                "nominal_v": 12,
                "coil_resistance_ohm": 90,
                "pick_up_v": 6.9,
                "drop_out_v": 1.2,
                "thermal_resistance_k_per_w": 30,
                "highest_ambient_c": 105,
                "suppression": {"kind": "diode"},
                "contact_resistance_ohm": 0.0015,
                "rating_a": 50,
                "derating": [
                    {"ambient_c": 85, "current_a": 40},
                    {"ambient_c": 105, "current_a": 25},
                ],
                "rated_v": 12,
            },
            "feed_node": "battery post",
            "feed": [
                {
                    "name": "relay fuse",
                    "kind": "contact",
                    "part": "fuse",
                    "resistance_ohm": 0.002,
                    "rating_a": 30,
                },
                {
                    "name": "starter cable to relay",
                    "kind": "wire",
                    "size": "10 AWG",
                    "length_m": 0.6,
                    "insulation": "GXL",
                    "zone": "engine bay",
                },
            ],
            "outlet": [
                {
                    "name": "relay to solenoid",
                    "kind": "wire",
                    "size": "10 AWG",
                    "length_m": 0.4,
                    "insulation": "GXL",
                    "zone": "engine bay",
                },
            ],
        },
    }

    def _fits_the_circuit(self) -> Iterator[Broken]:
        yield from super()._fits_the_circuit()
        yield from proposal_fits(self.circuit, self.proposal, Cases.known_names(self))

    def _fits_the_question(self) -> Iterator[Broken]:
        yield from super()._fits_the_question()
        yield from is_fed(self, self.proposal.feed_node, ("proposal", "feed_node"))


def is_fed(asked: Cases, feed_node: str, path: Path) -> Iterator[Broken]:
    """Refuse a feed that is dead, at all or in a case for what that leaves out.

    So is the motor's terminal of a starter until its solenoid has pulled in: a relay that is fed
    there never starts it.
    """
    is_live = feed_node in Sides(asked.circuit).live
    yield not is_live, path, "Take the feed from the live side of the source."
    if feed_node not in live(asked.circuit, frozenset()).plus:
        return
    for case in asked.cases:
        left_out = {*case.without}
        dead = bool(left_out) and feed_node not in live(asked.circuit, left_out).plus
        yield (
            dead and not case.held,  # what was held before may hold itself
            path,
            f"In the case {case_name(case.name)} nothing reaches this node, for what that leaves "
            "out: take the feed from where voltage is before the load works.",
        )


def proposal_fits(
    circuit: Circuit, proposal: Proposal, taken: set[str], path: Path = ("proposal",)
) -> Iterator[Broken]:
    """Hold a proposal against the nodes of a circuit and the names that are taken."""
    nodes = circuit.node_names()
    for field in ("feed_node", "coil_feed_node", "coil_ground_node", "load_ground_node"):
        if node := getattr(proposal, field):
            yield named_there(node, nodes, (*path, field), "The circuit has no such node")
    sides, at = Sides(circuit), (*path, "load_ground_node")
    is_live = proposal.load_ground_node in sides.live - sides.grounded
    yield is_live, at, "Take the ground from the side of the source that the body is on."
    met = set(taken)
    for name, field in proposal.named():
        yield name in met, (*path, field), f"Another part is called {name!r}."
        met.add(name)
    yield from replaces(circuit, proposal.wires, (*path, "wires"))


def replaces(circuit: Circuit, wires: Sequence[ChainWire], path: Path) -> Iterator[Broken]:
    """Refuse wires in the place of none, or two in the place of one."""
    there, met = {e.name for e in circuit.branches if isinstance(e, CircuitWire)}, set[str]()
    for place, each in enumerate(wires):
        at = (*path, place, "name")
        yield each.name not in there, at, "No wire of the circuit has this name."
        yield each.name in met, at, f"Another wire takes the place of {each.name!r}."
        met.add(each.name)


def drawn_anew(branch: Branch, wires: Iterable[ChainWire]) -> Branch:
    """The wire that takes the place of a branch; itself where none does."""
    new = next((each for each in wires if each.name == branch.name), None)
    return CircuitWire(**vars(new), nodes=list(branch.nodes)) if new else branch


def _says_what_holds(load: SolenoidLoad) -> bool:
    return any(
        known(volts)
        for volts in (
            load.rated and load.rated.hold_in_v,
            load.windings and load.windings.hold_ampere_turns,
            load.plunger and load.plunger.hold_force_n,
        )
    )


def with_relay(asked: DecisionRequest) -> Circuit:
    """Move a load of a circuit to the proposed relay, and put its old wire on the coil.

    The circuit itself where none is proposed.
    """
    circuit, proposal = asked.circuit, asked.proposal
    if proposal is None:
        return circuit
    old = next(each for each in circuit.loads if each.name == asked.load)
    terminal, ground = Sides(circuit).live_first(old.nodes)
    body = circuit.ground_node if switched_side(circuit, old, asked.switch) == "ground" else ground
    at_30, at_87, at_load = (f"{proposal.relay.name} [{end}]" for end in ("30", "87", "load"))
    feed = chain(proposal.feed, proposal.feed_node, at_30)
    outlet = chain(proposal.outlet, at_87, at_load)
    moved = changed(old, nodes=[at_load if outlet else at_87, proposal.load_ground_node or body])
    relay = Relay(
        **vars(proposal.relay),
        coil_nodes=[
            proposal.coil_feed_node or terminal,
            proposal.coil_ground_node or ground,
        ],
        contact_nodes=[at_30 if feed else proposal.feed_node, at_87],
    )
    return changed(
        circuit,
        branches=[*(drawn_anew(each, proposal.wires) for each in circuit.branches), *feed, *outlet],
        loads=[moved if each is old else each for each in circuit.loads],
        relays=[*circuit.relays, relay],
    )


def case_with_relay(case: Case, load: str, proposal: Proposal | None) -> Case:
    """The case with the relay: where its load has pulled in before, so has the relay."""
    if proposal is None:
        return case
    relay = proposal.relay.name
    if load not in case.held or relay in case.held:
        return case
    return changed(case, held=[*case.held, relay])


def at_the_proposal(
    error: CalculationError, circuit: Circuit, proposal: Proposal, path: Path = ("proposal",)
) -> CalculationError:
    """The same error, pointing at the proposal where a proposed part is at fault."""
    where, branches = error.path, len(circuit.branches)
    if where[:2] != ("circuit", "branches") or int(where[2]) < branches:
        return error
    place, feed = int(where[2]) - branches, len(proposal.feed)
    at = ("feed", place) if place < feed else ("outlet", place - feed)
    return type(error)(error.detail, (*path, *at, *where[3:]))


def chain(parts: Sequence[ChainPart], start: str, end: str) -> list[Branch]:
    """Join parts in a row between two nodes."""
    nodes = [start, *(f"{end} {place}" for place in range(1, len(parts))), end]
    return [
        BRANCHES[each.kind](**vars(each), nodes=list(pair))
        for each, pair in zip(parts, pairwise(nodes), strict=False)
    ]
