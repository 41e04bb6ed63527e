"""Values of what is not known that readings tell, with their uncertainty, and what contradicts.

Each meter's factor is one more unknown, so that what its readings err in common is taken as such.
The bounds of what is not known count as rectangular beside the readings: where no reading tells,
they are what is known, and where many lie at their ends together nothing contradicts.
"""

import math
from collections.abc import Mapping, Sequence
from contextlib import suppress
from copy import copy
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.meter.fit_agreement import ALARMS_OF_ALL, Agreement
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_points import rested
from lastvolt_service.operations.meter.fit_readings import Readings
from lastvolt_service.operations.meter.fit_taken import Taken, meters_of
from lastvolt_service.physics.least_squares import Fit, least_squares, unlike
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import chi_squared_tail, propagated

# What a reading tells at least, as a share by which leaving it out widens the variance.
TELLS = 0.1
# Shares that differ by no more are equal: of these the first reading is named.
EQUAL = 1e-6
# Of the standard uncertainty that bounds alone leave: with more nothing was told.
ALONE = 0.95
TOO_FAR = (
    "Bounds, readings and what the meters can tell are too many orders of magnitude apart: give "
    "bounds that are nearer to what can be."
)
# A circuit is far from the readings that misses them by so many times, in squares of their
# uncertainty, what chance may bring, and stays far where a step changes no more than this share.
FAR, ROUGHLY = 2.5, 1e-3
# A value at its bound misses what it is thought to be by no more. [squares]
AT_BOUND = 3.0
# A circuit is looked at for so many steps before it is fitted.
LOOKS = 2
# Points with one part open at which a fit begins once more.
MORE_STARTS = 3
# Values that are held one after the other for a relay's sake.
MOST_HELD = 3
# Where any point within bounds may do, values are drawn to their middle so many times less.
LOOSE = 100.0
# A step is the last one when it changes nothing that any meter shows.
DIGITS = 1e-9


