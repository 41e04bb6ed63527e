"""How warm the wires of a network get at their currents."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.operations.wires.heated_wire import HeatedWire, side_by_side
from lastvolt_service.physics import Real
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.transient import temperature_after_c

# Of more wires the arrays are quicker.
MOST_SINGLES = 6


@dataclass(frozen=True, slots=True)
class Warming:
    """Tells a network how warm its wires get.

    Attributes
    ----------
    wires : tuple of HeatedWire or None
        The wires; None for one that keeps its given temperature.
    given_c : tuple of float
        Temperatures of those. [degC]
    duration_s : float or None
        How long the currents flow, from a start at ambient; None for ever. [s]
    """

    wires: tuple[HeatedWire | None, ...]
    given_c: tuple[float, ...]
    duration_s: float | None = None
    # Found at the first call: a search asks over and over.
    _settled: list["_Settled"] = field(default_factory=list, init=False, compare=False, repr=False)

    def __call__(self, current_a: NDArray[np.float64]) -> NDArray[np.float64]:
        """Currents in, temperatures out, wires along the last axis.

        One that heats up without end has that at which it is no longer a wire: the rest of the
        circuit has an answer.
        """
        if not self._settled:
            self._settled.append(_Settled.of(self.wires, self.given_c, self.duration_s))
        return self._settled[0].warm_c(current_a)

    @property
    def singles(self) -> tuple[Callable[[float], float], ...] | None:
        """Each wire by itself, in plain numbers, where that is quicker than side by side.

        A steady temperature takes a tenth of the time of the arrays for two wires; a course of heat
        in time is sums over many modes, and no quicker so.
        """
        if self.duration_s is not None or len(self.wires) > MOST_SINGLES:
            return None
        return tuple(map(_single, self.wires, self.given_c))

    @property
    def together(self) -> Hashable:
        """Those that have this in common can be told side by side."""
        return self.duration_s

    @staticmethod
    def side_by_side(scenarios: Sequence["Warming"]) -> "Warmings":
        """Put those of many scenarios into one."""
        return Warmings(tuple(scenarios))


@dataclass(frozen=True, slots=True)
class Warmings:
    """The wires of many scenarios, an axis for these before the last one."""

    scenarios: tuple[Warming, ...]
    _whole: list[Warming] = field(default_factory=list, init=False, compare=False, repr=False)

    def __call__(self, current_a: NDArray[np.float64]) -> NDArray[np.float64]:
        """Currents in, temperatures out, shape (..., scenarios, wires)."""
        if not self._whole:
            whole = Warming(
                tuple(wire for each in self.scenarios for wire in each.wires),
                tuple(warm for each in self.scenarios for warm in each.given_c),
                self.scenarios[0].duration_s,
            )
            self._whole.append(whole)
        flat = current_a.reshape(*current_a.shape[:-2], -1)
        return self._whole[0](flat).reshape(current_a.shape)

    def chosen(self, places: Sequence[int]) -> "Warmings":
        """Those of some scenarios."""
        return Warmings(tuple(self.scenarios[place] for place in places))


@dataclass(frozen=True, slots=True)
class _Settled:
    """What does not hang on the currents.

    Attributes
    ----------
    given_c : ndarray
        Temperatures of all wires that keep theirs. [degC]
    heated : list of int
        Places of the others.
    lost_c : ndarray
        That at which each of these is no longer a wire. [degC]
    warming : callable
        Their currents in, temperatures out; NaN where there is none.
    """

    given_c: NDArray[np.float64]
    heated: list[int]
    lost_c: NDArray[np.float64]
    warming: Callable[[bytes, tuple[int, ...]], Real]

    @classmethod
    def of(
        cls,
        wires: Sequence[HeatedWire | None],
        given_c: Sequence[float],
        duration_s: float | None,
    ) -> "_Settled":
        own = tuple(wire for wire in wires if wire is not None)
        return cls(
            np.array(given_c, dtype=np.float64),
            [index for index, wire in enumerate(wires) if wire is not None],
            np.array([wire.lost_c for wire in own]),
            _warming(own, duration_s),
        )

    def warm_c(self, current_a: NDArray[np.float64]) -> NDArray[np.float64]:
        found = np.broadcast_to(self.given_c, current_a.shape).copy()
        if self.heated:
            chosen_a = current_a[..., self.heated]
            warm_c = self.warming(chosen_a.tobytes(), chosen_a.shape)
            found[..., self.heated] = np.where(np.isnan(warm_c), self.lost_c, warm_c)
        return found


def _single(wire: HeatedWire | None, given_c: float) -> Callable[[float], float]:
    if wire is None:
        return lambda _: given_c
    physics, ceiling_c, lost_c = wire.physics, wire.ceiling_c, float(wire.lost_c)

    def warm_c(current_a: float) -> float:
        found = conductor_temperature(
            current_a=abs(current_a), wire=physics, ceiling_c=ceiling_c
        ).conductor_temperature_c
        return float(found) if found == found else lost_c

    return warm_c


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
