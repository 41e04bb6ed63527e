"""Solenoids: the ampere-turns that move a plunger, and the voltage that drives them."""

import numpy as np

from lastvolt_service.laws import Constant, law
from lastvolt_service.physics import Real
from lastvolt_service.physics.constants import MAGNETIC_CONSTANT_N_PER_A2

MAGNETIC_CONSTANT = Constant(
    "magnetic_constant",
    MAGNETIC_CONSTANT_N_PER_A2,
    "N/A2",
    "mu_0",
    "CODATA recommended values 2022",
)


@law(
    "force_n = magnetic_constant * ampere_turns ** 2 * area_mm2 / (2 * gap_mm ** 2)"
    "  # pull over the gap",
    source="one air gap, no leakage, no saturation",
    constants=(MAGNETIC_CONSTANT,),
)
def plunger_force(*, ampere_turns: Real, gap_mm: Real, area_mm2: Real) -> Real:
    """Force on a plunger over one air gap.

    Parameters
    ----------
    ampere_turns : float or ndarray
        Current times turns. [A]
    gap_mm : float or ndarray
        Length of the gap. [mm]
    area_mm2 : float or ndarray
        Area of the pole. [mm2]

    Returns
    -------
    force_n : float or ndarray
        Force, broadcast shape. [N]
    """
    return MAGNETIC_CONSTANT_N_PER_A2 * ampere_turns**2 * area_mm2 / (2.0 * gap_mm**2)


@law(
    "ampere_turns = gap_mm * sqrt(2 * force_n / (magnetic_constant * area_mm2))"
    "  # that pull with this force over the gap",
    source="one air gap, no leakage, no saturation",
    constants=(MAGNETIC_CONSTANT,),
)
def ampere_turns_for_force(*, force_n: Real, gap_mm: Real, area_mm2: Real) -> Real:
    """Ampere-turns that pull a plunger over one air gap: the inverse of `plunger_force`.

    Parameters
    ----------
    force_n : float or ndarray
        Force needed. [N]
    gap_mm : float or ndarray
        Length of the gap. [mm]
    area_mm2 : float or ndarray
        Area of the pole. [mm2]

    Returns
    -------
    ampere_turns : float or ndarray
        Current times turns, broadcast shape. [A]

    Notes
    -----
    Real solenoids pull less at long gaps and no more once the iron saturates.
    """
    return gap_mm * np.sqrt(2.0 * force_n / (MAGNETIC_CONSTANT_N_PER_A2 * area_mm2))


@law(
    """
    through_motor_ohm = pull_in_resistance_ohm + motor_resistance_ohm
        # pull-in winding and motor in series
    resistance_ohm = through_motor_ohm * hold_in_resistance_ohm
        / (through_motor_ohm + hold_in_resistance_ohm)
        # both windings in parallel
    """,
    source="Ohm's law",
)
def two_winding_resistance(
    *,
    pull_in_resistance_ohm: Real,
    motor_resistance_ohm: Real,
    hold_in_resistance_ohm: Real,
) -> Real:
    """Resistance of a starter solenoid between its terminal 50 and ground, before it closes.

    Parameters
    ----------
    pull_in_resistance_ohm : float or ndarray
        Pull-in winding, which returns through the motor. [ohm]
    motor_resistance_ohm : float or ndarray
        Starter motor at rest. [ohm]
    hold_in_resistance_ohm : float or ndarray
        Hold-in winding, which goes to ground. [ohm]

    Returns
    -------
    resistance_ohm : float or ndarray
        Both paths in parallel, broadcast shape. [ohm]
    """
    pull_in = pull_in_resistance_ohm + motor_resistance_ohm
    return pull_in * hold_in_resistance_ohm / (pull_in + hold_in_resistance_ohm)


@law(
    "pull_in_v = ampere_turns / (pull_in_turns / (pull_in_resistance_ohm + motor_resistance_ohm)"
    " + hold_in_turns / hold_in_resistance_ohm)"
    "  # at terminal 50, both windings pulling the same way",
    source="TM 5-3805-258-24-1, pp. 3-170 and 3-171",
)
def two_winding_pull_in(
    *,
    ampere_turns: Real,
    pull_in_turns: Real,
    pull_in_resistance_ohm: Real,
    motor_resistance_ohm: Real,
    hold_in_turns: Real,
    hold_in_resistance_ohm: Real,
) -> Real:
    """Voltage at terminal 50 that gives a two-winding solenoid its ampere-turns.

    Parameters
    ----------
    ampere_turns : float or ndarray
        Sum over both windings that moves the plunger. [A]
    pull_in_turns, hold_in_turns : float or ndarray
        Turns of the windings. [1]
    pull_in_resistance_ohm, motor_resistance_ohm, hold_in_resistance_ohm : float or ndarray
        Of the pull-in winding, the starter motor at rest and the hold-in winding. [ohm]

    Returns
    -------
    pull_in_v : float or ndarray
        Voltage at the terminal, broadcast shape. [V]

    References
    ----------
    TM 5-3805-258-24-1, pp. 3-170 and 3-171: pull-in winding in series with the motor, hold-in
    winding to ground, pull-in shorted once the main contacts close.
    """
    per_volt = (
        pull_in_turns / (pull_in_resistance_ohm + motor_resistance_ohm)
        + hold_in_turns / hold_in_resistance_ohm
    )
    return ampere_turns / per_volt


@law(
    "path_resistance_ohm = supply_v / pull_in_current_a - winding_resistance_ohm"
    "  # at which the winding still gets its pull-in current",
    source="Ohm's law",
)
def path_resistance_to_spare(
    *, supply_v: Real, pull_in_current_a: Real, winding_resistance_ohm: Real
) -> Real:
    """Largest resistance of the path at which a winding still gets its pull-in current.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage at the start of the path. [V]
    pull_in_current_a : float or ndarray
        Current at which the plunger moves, the same at any temperature. [A]
    winding_resistance_ohm : float or ndarray
        Resistance of the solenoid at its temperature. [ohm]

    Returns
    -------
    path_resistance_ohm : float or ndarray
        Broadcast shape; negative where no path is good enough. [ohm]
    """
    return supply_v / pull_in_current_a - winding_resistance_ohm


@law(
    "ratio = (supply_v / pull_in_current_a - path_resistance_ohm) / winding_resistance_ohm"
    "  # resistance that the winding may have, over that at the reference",
    source="Ohm's law",
)
def winding_ratio_to_spare(
    *,
    supply_v: Real,
    pull_in_current_a: Real,
    path_resistance_ohm: Real,
    winding_resistance_ohm: Real,
) -> Real:
    """Largest growth of a winding's resistance at which it still gets its pull-in current.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage at the start of the path. [V]
    pull_in_current_a : float or ndarray
        Current at which the plunger moves. [A]
    path_resistance_ohm : float or ndarray
        Resistance of the path. [ohm]
    winding_resistance_ohm : float or ndarray
        Resistance of the solenoid at the reference temperature. [ohm]

    Returns
    -------
    ratio : float or ndarray
        R(T_max) over the reference resistance, broadcast shape; may be negative.
    """
    return (supply_v / pull_in_current_a - path_resistance_ohm) / winding_resistance_ohm
