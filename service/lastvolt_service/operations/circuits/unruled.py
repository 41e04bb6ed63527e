"""What no switch rules: what metal leads past a contact to, and relays that are always closed."""

import math
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import Any

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.chafes import LEAK_SHARE, MOST_CHAFE_OHM, lead_past
from lastvolt_service.operations.circuits.fields import MOST_OHM, Circuit, resists
from lastvolt_service.operations.circuits.in_a_row import Row, rows
from lastvolt_service.operations.circuits.isolators import isolator_checks
from lastvolt_service.operations.circuits.load_way import NOTHING_A
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.needless import Needless
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitResistance
from lastvolt_service.operations.circuits.ruled import (
    MOIST_OHM,
    SWITCHES,
    Joints,
    Ruled,
    coils_of,
    without_ends,
)
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL
from lastvolt_service.operations.judging import FAIL, UNDECIDED, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.units import high_end, low_end

# Of the rating of a contact, that of a fuse past it that feeds what may be on with it open. Common
# practice.
MEMORY_SHARE = 0.25
# Of several that lead past it those of fewer ohms are told, by tens.
LEAKS_OHM = (1.0, 10.0, 100.0, math.inf)
# Of the source's voltage, what a starter's solenoid may pull in at when it is cold. Common
# practice.
CRANKS_SHARE = 0.4


def _made(contacts: Sequence[CircuitContact], circuit: Circuit) -> list[CircuitContact]:
    """Contacts that open: not one of a relay that lies across the contact of another.

    So a contact is drawn that has welded; one that is left out of a case is open there.
    """
    across = {frozenset(each.contact_nodes) for each in circuit.relays}
    return [
        each
        for each in contacts
        if each.part in SWITCHES and not (each.part == "relay" and frozenset(each.nodes) in across)
    ]


