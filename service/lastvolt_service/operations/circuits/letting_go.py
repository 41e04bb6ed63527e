"""What stays on when its switch opens: relays and solenoids that a leak, or a contact, keeps in."""

import math
from collections import deque
from collections.abc import Collection, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import NamedTuple

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import MOST_OHM, Circuit, resists
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact
from lastvolt_service.operations.circuits.switching import Live, live
from lastvolt_service.operations.judging import FAIL, Judged, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.rows import NOT_GIVEN
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
        if not _coils(circuit):
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


class _Metal:
    """A circuit's metal, and which of its switches feed which coils over it."""

    def __init__(
        self, circuit: Circuit, left_out: AbstractSet[str], switches: AbstractSet[str]
    ) -> None:
        self._circuit, self._left_out, self._switches = circuit, left_out, switches
        self._coils = _coils(circuit)

    def on(self, opened: AbstractSet[str] = frozenset()) -> frozenset[str]:
        """Whose coils are fed."""
        return _on(self._circuit, self._left_out | opened)

    def switches_before(
        self, names: AbstractSet[str], opened: AbstractSet[str] = frozenset()
    ) -> dict[str, AbstractSet[str]]:
        """Switches on the shortest ways from both posts to coils, and to the relays on these."""
        left_out = self._left_out | opened | {load.name for load in self._circuit.loads}
        joints = _Joints(self._circuit, left_out, self._coils.keys() - self.on(opened))
        # What leads there over no relay's contact comes first: a relay that holds itself, or two
        # that hold each other, were switched on by something else.
        plain = _Joints(self._circuit, left_out, self._coils.keys())
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


def _coils(circuit: Circuit) -> dict[str, Sequence[str]]:
    """Ends of the coils of all relays and solenoids, by name."""
    solenoids = (each for each in circuit.loads if isinstance(each, SolenoidLoad))
    return {
        **{relay.name: relay.coil_nodes for relay in circuit.relays},
        **{load.name: load.nodes for load in solenoids},
    }


def _on(circuit: Circuit, left_out: AbstractSet[str]) -> frozenset[str]:
    """Relays that close, and solenoids that are fed, by metal without some parts."""
    found = live(circuit, left_out)
    coils = (each for each in _coils(circuit).items() if each[0] not in left_out)
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


def letting_go(circuit: Circuit, case: Case, state: State, ruled: Ruled) -> Iterator[Checked]:
    """Judge whether each relay opens, from closed, when its switch does, and what it switches.

    Of several switches in a row the one that does least is told.
    """
    worst: dict[str, Checked] = {}
    for opened, names in ruled.by.items():
        left_out = {*case.without, *opened}
        if found := _feeds(circuit, left_out, ruled, names):
            for check in _opened(circuit, case, state, ruled, left_out, found):
                name = str(check.part)
                known = worst.setdefault(name, check)
                worst[name] = max(known, check, key=lambda each: int(each.judged.verdict))
    yield from worst.values()
    yield from _bridged(circuit, case, ruled)


class _Feed(NamedTuple):
    """What may feed a coil past its open switch, by name: over its own contact, and over none."""

    own: tuple[str, ...]
    other: tuple[str, ...]


def _opened(
    circuit: Circuit,
    case: Case,
    state: State,
    ruled: Ruled,
    left_out: AbstractSet[str],
    feeds: Mapping[str, _Feed],
) -> Iterator[Checked]:
    """Relays that something may feed with their switch open, and whether it keeps them closed."""
    on = zip(state.model.relays, state.solution.energised.tolist(), strict=True)
    before = {*case.held, *feeds, *(relay.name for relay, is_on in on if is_on)}
    opened = changed(case, without=[*left_out], held=[*before])
    try:
        held = rest(circuit, opened)
        stays = {name for name in feeds if _is_closed(held, name)}
        # What their coils get before they close.
        apart = rest(circuit, opened, stuck=dict.fromkeys(stays, False)) if stays else held
    except CalculationError:
        return  # no state of rest, and so none to tell of
    by_design = {each for each in stays if _holds_coils_only(circuit, left_out, ruled, each)}
    for name, feed in feeds.items():
        # A solenoid that a relay feeds does nothing wrong.
        excused = by_design if name in stays else by_design | stays
        # A switch in the way by which it holds itself is there to let it go.
        if excused & {name, *feed.other} or (not feed.other and ruled.switches & {*feed.own}):
            continue
        limits = _limits(state, held, name)
        if limits is None:
            continue
        pick_up_v, drop_out_v = limits
        volts, first_v = abs(held.across_v(name)), abs(apart.across_v(name))
        judged = stays_within(volts, drop_out_v)
        code, over = "kept_closed", feed.other or feed.own
        if judged.verdict == FAIL or name in stays:
            if first_v >= pick_up_v:
                code = "closes_alone"
                judged = Judged(first_v, pick_up_v, NOT_GIVEN, FAIL)
            elif feed.own and first_v < drop_out_v:
                code, over = "holds_itself", feed.own
            judged = judged._replace(verdict=FAIL)
        detail = ", ".join(each for each in over if each != name) or None
        yield Checked(code, judged, "V", SCALING, part=name, detail=detail)


