"""Solve networks of one shape for their states of rest, many scenarios at once."""

from collections.abc import Sequence
from math import frexp
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from lastvolt_service.blas import one_thread
from lastvolt_service.physics.network.bends import Line
from lastvolt_service.physics.network.elements import (
    Network,
)
from lastvolt_service.physics.network.equations import Answer, Equations, Pattern, Plan
from lastvolt_service.physics.network.scenarios import check_shapes, count_of, row_of
from lastvolt_service.physics.network.search import Search, View
from lastvolt_service.physics.network.solution import Solution
from lastvolt_service.physics.network.topology import Topology, compiled
from lastvolt_service.physics.network.values import Few, Many

# Plain numbers below this many branches times scenarios, and loops; arrays above. Measured on one
# core of 2026: 10 us a branch and scenario in plain numbers, 400 us and more in arrays.
_FEW_BRANCHES = 45
_FEW_LOOPS = 12
# Patterns of one shape are kept for the next request up to this sum of squares of their branches:
# 10 MB and less.
_KEPT_ENTRIES = 1_000_000
# Resistances within so many bits are of one order; nothing is less than a perfect branch.
_SAME_BITS, _PERFECT = 4, -1_000_000


@np.errstate(all="ignore")  # what is no number is looked for, and named
def rest_states(
    *,
    network: Network | Sequence[Network],
    energised: ArrayLike | None = None,
    loads_on: ArrayLike = True,
    near: Solution | Sequence[Solution | None] | None = None,
    plain: bool | None = None,
) -> Solution:
    """Find the states in which a network comes to rest, in one scenario or in many.

    Parameters
    ----------
    network : Network or sequence of Network
        One with values for one scenario, or with rows for many; or as many of one shape.
    energised : array of bool, shape (relays,) or (scenarios, relays), optional
        Which relays have pulled in before; by default none. With all of them, the answer tells
        which ones hold in a dip of the supply.
    loads_on : array of bool, shape (loads,) or (scenarios, loads)
        Which loads of constant current or power draw before, where they are fed: by default all.
        None of them, and the answer tells which ones start.
    near : Solution, or sequence of Solution or None, optional
        Of one scenario of the same shape with values nearby, where all of them begin, or each.
    plain : bool, optional
        Whether to calculate in plain numbers, scenario by scenario; by default for few. Equal to
        rounding.

    Returns
    -------
    Solution
        With an axis for the scenarios unless a Network of one is given.

    Raises
    ------
    FloatingPart, ImpossibleLoad
        If nodes are not joined to the reference at all, or through loads only.

    Notes
    -----
    The network is solved, every relay then pulls in at its pick-up voltage or more and falls off
    below its drop-out voltage, its neighbours as they are at that moment, and so on until none
    moves. All relays are equally fast. States that come round again are chatter: a relay whose
    contact takes away its own coil's voltage. Where two relays race each other, the one that would
    win by being faster is not known here, and both are named.

    In each state of the relays, loads whose voltage is below what they work from draw nothing, and
    neither do those without an operating point, of which the one furthest from it goes off first.

    A scenario without a state of rest has a `fault` and spoils no other.
    """
    networks = [network] if isinstance(network, Network) else list(network)
    topology = compiled(network=networks[0])
    is_single = isinstance(network, Network)
    count = count_of(network=networks[0]) if is_single else len(networks)
    many = max(count or 1, 1)
    if plain is None:
        plain = _is_few(topology, many)
    check_shapes(topology=topology, networks=networks)
    solver = _Solver(topology, networks, many, plain=plain)
    for place, one in enumerate(
        [near] * many if near is None or isinstance(near, Solution) else near
    ):
        if one is not None and one.topology is topology and one.fault is None:
            solver.begin(place, one.lines)
    relays = len(networks[0].coils)
    loads = len(topology.start) - topology.branches
    on = _rows(loads_on, many, loads)
    before = _rows(energised, many, relays)
    run = _Solver.run if plain else _run_on_one_thread
    return run(solver, before, on, networks, single=is_single and count is None)


