"""Fuses: what a load asks of one, and what the wire behind it allows."""

import numpy as np

from lastvolt_service.laws import law
from lastvolt_service.physics import Real


@law(
    "rating_a = current_a / carried_multiple / ambient_factor"
    "  # rating of the smallest fuse that carries the current",
    source="a fuse carries a multiple of its rating for a time, shifted by its ambient",
)
def carrying_rating_a(*, current_a: Real, carried_multiple: Real, ambient_factor: Real) -> Real:
    """Rating that carries a current.

    Parameters
    ----------
    current_a : float or ndarray
        For ever or for a time. [A]
    carried_multiple : float or ndarray
        Of its rating that a fuse is sure to carry for as long, at its reference ambient.
    ambient_factor : float or ndarray
        Current that opens the fuse at its ambient, over that at its reference ambient.

    Returns
    -------
    rating_a : float or ndarray
        Broadcast shape. [A]
    """
    return current_a / carried_multiple / ambient_factor


@law(
    "rating_a = permissible_current_a / (protection_multiple * max(ambient_factor, 1))"
    "  # rating of the largest fuse that protects the wire",
    source="a fuse may hold a multiple of its rating for ever, and more where it is cold",
)
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
        As in `carrying_rating_a`; a fuse that heat weakens is reckoned at full strength, as it may
        be cold while the wire is hot.

    Returns
    -------
    rating_a : float or ndarray
        Broadcast shape. [A]
    """
    return permissible_current_a / (protection_multiple * np.maximum(ambient_factor, 1.0))
