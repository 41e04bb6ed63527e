"""What readings of a circuit in one case should be, and how each unknown moves them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lastvolt_service.operations.meter.fit_model import CircuitModel, Here, Wanted
from lastvolt_service.operations.meter.fit_outputs import ohms, output
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.physics.network.elements import FloatArray

# A search begins once more where it was looked whether it is worth it.
LOOKS_KEPT = 3


@dataclass(slots=True)
class _Look:
    """A circuit at a point, with what was stuck, and what was told there with its slopes."""

    at: bytes
    stuck: Mapping[str, bool]
    here: Here
    told: tuple[FloatArray, FloatArray] | None = None

    def is_with(self, stuck: Mapping[str, bool]) -> bool:
        """Whether it is the same state with these stuck: with all relays as they were it is."""
        return self.stuck == stuck or (bool(stuck) and self.here.relays == stuck)


class Readings:
    """Readings of a circuit in one case: what they should be, and how each unknown moves them.

    Attributes
    ----------
    stuck : mapping
        Relays that are in or out whatever their coils say.
    """

    def __init__(
        self, model: CircuitModel, place: int, readings: Sequence[tuple[int, MeterReading]]
    ) -> None:
        self._model, self.place = model, place
        self.stuck: Mapping[str, bool] = {}
        # Where one looked last; most points are asked for again at once.
        self._looks: list[_Look] = []
        self._live = [each for each in readings if each[1].kind != "ohms"]
        self._dead = [each for each in readings if each[1].kind == "ohms"]
        self.order = [index for index, _ in (*self._live, *self._dead)]

    def at(self, point: FloatArray) -> tuple[FloatArray, FloatArray]:
        """What they should be, and the slopes, in the order of `order`.

        Raises
        ------
        CalculationError
            If the case has no state of rest, or something read is not there in it.
        """
        look = self._look(point)
        if look.told is None:
            look.told = self._at(look.here)
        return look.told

    def values_at(self, point: FloatArray) -> FloatArray:
        """What they should be, in that order, and no slopes.

        Raises
        ------
        CalculationError
            As of `at`.
        """
        look = self._look(point)
        return self.values_of(look.here) if look.told is None else look.told[0]

    def relays(self, point: FloatArray) -> Mapping[str, bool]:
        """Which relays are in, by what their coils say but for those that are stuck.

        Raises
        ------
        CalculationError
            If the case has no state of rest.
        """
        return self._look(point).here.relays

    def wanted(self, point: FloatArray) -> Wanted | None:
        """What is to be brought to rest before it can be told; None where that was done."""
        if self._seen(point) is not None:
            return None
        near = self._looks[0].here.state if self._looks else None
        return Wanted(self.place, near, dict(self.stuck))

    def look(self, point: FloatArray, here: Here) -> "_Look":
        """Take what was brought to rest."""
        found = _Look(point.tobytes(), dict(self.stuck), here)
        self._looks = [found, *self._looks[: LOOKS_KEPT - 1]]
        return found

    def _seen(self, point: FloatArray) -> "_Look | None":
        at, stuck = point.tobytes(), dict(self.stuck)
        return next((e for e in self._looks if e.at == at and e.is_with(stuck)), None)

    def _look(self, point: FloatArray) -> "_Look":
        seen = self._seen(point)
        if seen is not None:
            return seen
        near = self._looks[0].here.state if self._looks else None
        here = self._model.here(self.place, point, near, dict(self.stuck))
        return self.look(point, here)

    def values_of(self, here: Here) -> FloatArray:
        """What they should be in a state of rest.

        Raises
        ------
        CalculationError
            If something read is not there in it.
        """
        told = here.told([output(here.state, reading, index) for index, reading in self._live])
        return np.concatenate([told, [ohms(here.state.model, *each) for each in self._dead]])

    def _at(self, here: Here) -> tuple[FloatArray, FloatArray]:
        told = self.values_of(here)
        slopes = here.slopes([output(here.state, each, index) for index, each in self._live])
        if not self._dead:
            return told, slopes
        base = told[len(self._live) :]
        found = np.zeros((len(base), slopes.shape[1]))
        networks, steps = here.varied
        for k, network, step in zip(here.unknowns, networks, steps, strict=True):
            model = replace(here.state.model, network=network)
            moved = np.array([ohms(model, *each) for each in self._dead])
            found[:, k] = (moved - base) / step
        return told, np.vstack([slopes, found])
