"""Contacts of relays and switches."""

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics import Real


def derated_current(
    *,
    ambient_c: Real,
    curve_ambient_c: NDArray[np.float64],
    curve_current_a: NDArray[np.float64],
) -> Real:
    """Current that a contact may carry at an ambient temperature.

    Parameters
    ----------
    ambient_c : float or ndarray
        Temperature around the part. [degC]
    curve_ambient_c : ndarray, shape (n,)
        Ambient temperatures of the maker's points, rising. [degC]
    curve_current_a : ndarray, shape (n,)
        Current allowed at each. [A]

    Returns
    -------
    current_a : float or ndarray
        Interpolated between the points, shape of `ambient_c`: the first point's current holds
        below it, and NaN stands above the last, since a rating is never extrapolated. [A]
    """
    current: Real = np.interp(ambient_c, curve_ambient_c, curve_current_a, right=np.nan)
    return current


def joule_power(*, current_a: Real, resistance_ohm: Real) -> Real:
    """Heat made in a resistance.

    Parameters
    ----------
    current_a : float or ndarray
        Current. [A]
    resistance_ohm : float or ndarray
        Resistance. [ohm]

    Returns
    -------
    power_w : float or ndarray
        ``I**2 * R``, broadcast shape. [W]
    """
    return current_a**2 * resistance_ohm
