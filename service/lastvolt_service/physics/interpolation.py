"""Between published points."""

import numpy as np

from lastvolt_service.laws import law
from lastvolt_service.physics import Real


@law(
    "value = low + (high - low) / (high_at - low_at) * (at - low_at)"
    "  # on the straight line between two points",
    source="straight line between two points",
)
def on_line(*, at: Real, low_at: Real, high_at: Real, low: Real, high: Real) -> Real:
    """Value on the straight line through two points.

    Parameters
    ----------
    at : float or ndarray
        Where, in the unit of `low_at` and `high_at`.
    low_at, high_at : float or ndarray
        Where the points are; not the same.
    low, high : float or ndarray
        Value at each, in any unit.

    Returns
    -------
    value : float or ndarray
        Broadcast shape, in the unit of `low` and `high`.
    """
    return (high - low) / (high_at - low_at) * (at - low_at) + low


@law(
    "value = low * exp(ln(high / low) / ln(high_at / low_at) * ln(at / low_at))"
    "  # on the straight line of the logarithms between two points",
    source="straight line between the logarithms of two points",
)
def on_logarithmic_line(*, at: Real, low_at: Real, high_at: Real, low: Real, high: Real) -> Real:
    """Value on the line through two points that is straight in the logarithms of both.

    Parameters
    ----------
    at : float or ndarray
        Where, above zero, in the unit of `low_at` and `high_at`.
    low_at, high_at : float or ndarray
        Where the points are, above zero; not the same.
    low, high : float or ndarray
        Value at each, above zero, in any unit.

    Returns
    -------
    value : float or ndarray
        Broadcast shape, in the unit of `low` and `high`.
    """
    found: Real = low * np.exp(np.log(high / low) / np.log(high_at / low_at) * np.log(at / low_at))
    return found
