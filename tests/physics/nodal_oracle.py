"""A solver of networks that shares nothing with the one under test but the description of them.

Nodal equations in conductances, Kirchhoff's current law at every node, by scipy's root finders;
what relays and loads do is looked up in a table of all that they could do.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from scipy.optimize import root
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from lastvolt_service.physics.network.elements import Network

COPPER_PER_K = 0.00393
# Kirchhoff's law is met to this many amperes: 1e-3 ohm and more make 1e-8 V and less of it.
CLOSED_A = 1e-9
# Where a load of constant power is left out of account: it would take a hundred times its current.
LEAST_V = 0.05
Current = Callable[[float], tuple[float, float]]  # of a voltage, with its slope


@dataclass
class Nodal:
    """A solved pattern: voltages of all nodes, and what they drive through the elements."""

    volts: np.ndarray
    hot: bool  # a wire is beyond the ceiling
    stable: bool
    apart: np.ndarray  # nodes that nothing joins to the reference

    def across(self, elements) -> np.ndarray:
        return self.volts[elements.start] - self.volts[elements.end]


def ohmic(ohm: float, back_v: float = 0.0) -> Current:
    return lambda v: ((v - back_v) / ohm, 1.0 / ohm)


def clipped(ohm: float, back_v: float, lowest: float, highest: float) -> Current:
    def current(v: float) -> tuple[float, float]:
        amps = (v - back_v) / ohm
        inside = lowest < amps < highest
        return min(max(amps, lowest), highest), 1.0 / ohm if inside else 0.0

    return current


def heated(ohm: float, heating_k_per_a2: float) -> Current:
    bend = COPPER_PER_K * heating_k_per_a2

    def current(v: float) -> tuple[float, float]:
        amps = abs(v) / ohm  # too much by what the heat takes; Newton comes down to it
        for _ in range(60):
            excess = ohm * amps * (1.0 + bend * amps * amps) - abs(v)
            step = excess / (ohm * (1.0 + 3.0 * bend * amps * amps))
            amps -= step
            if abs(step) <= 1e-16 * amps:
                break
        return float(np.copysign(amps, v)), 1.0 / (ohm * (1.0 + 3.0 * bend * amps * amps))

    return current


def lamp(volts: float, amps: float, exponent: float) -> Current:
    def current(v: float) -> tuple[float, float]:
        size = max(abs(v), 1e-9)
        amperes = amps * (size / volts) ** exponent
        return float(np.sign(v)) * amperes, exponent * amperes / size

    return current


def power(watts: float) -> Current:
    def current(v: float) -> tuple[float, float]:
        return (watts / v, -watts / v**2) if v > LEAST_V else (watts / LEAST_V, 0.0)

    return current


def currents(
    net: Network, closed: Sequence[bool], on: Sequence[bool], heating: float
) -> Iterator[tuple[int, int, Current]]:
    """Every element that conducts, with its current at a voltage."""

    def rows(elements, *names):
        values = (getattr(elements, name).tolist() for name in names)
        return zip(elements.start.tolist(), elements.end.tolist(), *values, strict=True)

    for a, b, ohm in rows(net.wires, "resistance_20_ohm"):
        yield a, b, heated(ohm, heating)
    for kind in (net.resistors, net.coils):
        for a, b, ohm in rows(kind, "resistance_ohm"):
            yield a, b, ohmic(ohm)
    for shut, (a, b, ohm) in zip(closed, rows(net.contacts, "resistance_ohm"), strict=True):
        if shut:
            yield a, b, ohmic(ohm)
    for a, b, volts, ohm in rows(net.sources, "emf_v", "internal_resistance_ohm"):
        yield a, b, ohmic(ohm, volts)
    asked = ("regulated_v", "internal_resistance_ohm", "limit_a")
    for a, b, volts, ohm, most in rows(net.chargers, *asked):
        yield a, b, clipped(ohm, volts, -most, 0.0)
    for a, b, ohm, volts in rows(net.motors, "resistance_ohm", "back_v"):
        yield a, b, clipped(ohm, volts, 0.0, np.inf)
    for a, b, ohm, volts in rows(net.diodes, "resistance_ohm", "forward_v"):
        yield a, b, clipped(ohm, volts, 0.0, np.inf)
    for a, b, volts, amps, exponent in rows(net.lamps, "rated_v", "rated_a", "exponent"):
        yield a, b, lamp(volts, amps, exponent)
    draws = iter(on)
    for a, b, amps in rows(net.current_loads, "current_a"):
        if next(draws):
            yield a, b, lambda _v, amps=amps: (amps, 0.0)
    for a, b, watts in rows(net.power_loads, "power_w"):
        if next(draws) and watts > 0.0:
            yield a, b, power(watts)


def nodal(
    net: Network,
    closed: Sequence[bool],
    on: Sequence[bool],
    *,
    heating: float = 0.0,
    ceiling_c: float = np.inf,
) -> Nodal | None:
    """Solve a pattern; None where Kirchhoff's law is not met from any start."""
    count = len(net.node_names)
    loads = (net.current_loads, net.power_loads)
    idle = [False] * sum(map(len, loads))
    joined = [(a, b) for a, b, _ in currents(net, closed, idle, heating)]
    first, last = np.array(joined).T
    shape = coo_array((np.ones(len(joined)), (first, last)), shape=(count, count))
    _, part = connected_components(shape, directed=False)
    live = {part[node] for kind in (net.sources, net.chargers) for node in kind.start.tolist()}
    ends = [pair for load in loads for pair in zip(load.start, load.end, strict=True)]
    fed = [part[a] == part[b] and part[a] in live for a, b in ends]
    drawing = [draws and is_fed for draws, is_fed in zip(on, fed, strict=True)]
    labels = set(part.tolist()) - {part[net.reference]}
    held = [net.reference, *(int(np.flatnonzero(part == label)[0]) for label in labels)]
    free = np.setdiff1d(np.arange(count), held)
    elements = list(currents(net, closed, drawing, heating))

    def equations(unknown: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        volts = np.zeros(count)
        volts[free] = unknown
        out, slope = np.zeros(count), np.zeros((count, count))
        for a, b, current in elements:
            amps, per_v = current(volts[a] - volts[b])
            out[a] += amps
            out[b] -= amps
            slope[a, a] += per_v
            slope[b, b] += per_v
            slope[a, b] -= per_v
            slope[b, a] -= per_v
        return out[free], slope[np.ix_(free, free)]

    begins = [_open_volts(net, closed, free, charging) for charging in (False, True)]
    for method in ("own", "hybr"):
        for share, open_v in product((1.0, 0.8, 0.6), begins):
            begin = share * open_v
            if method == "own":
                unknown = _downhill(equations, begin)
            else:
                found = root(equations, begin, jac=True, method=method, tol=1e-14)
                unknown = _downhill(equations, found.x)
            out, slope = equations(unknown)
            if len(free) and np.max(np.abs(out)) > CLOSED_A:
                continue
            stable = not len(free) or np.linalg.eigvalsh(slope)[0] > 0.0
            volts = np.zeros(count)
            volts[free] = unknown
            wires_v = volts[net.wires.start] - volts[net.wires.end]
            amps = [
                heated(ohm, heating)(v)[0]
                for ohm, v in zip(net.wires.resistance_20_ohm, wires_v, strict=True)
            ]
            hot = any(20.0 + heating * i * i > ceiling_c for i in amps)
            powers_v = volts[net.power_loads.start] - volts[net.power_loads.end]
            fed_power = np.array(drawing[len(net.current_loads) :], dtype=bool)
            fed_power &= net.power_loads.power_w > 0.0
            currents_v = volts[net.current_loads.start] - volts[net.current_loads.end]
            fed_current = np.array(drawing[: len(net.current_loads)], dtype=bool)
            delivers = (currents_v[fed_current] < -1e-9).any()
            if stable and not delivers and (powers_v[fed_power] > LEAST_V).all():
                return Nodal(volts, hot, stable, part != part[net.reference])
    return None


def _open_volts(
    net: Network, closed: Sequence[bool], free: np.ndarray, charging: bool
) -> np.ndarray:
    """Voltages with all loads off and no element at an end of its range: where a search begins."""
    count = len(net.node_names)
    linear, fed_a = np.zeros((count, count)), np.zeros(count)
    straight = list(_straight(net, closed))
    if charging:
        charger = net.chargers
        ohms, volts = charger.internal_resistance_ohm, charger.regulated_v
        straight += zip(charger.start, charger.end, ohms, volts, strict=True)
    for a, b, ohm, volts in straight:
        for node, other, sign in ((a, b, 1.0), (b, a, -1.0)):
            linear[node, node] += 1.0 / ohm
            linear[node, other] -= 1.0 / ohm
            fed_a[node] += sign * volts / ohm
    return np.linalg.lstsq(linear[np.ix_(free, free)], fed_a[free])[0]


def _straight(net: Network, closed: Sequence[bool]) -> Iterator[tuple[int, int, float, float]]:
    """What conducts, as a resistance and a voltage."""
    for kind, ohm, volts in (
        (net.wires, "resistance_20_ohm", None),
        (net.resistors, "resistance_ohm", None),
        (net.coils, "resistance_ohm", None),
        (net.sources, "internal_resistance_ohm", "emf_v"),
        (net.motors, "resistance_ohm", "back_v"),
    ):
        emfs = np.zeros(len(kind)) if volts is None else getattr(kind, volts)
        yield from zip(kind.start, kind.end, getattr(kind, ohm), emfs, strict=True)
    contacts = net.contacts
    for shut, *row in zip(
        closed, contacts.start, contacts.end, contacts.resistance_ohm, strict=True
    ):
        if shut:
            yield (*row, 0.0)
    for a, b, volts, amps in zip(
        net.lamps.start, net.lamps.end, net.lamps.rated_v, net.lamps.rated_a, strict=True
    ):
        yield a, b, volts / amps, 0.0


def _downhill(equations: Callable, unknown: np.ndarray) -> np.ndarray:
    """Newton's steps, halved until the currents left over grow less."""
    for _ in range(100):
        out, slope = equations(unknown)
        if not len(unknown) or np.max(np.abs(out)) < 1e-13:
            break
        step = np.linalg.lstsq(slope, out)[0]
        for _ in range(30):
            if np.linalg.norm(equations(unknown - step)[0]) < np.linalg.norm(out):
                break
            step = 0.5 * step
        else:
            break
        unknown = unknown - step
    return unknown


class NoSolution(ArithmeticError):
    """A state on the way to rest has none."""


class TooHot(NoSolution):
    """A state on the way to rest has a wire beyond its ceiling."""


@dataclass
class Relays:
    """All that the relays of a network could do: for each state, the one that follows."""

    solved: dict[tuple[bool, ...], Nodal | None]
    follows: dict[tuple[bool, ...], tuple[bool, ...] | None]

    def rest(
        self, before: tuple[bool, ...]
    ) -> tuple[tuple[bool, ...] | None, set[tuple[bool, ...]]]:
        """State of rest from a state before, or None with the states of the cycle."""
        passed = [before]
        while True:
            after = self.follows[passed[-1]]
            if after is None:
                raise TooHot if self.solved[passed[-1]] else NoSolution
            if after == passed[-1]:
                return after, set()
            if after in passed:
                return None, set(passed[passed.index(after) :])
            passed.append(after)


def tabulate(net: Network, on: Sequence[bool], **heat: float) -> Relays:
    """Solve every state that the relays could have: 2**relays of them."""
    solved: dict[tuple[bool, ...], Nodal | None] = {}
    follows: dict[tuple[bool, ...], tuple[bool, ...] | None] = {}
    for state in product((False, True), repeat=len(net.coils)):
        closed = net.contacts.closed(np.array(state, dtype=bool)) if len(net.contacts) else []
        here = solved[state] = nodal(net, list(closed), on, **heat)
        if here is None or here.hot:
            follows[state] = None
            continue
        volts = np.abs(here.across(net.coils))
        limit = np.where(state, net.coils.drop_out_v, net.coils.pick_up_v)
        follows[state] = tuple((volts >= limit).tolist())
    return Relays(solved, follows)
