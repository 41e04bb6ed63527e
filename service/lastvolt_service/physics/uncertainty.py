"""Uncertainty of what follows from readings, by the Guide (JCGM 100:2008)."""

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray: TypeAlias = NDArray[np.float64]

# Standard uncertainties that hold 95 % of a normal distribution.
NORMAL_95 = 1.959963984540054
# As JCGM 100 prints it in Table G.2. They hold all of a rectangular distribution: many errors
# together are near the first (6.3.3 and G.2.3), and one alone is on the safe side.
COVERAGE_FACTOR = round(NORMAL_95, 2)
_SERIES, _SMALL = 500, 1e-15


def rectangular(half_width: ArrayLike) -> FloatArray:
    """Standard uncertainty of what may lie anywhere within bounds (JCGM 100, 4.3.7).

    Parameters
    ----------
    half_width : float or ndarray
        Half the distance between the bounds.

    Returns
    -------
    ndarray
        In the unit of the bounds.
    """
    return np.asarray(np.asarray(half_width, dtype=np.float64) / np.sqrt(3.0))


def propagated(*, slopes: ArrayLike, covariance: ArrayLike) -> FloatArray:
    """Covariance of what is computed from quantities with a covariance (5.2.2).

    Parameters
    ----------
    slopes : ndarray, shape (results, quantities)
        Derivatives of the results.
    covariance : ndarray, shape (quantities, quantities)
        Of the quantities.

    Returns
    -------
    ndarray, shape (results, results)
    """
    rows = np.asarray(slopes, dtype=np.float64)
    found: FloatArray = rows @ np.asarray(covariance, dtype=np.float64) @ rows.T
    return found


def correlations(covariance: ArrayLike) -> FloatArray:
    """Correlation of each pair (5.2.2); zero where one of them has no uncertainty.

    Parameters
    ----------
    covariance : ndarray, shape (quantities, quantities)
        Of the quantities.

    Returns
    -------
    ndarray, shape (quantities, quantities)
    """
    array = np.asarray(covariance, dtype=np.float64)
    own = np.sqrt(np.diag(array))
    product = np.outer(own, own)
    return np.asarray(np.divide(array, product, out=np.zeros_like(array), where=product > 0.0))


def chi_squared_tail(*, chi_squared: float, degrees_of_freedom: float) -> float:
    """Probability that a sum of squares is so large or larger by chance.

    Parameters
    ----------
    chi_squared : float
        Sum of squares of what is missed, each in units of its standard uncertainty.
    degrees_of_freedom : float
        Above zero; need not be whole.

    Returns
    -------
    float
        Upper regularised gamma function of half of each.
    """
    half, shape = 0.5 * chi_squared, 0.5 * degrees_of_freedom
    if half <= 0.0:
        return 1.0
    weight = math.exp(shape * math.log(half) - half - math.lgamma(shape))
    if half < shape + 1.0:
        term = total = 1.0 / shape
        for place in range(1, _SERIES):
            term *= half / (shape + place)
            total += term
            if term < _SMALL * total:
                break
        return max(1.0 - weight * total, 0.0)
    # Continued fraction by Lentz's method.
    tiny = 1e-300
    below = half + 1.0 - shape
    above, inverse = 1.0 / tiny, 1.0 / below
    found = inverse
    for place in range(1, _SERIES):
        factor = -place * (place - shape)
        below += 2.0
        inverse = 1.0 / (factor * inverse + below or tiny)
        above = below + factor / above or tiny
        change = inverse * above
        found *= change
        if abs(change - 1.0) < _SMALL:
            break
    return min(weight * found, 1.0)
