"""The equations of a network while nothing switches: its state, by Newton's method."""

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from lastvolt_service.errors import ImpossibleLoad, NetworkFault, NoSteadyTemperature
from lastvolt_service.physics.network.loops import Loops
from lastvolt_service.physics.network.power import stacked_voltages
from lastvolt_service.physics.network.topology import (
    Topology,
    check_perfect_conductors,
    listed,
)
from lastvolt_service.physics.network.values import Few, Many
from lastvolt_service.rows import some

NEWTON_LIMIT = 60
# A voltage so small, per volt of the highest, is one of rounding alone.
ROUNDING = 1e-9
# What a guarded branch does: it conducts by its line, blocks, or delivers its limit.
CONDUCTS, BLOCKS, LIMITS = 0, 1, 2
OUT_OF_REACH = (
    "The network cannot be solved: its values lie too far apart, or it stands at the very "
    "limit of what it can carry."
)


class Pattern(NamedTuple):
    """What conducts, in one scenario.

    Attributes
    ----------
    closed : tuple of bool
        For each contact.
    modes : tuple of int
        For each guarded branch: `CONDUCTS`, `BLOCKS` or `LIMITS`.
    on : tuple of bool
        For each load, whether it draws if it is fed.
    """

    closed: tuple[bool, ...]
    modes: tuple[int, ...]
    on: tuple[bool, ...]


class Faint(NamedTuple):
    """Loads of constant power that have no operating point.

    Attributes
    ----------
    error : ImpossibleLoad
        What to say of them.
    loads : tuple of int
        Which ones.
    worst : tuple of int
        Those to be switched off first.
    """

    error: ImpossibleLoad
    loads: tuple[int, ...]
    worst: tuple[int, ...]


class Plan:
    """The parts of a pattern: loops, loads that are fed, chargers that keep to their limit.

    Attributes
    ----------
    loops : Loops
        Of what conducts.
    fed : list of bool
        Which loads have both ends in one part, and a source in it.
    currents, powers : list of int
        Loads that draw, by kind, from 0 on.
    limited : list of (branch, charger)
        Chargers at their limit.
    stranded : set of int
        Guarded branches at their limit that nothing leads the current back to.
    """

    def __init__(self, topology: Topology, pattern: Pattern, weight: Sequence[float]) -> None:
        closed, modes, on = pattern
        spans, guarded = topology.spans, topology.guarded
        contacts = spans["contacts"]
        open_ = {contacts.start + place for place, shut in enumerate(closed) if not shut}
        open_.update(b for b, mode in zip(guarded, modes, strict=True) if mode != CONDUCTS)
        self.conducting = tuple([b for b in range(topology.branches) if b not in open_])
        start, end = topology.start, topology.end
        self.loops = Loops(
            nodes=len(topology.names),
            reference=topology.reference,
            start=start,
            end=end,
            conducting=self.conducting,
            weight=weight,
        )
        part = self.loops.part
        live = {part[start[s]] for s in range(spans["sources"].start, spans["sources"].stop)}
        self.limited, self.stranded = [], set()
        for place, branch in enumerate(guarded[: len(range(topology.branches)[spans["chargers"]])]):
            if modes[place] == BLOCKS:
                continue
            together = part[start[branch]] == part[end[branch]]
            if modes[place] == LIMITS:
                if not together:
                    self.stranded.add(place)
                    continue
                self.limited.append((branch, place))
            live.add(part[start[branch]])
        first = topology.branches
        self.fed = [
            part[start[e]] == part[end[e]] and part[start[e]] in live
            for e in range(first, len(start))
        ]
        power = spans["power_loads"].start - first
        drawing = [place for place, fed in enumerate(self.fed) if fed and on[place]]
        self.currents = [place for place in drawing if place < power]
        self.powers = [place for place in drawing if place >= power]


class Answer:
    """What one pattern came to, in one scenario or in many side by side.

    Attributes
    ----------
    flow, volts : list of float, or ndarray (branches or nodes, scenarios)
        Currents of the branches and voltages of the nodes. [A], [V]
    load_a : list
        Of each load, of floats or of ndarrays (scenarios,). [A]
    bends : list of Line
        The bent elements at their currents.
    missed_v : float or ndarray
        What wires and filaments still miss their voltage by. [V]
    faults : dict of int to NetworkFault
        By scenario, of those without a state. Where wires have no steady temperature, the rest is
        what it would be if their voltage grew on a straight line from the hottest steady state.
    runaway : dict of int to list of int
        The wires without steady temperature, by scenario.
    faints : dict of int to Faint
        By scenario, of those whose loads of constant power cannot be fed.
    iterations : int
        Linear systems solved.
    """

    def __init__(self) -> None:
        self.flow: Any = []
        self.volts: Any = []
        self.load_a: Any = []
        self.bends: Any = []
        self.missed_v: Any = 0.0
        self.faults: dict[int, NetworkFault] = {}
        self.runaway: dict[int, list[int]] = {}
        self.faints: dict[int, Faint] = {}
        self.iterations = 0


