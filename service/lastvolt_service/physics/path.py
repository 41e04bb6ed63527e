"""One load at the end of a series path of wires and contacts, out and back."""

import numpy as np

from lastvolt_service.laws import KIRCHHOFF, law
from lastvolt_service.physics import Real


@law(
    "current_a = supply_v / (path_resistance_ohm + load_resistance_ohm)  # current round the loop",
    source=KIRCHHOFF,
)
def resistive_load_current(
    *, supply_v: Real, path_resistance_ohm: Real, load_resistance_ohm: Real
) -> Real:
    """Current of a constant resistance behind a path.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage at the start of the path. [V]
    path_resistance_ohm : float or ndarray
        Resistance of the whole path, out and back. [ohm]
    load_resistance_ohm : float or ndarray
        Resistance of the load, above zero. [ohm]

    Returns
    -------
    current_a : float or ndarray
        Current round the loop, broadcast shape. [A]
    """
    return supply_v / (path_resistance_ohm + load_resistance_ohm)


@law(
    """
    stable_v = (supply_v + sqrt(supply_v ** 2 - 4 * load_power_w * path_resistance_ohm)) / 2
        # the higher root, at which circuits rest
    unstable_v = load_power_w * path_resistance_ohm / stable_v  # the other, by the product of both
    """,
    source="roots of V**2 - supply * V + power * resistance = 0",
    results=2,
)
def power_load_voltages(
    *, supply_v: Real, path_resistance_ohm: Real, load_power_w: Real
) -> tuple[Real, Real]:
    """Both voltages at which a constant power can be had through a path.

    Parameters
    ----------
    supply_v : float or ndarray
        Voltage at the start of the path. [V]
    path_resistance_ohm : float or ndarray
        Resistance of the whole path, out and back. [ohm]
    load_power_w : float or ndarray
        Power that the load takes at any voltage. [W]

    Returns
    -------
    stable_v : float or ndarray
        The higher voltage, at which circuits rest; NaN where the path cannot deliver the
        power. [V]
    unstable_v : float or ndarray
        The lower one: at it, a little less voltage draws so much more current that the voltage
        falls further. [V]

    Notes
    -----
    The largest power a path delivers is ``supply**2 / (4 * R)``; at it both roots meet at half the
    supply. The lower root by the product of the roots keeps its digits where P * R is small.
    """
    lost = load_power_w * path_resistance_ohm
    inside = np.asarray(supply_v**2 - 4.0 * lost)
    root = np.sqrt(np.where(inside < 0, np.nan, inside))
    stable = 0.5 * (supply_v + root)
    return stable, lost / np.where(stable == 0, 1.0, stable)  # without supply, both are 0
