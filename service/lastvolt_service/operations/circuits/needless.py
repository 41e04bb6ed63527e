"""Joints that nothing needs, as a chafe is one however it was drawn, and what each leads past."""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import NamedTuple

from lastvolt_service.operations.circuits.fields import Circuit, joints_of, resists
from lastvolt_service.operations.circuits.joints import reached, shortest_way
from lastvolt_service.operations.circuits.metal_tree import HARMLESS_A
from lastvolt_service.operations.circuits.parts import (
    Branch,
    CircuitContact,
    CircuitResistance,
    CircuitWire,
)
from lastvolt_service.operations.circuits.ruled import SWITCHES
from lastvolt_service.operations.judging import FAIL, UNDECIDED, UNKNOWN
from lastvolt_service.units import low_end

# No joint that lies in two circuits on purpose has so much. [ohm]. Common practice.
LEAST_CHAFE_OHM = 0.05
# A ballast takes a fifth of the source's voltage from an ignition coil's 4 A or more, and a contact
# of the start may lead past it. [A]. Common practice.
COIL_A, BALLAST_SHARE = 4.0, 0.2
# Fewer ends at a node are that of a part and of the one that it leads on to.
BRANCHES_OFF = 3


class Contact(NamedTuple):
    """A switch, or a contact of a relay: the name of the part, and whether it opens as that closes.

    A coil closes the one and opens the other, so that one of the two always conducts.
    """

    name: str
    breaks: bool = False


class Needless(NamedTuple):
    """A part that nothing needs; of none of these it has a relay hold itself, which may be meant.

    Attributes
    ----------
    part : Branch
        It itself.
    past : tuple of Contact
        Those in a row that it leads past, from the end that is fed.
    shorts : tuple of Contact
        Contacts that, all closed, have it join the live side to the ground past every load.
    between : tuple of Contact
        Two contacts, each of which feeds one of its ends, so that either runs what the other does.
    """

    part: Branch
    past: tuple[Contact, ...] = ()
    shorts: tuple[Contact, ...] = ()
    between: tuple[Contact, ...] = ()

    def is_in(self, told: AbstractSet[str | None]) -> bool:
        """Whether it is a resistance that is named already."""
        return isinstance(self.part, CircuitResistance) and self.part.name in told


def needless(circuit: Circuit) -> list[Needless]:
    """Find parts that lead past contacts, or join what these switch apart, and that nothing needs.

    A part of a circuit that is taken out leaves an end at which nothing else is, or something that
    nothing feeds; one that chafes does neither. Contacts count as they may lie, closed or open:
    what leads past them is there in any case.
    """
    loose = [*_loose(circuit)]
    if not loose:
        return []
    ways = _Ways(circuit, {each.name for each in loose})
    found = [each for part in loose if (each := ways.past(part))]
    whole = _fed(circuit, frozenset()) if found else set()
    return [each for each in found if whole <= _fed(circuit, {each.part.name})]


def how_surely(part: Branch, drive_v: float) -> int | None:
    """How sure it is that a part chafes where it is none of a circuit; None of what is no matter.

    As ohms it may be a ballast, or a pilot lamp; a wire or a sound joint may belong there.
    """
    if isinstance(part, CircuitContact):
        return FAIL if float(low_end(part.resistance_ohm)) >= LEAST_CHAFE_OHM else UNDECIDED
    if not isinstance(part, CircuitResistance):
        return UNDECIDED
    ohm = float(low_end(part.resistance_ohm))
    if ohm * HARMLESS_A >= drive_v:
        return None
    return UNKNOWN if may_be_ballast(part, drive_v) else FAIL


def may_be_ballast(part: Branch, drive_v: float) -> bool:
    """Whether a part has as many ohms as a ballast, which may be given as a contact, too."""
    if isinstance(part, CircuitWire):
        return False
    return float(low_end(part.resistance_ohm)) * COIL_A >= BALLAST_SHARE * drive_v


def _loose(circuit: Circuit) -> Iterator[Branch]:
    """Resistances, and contacts that conduct badly, that more than one other part is at either end.

    Or past a wire: a chafe may be drawn with a lead of its own.
    """
    at = Counter(n for each in circuit.parts for ends in joints_of(each).values() for n in ends)
    for node in {*circuit.posts, circuit.ground_node}:
        at[node] += BRANCHES_OFF
    wires: dict[str, list[Branch]] = {}
    for each in circuit.branches:
        for node in each.nodes if isinstance(each, CircuitWire) else ():
            wires.setdefault(node, []).append(each)

    def branches_off(node: str, part: Branch) -> bool:
        while at[node] < BRANCHES_OFF:
            wire = next((each for each in wires.get(node, ()) if each is not part), None)
            if wire is None:
                return False
            (node,), part = {*wire.nodes} - {node}, wire
        return True

    for each in circuit.branches:
        if _is_weak(each) and all(branches_off(node, each) for node in each.nodes):
            yield each


