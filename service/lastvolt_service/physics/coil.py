"""Relay coils: self-heating over the time they are on, the voltage that they stand, switch-off."""

import numpy as np

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.conductors import resistance_ratio

# Forward voltage [V] of the silicon diode across a coil; common practice, no source.
DIODE_FORWARD_V = 0.7


@law(
    "heated_share = 1 - exp(0 - duration_s / time_constant_s)"
    "  # of the rise at constant power, reached in this time",
    source="one heat capacity behind one thermal resistance",
)
def heated_share(*, duration_s: Real, time_constant_s: Real) -> Real:
    """Share of its settled rise that a coil of constant power reaches in a time.

    Parameters
    ----------
    duration_s : float or ndarray
        How long it is on, from a start at ambient. [s]
    time_constant_s : float or ndarray
        Of its warming. [s]

    Returns
    -------
    share : float or ndarray
        Between 0 and 1, broadcast shape.
    """
    return -np.expm1(-duration_s / time_constant_s)


@law(
    """
    slope_per_k = temperature_coefficient_per_k
        / (1 + temperature_coefficient_per_k * (ambient_c - 20))
        # temperature coefficient of copper at the ambient
    first_rise_k = thermal_resistance_k_per_w * coil_v ** 2 / resistance_ohm
        # rise, if the resistance did not grow
    settled_rise_k = 2 * first_rise_k / (1 + sqrt(1 + 4 * slope_per_k * first_rise_k))
        # rise of the coil once it has settled
    rise_k = min(settled_rise_k, share * first_rise_k)
        # the same in the time that it is on: no faster than by its power when cold
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
    share: Real = 1.0,
) -> Real:
    """Temperature rise of a coil that is energised at a constant voltage.

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
    share : float or ndarray
        `heated_share` of the time that it is on; 1 for one that stays on.

    Returns
    -------
    rise_k : float or ndarray
        Rise over the ambient at the end of that time, at most, broadcast shape. [K]

    Notes
    -----
    The warm coil draws less power: ``x * (1 + b*x) = R_th * V**2 / R_a`` with b the temperature
    coefficient at the ambient. Its positive root is written so that it keeps its digits where
    the rise is small. Before it has settled, it is no warmer than its power when cold makes it:
    up to a third too warm about one time constant, right for short times and for long ones.
    """
    slope = _coefficient_at(ambient_c, temperature_coefficient_per_k)
    cold_rise = thermal_resistance_k_per_w * coil_v**2 / resistance_ohm
    settled = 2.0 * cold_rise / (1.0 + np.sqrt(1.0 + 4.0 * slope * cold_rise))
    return np.minimum(settled, share * cold_rise)


@law(
    """
    slope_per_k = temperature_coefficient_per_k
        / (1 + temperature_coefficient_per_k * (ambient_c - 20))
        # temperature coefficient of copper at the ambient
    allowed_rise_k = max(rise_k, 0)  # up to the coil's limit
    growth = max(1 + slope_per_k * allowed_rise_k, 1 / share)
        # resistance of the settled coil over the cold one, or what the short time allows
    coil_v = sqrt(allowed_rise_k * growth * resistance_ohm / thermal_resistance_k_per_w)
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
    share: Real = 1.0,
) -> Real:
    """Voltage that heats a coil by a given rise: the inverse of `self_heating_rise`.

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
    share : float or ndarray
        As in `self_heating_rise`.

    Returns
    -------
    coil_v : float or ndarray
        Voltage at the coil, broadcast shape; 0 where the rise is negative. [V]
    """
    slope = _coefficient_at(ambient_c, temperature_coefficient_per_k)
    rise = np.maximum(rise_k, 0.0)
    growth = np.maximum(1.0 + slope * rise, 1.0 / share)
    return np.sqrt(rise * growth * resistance_ohm / thermal_resistance_k_per_w)


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
