"""The equations of a network while no relay moves: assembly and solution."""

from dataclasses import dataclass

import numpy as np

from lastvolt_service.blas import one_thread
from lastvolt_service.errors import ImpossibleLoad, NetworkFault
from lastvolt_service.physics.network.elements import (
    BoolArray,
    Elements,
    FloatArray,
    IntArray,
    Network,
)
from lastvolt_service.physics.network_power import stable_voltages
from lastvolt_service.physics.network_topology import (
    check_perfect_conductors,
    islands,
    listed,
    name_ends,
)
from lastvolt_service.physics.network_wires import WirePoint, no_steady_temperature, wire_point

_NEWTON_LIMIT = 60
# A wire's drop and its resistance times its current agree to this many volts, in full and per volt
# of the highest voltage.
_TOLERANCE_V = 1e-9
_TOLERANCE_V_PER_V = 1e-12
# A voltage so small, per volt of the highest, is one of rounding alone.
_ROUNDING = 1e-9
# Volts and amperes beyond this come of branches a hair from perfect across a source; smaller ones
# have squares that a double holds.
_LARGEST = 1e100


@dataclass(frozen=True, slots=True, eq=False)
class Branches:
    """All branches that conduct, kind after kind, each obeying ``v_start - v_end = e + r * i``.

    Attributes
    ----------
    start, end : ndarray of int
        Nodes of the ends.
    resistance_ohm : ndarray
        r; that of the wires is theirs at 20 degC. [ohm]
    emf_v : ndarray
        e, zero but for sources. [V]
    counts : tuple of int
        Number of wires, resistors, coils, sources and closed contacts, in this order.
    references : ndarray of int
        One node of each part that hangs together, held at 0 V.
    part : ndarray of int
        For each node the lowest node of its part.
    """

    start: IntArray
    end: IntArray
    resistance_ohm: FloatArray
    emf_v: FloatArray
    counts: tuple[int, ...]
    references: IntArray
    part: IntArray


@dataclass(frozen=True, slots=True, eq=False)
class State:
    """A network at rest, relays taken as they are.

    Attributes
    ----------
    branches : Branches
        The branches that conduct.
    node_voltage_v : ndarray
        Voltage of each node. [V]
    branch_current_a : ndarray
        Current of each branch from start to end. [A]
    load_current_a : ndarray
        Current of each load of constant current. [A]
    power_current_a : ndarray
        Current of each load of constant power. [A]
    wires : WirePoint
        The wires at their currents.
    iterations : int
        Linear systems solved.
    """

    branches: Branches
    node_voltage_v: FloatArray
    branch_current_a: FloatArray
    load_current_a: FloatArray
    power_current_a: FloatArray
    wires: WirePoint
    iterations: int


def branches_of(*, network: Network, closed: BoolArray) -> Branches:
    """Line up the branches that conduct.

    Parameters
    ----------
    network : Network
        The network.
    closed : ndarray of bool
        Which relay contacts conduct.

    Returns
    -------
    Branches

    Raises
    ------
    SourceShort, UndeterminedCurrent
        If a loop has no resistance.
    """
    groups: tuple[tuple[Elements, FloatArray], ...] = (
        (network.wires, network.wires.resistance_20_ohm),
        (network.resistors, network.resistors.resistance_ohm),
        (network.coils, network.coils.resistance_ohm),
        (network.sources, network.sources.internal_resistance_ohm),
    )
    contacts = network.contacts
    start = np.concatenate([*(item.start for item, _ in groups), contacts.start[closed]])
    end = np.concatenate([*(item.end for item, _ in groups), contacts.end[closed]])
    ohm = np.concatenate([*(value for _, value in groups), contacts.resistance_ohm[closed]])
    emf_v = np.zeros(len(ohm))
    counts = (*(len(item) for item, _ in groups), int(closed.sum()))
    first_source = sum(counts[:3])
    emf_v[first_source : first_source + counts[3]] = network.sources.emf_v
    ideal, real = ohm == 0.0, (ohm > 0.0) & (emf_v != 0.0)
    check_perfect_conductors(
        network=network,
        perfect=zip(start[ideal].tolist(), end[ideal].tolist(), emf_v[ideal].tolist(), strict=True),
        real_sources=zip(start[real].tolist(), end[real].tolist(), strict=True),
    )
    part = islands(node_count=len(network.node_names), start=start, end=end)
    references = np.flatnonzero(part == np.arange(len(part)))
    references[references == part[network.reference]] = network.reference
    return Branches(start, end, ohm, emf_v, counts, references, part)