class Problem:
    """Readings of a circuit as a problem of least squares.

    Attributes
    ----------
    model : CircuitModel
        The circuit.
    taken : list of Taken
        The readings, in the order of rows.
    meters : list of MeterData
        Those whose factor is not sure, in the order of the last columns.
    """

    def __init__(
        self, model: CircuitModel, taken: Sequence[Taken], stuck: Mapping[str, bool] | None = None
    ) -> None:
        self.model, self._stuck, self._last = model, stuck or {}, DIGITS
        self._ends_far = False
        by_case: dict[int, list[Taken]] = {}
        for each in taken:
            place = model.place_of(each.reading.case, each.index)
            by_case.setdefault(place, []).append(each)
        self._readings = [
            Readings(model, place, [(each.index, each.reading) for each in own])
            for place, own in by_case.items()
        ]
        self._stay({})
        order = {each.index: each for each in taken}
        self.taken = [order[index] for group in self._readings for index in group.order]
        self.cases = list(by_case)
        self.meters = [each for each in meters_of(self.taken) if each.gain > 0.0]
        columns = {meter: column for column, meter in enumerate(self.meters)}
        self._column = [columns.get(each.meter, -1) for each in self.taken]
        self._values = np.array([each.value for each in self.taken])
        self._offset = np.array([each.offset for each in self.taken])
        self.digits = np.array([each.digits for each in self.taken])
        gains = [each.gain for each in self.meters]
        self.deviations = np.array([*(each.deviation for each in model.unknowns), *gains])
        low, high = model.ends
        self.count = len(low)
        self.begin = np.array([*(each.begin for each in model.unknowns), *np.zeros(len(gains))])
        wide = np.full(len(gains), np.inf)
        self._low, self._high = np.concatenate([low, -wide]), np.concatenate([high, wide])

    def told(self, point: FloatArray) -> tuple[FloatArray, FloatArray]:
        """What ideal meters show, and its slopes with the unknowns."""
        self._rest(point)
        pairs = [each.at(point) for each in self._readings]
        return np.concatenate([p[0] for p in pairs]), np.vstack([p[1] for p in pairs])

    def values(self, point: FloatArray) -> FloatArray:
        """What ideal meters show, without slopes."""
        self._rest(point)
        return np.concatenate([each.values_at(point) for each in self._readings])

    def _rest(self, point: FloatArray) -> None:
        """Bring all cases to rest side by side: many cost little more than one.

        Raises
        ------
        CalculationError
            If one has no state of rest.
        """
        wanted = [(each, want) for each in self._readings if (want := each.wanted(point))]
        if len(wanted) < 2:
            return
        heres = self.model.heres(point, [want for _, want in wanted])
        for (each, _), here in zip(wanted, heres, strict=True):
            if isinstance(here, CalculationError):
                raise here
            each.look(point, here)

    def squares(self, points: Sequence[FloatArray]) -> list[float]:
        """Sums of squares of what is missed at points; endless where there is no answer."""
        told = [dict[int, FloatArray]() for _ in points]
        readings = {each.place: each for each in self._readings}
        stuck = {place: each.stuck for place, each in readings.items()}
        for here, shared in rested(self.model, stuck, [point[: self.count] for point in points]):
            if isinstance(here, CalculationError):
                continue
            with suppress(CalculationError):
                values = readings[here.place].values_of(here)
                for at in shared:
                    told[at][here.place] = values
        return [self._squares(*each) for each in zip(points, told, strict=True)]

    def _squares(self, point: FloatArray, told: Mapping[int, FloatArray]) -> float:
        """Of what readings in each case tell at a point."""
        if len(told) < len(self._readings):
            return math.inf
        values = np.concatenate([told[each.place] for each in self._readings])
        gains = np.array([*point[self.count :], 0.0])  # the last one is of the others
        missed = ((1.0 + gains[self._column]) * values + self._offset - self._values) / self.digits
        beside = (point - self.begin) / self.deviations
        return float(missed @ missed + beside @ beside)

    def shown(self, point: FloatArray) -> tuple[FloatArray, FloatArray]:
        """What these meters should show, and its slopes with the unknowns and factors."""
        told, slopes = self.told(point[: self.count])
        factor = np.ones(len(told))
        columns = np.zeros((len(told), len(self.meters)))
        for row, column in enumerate(self._column):
            if column >= 0:
                factor[row] += point[self.count + column]
                columns[row, column] = told[row]
        shown = factor * told + self._offset
        return shown, np.hstack([factor[:, None] * slopes, columns])

    def missed(self, point: FloatArray) -> tuple[FloatArray, FloatArray]:
        """What is missed, in units of its uncertainty: of readings, then of bounds and factors."""
        own = np.diag(1.0 / self.deviations)
        beside = (point - self.begin) / self.deviations
        try:
            shown, slopes = self.shown(point)
        except CalculationError:
            rows = len(self.taken)
            return np.concatenate([np.full(rows, np.nan), beside]), np.vstack(
                [np.full((rows, len(point)), np.nan), own]
            )
        missed = (shown - self._values) / self.digits
        return np.concatenate([missed, beside]), np.vstack([slopes / self.digits[:, None], own])

    def solved(self, starts: Sequence[FloatArray]) -> "Solved":
        """Fit, in the state of relays and loads that the readings say.

        Raises
        ------
        ConflictingFields
            If the numbers are too far apart to be told.
        """
        begun = self._begun(starts)
        found = self._best(begun if len(begun) == 1 else unlike(self._rough(begun)))
        if found is None:
            raise ConflictingFields(TOO_FAR, ("readings",))
        return found

    def solved_if_near(self, starts: Sequence[FloatArray]) -> "Solved | None":
        """Fit; None without a start, or where a rough fit stays far from the readings already."""
        likely = [each for each in self._begun(starts) if self._may_come_near(each)]
        self._ends_far = True
        rough = self._rough(likely)
        self._ends_far = False
        near = [fit for fit in rough if self._is_near(fit.missed)]
        return self._best(unlike(near))

    def _begun(self, starts: Sequence[FloatArray]) -> list[FloatArray]:
        return [np.concatenate([each, np.zeros(len(self.meters))]) for each in starts]

    def _rough(self, points: Sequence[FloatArray]) -> list[Fit]:
        """Fits that end where one more step brings little."""
        self._last = ROUGHLY
        return [fit for each in points if (fit := self._fitted(each)) is not None]

    def _best(self, points: Sequence[FloatArray]) -> "Solved | None":
        """The best of the fits from these points, to the last digit."""
        self._last = DIGITS
        fits = [fit for each in points if (fit := self._fitted(each)) is not None]
        best = min(fits, key=lambda each: each.sum_of_squares, default=None)
        if best is None:
            return None
        solved = Solved(self, best)
        if solved.check.agrees or not self._is_near(best.missed, far=1.0):
            return solved
        return self._within_bounds(best.point) or solved

    def _within_bounds(self, begin: FloatArray) -> "Solved | None":
        """Fit that goes with the readings wherever within the bounds it is; None where none does.

        Many values at an end of their bounds are unlikely together, and no contradiction: only
        what no point within the bounds explains is one.
        """
        loose = copy(self)
        loose.deviations = self.deviations.copy()
        loose.deviations[: self.count] *= LOOSE
        fit = loose._fitted(begin)
        if fit is None or not (check := loose.check(fit)).agrees:
            return None
        missed, slopes = self.missed(fit.point)
        return Solved(self, replace(fit, missed=missed, slopes=slopes), check)

    def check(self, fit: Fit) -> Agreement:
        """Hold the readings against each other."""
        return Agreement.of(fit, len(self.taken), self.begin, self.deviations, self.count)

    def _may_come_near(self, begin: FloatArray) -> bool:
        """Whether the slopes promise a fit, relays as they are; it spares most of those in vain.

        One resistance changes all readings in one proportion, so that they tell it however far
        off it is.
        """
        if not self._is_there(begin):
            return False
        self._stay(self._relays(begin) or {})
        point, left = begin, np.zeros(0)
        for _ in range(LOOKS):
            missed, slopes = self.missed(point)
            if not (np.isfinite(missed).all() and np.isfinite(slopes).all()):
                break
            step = np.linalg.lstsq(slopes, -missed, rcond=None)[0]
            left = missed + slopes @ step
            point = np.clip(point + step, self._low, self._high)
        self._stay({})
        return self._is_near(left)

    def _is_near(self, missed: FloatArray, *, far: float = FAR) -> bool:
        """Whether chance, and values at their bounds, may bring what is missed, with some room."""
        chance = float(missed @ missed) / far - AT_BOUND * self.count
        rows = len(self.taken)
        return chance <= 0.0 or (
            chi_squared_tail(chi_squared=chance, degrees_of_freedom=rows) >= ALARMS_OF_ALL
        )

    def nearest(self, points: Sequence[FloatArray]) -> list[FloatArray]:
        """The points that come nearest to the readings."""
        factors = np.zeros(len(self.meters))
        squares = self.squares([np.concatenate([each, factors]) for each in points])
        best = [
            place for place in np.argsort(squares)[:MORE_STARTS] if math.isfinite(squares[place])
        ]
        return [points[place] for place in best]

    def _fitted(self, begin: FloatArray) -> Fit | None:
        """Fit with all relays as they are at the start, and then as their coils say."""
        if not self._is_there(begin):
            return None
        before = self._relays(begin)
        if before is None or not any(before.values()):
            return self._least(begin, self._low, self._high)
        low, high = self._low, self._high
        for _ in range(MOST_HELD):
            self._stay(before)
            fit = self._least(begin, low, high)
            self._stay({})
            if self._relays(fit.point) == before:
                return fit
            # These values would move a relay: what moves it is held where the relay stays.
            held = self._moving(fit, begin, before)
            if held is None:
                break
            begin = np.where(held, begin, fit.point)
            low, high = np.where(held, begin, low), np.where(held, begin, high)
        return self._least(begin, low, high)

    def _moving(
        self, fit: Fit, begin: FloatArray, before: Mapping[int, Mapping[str, bool]]
    ) -> NDArray[np.bool_] | None:
        """Which value, put back, puts the relays back at the least cost; else all untold ones."""
        slopes = fit.slopes[: len(self.taken)] * self.deviations
        places = np.arange(len(begin))
        alone = [places == place for place in range(self.count)]
        untold = np.array([float(each @ each) < 1.0 for each in slopes.T]) & (places < self.count)
        for ways in (alone, [untold]):
            costs = [self._cost(np.where(held, begin, fit.point), before) for held in ways]
            if min(costs) < math.inf:
                return ways[costs.index(min(costs))]
        return None

    def _cost(self, point: FloatArray, relays: Mapping[int, Mapping[str, bool]]) -> float:
        """What a point misses; infinite where relays are not as they should be."""
        if self._relays(point) != relays:
            return math.inf
        own = point[: self.count]
        return self._squares(point, {each.place: each.values_at(own) for each in self._readings})

    def _least(self, begin: FloatArray, low: FloatArray, high: FloatArray) -> Fit:
        return least_squares(
            missed=self.missed,
            start=begin,
            low=low,
            high=high,
            digits=self._last,
            is_far=(lambda missed: not self._is_near(missed)) if self._ends_far else None,
        )

    def _is_there(self, point: FloatArray) -> bool:
        return all(np.isfinite(each).all() for each in self.missed(point))

    def _stay(self, relays: Mapping[int, Mapping[str, bool]]) -> None:
        """Let relays stay in or out in each case, beside those that are stuck."""
        for each in self._readings:
            each.stuck = {**relays.get(each.place, {}), **self._stuck}

    def _relays(self, point: FloatArray) -> Mapping[int, Mapping[str, bool]] | None:
        """Which relays are in, in each case; None without a state of rest."""
        try:
            self._rest(point[: self.count])
            return {each.place: each.relays(point[: self.count]) for each in self._readings}
        except CalculationError:
            return None