def _is_weak(part: Branch) -> bool:
    if isinstance(part, CircuitContact):
        may_chafe = part.part not in SWITCHES | {"fuse"}
        return may_chafe and bool(low_end(part.resistance_ohm) >= LEAST_CHAFE_OHM)
    return resists(part, LEAST_CHAFE_OHM)


class _Ways:
    """Ways over contacts between what plain metal joins, and past no post."""

    def __init__(self, circuit: Circuit, left_out: AbstractSet[str]) -> None:
        contacts: list[tuple[Contact, Sequence[str]]] = []
        plain: list[tuple[str, str]] = []
        for each in circuit.branches:
            if isinstance(each, CircuitContact) and each.part in SWITCHES:
                contacts.append((Contact(each.name), each.nodes))
            elif each.name not in left_out:
                plain.append((each.nodes[0], each.nodes[1]))
        for relay in circuit.relays:
            contacts.append((Contact(relay.name), relay.contact_nodes))
            if relay.break_nodes:
                contacts.append((Contact(relay.name, breaks=True), relay.break_nodes))
        self._metal: dict[str, str] = {}  # each node by the first of those that it is joined to
        for node in sorted(circuit.node_names()):
            if node not in self._metal:
                self._metal |= dict.fromkeys(reached(node, plain), node)
        self._live, self._ground = (self._metal[post] for post in circuit.posts)
        self._coils = {
            relay.name: {self._metal[node] for node in relay.coil_nodes} for relay in circuit.relays
        }
        self._beside: dict[str, list[tuple[Contact, str]]] = {}
        for which, ends in contacts:
            for here, there in (ends, ends[::-1]):
                beside = self._beside.setdefault(self._metal[here], [])
                beside.append((which, self._metal[there]))

    def past(self, part: Branch) -> Needless | None:
        """What a part leads past, or joins; None where that is nothing."""
        first, second = (self._metal[node] for node in part.nodes)
        if first == second or self._live == self._ground:
            return None
        for start, goal in ((first, second), (second, first)):
            if row := self._row(start, goal):
                return Needless(part, past=tuple(row))
            plus, minus = self._way(start, {self._live}), self._way(goal, {self._ground})
            if plus is not None and minus is not None:
                return Needless(part, shorts=(*plus, *minus))
        for post in (self._live, self._ground):
            to_post = [self._way(node, {post}) for node in (first, second)]
            if all(to_post):
                if self._holds_itself(first, second, to_post):
                    return Needless(part)
                one, other = (way[0] for way in to_post if way)
                return Needless(part, between=(one, other))
        return None

    def _row(self, start: str, goal: str) -> list[Contact]:
        """Contacts in a row from an end that is fed to the one that they rule; none where not so.

        It is fed at a post, or where each of them alone leaves the other end without a feed, and
        all of them together not this one.
        """
        posts = {self._live, self._ground}
        row = None if goal in posts else self._way(goal, {start})
        if not row:
            return []
        is_fed = start in posts or (
            self._way(start, posts, row) is not None
            and all(self._way(goal, posts, [each]) is None for each in row)
        )
        return row[::-1] if is_fed else []

    def _holds_itself(
        self, first: str, second: str, ways: Sequence[Sequence[Contact] | None]
    ) -> bool:
        """Whether a part leads from the contact of a relay to its own coil, over switches too."""
        for way, node in zip(ways, (second, first), strict=True):
            if way and not way[0].breaks:
                coil = self._coils.get(way[0].name, set()) - {self._live, self._ground}
                if node in coil or self._way(node, coil) is not None:
                    return True
        return False

    def _way(
        self, start: str, goals: AbstractSet[str], opened: Collection[Contact] = ()
    ) -> list[Contact] | None:
        def beside(at: str) -> Iterator[tuple[Contact, str]]:
            if at == start or at not in {self._live, self._ground}:
                for which, other in self._beside.get(at, ()):
                    if which not in opened:
                        yield which, other

        return shortest_way(start, goals, beside)


def _fed(circuit: Circuit, left_out: AbstractSet[str]) -> set[str]:
    live, grounded = circuit.sides(left_out)
    ends = {each.name: {*each.nodes} for each in circuit.loads}
    ends |= {each.name: {*each.coil_nodes} for each in circuit.relays}
    return {name for name, nodes in ends.items() if nodes & live and nodes & grounded}
