"""The search for a state of rest: relays, loads that start or stop, elements that block.

Each scenario is searched by itself, as a conversation: it asks for the solution of a pattern of
what conducts, looks at it, and asks for the next. Whoever answers may solve the same pattern of
many scenarios at once.
"""

from collections.abc import Generator, Sequence, Set
from dataclasses import dataclass, field
from typing import NamedTuple

from lastvolt_service.errors import ImpossibleLoad, NetworkFault, NoSteadyTemperature
from lastvolt_service.physics.network.equations import (
    BLOCKS,
    CONDUCTS,
    LIMITS,
    ROUNDING,
    Faint,
    Pattern,
)
from lastvolt_service.physics.network.topology import Topology, listed
from lastvolt_service.physics.network.values import Limits

# Relays in a chain pull in one after the other, and may fall off again likewise.
_STATES_PER_RELAY = 4
# Loads that were switched off for want of power are tried again this often, others being off too.
_TRIALS = 4
# Steps of all guarded branches at once that do not leave fewer of them wrong, before one at a time.
_BOLD_STEPS = 4
# What the balance of a wire may leave over must not make a branch block and conduct in turns.
_GUARD_V = 2e-9
_GUARD_SHARE = 1e-11


class View(NamedTuple):
    """What a search looks at, of one scenario.

    Attributes
    ----------
    fault : NetworkFault or None
        Why there is no solution.
    faint : Faint or None
        Loads of constant power that cannot be fed.
    coil_v : list of float
        At each coil, without sign. [V]
    guarded_v, guarded_a : list of float
        Of the guarded branches, from start to end. [V], [A]
    stranded : set of int
        Guarded branches that could deliver their limit, and nothing leads it back.
    load_v : list of float
        At each load. [V]
    fed : list of bool
        Which loads have both ends in one part with a source.
    highest_v, highest_a : float
        Largest voltage of a node and current of a branch. [V], [A]
    """

    fault: NetworkFault | None
    faint: Faint | None
    coil_v: list[float]
    guarded_v: list[float]
    guarded_a: list[float]
    stranded: set[int]
    load_v: list[float]
    fed: list[bool]
    highest_v: float
    highest_a: float


Talk = Generator[Pattern, View, View]