class Solved:
    """A fit, and what is known after it."""

    def __init__(self, problem: Problem, fit: Fit, check: Agreement | None = None) -> None:
        self.problem, self.fit = problem, fit
        self.check = check or problem.check(fit)
        self.count, self.rows = problem.count, len(problem.taken)
        # In units of what bounds alone leave no singular value is less than one.
        _, size, ways = np.linalg.svd(fit.slopes * problem.deviations, full_matrices=False)
        reach = problem.deviations[:, None] * ways.T / size
        self.covariance = reach @ reach.T

    @property
    def point(self) -> FloatArray:
        """Values of what is looked for, without the meters' factors."""
        return self.fit.point[: self.count]

    @cached_property
    def deviations(self) -> FloatArray:
        """Standard uncertainty of each value."""
        return np.sqrt(np.diag(self.covariance))[: self.count]

    @property
    def shown(self) -> FloatArray:
        """What the meters should have shown."""
        problem = self.problem
        values = np.array([each.value for each in problem.taken])
        return np.asarray(values + self.fit.missed[: self.rows] * problem.digits)

    def of(self, slopes: FloatArray) -> float:
        """Standard uncertainty of what has slopes with the unknowns."""
        own = self.covariance[: self.count, : self.count]
        return math.sqrt(max(float(propagated(slopes=slopes[None, :], covariance=own)[0, 0]), 0.0))

    def told_by(self, unknown: int) -> tuple[int, ...]:
        """Places of readings without which a value would be known less well."""
        rows = self.fit.slopes[: self.rows]
        seen = rows @ self.covariance
        left = 1.0 - np.einsum("ij,ij->i", seen, rows)
        own = self.covariance[unknown, unknown]
        wider = seen[:, unknown] ** 2 / (np.maximum(left, 1e-12) * own)
        telling = np.flatnonzero(wider >= TELLS).tolist()
        if not telling and self.share(unknown) < ALONE:
            telling = [int(np.argmax(wider >= wider.max() * (1.0 - EQUAL)))]
        return tuple(self.problem.taken[row].index for row in telling)

    def share(self, unknown: int) -> float:
        """Standard uncertainty of a value over what its bounds alone leave."""
        return float(self.deviations[unknown] / self.problem.deviations[unknown])
