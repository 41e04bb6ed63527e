"""Contacts of relays and switches."""

import math
from collections.abc import Sequence

from lastvolt_service.laws import JOULE, law
from lastvolt_service.physics import Real
from lastvolt_service.physics.interpolation import on_line
from lastvolt_service.rows import given, pick


def derated_current(
    *, ambient_c: Real, curve_ambient_c: Sequence[Real], curve_current_a: Sequence[Real]
) -> Real:
    """Current that a contact may carry at an ambient temperature.

    Parameters
    ----------
    ambient_c : float or ndarray
        Temperature around the part. [degC]
    curve_ambient_c : sequence of float or ndarray
        Ambient temperatures of the maker's points, rising; NaN where a row has fewer, but for
        the first. [degC]
    curve_current_a : sequence of float or ndarray
        Current allowed at each. [A]

    Returns
    -------
    current_a : float or ndarray
        On straight lines between the points, broadcast shape: the first point's current holds
        below it, and NaN stands above the last, since a rating is never extrapolated. [A]
    """
    low_c, low_a = curve_ambient_c[0], curve_current_a[0]
    current: Real = pick(ambient_c <= low_c, low_a, math.nan)
    for high_c, high_a in zip(curve_ambient_c[1:], curve_current_a[1:], strict=True):
        line = on_line(at=ambient_c, low_at=low_c, high_at=high_c, low=low_a, high=high_a)
        here = (ambient_c > low_c) & (ambient_c <= high_c)
        current = pick(here, pick(ambient_c == high_c, high_a, line), current)
        known = given(high_c)
        low_c, low_a = pick(known, high_c, low_c), pick(known, high_a, low_a)
    return current


@law("power_w = current_a ** 2 * resistance_ohm  # heat made in the resistance", source=JOULE)
@law("power_w = current_a ** 2 * resistance_ohm  # heat made in it", source=JOULE)
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
        Broadcast shape. [W]
    """
    return current_a**2 * resistance_ohm
