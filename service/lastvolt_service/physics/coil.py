"""Relay coils: self-heating, the highest continuous voltage, and what happens at switch-off."""

import numpy as np

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.conductors import resistance_ratio

# Forward voltage [V] of the silicon diode across a coil; common practice, no source.
DIODE_FORWARD_V = 0.7


@law(
    """
    slope_per_k = temperature_coefficient_per_k
        / (1 + temperature_coefficient_per_k * (ambient_c - 20))
        # temperature coefficient of copper at the ambient
    first_rise_k = thermal_resistance_k_per_w * coil_v ** 2 / resistance_ohm
        # rise, if the resistance did not grow
    rise_k = 2 * first_rise_k / (1 + sqrt(1 + 4 * slope_per_k * first_rise_k))
        # rise of the coil once it has settled
    """,
    source="self-heating of a coil whose resistance rises with it: positive root",
)
def self_heating_rise(
    *,
    coil_v: Real,
    resistance_ohm: Real,
    ambient_c: Real,
    thermal_resistance_k_per_w: Real,
    temperature_coefficient_per_k: Real,
) -> Real:
    """Temperature rise of a coil that stays energised at a constant voltage.

    Parameters
    ----------
    coil_v : float or ndarray
        Voltage at the coil. [V]
    resistance_ohm : float or ndarray
        Resistance of the coil at the ambient temperature. [ohm]
    ambient_c : float or ndarray
        Temperature around the relay. [degC]
    thermal_resistance_k_per_w : float or ndarray
        Rise of the coil per watt. [K/W]
    temperature_coefficient_per_k : float or ndarray
        Temperature coefficient of resistance at 20 degC. [1/K]

    Returns
    -------
    rise_k : float or ndarray
        Rise over the ambient once it has settled, broadcast shape. [K]

    Notes
    -----
    The warm coil draws less power: ``x * (1 + b*x) = R_th * V**2 / R_a`` with b the temperature
    coefficient at the ambient. Its positive root is written so that it keeps its digits where
    the rise is small.
    """
    slope = _coefficient_at(ambient_c, temperature_coefficient_per_k)
    cold_rise = thermal_resistance_k_per_w * coil_v**2 / resistance_ohm
    return 2.0 * cold_rise / (1.0 + np.sqrt(1.0 + 4.0 * slope * cold_rise))


@law(
    """
    slope_per_k = temperature_coefficient_per_k
        / (1 + temperature_coefficient_per_k * (ambient_c - 20))
        # temperature coefficient of copper at the ambient
    allowed_rise_k = max(rise_k, 0)  # up to the coil's limit
    coil_v = sqrt(allowed_rise_k * (1 + slope_per_k * allowed_rise_k) * resistance_ohm
        / thermal_resistance_k_per_w)
        # voltage that heats the coil to its limit
    """,
    source="self-heating of a coil whose resistance rises with it: positive root",
)
def voltage_at_rise(
    *,
    rise_k: Real,
    resistance_ohm: Real,
    ambient_c: Real,
    thermal_resistance_k_per_w: Real,
    temperature_coefficient_per_k: Real,
) -> Real:
    """Continuous voltage that heats a coil by a given rise: the inverse of `self_heating_rise`.

    Parameters
    ----------
    rise_k : float or ndarray
        Rise over the ambient, for the highest continuous voltage up to the coil's limit. [K]
    resistance_ohm : float or ndarray
        Resistance of the coil at the ambient temperature. [ohm]
    ambient_c : float or ndarray
        Temperature around the relay. [degC]
    thermal_resistance_k_per_w : float or ndarray
        Rise of the coil per watt. [K/W]
    temperature_coefficient_per_k : float or ndarray
        Temperature coefficient of resistance at 20 degC. [1/K]

    Returns
    -------
    coil_v : float or ndarray
        Voltage at the coil, broadcast shape; 0 where the rise is negative. [V]
    """
    slope = _coefficient_at(ambient_c, temperature_coefficient_per_k)
    rise = np.maximum(rise_k, 0.0)
    return np.sqrt(rise * (1.0 + slope * rise) * resistance_ohm / thermal_resistance_k_per_w)


def _coefficient_at(ambient_c: Real, temperature_coefficient_per_k: Real) -> Real:
    return temperature_coefficient_per_k / resistance_ratio(
        temperature_c=ambient_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    )


@law(
    "peak_v = supply_v + clamp_v + supply_v / resistance_ohm * clamp_resistance_ohm"
    "  # peak across the switch that opens the coil",
    source="the current of an inductance goes on at the first moment",
)
def switch_off_peak(
    *, supply_v: Real, resistance_ohm: Real, clamp_v: Real, clamp_resistance_ohm: Real
) -> Real:
    """Peak voltage across the switch that opens a suppressed coil.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage that drove the coil. [V]
    resistance_ohm : float or ndarray
        Resistance of the coil. [ohm]
    clamp_v : float or ndarray
        Constant part of the suppressor's voltage: `DIODE_FORWARD_V` for a diode, the clamping
        voltage of a zener, 0 for a resistor. [V]
    clamp_resistance_ohm : float or ndarray
        Resistance of the suppressor: 0 but for a resistor. [ohm]

    Returns
    -------
    peak_v : float or ndarray
        Supply plus what the suppressor lets the coil drive, broadcast shape. [V]

    Notes
    -----
    At the first moment the coil's full current runs through the suppressor. Capacitance of the
    winding, left out, lowers the peak.
    """
    return supply_v + clamp_v + supply_v / resistance_ohm * clamp_resistance_ohm


@law(
    """
    stretch = 1 + clamp_resistance_ohm / resistance_ohm
        # resistance round the suppressor over that of the coil
    time_constants = ln((max(supply_v, drop_out_v) * stretch + clamp_v)
        / (drop_out_v * stretch + clamp_v)) / stretch
        # time to drop-out, in multiples of the coil's L/R
    """,
    source="L di/dt = -(R + R_s) i - V_c, solved for the time to drop-out",
)
def release_time_constants(
    *,
    supply_v: Real,
    drop_out_v: Real,
    resistance_ohm: Real,
    clamp_v: Real,
    clamp_resistance_ohm: Real,
) -> Real:
    """Time until a suppressed coil's current has fallen to drop-out, in time constants L/R.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage that drove the coil. [V]
    drop_out_v : float or ndarray
        Drop-out voltage at the coil's temperature, above zero. [V]
    resistance_ohm : float or ndarray
        Resistance of the coil. [ohm]
    clamp_v, clamp_resistance_ohm : float or ndarray
        The suppressor, as in `switch_off_peak`. [V], [ohm]

    Returns
    -------
    time_constants : float or ndarray
        Multiples of the coil's own L/R, broadcast shape; 0 where the coil is below drop-out
        already.

    Notes
    -----
    With constant inductance: good for comparing suppressors on one coil, not for milliseconds,
    since the inductance changes with the armature.
    """
    stretch = 1.0 + clamp_resistance_ohm / resistance_ohm
    start = np.maximum(supply_v, drop_out_v)
    return np.log((start * stretch + clamp_v) / (drop_out_v * stretch + clamp_v)) / stretch
