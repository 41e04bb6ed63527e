"""What stays on when its switch opens: relays and solenoids that a leak, or a contact, keeps in."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from typing import NamedTuple

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest, rest_all
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.needless import Needless
from lastvolt_service.operations.circuits.parts import CircuitResistance
from lastvolt_service.operations.circuits.ruled import Joints, Ruled, coils_of
from lastvolt_service.operations.circuits.switching import Live, live
from lastvolt_service.operations.circuits.unruled import Unruled
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import FAIL, UNKNOWN, flatly, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import COMMON_PRACTICE

# How a coil that nothing is to feed is kept in, least sure first to let go.
KEEPS_IN = ("kept_closed", "holds_itself", "closes_alone")
# A circuit in a case, both in plain numbers, at rest.
Point = tuple[Circuit, Case, State]


class _Feed(NamedTuple):
    """What may feed a coil past its open switch, by name: over its own contact, and over none."""

    own: tuple[str, ...]
    other: tuple[str, ...]


class _Opened(NamedTuple):
    """Switches opened together: what is left out, what may feed coils past them.

    Of its relays those that hold coils alone, as a push button wants them to, and those that hold
    themselves until another switch opens.
    """

    switches: frozenset[str]
    left_out: frozenset[str]
    feeds: Mapping[str, _Feed]
    for_coils: frozenset[str]
    latching: frozenset[str]


class LettingGo:
    """What may keep the relays and solenoids of a circuit in a case, whatever its values are."""

    def __init__(
        self,
        circuit: Circuit,
        case: Case,
        ruled: Ruled,
        *,
        starter: AbstractSet[str] = frozenset(),
        chafes: Sequence[Needless] = (),
    ) -> None:
        """Follow the metal, with the switches open; no relay that starts an engine may latch.

        `starter` has the nodes of one that is at the circuit and not in it.
        """
        self.ruled = ruled
        self._opened: list[_Opened] = []
        relays = {relay.name for relay in circuit.relays}
        for opened, names in ruled.by.items():
            left_out = frozenset({*case.without, *opened})
            if feeds := _feeds(circuit, left_out, ruled, names):
                for_coils = frozenset(
                    name
                    for name in feeds.keys() & relays
                    if _holds_coils_only(circuit, left_out, ruled, name)
                )
                latching = frozenset(
                    name
                    for name, feed in feeds.items()
                    if name in relays
                    and not starter
                    and _latches(circuit, left_out, ruled, name, feed)
                )
                self._opened.append(_Opened(opened, left_out, feeds, for_coils, latching))
        self._unruled = Unruled(circuit, case, ruled, starter, chafes)

    def checks(self, points: Sequence[Point]) -> list[tuple[Checked, ...]]:
        """Judge, with many values, whether each opens from closed when its switch does.

        Of several switches in a row the one that does least is told.
        """
        worst: list[dict[str, Checked]] = [{} for _ in points]
        held: list[dict[str, set[frozenset[str]]]] = [{} for _ in points]
        for opened in self._opened:
            of_points = _all_opened(points, opened, self.ruled)
            for known, holds, checks in zip(worst, held, of_points, strict=True):
                for check in checks:
                    name = str(check.part)
                    so_far = known.setdefault(name, check)
                    known[name] = max(so_far, check, key=lambda each: int(each.judged.verdict))
                    if check.code == "holds_itself":
                        holds.setdefault(name, set()).add(opened.switches)
        return [
            (
                *known.values(),
                *self._past(known, holds),
                *self._unruled.checks(state, _fail_for(known.values())),
            )
            for known, holds, (_, _, state) in zip(worst, held, points, strict=True)
        ]

    def _past(
        self, known: Mapping[str, Checked], holds: Mapping[str, AbstractSet[frozenset[str]]]
    ) -> Iterator[Checked]:
        """Of several switches, each of which is to let a relay go, those that do not."""
        for name, some in holds.items():
            opened = frozenset[str]().union(*some)
            if any(name in names for each, names in self.ruled.by.items() if each - opened):
                for switch in sorted(opened):
                    judged = flatly(int(known[name].judged.verdict))
                    so = {"part": switch, "detail": name}
                    yield Checked("does_not_stop", judged, "1", COMMON_PRACTICE, **so)


def _fail_for(checks: Iterable[Checked]) -> set[str | None]:
    return {each.detail for each in checks if each.verdict == "fail"}


def _all_opened(
    points: Sequence[Point], opened: _Opened, ruled: Ruled
) -> Iterator[Sequence[Checked]]:
    cases = []
    for _, case, state in points:
        on = zip(state.model.relays, state.solution.energised.tolist(), strict=True)
        before = {*case.held, *opened.feeds, *(relay.name for relay, is_on in on if is_on)}
        cases.append(changed(case, without=[*opened.left_out], held=[*before]))
    circuits = [circuit for circuit, _, _ in points]
    held = rest_all([*zip(circuits, cases, strict=True)])
    for (circuit, _, state), case, then in zip(points, cases, held, strict=True):
        try:
            yield [*_judged(circuit, case, state, then, opened, ruled)]
        except CalculationError:
            yield ()  # no state of rest, and so none to tell of


def _judged(
    circuit: Circuit,
    case: Case,
    state: State,
    held: State | CalculationError,
    opened: _Opened,
    ruled: Ruled,
) -> Iterator[Checked]:
    """Relays that something may feed with their switch open, and whether it keeps them closed."""
    if isinstance(held, CalculationError):
        raise held
    stays = {name for name in opened.feeds if held.is_closed(name)}
    # What their coils get before they close.
    apart = rest(circuit, case, stuck=dict.fromkeys(stays, False)) if stays else held
    by_design = stays & opened.for_coils
    for name, feed in opened.feeds.items():
        # A solenoid that a relay feeds does nothing wrong.
        excused = by_design if name in stays else by_design | stays
        own_switches = ruled.switches & {*feed.own}
        on_its_way = ruled.before(name) | {
            each for each in own_switches if _needs(circuit, case, ruled, each, name)
        }
        # A switch that lies only in the way by which it holds itself is there to let it go.
        if excused & {name, *feed.other} or (not feed.other and own_switches - on_its_way):
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
                judged = flatly(FAIL, first_v, pick_up_v)
            elif feed.own and first_v < drop_out_v:
                code = "holds_itself"
                over = tuple(each for each in feed.own if each not in own_switches)
            is_meant = code == "holds_itself" and name in opened.latching
            judged = judged._replace(verdict=UNKNOWN if is_meant else FAIL)
        detail = ", ".join(each for each in over if each != name) or None
        yield Checked(code, judged, "V", SCALING, part=name, detail=detail)


def _needs(circuit: Circuit, case: Case, ruled: Ruled, switch: str, name: str) -> bool:
    """Whether a coil is fed past no open switch of some name, all others closed."""
    left_out = ({*case.without} - ruled.switches) | ruled.leaks | {switch}
    return not live(circuit, left_out).feeds(coils_of(circuit)[name])


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


def _latches(
    circuit: Circuit, left_out: AbstractSet[str], ruled: Ruled, name: str, feed: _Feed
) -> bool:
    """Whether a relay holds itself over plain parts until a switch opens, as it may be meant to.

    No relay of a starter is.
    """
    starts = any(isinstance(e, SolenoidLoad) or e.circuit in OF_CIRCUIT for e in circuit.loads)
    ohms = {each.name for each in circuit.branches if isinstance(each, CircuitResistance)}
    if starts or not feed.own or feed.other or {*feed.own} & (ruled.leaks | ohms):
        return False

    others = {relay.name for relay in circuit.relays} - {name}
    (coil,) = (relay.coil_nodes for relay in circuit.relays if relay.name == name)

    def holds(switch: str) -> bool:
        joined = circuit.joined(left_out | ruled.leaks | others | {switch})
        plus, minus = (reached(post, joined) for post in circuit.posts)
        return Live(plus, minus, frozenset()).feeds(coil)

    return not all(map(holds, sorted(ruled.switches - left_out)))


def _feeds(
    circuit: Circuit, left_out: AbstractSet[str], ruled: Ruled, names: AbstractSet[str]
) -> dict[str, _Feed]:
    """What may feed coils that no metal feeds: loads, leaks and contacts of relays, too."""
    if not names:
        return {}
    sides = live(circuit, left_out | ruled.leaks)
    asked = {name: ends for name, ends in coils_of(circuit).items() if name in names}
    surely_open: AbstractSet[str] = frozenset()
    while True:
        joints = Joints(circuit, left_out, surely_open)
        feeds = ((name, _feed(name, ends, sides, joints)) for name, ends in asked.items())
        found = {name: feed for name, feed in feeds if feed.own or feed.other}
        # What nothing feeds is open, and feeds no other.
        if not found or surely_open == names - found.keys():
            return found
        surely_open = names - found.keys()


def _feed(name: str, ends: Sequence[str], sides: Live, joints: Joints) -> _Feed:
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
