"""Resistance between two nodes of a network without its sources, as an ohmmeter finds it."""

import math

import numpy as np

from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.network.elements import FloatArray, Network

# What counts as no resistance, so that perfect contacts may lie side by side. [ohm]
_PERFECT_OHM = 1e-9
# Of the voltage between the leads: what is less does not stand across a load.
_STANDS = 1e-9
_NOT_TOLD = ("lamps", "current_loads", "power_loads")


def cold_resistances(*, network: Network) -> dict[str, FloatArray]:
    """Resistance of every element without current, by kind; relays have released.

    Parameters
    ----------
    network : Network
        Of one scenario.

    Returns
    -------
    dict of str to ndarray
        Infinite for an open contact. [ohm]
    """
    wires = network.wires
    rest = wires.resistance_20_ohm
    if len(wires):
        rest = rest * resistance_ratio(
            temperature_c=wires.temperature_of(np.zeros(len(wires))),
            temperature_coefficient_per_k=wires.temperature_coefficient_per_k,
        )
    return {
        "wires": np.asarray(rest),
        "contacts": np.where(
            network.contacts.normally_closed, network.contacts.resistance_ohm, math.inf
        ),
        **{
            kind: np.asarray(getattr(network, kind).resistance_ohm)
            for kind in ("resistors", "coils", "motors")
        },
    }


def resistance_between(*, network: Network, plus: int, minus: int) -> tuple[float, bool]:
    """Find the resistance between two nodes, all sources taken off.

    Parameters
    ----------
    network : Network
        Of one scenario.
    plus, minus : int
        The nodes.

    Returns
    -------
    resistance_ohm : float
        Infinite where nothing joins them. [ohm]
    is_told : bool
        Whether no lamp and no load of constant current or power, of which nobody knows what it has
        cold, lies in the way.
    """
    count = len(network.node_names)
    matrix = np.zeros((count, count))
    for kind, ohm in cold_resistances(network=network).items():
        elements = getattr(network, kind)
        siemens = 1.0 / np.maximum(ohm, _PERFECT_OHM)
        for first, last, each in zip(elements.start, elements.end, siemens, strict=True):
            matrix[first, first] += each
            matrix[last, last] += each
            matrix[first, last] -= each
            matrix[last, first] -= each
    joined = _joined(matrix, plus)
    if minus not in joined:
        return math.inf, True
    free = [node for node in joined if node != minus]
    right = np.array([float(node == plus) for node in free])
    volts = np.zeros(count)
    volts[free] = np.linalg.solve(matrix[np.ix_(free, free)], right)
    across = max(
        (
            abs(float(volts[first] - volts[last]))
            for kind in _NOT_TOLD
            for first, last in zip(
                getattr(network, kind).start, getattr(network, kind).end, strict=True
            )
            if first in joined and last in joined
        ),
        default=0.0,
    )
    return float(volts[plus]), across <= _STANDS * float(volts[plus])


def _joined(matrix: FloatArray, first: int) -> list[int]:
    found, todo = {first}, [first]
    while todo:
        for other in np.flatnonzero(matrix[todo.pop()]).tolist():
            if other not in found:
                found.add(other)
                todo.append(other)
    return sorted(found)