def _limits(state: State, held: State, name: str) -> tuple[float, float] | None:
    """What closes a relay, or pulls a solenoid in, and what keeps it; None where no one told. [V].

    A solenoid that has pulled in before is not asked what pulls it in.
    """
    for relay in held.model.relays:
        if relay.name == name:
            return relay.pick_up_v, relay.drop_out_v
    before, after = state.named(name), held.named(name)
    if after is None or after.needed_v is None:
        return None
    pick_up_v = before.needed_v if before and not before.is_held else None
    return math.inf if pick_up_v is None else pick_up_v, after.needed_v


def _is_closed(state: State, relay: str) -> bool:
    return any(
        on and each.name == relay
        for each, on in zip(state.model.relays, state.solution.energised.tolist(), strict=True)
    )


def _holds_coils_only(
    circuit: Circuit, left_out: AbstractSet[str], ruled: Ruled, name: str
) -> bool:
    """Whether a relay's contact feeds its own coil and no load: a push button wants one to."""
    (relay,) = (each for each in circuit.relays if each.name == name)
    sides = live(circuit, left_out | ruled.leaks)
    both = sides.plus | sides.minus
    open_ones = left_out | ruled.leaks | {each.name for each in circuit.relays}
    metal = [ends for ends in circuit.joined(open_ones) if both.isdisjoint(ends)]
    fed = frozenset[str]().union(*(reached(n, metal) for n in relay.contact_nodes if n not in both))
    loads = {node for load in circuit.loads for node in load.nodes}
    return fed.isdisjoint(loads) and not fed.isdisjoint(relay.coil_nodes)


def _feeds(
    circuit: Circuit, left_out: AbstractSet[str], ruled: Ruled, names: AbstractSet[str]
) -> dict[str, _Feed]:
    """What may feed coils that no metal feeds: loads, leaks and contacts of relays, too."""
    if not names:
        return {}
    sides = live(circuit, left_out | ruled.leaks)
    asked = {name: ends for name, ends in _coils(circuit).items() if name in names}
    surely_open: AbstractSet[str] = frozenset()
    while True:
        joints = _Joints(circuit, left_out, surely_open)
        feeds = ((name, _feed(name, ends, sides, joints)) for name, ends in asked.items())
        found = {name: feed for name, feed in feeds if feed.own or feed.other}
        # What nothing feeds is open, and feeds no other.
        if not found or surely_open == names - found.keys():
            return found
        surely_open = names - found.keys()


def _feed(name: str, ends: Sequence[str], sides: Live, joints: "_Joints") -> _Feed:
    both = sides.plus | sides.minus
    ways = {False: list[tuple[str, ...]](), True: list[tuple[str, ...]]()}
    for end, other in (ends, ends[::-1]):
        if end in both:
            continue
        goal = both - (sides.plus if other in sides.plus else sides.minus)
        for over_own, found in ways.items():
            past = {(name, "coil"), *(() if over_own else ((name, "contact"),))}
            found.append(joints.way(end, goal, both, past))
    own, others = (min(filter(None, ways[each]), key=len, default=()) for each in (True, False))
    return _Feed(own if name in own else (), others)


class _Joints:
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

    def way(
        self,
        start: str,
        goal: AbstractSet[str],
        stop: AbstractSet[str],
        past: Collection[_Which] = (),
    ) -> tuple[str, ...]:
        """Names of the shortest way to a node of some, not on from those to stop at; or none."""
        came: dict[str, tuple[str, str]] = {}
        met, todo = {start}, deque([start])
        while todo:
            node = todo.popleft()
            if node in goal and node != start:
                found = list[str]()
                while node != start:
                    node, name = came[node]
                    found.append(name)
                return tuple(dict.fromkeys(found[::-1]))
            if node in stop and node != start:
                continue
            for which, there in self._at.get(node, ()):
                if which not in past and there not in met:
                    met.add(there)
                    came[there] = (node, which[0])
                    todo.append(there)
        return ()


def _bridged(circuit: Circuit, case: Case, ruled: Ruled) -> Iterator[Checked]:
    """Relays that metal goes past, from what is always live: no switch puts out what they feed."""
    names = frozenset[str]().union(*ruled.by.values())
    if not names:
        return
    weak = {each.name for each in circuit.branches if resists(each, MOST_OHM)}
    others = {each.name for each in (*circuit.relays, *circuit.loads)}
    left_out = {*case.without, *ruled.switches, *weak, *others}
    sides = live(circuit, left_out)
    for relay in circuit.relays:
        first, second = relay.contact_nodes
        if relay.name in names and any(
            first in side and second in side for side in (sides.plus, sides.minus)
        ):
            over = _Joints(circuit, left_out).way(first, {second}, frozenset())
            judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, FAIL)
            so = {"part": relay.name, "detail": ", ".join(over)}
            yield Checked("bridged", judged, "V", COMMON_PRACTICE, **so)
