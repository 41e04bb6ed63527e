"""Where a rising function crosses zero."""

import math
from collections.abc import Callable

# Secant steps on a nearly straight function end within five; halving alone would take this many.
MAXIMUM_STEPS = 60


def rising_crossing(
    *, function: Callable[[float], float], low: float, high: float, tolerance: float
) -> float:
    """Find where a rising function of one number crosses zero.

    Parameters
    ----------
    function : callable
        Rises with its argument, may jump, and may be infinite above the crossing.
    low, high : float
        Ends of the search, with the function at or below zero at `low` and above it at `high`.
    tolerance : float
        Half of the largest error of the answer.

    Returns
    -------
    crossing : float
        The largest argument found at which the function is not above zero; `low` or `high` where
        it does not cross between them.

    Notes
    -----
    Secant steps within a bracket that always holds the crossing; a step that does not at least
    halve the bracket is followed by a halving.
    """
    at_low, at_high = function(low), function(high)
    if at_low > 0:
        return low
    if at_high <= 0:
        return high
    for _ in range(MAXIMUM_STEPS):
        width = high - low
        if width <= 2 * tolerance or at_low == 0:
            break
        for guess in (_secant(low, high, at_low, at_high), 0.5 * (low + high)):
            # A step onto the crossing leaves the far end where it was: look just beyond it too.
            for point in (guess, guess + tolerance, guess - tolerance):
                if not low < point < high:
                    continue
                value = function(point)
                if value > 0:
                    high, at_high = point, value
                else:
                    low, at_low = point, value
                if high - low <= 2 * tolerance:
                    return low
            if high - low <= 0.5 * width:
                break
    return low


def _secant(low: float, high: float, at_low: float, at_high: float) -> float:
    if not (math.isfinite(at_low) and math.isfinite(at_high)):
        return 0.5 * (low + high)
    return low - at_low * (high - low) / (at_high - at_low)