class Equations:
    """A pattern with the values of its scenarios."""

    def __init__(self, plan: Plan, values: Few | Many) -> None:
        self.plan, self.values, self.topology = plan, values, values.topology
        self._one = values.is_one
        self._found = Answer()

    def solve(self, begin: Any = None) -> Answer:
        """Find currents and voltages.

        Parameters
        ----------
        begin : list of Line, optional
            Of the bent elements, from a neighbouring scenario or pattern.

        Notes
        -----
        Newton's method, wires and filaments replaced by the lines that touch them at the latest
        currents; to begin with, wires at 20 degC, or cold ones where loads of constant power are
        fed. Within each step the loads of constant power are solved to the end. As the drop
        grows faster than the current, such a line lies below the element: if the lines leave no
        operating point for the loads, neither do the elements.
        """
        found = self._newton(begin)
        if found.runaway and begin is not None:
            self._found = Answer()
            found = self._newton(None)  # whether it runs away, its own lines tell
        return found

    def _newton(self, begin: Any) -> Answer:
        values, found = self.values, self._found
        if not self._one:  # then both are of arrays
            found.missed_v = np.zeros(values.ohm.shape[1])  # type: ignore[union-attr]  # as said
        self._check_perfect()
        ohm: Any = values.ohm.copy()
        emf: Any = values.emf.copy()
        is_bent = len(values.bent) > 0
        bends: Any = self._first_bends(begin, ohm, emf) if is_bent else None
        for iteration in range(1, NEWTON_LIMIT + 1):
            found.iterations = iteration
            flow, volts, load_a = self._linear(ohm, emf)
            self._check_reach(flow, volts)
            if self._all_stopped():
                break
            bends = values.bends(flow, bends) if is_bent else []
            open_, found.missed_v = values.misses(flow, volts, bends)
            open_ = self._going(open_)
            if not (open_ if self._one else open_.any()):
                break
            if iteration < NEWTON_LIMIT:
                values.lay(ohm, emf, bends)
        else:
            self._refuse(open_, flow, volts, bends)
        found.flow, found.volts, found.load_a = flow, volts, load_a
        if bends:
            found.bends = bends
            self._check_heat(bends)
        return found

    def _first_bends(self, begin: Any, ohm: Any, emf: Any) -> Any:
        """Lines to begin with; none, for wires at 20 degC and lamps as when rated."""
        values = self.values
        if begin is None and not self.plan.powers:
            return None
        if begin is None:
            cold: Any = [0.0] * len(values.ohm) if self._one else np.zeros_like(values.ohm)
            begin = values.bends(cold)
        elif self.plan.powers:  # what is proved of the loads asks for lines of these elements
            at_lines: Any = values.at_bends(begin)
            begin = values.bends(at_lines)
        values.lay(ohm, emf, begin)
        lamps = self.topology.spans["lamps"]
        if lamps.start < lamps.stop and not some(begin[-1].current_a != 0.0):
            # A filament without current is a short, from which no search begins well.
            ohm[lamps], emf[lamps] = values.ohm[lamps], values.emf[lamps]
        return begin

    # What stops a scenario -----------------------------------------------------------------------

    def _check_perfect(self) -> None:
        plan, values, found = self.plan, self.values, self._found
        if isinstance(values, Few):
            columns = [(values.ohm, values.emf)] if 0.0 in values.ohm else []
        elif not np.any(values.ohm == 0.0):
            columns = []
        else:
            columns = list(zip(values.ohm.T.tolist(), values.emf.T.tolist(), strict=True))
        for place, (ohm, emf_v) in enumerate(columns):
            try:
                check_perfect_conductors(
                    topology=self.topology, conducting=plan.conducting, ohm=ohm, emf_v=emf_v
                )
            except NetworkFault as fault:
                found.faults[place] = fault

    def _check_reach(self, flow: Any, volts: Any) -> None:
        far = self.values.out_of_reach(flow, volts)
        if some(far):
            for place in np.flatnonzero(far).tolist():
                if place not in self._found.faults:
                    self._found.faults[place] = NetworkFault(OUT_OF_REACH)

    def _check_heat(self, bends: Any) -> None:
        if any(some(line.lost) for line in bends):
            wires = self.topology.spans["wires"].stop
            flags = [line.lost for line in bends]
            self._name_heat(np.array(flags[:wires])[:, None] if self._one else flags[0])

    def _refuse(self, open_: Any, flow: Any, volts: Any, bends: Any) -> None:
        """Name the wires whose steps found no end; filaments alone always find one."""
        flags = self.values.open_ones(flow, volts, bends) & np.atleast_1d(open_)
        self._name_heat(flags[: self.topology.spans["wires"].stop])
        for place in np.flatnonzero(open_).tolist():
            self._found.faults.setdefault(place, NetworkFault(OUT_OF_REACH))

    def _name_heat(self, lost: Any) -> None:
        for place in np.flatnonzero(np.any(lost, axis=0)).tolist():
            if place in self._found.faults:
                continue
            own = np.flatnonzero(lost[:, place]).tolist()
            names = self.topology.ends(own)
            self._found.runaway[place] = own
            self._found.faults[place] = NoSteadyTemperature(
                f"A wire between {listed(names)} heats up without end at its current: "
                "it reaches no steady temperature.",
                nodes=names,
            )

    def _stopped(self) -> list[int]:
        return [*self._found.faults, *self._found.faints]

    def _all_stopped(self) -> bool:
        count = 1 if isinstance(self.values, Few) else self.values.ohm.shape[1]
        return len(set(self._stopped())) == count

    def _going(self, open_: Any) -> Any:
        stopped = self._stopped()
        if not stopped:
            return open_
        if self._one:
            return False
        open_ = open_.copy()
        open_[stopped] = False
        return open_

    # Straight lines ------------------------------------------------------------------------------

    def _linear(self, ohm: Any, emf: Any) -> tuple[Any, Any, Any]:
        """Solve the network of straight lines with its loads."""
        plan, values, topology = self.plan, self.values, self.topology
        first = topology.branches
        asked = [(first + place, values.asked[place]) for place in plan.currents]
        asked += [(branch, -values.limit[place]) for branch, place in plan.limited]
        cases = [(emf, asked), *((None, [(first + place, 1.0)]) for place in plan.powers)]
        answer: Any = plan.loops.answer if self._one else plan.loops.answers
        solved = answer(ohm, cases)
        flow, volts = solved[0]
        load_a: list[Any] = [0.0] * (len(topology.start) - first)
        for place in plan.currents:
            load_a[place] = values.asked[place]
        for branch, place in plan.limited:
            flow[branch] = -values.limit[place]
        if plan.powers:
            amps = self._powers(solved)
            for place, own, (flow_here, volts_here) in zip(
                plan.powers, amps, solved[1:], strict=True
            ):
                load_a[place] = own
                flow, volts = _plus(flow, flow_here, own), _plus(volts, volts_here, own)
        return flow, volts, load_a

    def _powers(self, solved: Sequence[tuple[Any, Any]]) -> list[Any]:
        """Currents of the loads of constant power."""
        topology, plan, found = self.topology, self.plan, self._found
        first = topology.branches
        ends = [(topology.start[first + p], topology.end[first + p]) for p in plan.powers]
        ports = np.array([[volts[a] - volts[b] for a, b in ends] for _, volts in solved])
        ports = ports.reshape(len(solved), len(ends), -1)
        open_v, coupling = ports[0].T, -ports[1:].transpose(2, 1, 0)
        power = np.array([self.values.asked[place] for place in plan.powers])
        power = power.reshape(len(ends), -1).T
        highest = np.max(np.abs(np.array(solved[0][1]).reshape(len(topology.names), -1)), axis=0)
        idle = power <= 0.0
        reversed_ = ~idle & ~(open_v > ROUNDING * highest[:, None])
        for row in np.flatnonzero(reversed_.any(axis=1)).tolist():
            if row not in found.faints:
                loads = [plan.powers[i] for i in np.flatnonzero(reversed_[row]).tolist()]
                found.faints[row] = self._reversed(loads)
        stopped = self._stopped()
        fine = ~(reversed_ | idle)
        fine[stopped] = False
        if not fine.all():  # what does not count must not spoil the sums
            open_v, power = np.where(fine, open_v, 1.0), np.where(fine, power, 0.0)
        volts, share = stacked_voltages(open_circuit_v=open_v, coupling_ohm=coupling, power_w=power)
        short = share < 1.0
        short[stopped] = False
        for row in np.flatnonzero(short).tolist():
            load = power[row] * np.diagonal(coupling[row]) / open_v[row] ** 2
            found.faints[row] = self._short(float(share[row]), int(np.argmax(load)), fine[row])
        amps = np.where(np.isfinite(volts), power / volts, 0.0).T
        return amps[:, 0].tolist() if self._one else list(amps)

    def _reversed(self, loads: list[int]) -> Faint:
        names = self.topology.ends(self.topology.branches + place for place in loads)
        error = ImpossibleLoad(
            f"No voltage of the right sign stands between {listed(names)} to feed a constant "
            "power.",
            nodes=names,
        )
        return Faint(error, tuple(loads), tuple(loads))

    def _short(self, share: float, worst: int, drawing: Any) -> Faint:
        loads = [p for p, draws in zip(self.plan.powers, drawing.tolist(), strict=True) if draws]
        names = self.topology.ends(self.topology.branches + place for place in loads)
        error = ImpossibleLoad(
            f"The network can carry at most {100.0 * share:.3g} % of the constant power asked "
            f"for between {listed(names)}.",
            nodes=names,
        )
        return Faint(error, tuple(loads), (self.plan.powers[worst],))


def _plus(vector: Any, other: Any, factor: Any) -> Any:
    """Add a multiple, of lists or of arrays."""
    if isinstance(vector, list):
        return [a + factor * b for a, b in zip(vector, other, strict=True)]
    return vector + other * factor