def incidence(*, node_count: int, start: IntArray, end: IntArray) -> FloatArray:
    """Matrix that sums element currents into the nodes that they leave.

    Parameters
    ----------
    node_count : int
        Number of nodes.
    start, end : ndarray of int
        Nodes of the ends.

    Returns
    -------
    ndarray, shape (nodes, elements)
        1 at the start, -1 at the end, 0 elsewhere and where both are the same node.
    """
    matrix = np.zeros((node_count, len(start)))
    element = np.arange(len(start))
    matrix[start, element] += 1.0
    matrix[end, element] -= 1.0
    return matrix


def leaving_a(
    *, node_count: int, elements: Elements | Branches, current_a: FloatArray
) -> FloatArray:
    """Sum element currents into the nodes that they leave.

    Parameters
    ----------
    node_count : int
        Number of nodes.
    elements : Elements or Branches
        Where the elements start and end.
    current_a : ndarray
        Current of each element from start to end. [A]

    Returns
    -------
    ndarray, shape (nodes,)
        What leaves each node less what enters it. [A]
    """
    return np.asarray(
        np.bincount(elements.start, current_a, node_count)
        - np.bincount(elements.end, current_a, node_count)
    )


def solve_linear(
    *,
    network: Network,
    branches: Branches,
    resistance_ohm: FloatArray,
    right: FloatArray,
    node_siemens: FloatArray | None = None,
) -> FloatArray:
    """Solve the linear network for node voltages and branch currents.

    Parameters
    ----------
    network : Network
        Gives the number of nodes.
    branches : Branches
        The branches that conduct.
    resistance_ohm : ndarray
        Resistance of each branch, zero allowed. [ohm]
    right : ndarray, shape (nodes + branches, cases)
        Currents fed into the nodes, then voltages of the branches.
    node_siemens : ndarray, shape (nodes, nodes), optional
        Further conductances between nodes.

    Returns
    -------
    ndarray, shape (nodes + branches, cases)
        Node voltages, then branch currents.

    Raises
    ------
    NetworkFault
        If the matrix is singular within rounding.

    Notes
    -----
    Modified nodal analysis with the current of every branch as an unknown: a perfect conductor is
    exact, Kirchhoff's current law is met to rounding whatever the resistances, and a branch of a
    milliohm next to one of a megohm costs no digits. But for the nodes held at 0 V the matrix is
    symmetric.
    """
    nodes = len(network.node_names)
    size = nodes + len(branches.start)
    matrix = np.zeros((size, size))
    if node_siemens is not None:
        matrix[:nodes, :nodes] = node_siemens
    matrix[:nodes, nodes:] = incidence(node_count=nodes, start=branches.start, end=branches.end)
    held = branches.references
    matrix[held, :] = 0.0
    matrix[held, held] = 1.0
    matrix[nodes:, :nodes] = matrix[:nodes, nodes:].T
    branch = np.arange(nodes, size)
    matrix[branch, branch] = -resistance_ohm
    right = right.copy()
    right[held] = 0.0
    try:
        solution = np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)
    except np.linalg.LinAlgError:
        solution = np.full_like(right, np.nan)
    if not np.all(np.abs(solution) < _LARGEST):  # not a number is refused with them
        raise NetworkFault(
            "The network cannot be solved: its values lie too far apart, or it stands at the very "
            "limit of what it can carry."
        )
    return solution