class Unruled:
    """Contacts that metal leads past, and relays that are closed with all switches open."""

    def __init__(
        self,
        circuit: Circuit,
        case: Case,
        ruled: Ruled,
        starter: AbstractSet[str] = frozenset(),
        chafes: Sequence[Needless] = (),
    ) -> None:
        """Follow the metal; a starter may be at some of its nodes."""
        self._chafes = [each for each in chafes if each.past and each.part.name not in case.without]
        # What is to be taken out is no metal; of a resistance its state tells.
        chafed = {each.part.name for each in self._chafes if isinstance(each.part, CircuitContact)}
        contacts = [each for each in circuit.branches if isinstance(each, CircuitContact)]
        made = _made(contacts, circuit)
        movable = {each.name for each in (*made, *circuit.relays, *circuit.loads)}
        self._weak = {
            each.name: float(low_end(each.resistance_ohm))
            for each in circuit.branches
            if isinstance(each, CircuitContact | CircuitResistance)
            and _is_weak(each)
            and each.name not in {*movable, *chafed}  # a worn switch is closed by hand
        }
        self._poor = {
            each.name for each in contacts if low_end(each.resistance_ohm) <= MOST_CHAFE_OHM
        }
        left_out = {*case.without, *movable, *self._weak, *chafed}
        self._past: dict[str, tuple[str, ...]] = {}
        self._in_a_row: dict[str, int] = {}
        self._leaks: dict[str, tuple[str, ...]] = {}
        self._follow(circuit, case, left_out, starter)
        own_a: dict[str, Any] = {each.name: each.rating_a for each in made}
        own_a |= {relay.name: relay.rating_a for relay in circuit.relays}
        self._for_memory = {
            name
            for name, over in self._past.items()
            if any(each.name in over and keeps_memory(each, own_a[name]) for each in contacts)
        }
        self._has_switches = bool(made)
        self._isolators = [*isolator_checks(circuit, case, left_out)]
        self._cranks = _past_all(circuit, case, movable)
        bridges = {name for over in self._past.values() for name in over}
        left_out |= bridges | ruled.leaks
        relays = {relay.name for relay in circuit.relays}
        always = sorted(_always(circuit, left_out) - {*case.without})
        when_on = {*case.without} - ruled.switches - relays
        links = ((name, _links(circuit, left_out, when_on, name)) for name in always)
        self._links = {name: over for name, over in links if over}
        self._always = {
            name: _charger_before(circuit, left_out, name)
            for name in always
            if name in relays and name not in self._links
        }

    def _follow(
        self, circuit: Circuit, case: Case, left_out: AbstractSet[str], starter: AbstractSet[str]
    ) -> None:
        """Find what leads past switches, one by one and in a row, as metal or as a leak."""
        contacts = [each for each in circuit.branches if isinstance(each, CircuitContact)]
        made = _made(contacts, circuit)
        fuses = {each.name for each in contacts if each.part == "fuse"}
        single = [
            *(Row((each.name,), _pair(each.nodes)) for each in made),
            *(Row((each.name,), _pair(each.contact_nodes)) for each in circuit.relays),
        ]
        breaks = [
            Row((each.name,), _pair(each.break_nodes))
            for each in circuit.relays
            if each.break_nodes
        ]
        isolators = {each.name for each in made if each.isolates}
        plain = Joints(circuit, left_out)
        for row in (*single, *rows(circuit, plain, [*single, *breaks], starter)):
            # A fuse past an isolator keeps a clock going, and is there by design.
            but = fuses if isolators & {*row.names} else frozenset[str]()
            joints = Joints(circuit, left_out | but) if but else plain
            if over := joints.way(row.ends[0], {row.ends[1]}, frozenset()):
                own = _not_its_own(circuit, joints, row, over)
                if len(row.names) > 1 and own in self._past.values():
                    continue  # it lies beside the one switch that it leads past
                new = [name for name in row.names if name not in self._past]
                self._past |= dict.fromkeys(new, own)
                self._in_a_row |= dict.fromkeys(new, len(row.names))
            elif case_opens := [name for name in row.names if name in case.without]:
                over = self._leak(circuit, left_out | but, case.without, row.ends)
                self._leaks |= dict.fromkeys(case_opens, over) if over else {}

    def _leak(
        self,
        circuit: Circuit,
        left_out: AbstractSet[str],
        opened: Sequence[str],
        ends: tuple[str, str],
    ) -> tuple[str, ...]:
        """Find the way of least resistance past a switch, about."""
        for most_ohm in LEAKS_OHM:
            leaky = {name for name, ohm in self._weak.items() if ohm < most_ohm} - {*opened}
            joints = Joints(circuit, left_out - leaky) if leaky else None
            if joints and (over := joints.way(ends[0], {ends[1]}, frozenset())):
                return tuple(without_ends(circuit, over, ends))
        return ()

    def _leaves_on(self, state: State, over: Sequence[str]) -> bool:
        """Whether what leads past an open switch over resistances leaves its load on, or aglow.

        Nothing flows in a wire between what chafes and the open switch.
        """
        weak = self._weak.keys() & {*over}
        if not weak or any(abs(state.current_a(each)) <= NOTHING_A for each in weak):
            return False
        lost_v = sum(abs(state.across_v(each)) for each in over)
        return bool(weak & self._poor) or lost_v <= LEAK_SHARE * state.model.drive_v

    def checks(self, state: State, told: AbstractSet[str | None]) -> Iterator[Checked]:
        """Say so, of a circuit at rest; of some parts it is told what coils they keep in."""
        for name, over in self._past.items():
            verdict = UNKNOWN if name in self._for_memory else FAIL
            # None of several in a row can have welded alone.
            together = self._in_a_row[name]
            judged = flatly(verdict, together if together > 1 else NOT_GIVEN)
            so = {"part": name, "detail": ", ".join(over)}
            yield Checked("bridged", judged, "1", COMMON_PRACTICE, **so)
        yield from self._isolators
        leaks = {name: over for name, over in self._leaks.items() if self._leaves_on(state, over)}
        for name, over in leaks.items():
            so = {"part": name, "detail": ", ".join(over)}
            yield Checked("bridged", flatly(FAIL), "1", COMMON_PRACTICE, **so)
        met = {*self._past, *leaks}
        cranks = {} if met else self._cranks
        told = frozenset(told).union(*cranks.values())
        for check in lead_past(state, [each for each in self._chafes if not each.is_in(told)]):
            if check.part not in met:
                met.add(str(check.part))
                yield check
        for name, over in cranks.items():
            across_v = abs(state.across_v(name))
            if across_v >= CRANKS_SHARE * state.model.drive_v:
                judged, so = flatly(FAIL, across_v), {"part": name, "detail": ", ".join(over)}
                yield Checked("cranks_alone", judged, "V", COMMON_PRACTICE, **so)
        for name, over in self._links.items():
            judged, so = flatly(FAIL, abs(state.across_v(name))), {"detail": ", ".join(over)}
            yield Checked("closes_alone", judged, "V", COMMON_PRACTICE, part=name, **so)
        for name, charger in self._always.items():
            if not state.is_closed(name):  # it waits for a voltage, or is told to be too weak
                continue
            amps = abs(state.current_a(name))
            is_odd = self._has_switches and charger is None
            verdict = UNDECIDED if is_odd else UNKNOWN
            judged = flatly(verdict, amps)
            yield Checked("always_closed", judged, "A", COMMON_PRACTICE, part=name, detail=charger)


