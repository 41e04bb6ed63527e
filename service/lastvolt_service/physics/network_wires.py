"""Wires that heat themselves: drop and slope at a current."""

from dataclasses import dataclass

import numpy as np

from lastvolt_service.errors import NoSteadyTemperature
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.network.elements import BoolArray, FloatArray, Network
from lastvolt_service.physics.network_topology import listed, name_ends

# Step of the current for the slope of a wire's temperature: relative, and in amperes at rest.
_SLOPE_STEP = 1e-3
_SLOPE_STEP_A = 1e-6
_HALVINGS = 60
# A wire whose current falls back to this close to the one before creeps up to its runaway: it
# would go on for ever.
_CREEP = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class WirePoint:
    """Wires at given currents, and the straight line that touches them there.

    Attributes
    ----------
    current_a : ndarray
        Currents. [A]
    temperature_c : ndarray
        Temperatures that they settle at. [degC]
    resistance_ohm : ndarray
        Resistances at these temperatures. [ohm]
    slope_ohm : ndarray
        Change of the drop with the current, the heating included. [ohm]
    """

    current_a: FloatArray
    temperature_c: FloatArray
    resistance_ohm: FloatArray
    slope_ohm: FloatArray

    @property
    def drop_v(self) -> FloatArray:
        """Drop of each wire. [V]."""
        return self.resistance_ohm * self.current_a


def wire_point(*, network: Network, current_a: FloatArray, previous_a: FloatArray) -> WirePoint:
    """Find temperatures, resistances and slopes of the wires at their currents.

    Parameters
    ----------
    network : Network
        The network.
    current_a : ndarray
        Current of each wire. [A]
    previous_a : ndarray
        Currents with a steady temperature, to fall back towards where there is none. [A]

    Returns
    -------
    WirePoint
        At `current_a`, or where that has no steady temperature at a current nearer to
        `previous_a`.

    Raises
    ------
    NoSteadyTemperature
        If a wire has no steady temperature at `previous_a` either, or none but within `_CREEP` of
        it.
    """
    wires = network.wires
    if not len(wires):
        return WirePoint(current_a, current_a, current_a, current_a)
    fallen = np.zeros(len(wires), dtype=np.bool_)
    for _ in range(_HALVINGS):
        magnitude_a = np.abs(current_a)
        step_a = _SLOPE_STEP * magnitude_a + _SLOPE_STEP_A
        pair_c = wires.temperature_of(np.stack([magnitude_a, magnitude_a + step_a]))
        lost = ~np.all(np.isfinite(pair_c), axis=0)
        if not lost.any():
            break
        fallen |= lost
        current_a = np.where(lost, 0.5 * (current_a + previous_a), current_a)
        lost &= np.abs(current_a - previous_a) <= _CREEP * np.abs(current_a)
        if lost.any():
            raise no_steady_temperature(network=network, lost=lost)
    else:
        raise no_steady_temperature(network=network, lost=fallen)
    creeping = fallen & (np.abs(current_a - previous_a) <= _CREEP * np.abs(current_a))
    if creeping.any():
        raise no_steady_temperature(network=network, lost=creeping)
    ohm, ohm_above = wires.resistance_20_ohm * resistance_ratio(
        temperature_c=pair_c, temperature_coefficient_per_k=wires.temperature_coefficient_per_k
    )
    slope_ohm = ohm + magnitude_a * (ohm_above - ohm) / step_a
    return WirePoint(current_a, pair_c[0], ohm, slope_ohm)


def no_steady_temperature(*, network: Network, lost: BoolArray) -> NoSteadyTemperature:
    """Make the error that names the wires without a steady temperature.

    Parameters
    ----------
    network : Network
        Gives the names.
    lost : ndarray of bool
        Which wires have none.

    Returns
    -------
    NoSteadyTemperature
    """
    names = name_ends(network=network, elements=network.wires, chosen=np.flatnonzero(lost))
    return NoSteadyTemperature(
        f"A wire between {listed(names)} heats up without end at its current: "
        "it reaches no steady temperature.",
        nodes=names,
    )
