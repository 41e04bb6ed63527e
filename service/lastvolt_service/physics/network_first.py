"""Solve a network of wires, contacts, sources, loads and relays for its state of rest."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lastvolt_service.physics.network.elements import (
    BoolArray,
    Elements,
    FloatArray,
    Network,
)
from lastvolt_service.physics.network_equations import State, leaving_a, solve_state
from lastvolt_service.physics.network_topology import check_connected

# Relays in a chain pull in one after the other, and may fall off again likewise.
_STATES_PER_RELAY = 4


@dataclass(frozen=True, slots=True, eq=False)
class Flow:
    """What goes through the elements of one kind.

    Attributes
    ----------
    current_a : ndarray
        Current from start to end; of sources what they deliver, out of the plus post. [A]
    drop_v : ndarray
        Voltage of start against end; of an open contact the voltage across the gap. [V]
    """

    current_a: FloatArray
    drop_v: FloatArray

    @property
    def power_w(self) -> FloatArray:
        """Power of each element; of sources what leaves their posts. [W]."""
        return self.current_a * self.drop_v


@dataclass(frozen=True, slots=True, eq=False)
class PowerSums:
    """Where the power comes from and where it goes.

    Attributes
    ----------
    emf_w : float
        Of all sources before their internal resistance. [W]
    internal_w, wires_w, resistors_w, coils_w, contacts_w : float
        Turned to heat in the internal resistances and in the branches. [W]
    current_loads_w, power_loads_w : float
        Taken by the loads. [W]
    """

    emf_w: float
    internal_w: float
    wires_w: float
    resistors_w: float
    coils_w: float
    contacts_w: float
    current_loads_w: float
    power_loads_w: float


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """A network at rest.

    Attributes
    ----------
    node_voltage_v : ndarray
        Voltage of each node against the reference; within a part that open contacts cut off,
        against the part's lowest node. [V]
    connected : ndarray of bool
        False for the nodes of such a part.
    wires, resistors, sources, current_loads, power_loads, coils, contacts : Flow
        Currents and voltages by kind.
    wire_temperature_c : ndarray
        Temperature of each wire. [degC]
    wire_resistance_ohm : ndarray
        Resistance of each wire at its temperature. [ohm]
    energised : ndarray of bool
        Which relays have pulled in.
    closed : ndarray of bool
        Which relay contacts conduct.
    chatter : tuple of int
        Relays that neither hold nor release. When there are any, everything else describes one
        of the states that the network passes through, not a state of rest.
    power : PowerSums
        Where the power comes from and where it goes.
    residual_a : float
        Largest sum of the currents into a node. [A]
    residual_v : float
        Largest difference between a wire's voltage and its resistance times its current. [V]
    iterations : int
        Linear systems solved.
    """

    node_voltage_v: FloatArray
    connected: BoolArray
    wires: Flow
    resistors: Flow
    sources: Flow
    current_loads: Flow
    power_loads: Flow
    coils: Flow
    contacts: Flow
    wire_temperature_c: FloatArray
    wire_resistance_ohm: FloatArray
    energised: BoolArray
    closed: BoolArray
    chatter: tuple[int, ...]
    power: PowerSums
    residual_a: float
    residual_v: float
    iterations: int


def solve(*, network: Network, energised: ArrayLike | None = None) -> Solution:
    """Find the state in which a network comes to rest.

    Parameters
    ----------
    network : Network
        The network.
    energised : sequence of bool, optional
        Which relays have pulled in before; by default none. With all of them, the answer tells
        which ones hold in a dip of the supply.

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
        If a load of constant current or power cannot be fed in such a state.
    NoSteadyTemperature
        If a wire's heat finds no balance in such a state.

    Notes
    -----
    The network is solved, every relay then pulls in at its pick-up voltage or more and falls off
    below its drop-out voltage, and so on until none moves. All relays are equally fast. States
    that come round again are chatter: a relay whose contact takes away its own coil's voltage.
    Where two relays race each other, the one that would win by being faster is not known here,
    and both are named.
    """
    check_connected(network=network)
    coils = network.coils
    count = len(coils)
    now = np.zeros(count, dtype=np.bool_) if energised is None else np.asarray(energised, bool)
    passed: list[BoolArray] = []
    iterations = 0
    while True:
        state = solve_state(network=network, closed=network.contacts.closed(now))
        iterations += state.iterations
        coil_v = np.abs(_across(network.coils, state.node_voltage_v))
        following = coil_v >= np.where(now, coils.drop_out_v, coils.pick_up_v)
        if np.array_equal(following, now):
            return _solution(network, state, now, (), iterations)
        passed.append(now)
        cycle = _cycle(passed, following)
        if cycle:
            moving = np.any(cycle != now, axis=0)
            chatter = tuple(np.flatnonzero(moving).tolist())
            return _solution(network, state, now, chatter, iterations)
        now = following


def _cycle(passed: list[BoolArray], following: BoolArray) -> list[BoolArray]:
    """States from the one that now comes round again; empty while none does.

    A count of states that grows beyond any chain of relays is taken for a cycle too.
    """
    for first, state in enumerate(passed):
        if np.array_equal(state, following):
            return passed[first:]
    if len(passed) > _STATES_PER_RELAY * (len(following) + 1):
        return passed[len(passed) // 2 :]
    return []


def _across(elements: Elements, node_voltage_v: FloatArray) -> FloatArray:
    return np.asarray(node_voltage_v[elements.start] - node_voltage_v[elements.end])


def _solution(
    network: Network,
    state: State,
    energised: BoolArray,
    chatter: tuple[int, ...],
    iterations: int,
) -> Solution:
    voltage_v, branches = state.node_voltage_v, state.branches
    pieces = np.split(state.branch_current_a, np.cumsum(branches.counts)[:-1])
    wire_a, resistor_a, coil_a, source_a, closed_a = pieces
    closed = network.contacts.closed(energised)
    contact_a = np.zeros(len(closed))
    contact_a[closed] = closed_a
    wires = Flow(wire_a, _across(network.wires, voltage_v))
    flows = {
        "resistors": Flow(resistor_a, _across(network.resistors, voltage_v)),
        "coils": Flow(coil_a, _across(network.coils, voltage_v)),
        "contacts": Flow(contact_a, _across(network.contacts, voltage_v)),
        "current_loads": Flow(state.load_current_a, _across(network.current_loads, voltage_v)),
        "power_loads": Flow(state.power_current_a, _across(network.power_loads, voltage_v)),
    }
    sources = Flow(-source_a, _across(network.sources, voltage_v))
    power = PowerSums(
        emf_w=float(sources.current_a @ network.sources.emf_v),
        internal_w=float(sources.current_a**2 @ network.sources.internal_resistance_ohm),
        wires_w=float(np.sum(wires.power_w)),
        **{f"{kind}_w": float(np.sum(flow.power_w)) for kind, flow in flows.items()},
    )
    return Solution(
        node_voltage_v=voltage_v,
        connected=branches.part == branches.part[network.reference],
        wires=wires,
        sources=sources,
        **flows,
        wire_temperature_c=state.wires.temperature_c,
        wire_resistance_ohm=state.wires.resistance_ohm,
        energised=energised,
        closed=closed,
        chatter=chatter,
        power=power,
        residual_a=_residual_a(network, state),
        residual_v=float(np.max(np.abs(wires.drop_v - state.wires.drop_v), initial=0.0)),
        iterations=iterations,
    )


def _residual_a(network: Network, state: State) -> float:
    nodes = len(network.node_names)
    leaving = [
        leaving_a(node_count=nodes, elements=elements, current_a=current_a)
        for elements, current_a in (
            (state.branches, state.branch_current_a),
            (network.current_loads, state.load_current_a),
            (network.power_loads, state.power_current_a),
        )
    ]
    return float(np.max(np.abs(np.sum(leaving, axis=0))))
