"""What readings of a circuit in one case should be, and how each unknown moves them."""

from collections.abc import Mapping, Sequence

import numpy as np

from lastvolt_service.operations.meter.fit_model import CircuitModel, Here
from lastvolt_service.operations.meter.fit_outputs import ohms, output
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.physics.network.elements import FloatArray


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
        # Where one looked last, with what was stuck; most points are asked for again at once.
        self._last: tuple[bytes, Mapping[str, bool], Here] | None = None
        self._told: tuple[FloatArray, FloatArray] | None = None
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
        here = self._here(point)
        if self._told is None:
            self._told = self._at(here)
        return self._told

    def values_at(self, point: FloatArray) -> FloatArray:
        """What they should be, in that order, and no slopes.

        Raises
        ------
        CalculationError
            As of `at`.
        """
        here = self._here(point)
        return self._values(here) if self._told is None else self._told[0]

    def relays(self, point: FloatArray) -> Mapping[str, bool]:
        """Which relays are in, by what their coils say but for those that are stuck.

        Raises
        ------
        CalculationError
            If the case has no state of rest.
        """
        return self._here(point).relays

    def _here(self, point: FloatArray) -> Here:
        near, at, stuck = self._last, point.tobytes(), dict(self.stuck)
        if near is not None and near[0] == at:
            # With all relays stuck as they were it is the same state.
            relays = near[2].relays
            if near[1] == stuck or (relays and relays == stuck):
                return near[2]
        here = self._model.here(self.place, point, near and near[2].state, stuck)
        self._last, self._told = (at, stuck, here), None
        return here

    def _values(self, here: Here) -> FloatArray:
        told = here.told([output(here.state, reading, index) for index, reading in self._live])
        return np.concatenate([told, [ohms(here.state.model, *each) for each in self._dead]])

    def _at(self, here: Here) -> tuple[FloatArray, FloatArray]:
        told = self._values(here)
        slopes = here.slopes([output(here.state, each, index) for index, each in self._live])
        if not self._dead:
            return told, slopes
        base = told[len(self._live) :]
        found = np.zeros((len(base), slopes.shape[1]))
        models, steps = here.varied
        for k, model, step in zip(here.unknowns, models, steps, strict=True):
            moved = np.array([ohms(model, *each) for each in self._dead])
            found[:, k] = (moved - base) / step
        return told, np.vstack([slopes, found])
