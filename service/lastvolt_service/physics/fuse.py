"""Fuses: what a load asks of one, and what the wire behind it allows."""

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics import Real


def carried_multiple(
    *,
    time_s: Real,
    gate_multiple: NDArray[np.float64],
    gate_shortest_s: NDArray[np.float64],
) -> Real:
    """Largest multiple of its rating that a fuse is sure to carry for a time.

    Parameters
    ----------
    time_s : float or ndarray
        How long the current flows, above zero. [s]
    gate_multiple : ndarray, shape (n,)
        Multiples of the rating at which the operating time is standardised, rising.
    gate_shortest_s : ndarray, shape (n,)
        Time before which the fuse does not open at each, falling. [s]

    Returns
    -------
    multiple : float or ndarray
        Between the points on straight lines of the logarithms, shape of `time_s`. The largest
        multiple holds for shorter times, the smallest for longer ones.
    """
    return np.exp(
        np.interp(np.log(time_s), np.log(gate_shortest_s[::-1]), np.log(gate_multiple[::-1]))
    )


def smallest_rating_a(
    *,
    load_current_a: Real,
    continuous_share: Real,
    inrush_current_a: Real,
    carried_multiple: Real,
    ambient_factor: Real,
) -> Real:
    """Rating that carries a load for ever and its inrush for its time.

    Parameters
    ----------
    load_current_a : float or ndarray
        Steady current. [A]
    continuous_share : float or ndarray
        Share of its rating that a fuse carries for ever at its reference ambient.
    inrush_current_a : float or ndarray
        First current, 0 for none. [A]
    carried_multiple : float or ndarray
        Of the rating, for the time of the inrush.
    ambient_factor : float or ndarray
        Current that opens the fuse at its ambient, over that at its reference ambient.

    Returns
    -------
    rating_a : float or ndarray
        Broadcast shape. [A]
    """
    steady = load_current_a / continuous_share
    first = inrush_current_a / carried_multiple
    return np.maximum(steady, first) / ambient_factor


def largest_rating_a(
    *, permissible_current_a: Real, protection_multiple: Real, ambient_factor: Real
) -> Real:
    """Rating that does not let a wire carry more than it may for ever.

    Parameters
    ----------
    permissible_current_a : float or ndarray
        Steady current of the wire. [A]
    protection_multiple : float or ndarray
        Multiple of its rating that a fuse need not interrupt.
    ambient_factor : float or ndarray
        As in `smallest_rating_a`; a fuse that heat weakens is reckoned at full strength, as it may
        be cold while the wire is hot.

    Returns
    -------
    rating_a : float or ndarray
        Broadcast shape. [A]
    """
    return permissible_current_a / (protection_multiple * np.maximum(ambient_factor, 1.0))