@dataclass(slots=True)
class Search:
    """One scenario on its way to rest.

    Attributes
    ----------
    topology : Topology
    limits : Limits
        What its voltages are held against.
    energised : tuple of bool
        Which relays have pulled in; to begin with, which had before.
    on : list of bool
        Which loads draw if they are fed; to begin with, which did before.
    before_v : list of float
        Voltage at each coil when its relay last moved, its neighbours as they were; at rest of one
        that never moved. [V]
    moved : tuple of int
        Relays that moved on the way.
    cycle : tuple of tuple of bool
        States of the relays that come round again; empty at rest.
    refused : dict of int to ImpossibleLoad
        Loads that have no operating point, and why.
    fault : NetworkFault or None
        Why there is no state of rest.
    """

    topology: Topology
    limits: Limits
    energised: tuple[bool, ...]
    on: list[bool]
    before_v: list[float] = field(default_factory=list)
    moved: tuple[int, ...] = ()
    cycle: tuple[tuple[bool, ...], ...] = ()
    refused: dict[int, ImpossibleLoad] = field(default_factory=dict)
    fault: NetworkFault | None = None
    modes: tuple[int, ...] = ()

    def run(self) -> Talk:
        """Let relays move until none does, or until their states come round again."""
        spans, guarded = self.topology.spans, self.topology.guarded
        diodes = spans["diodes"].start
        # A diode that conducts to begin with may close a loop that is a short.
        self.modes = tuple([CONDUCTS if b < diodes else BLOCKS for b in guarded])
        limits = self.limits
        passed: list[tuple[bool, ...]] = []
        decided: dict[int, float] = {}
        while True:
            view = yield from self._loads()
            self.fault = view.fault
            now = self.energised
            coil_v = view.coil_v
            if view.fault or not now:
                break
            following = tuple(
                [
                    volts >= (off if on else pull)
                    for volts, on, pull, off in zip(
                        coil_v, now, limits.pick_up_v, limits.drop_out_v, strict=True
                    )
                ]
            )
            if following == now:
                break
            decided.update(
                (relay, coil_v[relay])
                for relay in range(len(now))
                if following[relay] != now[relay]
            )
            passed.append(now)
            self.cycle = tuple(_cycle(passed, following))
            if self.cycle:
                break
            self.energised = following
        self.moved = tuple(sorted(decided))
        self.before_v = [decided.get(relay, volts) for relay, volts in enumerate(coil_v)]
        return view

    @property
    def chatter(self) -> tuple[int, ...]:
        """Relays that move on for ever."""
        return tuple(
            relay
            for relay, now in enumerate(self.energised)
            if any(state[relay] != now for state in self.cycle)
        )

    # Loads ---------------------------------------------------------------------------------------

    def _loads(self) -> Talk:
        """Switch loads off that cannot draw, and on that can, the relays as they are.

        One goes off at a time, the one that is furthest from working. One that is off and has the
        voltage to start is tried again once the others have changed, goes off again if it or
        another fails with it, and all together not more often than `_TRIALS` times for each load:
        so there is an end.
        """
        closed = self.topology.closed(self.energised)
        if not self.on:
            return (yield from self._guards(closed))
        newcomer: int | None = None
        trials = 0
        tried: set[tuple[int, tuple[bool, ...]]] = set()
        self.refused.clear()
        while True:
            view = yield from self._guards(closed)
            if view.fault:
                return view
            if off := self._failing(view):
                for load in off if newcomer is None else [newcomer]:
                    self.on[load] = False
                newcomer = None
                continue
            start = self._starting(view, tried)
            if not start or trials >= _TRIALS * len(self.on):
                self._settle_refusals(view)
                return view
            trials += 1
            newcomer = start[0] if len(start) == 1 else None
            if newcomer is not None:
                tried.add((newcomer, tuple(self.on)))
            for load in start:
                self.on[load] = True

    def _failing(self, view: View) -> list[int]:
        """Loads to switch off: those without an operating point, or the one that sags most."""
        if view.faint:
            for load in view.faint.loads:
                self.refused.setdefault(load, view.faint.error)
            return [load for load in view.faint.worst if self.on[load]]
        limits, tolerance_v = self.limits, ROUNDING * view.highest_v
        short = [
            (limits.works_from_v[load] - volts, load)
            for load, volts in enumerate(view.load_v)
            if self.on[load] and view.fed[load] and limits.asked[load] > 0.0
            if volts < limits.works_from_v[load] - tolerance_v
        ]
        if not short:
            return []
        error = self._too_much([load for _, load in short])
        for _, load in short:
            self.refused.setdefault(load, error)
        missing_v = max(missing for missing, _ in short)
        return [next(load for missing, load in short if missing == missing_v)]

    def _too_much(self, loads: Sequence[int]) -> ImpossibleLoad:
        names = self.topology.ends(self.topology.branches + load for load in loads)
        return ImpossibleLoad(
            f"The current asked for between {listed(names)} is more than the network can carry, "
            "or is asked for against the voltage.",
            nodes=names,
        )

    def _starting(self, view: View, tried: Set[tuple[int, tuple[bool, ...]]]) -> list[int]:
        """Loads that are off and have the voltage to start: at first all, then one by one."""
        now = tuple(self.on)
        found = [
            load
            for load, on in enumerate(now)
            if not on and (load, now) not in tried and self._could_start(view, load)
        ]
        return found[:1] if self.refused else found

    def _could_start(self, view: View, load: int) -> bool:
        works_v, volts = self.limits.works_from_v[load], view.load_v[load]
        asks = view.fed[load] and self.limits.asked[load] > 0.0
        return asks and volts > ROUNDING * view.highest_v and volts >= works_v

    def _settle_refusals(self, view: View) -> None:
        """Keep those that are off, and not for waiting for their voltage or for being cut off."""
        limits = self.limits
        for load, on in enumerate(self.on):
            works_v, volts = limits.works_from_v[load], view.load_v[load]
            asks = not on and view.fed[load] and limits.asked[load] > 0.0
            if not (asks and (works_v <= 0.0 or volts >= works_v)):
                self.refused.pop(load, None)
            elif load not in self.refused:
                self.refused[load] = self._too_much([load])

    # Chargers, motors, diodes --------------------------------------------------------------------

    def _guards(self, closed: tuple[bool, ...]) -> Talk:
        """Let chargers, motors and diodes conduct, block or keep to their limit.

        All that are wrong change at once while that leaves fewer wrong; if it does not for
        `_BOLD_STEPS`, then only the first one that is wrong, in their order, does. That ends:
        voltage never falls as current grows, in any of them or in the network between (loads of
        constant power apart). Take the last one as fixed; the others come to their one state, by
        induction. If it is wrong and conducts instead, the voltage and current at it can only move
        on in that direction, so that it never comes back to the state that it left: at most three
        states of the last one, for each the states of the others. States that come again come of
        loads of constant power, which then have no operating point that their sources can stay at.
        """
        if not self.modes:
            return (yield Pattern(closed, (), tuple(self.on)))
        best, bold = len(self.modes) + 1, _BOLD_STEPS
        passed: set[tuple[int, ...]] = set()
        while True:
            view = yield Pattern(closed, self.modes, tuple(self.on))
            # A wire may run away only because a branch conducts that will not: there is a view.
            hot = isinstance(view.fault, NoSteadyTemperature)
            if view.faint or (view.fault and not hot):
                return view
            wrong = self._wrong(view)
            if not wrong:
                return view
            if len(wrong) < best:
                best, bold = len(wrong), _BOLD_STEPS
            elif bold:
                bold -= 1
            else:
                if self.modes in passed:
                    return self._restless(view)
                passed.add(self.modes)
                wrong = wrong[:1]
            modes = list(self.modes)
            for place, mode in wrong:
                modes[place] = mode
            self.modes = tuple(modes)

    def _restless(self, view: View) -> View:
        """Say of the loads of constant power that they cannot be fed; the largest goes first."""
        spans = self.topology.spans
        first = spans["power_loads"].start - self.topology.branches
        loads = [
            load
            for load in range(first, len(self.on))
            if self.on[load] and view.fed[load] and self.limits.asked[load] > 0.0
        ]
        if not loads:
            return view
        worst = max(loads, key=self.limits.asked.__getitem__)
        return view._replace(faint=Faint(self._too_much(loads), tuple(loads), (worst,)))

    def _wrong(self, view: View) -> list[tuple[int, int]]:
        """Guarded branches that cannot be as they are, and what they have to be."""
        found = []
        limits = self.limits
        chargers = self.topology.spans["chargers"]
        count = chargers.stop - chargers.start
        tolerance_v = _GUARD_V + _GUARD_SHARE * view.highest_v
        tolerance_a = _GUARD_SHARE * view.highest_a
        for place, mode in enumerate(self.modes):
            forward = -1.0 if place < count else 1.0
            amps = forward * view.guarded_a[place]
            over_v = forward * (view.guarded_v[place] - limits.emf_v[place])
            limit_a = limits.limit_a[place]
            if mode == CONDUCTS:
                if amps < -tolerance_a:
                    found.append((place, BLOCKS))
                elif amps > limit_a + tolerance_a:
                    found.append((place, LIMITS))
            elif mode == BLOCKS:
                if over_v > tolerance_v:
                    found.append((place, CONDUCTS))
            elif place in view.stranded or over_v < limits.ohm[place] * limit_a - tolerance_v:
                found.append((place, CONDUCTS))
        return found


def _cycle(
    passed: Sequence[tuple[bool, ...]], following: tuple[bool, ...]
) -> Sequence[tuple[bool, ...]]:
    """States from the one that now comes round again; empty while none does.

    A count of states that grows beyond any chain of relays is taken for a cycle too.
    """
    if following in passed:
        return passed[passed.index(following) :]
    if len(passed) > _STATES_PER_RELAY * (len(following) + 1):
        return passed[len(passed) // 2 :]
    return ()
