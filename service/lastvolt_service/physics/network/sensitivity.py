"""How much each element's value moves a voltage of a solved network."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from lastvolt_service.blas import one_thread
from lastvolt_service.errors import NetworkFault
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.network.bends import Line
from lastvolt_service.physics.network.elements import FloatArray, Network, Wires
from lastvolt_service.physics.network.equations import OUT_OF_REACH, Plan
from lastvolt_service.physics.network.loops import stacked_solve
from lastvolt_service.physics.network.solution import Solution
from lastvolt_service.physics.network.values import LARGEST, LOADS, STRAIGHT, Many


@dataclass(frozen=True, slots=True, eq=False)
class Sensitivities:
    """Change of chosen voltages with the value of every element, one row for each voltage.

    Zero for what does not count: open contacts, branches that block, loads that take nothing.

    Attributes
    ----------
    wires : ndarray, shape (..., voltages, wires)
        Volts per ohm of the wire's resistance at 20 degC.
    resistors, coils, contacts, motors, diodes : ndarray
        Volts per ohm.
    source_emfs, source_resistances : ndarray
        Volts per volt, and volts per ohm of internal resistance.
    charger_voltages, charger_resistances, charger_limits : ndarray
        Volts per volt, per ohm and per ampere.
    back_voltages, forward_voltages : ndarray
        Volts per volt, of motors and of diodes.
    lamps : ndarray
        Volts per ampere of rated current.
    current_loads : ndarray
        Volts per ampere.
    power_loads : ndarray
        Volts per watt.
    """

    wires: FloatArray
    resistors: FloatArray
    coils: FloatArray
    contacts: FloatArray
    motors: FloatArray
    diodes: FloatArray
    source_emfs: FloatArray
    source_resistances: FloatArray
    charger_voltages: FloatArray
    charger_resistances: FloatArray
    charger_limits: FloatArray
    back_voltages: FloatArray
    forward_voltages: FloatArray
    lamps: FloatArray
    current_loads: FloatArray
    power_loads: FloatArray


@one_thread
@np.errstate(all="ignore")  # what is no number is looked for
def sensitivities(
    *, network: Network, solution: Solution, plus: ArrayLike, minus: ArrayLike
) -> Sensitivities:
    """Differentiate voltages by the values of all elements.

    Parameters
    ----------
    network : Network
        The network, of one scenario or with rows for many, as it was solved.
    solution : Solution
        Its states of rest.
    plus, minus : sequence of int
        Nodes between which each voltage stands; zeros where contacts part them.

    Returns
    -------
    Sensitivities
        NaN in scenarios without a state of rest.

    Raises
    ------
    NetworkFault
        At the very limit of what a load of constant power can draw, where the voltage falls
        without bound.

    Notes
    -----
    Adjoint method (Tellegen): one ampere from plus to minus is sent through the network of the
    slopes, without its own voltages; the product of its current in an element with what the element
    carries answers for all elements together. A load of constant power is a negative resistance
    there. Relays, loads and blocking branches stay as they are, and `temperature_of` is taken as a
    function of the current alone: a wire's own heating is followed, but not the little that a
    higher resistance at 20 degC adds to it at the same current.
    """
    chosen = _Slopes(network, solution)
    return chosen.told(*chosen.sent(_pairs(plus, minus), ()))


@one_thread
@np.errstate(all="ignore")
def changes(
    *,
    network: Network,
    solution: Solution,
    variants: Sequence[Network],
    plus: ArrayLike,
    minus: ArrayLike,
    through: ArrayLike = (),
) -> FloatArray:
    """Tell what voltages and currents change by in networks that differ little from a solved one.

    Parameters
    ----------
    network : Network
        Of one scenario.
    solution : Solution
        Its state of rest.
    variants : sequence of Network
        Of the same shape.
    plus, minus : sequence of int
        Nodes between which each voltage stands.
    through : sequence of int
        Branches, as the topology counts them, whose currents are asked for, after the voltages.

    Returns
    -------
    ndarray, shape (voltages and currents, variants)
        To first order; all of them stay in the state of the first.

    Raises
    ------
    NetworkFault
        As of `sensitivities`.

    Notes
    -----
    At the currents and load voltages of the solved network each element of a variant takes another
    voltage or current, whatever the reason: that of a wire in warmer air as well. The network
    answers to these as `sensitivities` says. Kinds of elements that are the same object in a
    variant are not looked at.
    """
    chosen = _Slopes(network, solution)
    per_volt, per_ampere, limits = chosen.sent(
        _pairs(plus, minus), np.atleast_1d(np.asarray(through, dtype=np.int64)).tolist()
    )
    drop, asked, limit = chosen.moved(network, variants)
    found: FloatArray = (
        per_volt[0] @ drop + (per_ampere[0] * (chosen.load_a[0] > 0.0)) @ asked + limits[0] @ limit
    )
    return found


def _pairs(plus: ArrayLike, minus: ArrayLike) -> list[tuple[int, int]]:
    ends = (np.atleast_1d(np.asarray(each, dtype=np.int64)).tolist() for each in (plus, minus))
    return list(zip(*ends, strict=True))


class _Slopes:
    """A solved network as the lines that touch its elements."""

    def __init__(self, network: Network, solution: Solution) -> None:
        self.topology, self.solution = solution.topology, solution
        self.single = solution.node_voltage_v.ndim == 1
        volts = np.atleast_2d(solution.node_voltage_v)
        self.values = Many.of(self.topology, [network], len(volts))
        faults = [solution.fault] if self.single else solution.fault
        self.alive = [place for place, fault in enumerate(faults) if fault is None]
        self.flow = np.nan_to_num(np.atleast_2d(solution.branch_a))
        self.load_a = np.nan_to_num(np.atleast_2d(solution.load_a))
        first = self.topology.branches
        start = np.array(self.topology.start, dtype=np.int64)[first:]
        end = np.array(self.topology.end, dtype=np.int64)[first:]
        self.load_v = volts[:, start] - volts[:, end]
        self.bends = self._lines()
        self.ohm = self.values.ohm.copy()
        self.values.lay(self.ohm, self.values.emf.copy(), self.bends)

    def _lines(self) -> list[Line]:
        """Those that the search ended with: they touch the bent elements at their currents."""
        found, bent = self.solution.lines, len(self.values.bent)
        if not bent:
            return []
        lines = np.full((5, bent, len(self.flow)), np.nan)
        for place, rows in enumerate([found] if self.single else found):
            if len(rows):
                lines[:, :, place] = (
                    rows if isinstance(rows, np.ndarray) else np.array([row[:5] for row in rows]).T
                )
        return self.values.unpacked(lines)

    def moved(
        self, network: Network, variants: Sequence[Network]
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """What else elements of variants take, at the currents and voltages of the one scenario.

        Volts of the branches, amperes of the loads, and limits of the chargers.
        """
        topology, flow, count = self.topology, self.flow[0], len(variants)
        drop = np.zeros((topology.branches, count))
        asked = np.zeros((self.load_a.shape[1], count))
        limit = np.zeros((len(self.values.limit), count))
        draws, bent = self.load_a[0] > 0.0, []
        volts = np.where(draws, self.load_v[0], 1.0)
        warm_a = self._ratio()[:, 0] * flow[topology.spans["wires"]]
        for column, one in enumerate(variants):
            kinds = [
                kind for kind in topology.spans if getattr(one, kind) is not getattr(network, kind)
            ]
            if "lamps" in kinds or ("wires" in kinds and not _is_as_warm(one.wires, network.wires)):
                bent.append(column)
            elif "wires" in kinds:
                more = one.wires.resistance_20_ohm - network.wires.resistance_20_ohm
                drop[topology.spans["wires"], column] = more * warm_a
            for kind in kinds:
                span, own, old = topology.spans[kind], getattr(one, kind), getattr(network, kind)
                if kind in LOADS:
                    span = slice(span.start - topology.branches, span.stop - topology.branches)
                    more = getattr(own, LOADS[kind]) - getattr(old, LOADS[kind])
                    asked[span, column] = more / (volts[span] if kind == "power_loads" else 1.0)
                elif kind in STRAIGHT:
                    ohm, emf = STRAIGHT[kind]
                    drop[span, column] = (getattr(own, ohm) - getattr(old, ohm)) * flow[span]
                    if emf:
                        drop[span, column] += getattr(own, emf) - getattr(old, emf)
                if kind == "chargers":
                    limit[:, column] = own.limit_a - old.limit_a
        if bent:
            drop[np.ix_(self.values.bent, bent)] = self._bent(
                network, [variants[at] for at in bent]
            )
        return drop, asked, limit

    def _bent(self, network: Network, variants: Sequence[Network]) -> FloatArray:
        """What else wires and lamps of variants take. [V]."""
        count = 1 + len(variants)
        values = Many.of(self.topology, [network, *variants], count)
        flow = np.repeat(self.flow.T, count, axis=1)
        ohm, emf = values.ohm.copy(), values.emf.copy()
        values.lay(ohm, emf, values.bends(flow))
        drop = (ohm * flow + emf)[values.bent]
        return np.asarray(drop[:, 1:] - drop[:, :1])

    def _ratio(self) -> FloatArray:
        """Resistance of wires as warm as they are over that at 20 degC, shape (wires, rows)."""
        alpha: FloatArray = self.values.parts["alpha"]
        if not len(alpha):
            return alpha
        return np.asarray(
            resistance_ratio(
                temperature_c=self.bends[0].temperature_c, temperature_coefficient_per_k=alpha
            )
        )

    def sent(
        self, ends: Sequence[tuple[int, int]], through: Sequence[int]
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Per volt in each branch, per ampere of each load, and per ampere of chargers."""
        topology, count = self.topology, len(self.flow)
        chargers = topology.spans["chargers"]
        shape = (count, len(ends) + len(through))
        # A volt in a branch pushes the current that an ampere between nodes would push back.
        sign = np.repeat([1.0, -1.0], [len(ends), len(through)])
        per_volt = np.full((*shape, topology.branches), np.nan)
        per_ampere = np.full((*shape, self.load_a.shape[1]), np.nan)
        limits = np.full((*shape, chargers.stop - chargers.start), np.nan)
        groups: dict[Any, list[int]] = {}
        for place in self.alive:
            plan = self.solution.plans[place]
            key = (plan.conducting, tuple(plan.powers), tuple(plan.limited))
            groups.setdefault(key, []).append(place)
        for places in groups.values():
            plan = self.solution.plans[places[0]]
            amps, drop = self._adjoint(plan, places, ends, through)
            per_volt[places] = -sign[:, None] * amps.transpose(0, 2, 1)
            drop *= sign
            at_loads, at_limits = (
                np.zeros((len(places), *a.shape[1:])) for a in (per_ampere, limits)
            )
            for load in (*plan.currents, *plan.powers):
                at_loads[:, :, load] = _against(plan, topology.branches + load, drop)
            for branch, charger in plan.limited:
                at_limits[:, :, charger] = -_against(plan, branch, drop)
            per_ampere[places], limits[places] = at_loads, at_limits
        return per_volt, per_ampere, limits

    def _adjoint(
        self,
        plan: Plan,
        places: list[int],
        ends: Sequence[tuple[int, int]],
        through: Sequence[int],
    ) -> tuple[FloatArray, FloatArray]:
        """Currents and voltages of the branches as one ampere is drawn between each pair of nodes.

        After these, as one volt stands in each of some branches.
        """
        loops, branches = plan.loops, self.topology.branches
        power = [load for load in plan.powers if np.all(self.load_a[places, load] > 0.0)]
        matrix = np.zeros((len(loops.loops) + len(power), branches + len(power)))
        matrix[: len(loops.loops), :branches] = loops.matrix
        for place, load in enumerate(power):
            row = matrix[len(loops.loops) + place]
            row[branches + place] = 1.0
            for branch, sign in loops.way(branches + load):
                row[branch] += sign
        sent = np.zeros((branches + len(power), len(ends) + len(through)))
        pushed = np.zeros_like(sent)
        pushed[list(through), range(len(ends), sent.shape[1])] = 1.0
        for column, (plus, minus) in enumerate(ends):
            if loops.part[plus] == loops.part[minus]:
                for branch, sign in loops.between(minus, plus):
                    sent[branch, column] += sign
        steep = -self.load_v[places][:, power] / self.load_a[places][:, power]
        ohm = np.concatenate([self.ohm.T[places], steep], axis=1)
        weighed = matrix * ohm[:, None, :]
        amps = sent + matrix.T @ stacked_solve(
            matrices=weighed @ matrix.T, rights=-(weighed @ sent) - matrix @ pushed
        )
        if not np.all(np.abs(amps) < LARGEST):
            raise NetworkFault(OUT_OF_REACH)
        drop = ohm[:, :, None] * amps + pushed
        return amps[:, :branches], drop[:, :branches]

    def told(
        self, per_volt: FloatArray, per_ampere: FloatArray, limits: FloatArray
    ) -> Sensitivities:
        """Turn volts per volt in a branch into volts per unit of its values."""
        spans, parts = self.topology.spans, self.values.parts
        per_ohm = per_volt * self.flow[:, None, :]

        def part(array: FloatArray, kind: str, factor: Any = 1.0) -> FloatArray:
            found = np.asarray(array[..., spans[kind]] * factor)
            return found[0] if self.single else found

        ratio = self._ratio().T[:, None, :]
        lamp_v: Any = 0.0
        if spans["lamps"].start < spans["lamps"].stop:
            lamp_v = self.bends[-1].drop_v.T[:, None, :]
        _, rated_a, exponent = parts["lamps"].transpose(0, 2, 1)[:, :, None, :]
        draws = (self.load_a > 0.0)[:, None, :]
        per_watt = np.where(draws, per_ampere / np.where(draws, self.load_v[:, None, :], 1.0), 0.0)
        currents = spans["current_loads"].stop - self.topology.branches
        per_ampere = np.where(draws, per_ampere, 0.0)
        if self.single:
            per_ampere, per_watt, limits = per_ampere[0], per_watt[0], limits[0]
        return Sensitivities(
            wires=part(per_ohm, "wires", ratio),
            resistors=part(per_ohm, "resistors"),
            coils=part(per_ohm, "coils"),
            contacts=part(per_ohm, "contacts"),
            motors=part(per_ohm, "motors"),
            diodes=part(per_ohm, "diodes"),
            source_emfs=part(per_volt, "sources"),
            source_resistances=part(per_ohm, "sources"),
            charger_voltages=part(per_volt, "chargers"),
            charger_resistances=part(per_ohm, "chargers"),
            charger_limits=limits,
            back_voltages=part(per_volt, "motors"),
            forward_voltages=part(per_volt, "diodes"),
            # At the same current, more rated current takes less voltage.
            lamps=part(per_volt, "lamps", -lamp_v / (exponent * rated_a)),
            current_loads=per_ampere[..., :currents],
            power_loads=per_watt[..., currents:],
        )


def _is_as_warm(wires: Wires, others: Wires) -> bool:
    """Whether wires have the temperatures of others at any current: only lengths differ."""
    return wires.temperature_of is others.temperature_of and np.array_equal(
        wires.temperature_coefficient_per_k, others.temperature_coefficient_per_k
    )


def _against(plan: Plan, element: int, drop: FloatArray) -> FloatArray:
    """Voltage of an element's start against its end, by the way back through the tree."""
    found = np.zeros((drop.shape[0], drop.shape[2]))
    for branch, sign in plan.loops.known_way(element):
        found -= sign * drop[:, branch]
    return found