def solve(*, network: Network, energised: ArrayLike | None = None) -> Solution:
    """Find the state in which a network of one scenario comes to rest.

    Parameters
    ----------
    network, energised
        As of `rest_states`.

    Returns
    -------
    Solution

    Raises
    ------
    FloatingPart
        If nodes are not joined to the reference, even with all contacts closed.
    SourceShort, UndeterminedCurrent
        If a loop has no resistance in a state that the relays pass through.
    ImpossibleLoad
        If a load of constant current or power cannot be fed.
    NoSteadyTemperature
        If a wire's heat finds no balance in such a state.
    """
    found = rest_states(network=network, energised=energised)
    found.refuse()
    return found


def _is_few(topology: Topology, count: int) -> bool:
    """Tell whether plain numbers are quicker than arrays."""
    wires = topology.spans["wires"].stop
    if wires and count > 1:
        return False  # their temperatures come in arrays at the least cost, once for all scenarios
    loops = topology.branches - len(topology.names) + 1
    return bool(loops <= _FEW_LOOPS and topology.branches * count <= _FEW_BRANCHES)


def _rows(flags: ArrayLike | None, scenarios: int, columns: int) -> list[list[bool]]:
    """A row of flags for each scenario; all alike where one is given, and False for None."""
    if flags is None or isinstance(flags, bool):
        return [[bool(flags)] * columns for _ in range(scenarios)]
    found: list[list[bool]] = np.broadcast_to(
        np.asarray(flags, dtype=np.bool_), (scenarios, columns)
    ).tolist()
    return found


