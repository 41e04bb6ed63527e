"""How warm the wires of a network get at their currents."""

from collections.abc import Callable, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.operations.wires.heated_wire import HeatedWire, side_by_side
from lastvolt_service.physics import Real
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.transient import temperature_after_c


def temperature_of(
    wires: Sequence[HeatedWire | None],
    given_c: Sequence[float],
    duration_s: float | None = None,
) -> Callable[[NDArray[np.float64]], NDArray[np.float64]]:
    """Make the function that tells a network how warm its wires get.

    Parameters
    ----------
    wires : sequence of HeatedWire or None
        The wires; None for one that keeps its given temperature.
    given_c : sequence of float
        Temperatures of those. [degC]
    duration_s : float, optional
        How long the currents flow, from a start at ambient; by default for ever. [s]

    Returns
    -------
    callable
        Currents in, temperatures out, wires along the last axis. One that heats up without end has
        that at which it is no longer a wire: the rest of the circuit has an answer.
    """
    heated = [index for index, wire in enumerate(wires) if wire is not None]
    lost_c = np.array([wire.lost_c for wire in wires if wire is not None])
    warmed = _warming(tuple(wire for wire in wires if wire is not None), duration_s)

    def temperature(current_a: NDArray[np.float64]) -> NDArray[np.float64]:
        column: NDArray[np.float64] = np.array(given_c, dtype=np.float64)
        found = np.broadcast_to(column, current_a.shape).copy()
        if heated:
            chosen_a = current_a[..., heated]
            warm_c = warmed(chosen_a.tobytes(), chosen_a.shape)
            found[..., heated] = np.where(np.isnan(warm_c), lost_c, warm_c)
        return found

    return temperature


# A network is solved over and over with one of its parts changed: its wires stay, and every
# solution begins with them cold.
@lru_cache(maxsize=32)
def _warming(
    wires: tuple[HeatedWire, ...], duration_s: float | None
) -> Callable[[bytes, tuple[int, ...]], Real]:
    if not wires:
        return lambda _currents, _shape: np.empty(0)
    together = side_by_side(wires)
    physics, ceilings = together.physics, together.ceiling_c

    @lru_cache(maxsize=16)
    def warmed(currents: bytes, shape: tuple[int, ...]) -> Real:
        current_a = np.frombuffer(currents).reshape(shape)
        if duration_s is None:
            return conductor_temperature(
                current_a=current_a, wire=physics, ceiling_c=ceilings
            ).conductor_temperature_c
        return temperature_after_c(
            current_a=current_a,
            on_time_s=duration_s,
            start_c=physics.ambient_c,
            ceiling_c=ceilings,
            wire=physics,
        )

    return warmed