@one_thread
def solve_state(*, network: Network, closed: BoolArray) -> State:
    """Solve a network with its relay contacts as they are.

    Parameters
    ----------
    network : Network
        The network.
    closed : ndarray of bool
        Which relay contacts conduct.

    Returns
    -------
    State

    Raises
    ------
    SourceShort, UndeterminedCurrent
        If a loop has no resistance.
    ImpossibleLoad
        If a load of constant power has no operating point, or one of constant current would have
        to deliver power.
    NoSteadyTemperature
        If the temperatures of the wires find no balance.

    Notes
    -----
    Newton's method, the wires replaced by the lines that touch ``v = R(T(i)) * i`` at the latest
    currents, from cold. Within each step the loads of constant power are solved to the end. As a
    wire's drop grows faster than its current, such a line lies below the wire: if the lines leave
    no operating point for the loads, neither do the wires.

    A load of constant current or power is off while an open contact parts its two ends from each
    other or from every source.
    """
    branches = branches_of(network=network, closed=closed)
    wires = len(network.wires)
    nodes = len(network.node_names)
    ohm, emf_v = branches.resistance_ohm.copy(), branches.emf_v.copy()
    load_a = np.where(_fed(network, branches, network.current_loads), 1.0, 0.0)
    load_a *= network.current_loads.current_a
    point = wire_point(network=network, current_a=np.zeros(wires), previous_a=np.zeros(wires))
    for iteration in range(1, _NEWTON_LIMIT + 1):
        ohm[:wires] = point.slope_ohm
        emf_v[:wires] = point.drop_v - point.slope_ohm * point.current_a
        values, power_a = _solve_loads(network, branches, ohm, emf_v, load_a)
        voltage_v, current_a = values[:nodes], values[nodes:]
        new = wire_point(network=network, current_a=current_a[:wires], previous_a=point.current_a)
        ends_v = voltage_v[branches.start[:wires]] - voltage_v[branches.end[:wires]]
        limit_v = _TOLERANCE_V + _TOLERANCE_V_PER_V * np.max(np.abs(voltage_v))
        unsettled = new.current_a != current_a[:wires]
        unsettled |= np.abs(ends_v - new.drop_v) > limit_v
        if not unsettled.any():
            _check_current_loads(network, voltage_v, load_a)
            return State(branches, voltage_v, current_a, load_a, power_a, new, iteration)
        point = new
    raise no_steady_temperature(network=network, lost=unsettled)


def _fed(network: Network, branches: Branches, loads: Elements) -> BoolArray:
    """Tell which loads have both ends in one part, and a source in it."""
    part = branches.part
    live = np.zeros(len(part), dtype=np.bool_)
    live[part[network.sources.start]] = True
    start = part[loads.start]
    return np.asarray((start == part[loads.end]) & live[start])


def _solve_loads(
    network: Network,
    branches: Branches,
    resistance_ohm: FloatArray,
    emf_v: FloatArray,
    load_a: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Solve the network of straight lines with its loads.

    Returns node voltages and branch currents in one array, and the currents of the power loads.
    """
    nodes = len(network.node_names)
    loads, currents = network.power_loads, network.current_loads
    on = np.flatnonzero(_fed(network, branches, loads) & (loads.power_w > 0.0))
    at_loads = incidence(node_count=nodes, start=loads.start[on], end=loads.end[on])
    right = np.zeros((nodes + len(emf_v), 1 + len(on)))
    right[:nodes, 0] = -leaving_a(node_count=nodes, elements=currents, current_a=load_a)
    right[nodes:, 0] = emf_v
    right[:nodes, 1:] = at_loads
    solved = solve_linear(
        network=network, branches=branches, resistance_ohm=resistance_ohm, right=right
    )
    power_a = np.zeros(len(loads))
    if not len(on):
        return solved[:, 0], power_a
    ports = at_loads.T @ solved[:nodes]
    open_v = ports[:, 0]
    starved = on[open_v <= _ROUNDING * np.max(np.abs(solved[:nodes, 0]))]
    if len(starved):
        names = name_ends(network=network, elements=loads, chosen=starved)
        raise ImpossibleLoad(
            f"No voltage of the right sign stands between {listed(names)} to feed a constant "
            "power.",
            nodes=names,
        )
    voltage_v, share = stable_voltages(
        open_circuit_v=open_v, coupling_ohm=ports[:, 1:], power_w=loads.power_w[on]
    )
    if share < 1.0:
        names = name_ends(network=network, elements=loads, chosen=on)
        raise ImpossibleLoad(
            f"The network can carry at most {100.0 * share:.3g} % of the constant power asked "
            f"for between {listed(names)}.",
            nodes=names,
        )
    power_a[on] = loads.power_w[on] / voltage_v
    return solved[:, 0] - solved[:, 1:] @ power_a[on], power_a


def _check_current_loads(network: Network, voltage_v: FloatArray, load_a: FloatArray) -> None:
    loads = network.current_loads
    across_v = voltage_v[loads.start] - voltage_v[loads.end]
    reversed_ = across_v < -_ROUNDING * np.max(np.abs(voltage_v))
    bad = np.flatnonzero(reversed_ & (load_a > 0.0))
    if len(bad):
        names = name_ends(network=network, elements=loads, chosen=bad)
        raise ImpossibleLoad(
            f"The current asked for between {listed(names)} is more than the network can carry, "
            "or is asked for against the voltage.",
            nodes=names,
        )