class _Solver:
    """Answers the searches of all scenarios, those that ask for the same pattern at once."""

    def __init__(
        self, topology: Topology, networks: list[Network], count: int, *, plain: bool
    ) -> None:
        self.topology, self.count = topology, count
        self.few: list[Few] = []
        self.many: Many | None = None
        if plain:
            rows = (
                networks
                if len(networks) == count
                else [row_of(network=networks[0], place=place) for place in range(count)]
            )
            self.few = [Few(topology, one) for one in rows]
            limits = [one.limits[0] for one in self.few]
        else:
            self.many = Many.of(topology, networks, count)
            limits = self.many.limits
        self.limits = limits
        self.plans: list[Any] = [None] * count
        self.iterations = [0] * count
        self.runaway: dict[int, list[int]] = {}
        # What was found last, of every scenario; with plain numbers whole lists, else columns.
        self._last: dict[str, list[Any]] = {
            name: [None] * count for name in ("flow", "volts", "load_a", "bends", "missed_v")
        }
        self._near: dict[Pattern, Any] = {}
        self._begin: dict[int, list[Line]] = {}
        if self.many is not None:
            nodes, branches = len(topology.names), topology.branches
            self._flow = np.full((branches, count), np.nan)
            self._volts = np.full((nodes, count), np.nan)
            self._load_a = np.zeros((len(topology.start) - branches, count))
            self._lines = np.full((5, len(self.many.bent), count), np.nan)
            self._missed_v = np.zeros(count)
            self._known = np.zeros(count, dtype=np.bool_)

    def begin(self, place: int, lines: Any) -> None:
        """Begin a scenario with lines of another one."""
        if self.many is None:
            self._begin[place] = (
                lines
                if isinstance(lines, list)
                else [Line._make([*row, False]) for row in lines.T.tolist()]
            )
        elif len(self.many.bent):
            packed = np.array([row[:5] for row in lines]).T if isinstance(lines, list) else lines
            self._lines[:, :, place] = packed
            self._known[place] = True

    def run(
        self,
        before: list[list[bool]],
        on: list[list[bool]],
        networks: list[Network],
        *,
        single: bool,
    ) -> Solution:
        searches = [
            Search(self.topology, limits, tuple(was), draws)
            for limits, was, draws in zip(self.limits, before, on, strict=True)
        ]
        talks = [search.run() for search in searches]
        asked = {place: next(talk) for place, talk in enumerate(talks)}
        while asked:
            groups: dict[Pattern, list[int]] = {}
            for place, pattern in asked.items():
                groups.setdefault(pattern, []).append(place)
            asked = {}
            for pattern, places in groups.items():
                for place, view in zip(places, self._views(pattern, places), strict=True):
                    try:
                        asked[place] = talks[place].send(view)
                    except StopIteration:
                        continue
        return self._solution(searches, networks, single=single)

    def _views(self, pattern: Pattern, places: list[int]) -> list[View]:
        if self.many is None:
            return [self._few_view(pattern, place) for place in places]
        return self._many_views(pattern, places, self.many)

    def _few_view(self, pattern: Pattern, place: int) -> View:
        values, topology = self.few[place], self.topology
        plan = self._plan(pattern, values.weight)
        begin = self._last["bends"][place] or self._near.get(pattern)
        begin = begin or self._begin.get(place)
        found = Equations(plan, values).solve(begin)
        self._keep(plan, found, [place])
        flow, volts, start, end = found.flow, found.volts, topology.start, topology.end
        if not found.faults:
            self._near[pattern] = found.bends
            for name in self._last:
                self._last[name][place] = getattr(found, name)
        coils = topology.spans["coils"]
        drops = [abs(volts[start[b]] - volts[end[b]]) for b in range(coils.start, coils.stop)]
        guarded = topology.guarded
        loads = range(topology.branches, len(start))
        return View(
            found.faults.get(0),
            found.faints.get(0),
            drops,
            [volts[start[b]] - volts[end[b]] for b in guarded],
            [flow[b] for b in guarded],
            plan.stranded,
            [volts[start[e]] - volts[end[e]] for e in loads],
            plan.fed,
            max(max(volts), -min(volts)),
            max(map(abs, flow), default=0.0) if guarded else 0.0,
        )

    def _many_views(self, pattern: Pattern, places: list[int], whole: Many) -> list[View]:
        values, topology = whole.chosen(places), self.topology
        plan = self._plan(pattern, values.weight)
        begin = None
        if len(values.bent) and self._known[places].any():
            known = np.flatnonzero(self._known)
            near = known[np.minimum(np.searchsorted(known, places), len(known) - 1)]
            begin = values.unpacked(self._lines[:, :, np.where(self._known[places], places, near)])
        found = Equations(plan, values).solve(begin)
        self._keep(plan, found, places)
        self._store(found, places)
        volts = found.volts
        start, end = np.array(topology.start, dtype=int), np.array(topology.end, dtype=int)
        drops = volts[start] - volts[end]
        coils, guarded = topology.spans["coils"], list(topology.guarded)
        columns = zip(
            np.abs(drops[coils]).T.tolist(),
            drops[guarded].T.tolist(),
            found.flow[guarded].T.tolist(),
            drops[topology.branches :].T.tolist(),
            np.max(np.abs(volts), axis=0).tolist(),
            np.max(np.abs(found.flow), axis=0, initial=0.0).tolist(),
            strict=True,
        )
        return [
            View(
                found.faults.get(place),
                found.faints.get(place),
                coil_v,
                guarded_v,
                guarded_a,
                plan.stranded,
                load_v,
                plan.fed,
                highest_v,
                highest_a,
            )
            for place, (coil_v, guarded_v, guarded_a, load_v, highest_v, highest_a) in enumerate(
                columns
            )
        ]

    def _plan(self, pattern: Pattern, weight: list[float]) -> Plan:
        # The tree follows from orders of magnitude alone: what was asked for before, with other
        # values, leaves no trace in the last digits.
        orders = tuple([frexp(ohm)[1] // _SAME_BITS if ohm else _PERFECT for ohm in weight])
        kept: dict[tuple[Pattern, tuple[int, ...]], Plan] = self.topology.plans
        found = kept.get((pattern, orders))
        if found is None:
            if (len(kept) + 1) * self.topology.branches**2 > _KEPT_ENTRIES:
                kept.clear()
            found = kept[pattern, orders] = Plan(self.topology, pattern, orders)
        return found

    def _keep(self, plan: Plan, found: Answer, places: list[int]) -> None:
        for place in places:
            self.plans[place] = plan
            self.iterations[place] += found.iterations
        for column, wires in found.runaway.items():
            self.runaway[places[column]] = wires

    def _store(self, found: Answer, places: list[int]) -> None:
        good = np.ones(len(places), dtype=np.bool_)
        good[list(found.faults)] = False
        into = np.array(places)[good]
        self._known[into] = True
        self._flow[:, into] = found.flow[:, good]
        self._volts[:, into] = found.volts[:, good]
        for load, amps in enumerate(found.load_a):
            self._load_a[load, into] = np.broadcast_to(amps, good.shape)[good]
        if found.bends and self.many is not None:
            self._lines[:, :, into] = self.many.packed(found.bends)[:, :, good]
        self._missed_v[into] = found.missed_v[good]

    def _solution(
        self, searches: list[Search], networks: list[Network], *, single: bool
    ) -> Solution:
        topology, count = self.topology, self.count
        wires = topology.spans["wires"].stop
        runaway = [[False] * wires for _ in searches]
        for place, lost in self.runaway.items():
            if searches[place].fault is not None:
                for wire in lost:
                    runaway[place][wire] = True
        states: dict[str, Any] = {
            **(self._lists() if self.many is None else self._columns()),
            "energised": [search.energised for search in searches],
            "before_v": [search.before_v for search in searches],
            "moved": [search.moved for search in searches],
            "drawing": [search.on for search in searches],
            "modes": [search.modes for search in searches],
            "chatter": [search.chatter for search in searches],
            "cycle": [search.cycle for search in searches],
            "refused": [search.refused for search in searches],
            "fault": [search.fault for search in searches],
            "runaway": runaway,
            "iterations": self.iterations,
        }
        bad = [place for place, fault in enumerate(states["fault"]) if fault is not None]
        if bad and not single:
            for name in ("flow", "volts", "load_a", "temperature_c", "resistance_ohm"):
                whole = states[name] = np.array(states[name], dtype=float).reshape(count, -1)
                whole[bad] = np.nan
        if single:
            states = {name: value[0] for name, value in states.items()}
        return Solution(topology, networks, self.plans, states)

    def _lists(self) -> dict[str, list[Any]]:
        """A list for each scenario; not numbers where there is no state."""
        topology, last = self.topology, self._last
        wires = topology.spans["wires"].stop
        sizes = {
            "flow": topology.branches,
            "volts": len(topology.names),
            "load_a": len(topology.start) - topology.branches,
        }
        bends = [row[:wires] if row else [] for row in last["bends"]]
        none = [np.nan] * wires
        return {
            **{
                name: [[np.nan] * size if row is None else row for row in last[name]]
                for name, size in sizes.items()
            },
            "lines": [row or [] for row in last["bends"]],
            "temperature_c": [[line.temperature_c for line in row] or none for row in bends],
            "resistance_ohm": [[line.resistance_ohm for line in row] or none for row in bends],
            "residual_v": [0.0 if value is None else value for value in last["missed_v"]],
        }

    def _columns(self) -> dict[str, Any]:
        wires = self.topology.spans["wires"].stop
        return {
            "flow": self._flow.T.copy(),
            "volts": self._volts.T.copy(),
            "load_a": self._load_a.T.copy(),
            "temperature_c": self._lines[3, :wires].T.copy(),
            "resistance_ohm": self._lines[4, :wires].T.copy(),
            "lines": self._lines.transpose(2, 0, 1),
            "residual_v": self._missed_v,
        }


_run_on_one_thread = one_thread(_Solver.run)
