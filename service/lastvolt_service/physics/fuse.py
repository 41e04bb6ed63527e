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
    "rating_a = permissible_current_a / (opening_multiple * max(ambient_factor, 1))"
    "  # largest rating whose opening current the wire bears",
    source="a fuse may hold any current below its opening current, more where it is cold",
)
def largest_rating_a(
    *, permissible_current_a: Real, opening_multiple: Real, ambient_factor: Real
) -> Real:
    """Rating whose conventional opening current a wire bears without limit of time.

    Parameters
    ----------
    permissible_current_a : float or ndarray
        Steady current of the wire. [A]
    opening_multiple : float or ndarray
        Multiple of its rating at which a fuse is sure to open; below it may never.
    ambient_factor : float or ndarray
        As in `carrying_rating_a`; a fuse that heat weakens is reckoned at full strength, as it may
        be cold while the wire is hot.

    Returns
    -------
    rating_a : float or ndarray
        Broadcast shape. [A]

    Notes
    -----
    Needed, and not enough: larger currents flow for the fuse's longest time.
    """
    return permissible_current_a / (opening_multiple * np.maximum(ambient_factor, 1.0))


@law(
    """
    opening_current_a = opening_multiple * rating_a * max(ambient_factor, 1)
        # at which the fuse is sure to open, cold as it may be
    """,
    source="conventional opening current: the first gate at which a fuse must open",
)
def opening_current_a(*, rating_a: Real, opening_multiple: Real, ambient_factor: Real) -> Real:
    """Current below which a fuse may never open.

    Parameters
    ----------
    rating_a, opening_multiple, ambient_factor : float or ndarray
        As above. [A], [1], [1]

    Returns
    -------
    current_a : float or ndarray
        Broadcast shape. [A]
    """
    return opening_multiple * rating_a * np.maximum(ambient_factor, 1.0)


@law(
    """
    fallen = 1 - exp((0 - time_s) / decay_s)
        # share of the way from the first current to that of the load
    fallen_twice = 1 - exp((0 - 2 * time_s) / decay_s)
        # likewise of its square
    integral_a2s = (first_current_a - load_current_a) ** 2 * decay_s / 2 * fallen_twice
        + 2 * (first_current_a - load_current_a) * load_current_a * decay_s * fallen
        + load_current_a ** 2 * time_s
        # squared current over the time
    """,
    source="integral of the square of a load's current with a part that decays exponentially",
)
def decaying_integral_a2s(
    *, first_current_a: Real, load_current_a: Real, decay_s: Real, time_s: Real
) -> Real:
    """Melting integral of a current that falls exponentially to that of the load.

    Parameters
    ----------
    first_current_a, load_current_a : float or ndarray
        At the first instant, and in the end. [A]
    decay_s : float or ndarray
        Time constant; above zero. [s]
    time_s : float or ndarray
        So long from the first instant. [s]

    Returns
    -------
    integral_a2s : float or ndarray
        Broadcast shape. [A2s]
    """
    more_a = first_current_a - load_current_a
    once, twice = -np.expm1(-time_s / decay_s), -np.expm1(-2.0 * time_s / decay_s)
    integral: Real = (
        more_a**2 * decay_s / 2.0 * twice
        + 2.0 * more_a * load_current_a * decay_s * once
        + load_current_a**2 * time_s
    )
    return integral


@law(
    "current_a = sqrt(integral_a2s / time_s)  # steady current with the same melting integral",
    source="melting integral",
)
def equal_current_a(*, integral_a2s: Real, time_s: Real) -> Real:
    """Steady current with a melting integral.

    Parameters
    ----------
    integral_a2s : float or ndarray
        Of the squared current over the time. [A2s]
    time_s : float or ndarray
        Above zero. [s]

    Returns
    -------
    current_a : float or ndarray
        Broadcast shape. [A]
    """
    current: Real = np.sqrt(integral_a2s / time_s)
    return current
