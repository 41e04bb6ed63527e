"""Which relays and solenoids a circuit's switches rule, by following its metal."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import MOST_OHM, Circuit, joints_of, resists
from lastvolt_service.operations.circuits.joints import shortest_way
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.units import low_end

# Contacts that are there to be opened.
SWITCHES = frozenset({"switch", "relay"})
# A contact of more is no metal beside a switch: a plug that is wet, say. [ohm] Common practice.
MOIST_OHM = 1.0
# A part by name, and of a relay or solenoid whether its coil or a contact.
_Which = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Ruled:
    """Which relays and solenoids a case's switches rule.

    Attributes
    ----------
    by : dict of frozenset of str to set of str
        These by the switches that, opened together, leave their coils without a feed.
    off : set of str
        Those whose switch the case leaves out.
    switches, leaks : frozenset of str
        Switches of the circuit, and resistances that no coil is fed through by design.
    """

    by: Mapping[frozenset[str], AbstractSet[str]]
    off: frozenset[str]
    switches: frozenset[str]
    leaks: frozenset[str]

    @classmethod
    def of(cls, circuit: Circuit, case: Case) -> "Ruled":
        """Follow the metal: what a resistance feeds past a switch, that rules no less."""
        left_out = frozenset(case.without)
        switches = frozenset(
            each.name
            for each in circuit.branches
            if isinstance(each, CircuitContact) and each.part in SWITCHES and not each.isolates
        )
        if not coils_of(circuit):
            return cls({}, frozenset(), switches, frozenset())
        leaks = _leaks(circuit, left_out - switches)
        metal = _Metal(circuit, left_out | leaks, switches)
        on = metal.on()
        off = _on(circuit, (left_out - switches) | leaks) - on if left_out else frozenset()
        # A switch that rules alone lies on every way, and so on the shortest.
        before = metal.switches_before(on)
        first = sorted(frozenset[str]().union(*before.values()))
        by = {frozenset((each,)): on - metal.on({each}) for each in first}
        if off:
            by[frozenset()] = off
        for name in sorted(on - frozenset[str]().union(*by.values())):
            if before[name] and (together := metal.fewest(name)):
                by[together] = by.get(together, frozenset()) | {name}
        return cls(by, off, switches, leaks)

    def before(self, name: str) -> frozenset[str]:
        """Switches that rule a relay or a solenoid, alone or together."""
        some = (opened for opened, names in self.by.items() if name in names)
        return frozenset[str]().union(*some)


class _Metal:
    """A circuit's metal, and which of its switches feed which coils over it."""

    def __init__(
        self, circuit: Circuit, left_out: AbstractSet[str], switches: AbstractSet[str]
    ) -> None:
        self._circuit, self._left_out, self._switches = circuit, left_out, switches
        self._coils = coils_of(circuit)

    def on(self, opened: AbstractSet[str] = frozenset()) -> frozenset[str]:
        """Whose coils are fed."""
        return _on(self._circuit, self._left_out | opened)

    def switches_before(
        self, names: AbstractSet[str], opened: AbstractSet[str] = frozenset()
    ) -> dict[str, AbstractSet[str]]:
        """Switches on the shortest ways from both posts to coils, and to the relays on these."""
        left_out = self._left_out | opened | {load.name for load in self._circuit.loads}
        joints = Joints(self._circuit, left_out, self._coils.keys() - self.on(opened))
        # What leads there over no relay's contact comes first: a relay that holds itself, or two
        # that hold each other, were switched on by something else.
        plain = Joints(self._circuit, left_out, self._coils.keys())
        coils = {(each, "coil") for each in self._coils}
        posts = {*self._circuit.posts}
        on_ways: dict[str, set[str]] = {}

        def over(name: str) -> set[str]:
            if name not in on_ways:
                ends = self._coils[name]
                ways = (
                    plain.way(end, {post}, posts, coils) or joints.way(end, {post}, posts, coils)
                    for end in ends
                    for post in posts
                )
                on_ways[name] = {each for way in ways for each in way}
            return on_ways[name]

        found: dict[str, AbstractSet[str]] = {}
        for name in names:
            met, todo = {name}, [name]
            while todo:
                new = over(todo.pop()) - met
                met |= new
                todo += new & self._coils.keys()
            found[name] = met & self._switches
        return found

    def fewest(self, name: str) -> frozenset[str]:
        """Switches that rule a coil together, side by side; none where nothing does."""
        found: AbstractSet[str] = frozenset()
        while name in self.on(found):
            before = self.switches_before({name}, found)[name]
            if not before:
                return frozenset()
            found |= before
        for each in sorted(found):
            if name not in self.on(found - {each}):
                found -= {each}
        return frozenset(found)


