"""How much each element's value moves a voltage of a solved network."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lastvolt_service.blas import one_thread
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.network_first import Solution
from lastvolt_service.physics.network.elements import Elements, FloatArray, Network
from lastvolt_service.physics.network_equations import branches_of, incidence, solve_linear
from lastvolt_service.physics.network_wires import wire_point


@dataclass(frozen=True, slots=True, eq=False)
class Sensitivities:
    """Change of chosen voltages with the value of every element, one row for each voltage.

    Attributes
    ----------
    wires : ndarray, shape (voltages, wires)
        Volts per ohm of the wire's resistance at 20 degC.
    resistors, coils, contacts : ndarray
        Volts per ohm; zero for open contacts.
    source_emfs : ndarray
        Volts per volt.
    source_resistances : ndarray
        Volts per ohm of internal resistance.
    current_loads : ndarray
        Volts per ampere; zero for loads that take nothing.
    power_loads : ndarray
        Volts per watt; zero for loads that take nothing.
    """

    wires: FloatArray
    resistors: FloatArray
    coils: FloatArray
    contacts: FloatArray
    source_emfs: FloatArray
    source_resistances: FloatArray
    current_loads: FloatArray
    power_loads: FloatArray


@one_thread
def sensitivities(
    *, network: Network, solution: Solution, plus: ArrayLike, minus: ArrayLike
) -> Sensitivities:
    """Differentiate voltages by the values of all elements.

    Parameters
    ----------
    network : Network
        The network.
    solution : Solution
        Its state of rest.
    plus, minus : sequence of int
        Nodes between which each voltage stands.

    Returns
    -------
    Sensitivities

    Raises
    ------
    NetworkFault
        At the very limit of what a load of constant power can draw, where the voltage falls
        without bound.

    Notes
    -----
    Adjoint method: one linear system for each voltage, at the lines that touch the wires and the
    loads of constant power, answers for all elements together. The Jacobian is symmetric, the
    nodes held at 0 V left out, so it is its own adjoint. Relays stay as they are, and
    `temperature_of` is taken as a function of the current alone: a wire's own heating is followed,
    but not the little that a higher resistance at 20 degC adds to it at the same current.
    """
    branches = branches_of(network=network, closed=solution.closed)
    nodes = len(network.node_names)
    wire_a = solution.wires.current_a
    point = wire_point(network=network, current_a=wire_a, previous_a=wire_a)
    ohm = branches.resistance_ohm.copy()
    ohm[: len(wire_a)] = point.slope_ohm

    loads, flow = network.power_loads, solution.power_loads
    on = flow.current_a > 0.0
    siemens = np.zeros(len(loads))
    siemens[on] = -flow.current_a[on] / flow.drop_v[on]
    at_loads = incidence(node_count=nodes, start=loads.start, end=loads.end)

    plus, minus = np.atleast_1d(plus), np.atleast_1d(minus)
    right = np.zeros((nodes + len(ohm), len(plus)))
    right[:nodes] = incidence(node_count=nodes, start=plus, end=minus)
    adjoint = solve_linear(
        network=network,
        branches=branches,
        resistance_ohm=ohm,
        right=right,
        node_siemens=at_loads * siemens @ at_loads.T,
    ).T
    at_nodes = adjoint[:, :nodes]
    pieces = np.split(adjoint[:, nodes:], np.cumsum(branches.counts)[:-1], axis=1)
    wires, resistors, coils, emfs, closed = pieces
    contacts = np.zeros((len(plus), len(network.contacts)))
    contacts[:, solution.closed] = closed

    def taken(elements: Elements) -> FloatArray:
        return np.asarray(at_nodes[:, elements.end] - at_nodes[:, elements.start])

    per_20_ohm_a = wire_a * resistance_ratio(
        temperature_c=point.temperature_c,
        temperature_coefficient_per_k=network.wires.temperature_coefficient_per_k,
    )
    per_watt = np.zeros(len(loads))
    per_watt[on] = 1.0 / flow.drop_v[on]
    return Sensitivities(
        wires=wires * per_20_ohm_a,
        resistors=resistors * solution.resistors.current_a,
        coils=coils * solution.coils.current_a,
        contacts=contacts * solution.contacts.current_a,
        source_emfs=emfs,
        source_resistances=-emfs * solution.sources.current_a,
        current_loads=taken(network.current_loads) * (solution.current_loads.current_a > 0.0),
        power_loads=taken(loads) * per_watt,
    )