def _past_all(
    circuit: Circuit, case: Case, movable: AbstractSet[str]
) -> dict[str, tuple[str, ...]]:
    """Solenoids of starters that no switch rules, with what leads to them.

    Of a case with all switches on its volts do not tell whose they are.
    """
    switches = movable - {each.name for each in circuit.loads}
    if not switches & {*case.without}:
        return {}
    joints = Joints(circuit, {*case.without, *movable})
    (live_post, ground_post), found = circuit.posts, dict[str, tuple[str, ...]]()
    for load in circuit.loads:
        if load.circuit != STARTER_CONTROL or load.name in case.without:
            continue
        for near, far in (load.nodes, load.nodes[::-1]):
            over = joints.way(near, {live_post}, {ground_post})
            if over and (far == ground_post or joints.way(far, {ground_post}, {live_post})):
                found[load.name] = over[::-1]
    return found


def _pair(nodes: Sequence[str]) -> tuple[str, str]:
    first, second = nodes
    return first, second


def _not_its_own(
    circuit: Circuit, joints: Joints, row: Row, over: tuple[str, ...]
) -> tuple[str, ...]:
    """Of what leads past a contact that which does not feed it, or ground it, by design.

    Its own way leads to a post from the end that no load hangs on; where one hangs on both, from
    the one at which its current, which counts from its first end to its second, does. A relay's
    own coil is no load there.
    """
    posts, ends = {*circuit.posts}, row.ends
    hang = {node for each in circuit.loads for node in each.nodes} | {
        node for each in circuit.relays if each.name not in row.names for node in each.coil_nodes
    }
    first, second = ends
    loaded = [not joints.reached(end, posts, {*over}).isdisjoint(hang) for end in ends]
    is_live = first == circuit.posts[0] or joints.way(first, {circuit.posts[0]}, posts)
    own_end = first if is_live else second
    if loaded[0] != loaded[1]:
        own_end = second if loaded[0] else first
    own = () if own_end in posts else joints.way(own_end, posts, posts)
    left = tuple(each for each in over if each not in own) or over
    return tuple(without_ends(circuit, left, ends)) or left


def keeps_memory(fuse: Branch | None, rating_a: Any) -> bool:
    """Whether a fuse past a contact of so much is so small that it is for a clock, by design."""
    return bool(
        isinstance(fuse, CircuitContact)
        and fuse.part == "fuse"
        and known(fuse.rating_a)
        and known(rating_a)
        and high_end(fuse.rating_a) <= MEMORY_SHARE * low_end(rating_a)
    )


def _is_weak(branch: Branch) -> bool:
    """Whether a part is no metal: a resistance, or a contact that is as good as one."""
    if isinstance(branch, CircuitContact):
        return bool(low_end(branch.resistance_ohm) >= MOIST_OHM)
    return resists(branch, MOST_OHM)


def _always(circuit: Circuit, left_out: AbstractSet[str]) -> set[str]:
    """Relays and solenoids whose coils plain metal feeds, over no other relay."""
    found = live(circuit, left_out)
    return {name for name, ends in coils_of(circuit).items() if found.feeds(ends)}


def _links(
    circuit: Circuit, left_out: AbstractSet[str], when_on: AbstractSet[str], name: str
) -> tuple[str, ...]:
    """What leads to a coil past all its switches: they feed it without that, and it needs them."""
    ends, posts = coils_of(circuit)[name], {*circuit.posts}
    joints = Joints(circuit, left_out)
    over = (joints.way(end, {post}, posts) for end in ends for post in posts - {end})
    return tuple(
        each
        for each in dict.fromkeys(each for way in over for each in way)
        if not live(circuit, left_out | {each}).feeds(ends)
        and live(circuit, when_on | {each}).feeds(ends)
    )


def _charger_before(circuit: Circuit, left_out: AbstractSet[str], relay: str) -> str | None:
    """Name the charger past whose terminal alone a coil is fed: that may be its D+."""
    (coil,) = (each.coil_nodes for each in circuit.relays if each.name == relay)
    for charger in circuit.further_sources:
        if not isinstance(charger, Charger):
            continue
        for node in {*charger.nodes} - {*circuit.posts}:
            there = {each.name for each in circuit.branches if node in each.nodes}
            if not live(circuit, left_out | there).feeds(coil):
                return charger.name
    return None
