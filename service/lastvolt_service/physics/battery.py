"""Lead-acid starter batteries: voltage at rest, and internal resistance from the ratings."""

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics import Real


def open_circuit_voltage(
    *,
    state_of_charge_percent: Real,
    temperature_c: Real,
    curve_percent: NDArray[np.float64],
    curve_v: NDArray[np.float64],
    curve_temperature_c: Real,
    temperature_coefficient_v_per_k: Real,
) -> Real:
    """Voltage of a rested battery without load.

    Parameters
    ----------
    state_of_charge_percent : float or ndarray
        State of charge. [%]
    temperature_c : float or ndarray
        Temperature of the electrolyte. [degC]
    curve_percent : ndarray, shape (n,)
        States of charge of the published points, rising from 0 to 100. [%]
    curve_v : ndarray, shape (n,)
        Voltage at each. [V]
    curve_temperature_c : float or ndarray
        Temperature of these voltages. [degC]
    temperature_coefficient_v_per_k : float or ndarray
        Rise of the voltage with temperature. [V/K]

    Returns
    -------
    open_circuit_v : float or ndarray
        Interpolated between the points and shifted to the temperature, broadcast shape. [V]
    """
    at_curve = np.interp(state_of_charge_percent, curve_percent, curve_v)
    shifted: Real = at_curve + temperature_coefficient_v_per_k * (
        temperature_c - curve_temperature_c
    )
    return shifted


def cold_cranking_resistance(
    *, open_circuit_v: Real, cold_cranking_v: Real, cold_cranking_a: Real
) -> Real:
    """Internal resistance that the cold-cranking rating stands for.

    Parameters
    ----------
    open_circuit_v : float or ndarray
        Of the full battery at the temperature of the rating. [V]
    cold_cranking_v : float or ndarray
        Voltage that the rating promises at its current. [V]
    cold_cranking_a : float or ndarray
        The rating, above zero. [A]

    Returns
    -------
    internal_resistance_ohm : float or ndarray
        At the temperature of the rating, broadcast shape. [ohm]

    Notes
    -----
    ``(E - V) / I``. A battery just within its rating has this resistance after 30 s; a better one
    has less. Polarisation is counted in, so the sag of the first second is smaller.

    References
    ----------
    SAE J537, cold-cranking performance test.
    """
    return (open_circuit_v - cold_cranking_v) / cold_cranking_a


def cranking_power(
    *,
    temperature_c: Real,
    curve_temperature_c: NDArray[np.float64],
    curve_percent: NDArray[np.float64],
) -> Real:
    """Cranking power of a battery at a temperature, of its power in the warm.

    Parameters
    ----------
    temperature_c : float or ndarray
        Temperature of the electrolyte. [degC]
    curve_temperature_c : ndarray, shape (n,)
        Temperatures of the published points, rising. [degC]
    curve_percent : ndarray, shape (n,)
        Power at each. [%]

    Returns
    -------
    power_percent : float or ndarray
        Interpolated between the points, shape of `temperature_c`: the last point holds above it,
        and NaN stands below the first, since no power is extrapolated. [%]
    """
    power: Real = np.interp(temperature_c, curve_temperature_c, curve_percent, left=np.nan)
    return power


def resistance_at_power(
    *, resistance_ohm: Real, reference_percent: Real, power_percent: Real
) -> Real:
    """Internal resistance at another temperature, told from the cranking power at both.

    Parameters
    ----------
    resistance_ohm : float or ndarray
        At the reference temperature. [ohm]
    reference_percent : float or ndarray
        Cranking power at the reference temperature. [%]
    power_percent : float or ndarray
        Cranking power at the temperature asked for, above zero. [%]

    Returns
    -------
    internal_resistance_ohm : float or ndarray
        Broadcast shape. [ohm]

    Notes
    -----
    The largest power that a source delivers is ``E**2 / (4 * R)``, so R goes as one over the
    power. The few percent by which E changes with temperature are left out.
    """
    return resistance_ohm * reference_percent / power_percent
