"""A bound on the heat of a wire in time, much cheaper than to follow it."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics import Real
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.heating import conductor_temperature

# Exponents beyond mean no bound, and no wire rests hotter.
_LARGEST_EXPONENT = 100.0
_HOTTEST_C = 1_000.0

Array: TypeAlias = NDArray[np.float64]


def hottest_c(*, current_a: Array, on_time_s: Array, start_c: Array, wire: Wire) -> Array:
    """Temperature that a conductor does not pass in some time at a constant current.

    Parameters
    ----------
    current_a, on_time_s, start_c : ndarray
        As of `temperature_after_c`. [A], [s], [degC]
    wire : Wire
        The wire, with its heat capacities.

    Returns
    -------
    temperature_c : ndarray
        Broadcast shape; endless where nothing is known to hold it back. [degC]

    Notes
    -----
    The least of three: no heat leaves the metal; none leaves the insulation, and the metal is
    hotter than that by no more than what drives all heat through it; and where it comes to rest.
    """
    slope = wire.temperature_coefficient_per_k
    squared = current_a**2 * wire.resistance_20_ohm_per_m
    cold_c = 20.0 - 1.0 / slope  # where the resistance would vanish

    def without_loss_c(stored_j_per_m_k: Real) -> Array:
        growth = np.minimum(squared * slope * on_time_s / stored_j_per_m_k, _LARGEST_EXPONENT)
        found: Array = cold_c + (start_c - cold_c) * np.exp(growth)
        return found

    metal_c = without_loss_c(wire.metal_j_per_m_k)
    drives = squared / wire.grouping_factor**2 * wire.insulation_k_m_per_w
    mean_c = without_loss_c(wire.metal_j_per_m_k + wire.insulation_j_per_m_k)
    room = 1.0 - drives * slope
    through_c = np.where(
        room > 0.0, cold_c + (mean_c - cold_c) / np.where(room > 0.0, room, 1.0), np.inf
    )
    most_c = np.minimum(metal_c, through_c)
    rest = conductor_temperature(current_a=current_a, wire=wire, ceiling_c=_HOTTEST_C)
    rest_c = np.where(np.isnan(rest.conductor_temperature_c), np.inf, rest.conductor_temperature_c)
    most_c = np.minimum(most_c, np.maximum(rest_c, start_c))
    return np.where(np.isnan(most_c), np.inf, most_c)