def coils_of(circuit: Circuit) -> dict[str, Sequence[str]]:
    """Ends of the coils of all relays and solenoids, by name."""
    solenoids = (each for each in circuit.loads if isinstance(each, SolenoidLoad))
    return {
        **{relay.name: relay.coil_nodes for relay in circuit.relays},
        **{load.name: load.nodes for load in solenoids},
    }


def _on(circuit: Circuit, left_out: AbstractSet[str]) -> frozenset[str]:
    """Relays that close, and solenoids that are fed, by metal without some parts."""
    found = live(circuit, left_out)
    coils = (each for each in coils_of(circuit).items() if each[0] not in left_out)
    return found.closed | {name for name, ends in coils if found.feeds(ends)}


def _leaks(circuit: Circuit, left_out: AbstractSet[str]) -> frozenset[str]:
    """Resistances without which all coils are fed that are so with them; small ones are metal."""
    fed = _on(circuit, left_out)
    for least_ohm in (0.0, MOST_OHM):
        names = frozenset(e.name for e in circuit.branches if _may_leak(e, least_ohm))
        if _on(circuit, left_out | names) == fed:
            return names
    return frozenset(each for each in names if _on(circuit, left_out | {each}) == fed)


def _may_leak(branch: Branch, least_ohm: float) -> bool:
    """Whether a part is a resistance, or a contact so poor that it is as good as one."""
    if isinstance(branch, CircuitContact):  # a poor switch rules as a sound one does
        return branch.part not in SWITCHES and low_end(branch.resistance_ohm) >= MOIST_OHM
    return resists(branch, least_ohm)


class Joints:
    """What conducts, by its nodes, contacts of relays, too, but for those that are open."""

    def __init__(
        self,
        circuit: Circuit,
        left_out: AbstractSet[str],
        surely_open: AbstractSet[str] = frozenset(),
    ) -> None:
        self._at: dict[str, list[tuple[_Which, str]]] = {}
        for each in (*circuit.branches, *circuit.loads):
            which = "coil" if isinstance(each, SolenoidLoad) else ""
            self._add(each.name, which, each.nodes, left_out)
        for relay in circuit.relays:
            for which, ends in (
                ("coil", relay.coil_nodes),
                ("contact", [] if relay.name in surely_open else relay.contact_nodes),
                ("contact", relay.break_nodes),
            ):
                self._add(relay.name, which, ends, left_out)

    def _add(self, name: str, which: str, ends: Sequence[str], left_out: AbstractSet[str]) -> None:
        if ends and name not in left_out:
            for here, there in (ends, ends[::-1]):
                self._at.setdefault(here, []).append(((name, which), there))

    def reached(self, start: str, stop: AbstractSet[str], but: AbstractSet[str]) -> frozenset[str]:
        """Nodes that are joined to one, past none of some nodes, and over none of some parts."""
        found, todo = {start}, [start]
        while todo:
            node = todo.pop()
            for (name, _), there in self._at.get(node, ()):
                if name not in but and there not in found and node not in stop:
                    found.add(there)
                    todo.append(there)
        return frozenset(found)

    def way(
        self,
        start: str,
        goal: AbstractSet[str],
        stop: AbstractSet[str],
        past: Collection[_Which] = (),
    ) -> tuple[str, ...]:
        """Names of the shortest way to a node of some, not on from those to stop at; or none."""

        def beside(node: str) -> Iterator[tuple[str, str]]:
            if node not in stop or node == start:
                for which, there in self._at.get(node, ()):
                    if which not in past:
                        yield which[0], there

        return tuple(dict.fromkeys(shortest_way(start, goal, beside) or ()))


def without_ends(circuit: Circuit, over: Sequence[str], ends: Sequence[str]) -> Sequence[str]:
    """What leads from one end of a part to the other, without what only leads to that part itself.

    That lies at a node where nothing but the two is joined.
    """
    nodes = {each.name: {*each.nodes} for each in circuit.branches}
    at: dict[str, int] = {}
    for each in circuit.parts:
        for node in {n for pair in joints_of(each).values() for n in pair}:
            at[node] = at.get(node, 0) + 1
    left = [*over]
    for start, from_front in ((ends[0], True), (ends[1], False)):
        node = start
        while len(left) > 1 and at.get(node) == 2 and node not in circuit.posts:
            name = left[0 if from_front else -1]
            if node not in nodes.get(name, ()):
                break
            left.remove(name)
            (node,) = nodes[name] - {node}
    return left
