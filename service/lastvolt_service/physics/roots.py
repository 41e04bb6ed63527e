"""Where a rising function crosses zero."""

import math
from collections.abc import Callable

# Halving alone takes 40 steps from 1000 to 1e-9; interpolation seldom more than ten.
MAXIMUM_STEPS = 100


def rising_crossing(
    *, function: Callable[[float], float], low: float, high: float, tolerance: float
) -> float | None:
    """Find where a rising function of one number crosses zero.

    Parameters
    ----------
    function : callable
        Rises with its argument, may jump, and may be infinite above the crossing.
    low, high : float
        Ends of the search.
    tolerance : float
        Largest error of the answer, relative to its size where that is above one.

    Returns
    -------
    crossing : float or None
        The largest argument found at which the function is not above zero; `high` where it is
        not even there, None where it is already at `low`.

    Notes
    -----
    Inverse quadratic interpolation where it can be trusted, else halving, within a bracket that
    always holds the crossing.

    References
    ----------
    T. R. Chandrupatla, A new hybrid quadratic/bisection algorithm for finding the zero of a
    nonlinear function without using derivatives, Advances in Engineering Software 28 (1997).
    """
    if (at_low := function(low)) > 0:
        return None
    if (at_high := function(high)) <= 0:
        return high
    # The newest point, the other end of the bracket, and the point before.
    a, at_a, b, at_b = low, at_low, high, at_high
    t = at_low / (at_low - at_high) if math.isfinite(at_high) else 0.5
    for _ in range(MAXIMUM_STEPS):
        x = a + t * (b - a)
        at_x = function(x)
        if (at_x > 0) == (at_a > 0):
            c, at_c = a, at_a
        else:
            c, at_c, b, at_b = b, at_b, a, at_a
        a, at_a = x, at_x
        room = tolerance * max(1.0, abs(a))
        if abs(b - a) <= room or at_a == 0:
            break
        t = min(max(_fraction(a, at_a, b, at_b, c, at_c), 0.5 * room / abs(b - a)), 1.0)
        t = min(t, 1.0 - 0.5 * room / abs(b - a))
    return a if at_a <= 0 else b


def _fraction(a: float, at_a: float, b: float, at_b: float, c: float, at_c: float) -> float:
    """Where between a and b the next point goes."""
    if not all(map(math.isfinite, (at_a, at_b, at_c))) or at_c in (at_a, at_b):
        return 0.5
    xi, phi = (a - b) / (c - b), (at_a - at_b) / (at_c - at_b)
    if not (phi**2 < xi and (1 - phi) ** 2 < 1 - xi):
        return 0.5
    return at_a / (at_b - at_a) * at_c / (at_b - at_c) + (c - a) / (b - a) * at_a / (
        at_c - at_a
    ) * at_b / (at_c - at_b)
