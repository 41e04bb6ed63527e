"""Which reading would tell most: of all pairs of nodes and all leads, in every case."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.meter.fit_model import CircuitModel, Here
from lastvolt_service.operations.meter.fit_outputs import CARRYING, Output, clamped
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.meter.reading_fields import Kind, MeterData, usual_meter
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

# Readings that tell as much but for this share are alike: of these the most exact is taken.
ALIKE = 0.999
# What differs by no more is equal: a computer's last digits choose no reading.
ROUNDING = 1e-6
# A reading across one part, or against the ground, is taken where it tells as much but for this.
NEARLY = 0.9


@dataclass(frozen=True, slots=True)
class Candidate:
    """A reading that could be taken.

    Attributes
    ----------
    case : int
        Place of its case.
    between : tuple of str
        Nodes of the red and the black lead; empty of a clamp.
    through : str or None
        Part that the clamp lies round.
    value, deviation : float
        What to expect, and its standard uncertainty, the meter's own with it.
    brings : float
        By how much it lessens the sum of the variances that are looked at.
    least : float
        It shows no less: no part turns what it drops round.
    """

    case: int
    between: tuple[str, ...]
    through: str | None
    value: float
    deviation: float
    brings: float
    least: float = -math.inf

    @property
    def unit(self) -> str:
        """Of what is expected."""
        return "V" if self.between else "A"

    @property
    def expected(self) -> tuple[float, float]:
        """What the meter shows, 19 times of 20."""
        half = COVERAGE_FACTOR * self.deviation
        return max(self.value - half, self.least), self.value + half


@dataclass(frozen=True, slots=True)
class _Seen:
    """Readings of one kind in one case: what they show, and how what is not known moves them."""

    case: int
    kind: Kind
    names: Sequence[str]
    values: FloatArray
    slopes: FloatArray


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a row of clamps shows, or each pair of nodes, with the squares of its uncertainties.

    Attributes
    ----------
    errors, variance : ndarray
        Of the meter by itself, and of what is expected.
    brings : ndarray
        By how much each lessens the sum of the variances that are looked at.
    plain : ndarray of bool
        Pairs of nodes that are the ends of one part, or one of which is the ground.
    """

    seen: _Seen
    values: FloatArray
    errors: FloatArray
    variance: FloatArray
    brings: FloatArray
    plain: NDArray[np.bool_]

    def at(self, *place: int) -> Candidate:
        """One of them; the red lead goes where plus is."""
        place = place[::-1] if len(place) > 1 and self.values[place] < 0.0 else place
        names = tuple(self.seen.names[each] for each in place)
        return Candidate(
            self.seen.case,
            names if len(place) > 1 else (),
            None if len(place) > 1 else names[0],
            float(self.values[place]),
            math.sqrt(float(self.variance[place])),
            float(self.brings[place]),
            0.0 if self.plain[place] else -math.inf,
        )


class Readable:
    """All readings that could be taken in cases that come to rest at the values found."""

    def __init__(
        self, model: CircuitModel, solved: Solved, places: Sequence[int] | None = None
    ) -> None:
        """Look at all cases, or those in some places."""
        self._solved = solved
        self._model = model
        self.here: dict[int, Here] = {}
        # Where one has read already, one reads again.
        first = list(dict.fromkeys((*solved.problem.cases, *range(len(model.cases)))))
        if places is not None:
            first = list(places)
        for place in first:
            try:
                self.here[place] = model.here(place, solved.point)
            except CalculationError:
                continue
        # Nobody reads a vehicle of years to come.
        today = [
            place
            for place in self.here
            if place in solved.problem.cases or model.cases[place].ageing_factor == 1.0
        ]
        self._seen = [each for place in today for each in self._of(place)]

    def _of(self, place: int) -> Iterator[_Seen]:
        here = self.here[place]
        network, solution = here.network, here.state.solution
        nodes = np.flatnonzero(solution.connected).tolist()
        outputs = [Output(node, network.reference) for node in nodes]
        clamps: dict[str, Output] = {}
        for group in CARRYING:
            for index, part in enumerate(here.state.model.parts[group]):
                clamps.setdefault(part.name, clamped(here.state.model, group, index, part))
        both = [*outputs, *clamps.values()]
        told, slopes = here.told(both), here.slopes(both)
        cut = len(outputs)
        names = [network.node_names[node] for node in nodes]
        yield _Seen(place, "volts", names, told[:cut], slopes[:cut])
        yield _Seen(place, "amperes", list(clamps), told[cut:], slopes[cut:])

    def _meter(self, kind: Kind) -> tuple[MeterData, FloatArray, int]:
        """The meter that reads, what is known with its factor, and which column that is."""
        solved = self._solved
        for place, meter in enumerate(solved.problem.meters):
            if meter.kind == kind:
                return meter, solved.covariance, solved.count + place
        meter = usual_meter(kind)
        size = len(solved.covariance)
        wider = np.zeros((size + 1, size + 1))
        wider[:size, :size], wider[size, size] = solved.covariance, meter.gain**2
        return meter, wider, size

    def best(self, targets: FloatArray, *, volts_only: bool = False) -> Candidate | None:
        """Find what lessens variances most; None where nothing can be read.

        Parameters
        ----------
        targets : ndarray, shape (quantities, unknowns)
            Slopes of what is looked at with the unknowns.
        volts_only : bool
            Whether clamps are left aside.
        """
        found = [
            self._best_of(seen, targets)
            for seen in self._seen
            if len(seen.names) > 1 or (seen.names and seen.kind == "amperes")
            if seen.kind == "volts" or not volts_only
        ]
        most = max((each.brings for each in found), default=0.0)
        return next((each for each in found if each.brings >= ALIKE * most and most > 0.0), None)

    def at(
        self, case: int, between: Sequence[str], through: str | None, targets: FloatArray
    ) -> Candidate | None:
        """One reading, and what it brings; None where it cannot be taken."""
        for seen in self._seen:
            wanted = between if between else (through,)
            kind = "volts" if between else "amperes"
            if (seen.case, seen.kind) == (case, kind) and {*wanted}.issubset(seen.names):
                shown = self._shown(seen, targets)
                return shown.at(*(seen.names.index(str(name)) for name in wanted))
        return None

    def _best_of(self, seen: _Seen, targets: FloatArray) -> Candidate:
        shown = self._shown(seen, targets)
        brings = shown.brings
        if seen.kind == "amperes":
            return shown.at(_most_exact(brings, shown.errors))
        brings = np.triu(brings, 1)
        brings[self._was_read(seen)] = 0.0
        plain = np.where(shown.plain, brings, 0.0)
        if plain.max() >= NEARLY * brings.max():
            brings = plain
        return shown.at(*divmod(_most_exact(brings.ravel(), shown.errors.ravel()), len(brings)))

    def _shown(self, seen: _Seen, targets: FloatArray) -> "_Shown":
        """What each reading of one kind in one case shows and brings."""
        meter, covariance, column = self._meter(seen.kind)
        rows = np.zeros((len(seen.values), len(covariance)))
        rows[:, : seen.slopes.shape[1]] = seen.slopes
        rows[:, column] = seen.values
        wanted = np.zeros((len(targets), len(covariance)))
        wanted[:, : targets.shape[1]] = targets
        known = rows @ covariance
        shared = known @ wanted.T
        values = seen.values
        plain = np.zeros(len(values), dtype=np.bool_)
        if seen.kind == "amperes":
            variance, brings = np.einsum("ij,ij->i", known, rows), np.sum(shared**2, axis=1)
        else:
            values, plain = values[:, None] - values, self._is_plain(seen)
            variance, brings = _apart(known @ rows.T), _apart(shared @ shared.T)
        own = meter.digits(values) ** 2
        variance = variance + own
        errors = own + (meter.gain * values) ** 2
        return _Shown(seen, values, errors, variance, brings / variance, plain)

    def is_read(self, case: int, between: Sequence[str]) -> bool:
        """Whether volts were read there between these nodes."""
        return any(
            each.reading.kind == "volts" and {*each.reading.between} == {*between}
            for each in self._solved.problem.taken
            if self._model.place_of(each.reading.case, each.index) == case
        )

    def name_of(self, place: int) -> str:
        """Name of a case."""
        return str(self._model.cases[place].name)

    def _was_read(self, seen: _Seen) -> NDArray[np.bool_]:
        """Pairs of nodes that were read there: once more they have the same error of the digits."""
        at = {name: place for place, name in enumerate(seen.names)}
        found = np.zeros((len(at), len(at)), dtype=np.bool_)
        for each in self._solved.problem.taken:
            reading = each.reading
            place = self._model.place_of(reading.case, each.index)
            if reading.kind != "volts" or place != seen.case:
                continue
            red, black = (at.get(node) for node in reading.between)
            if red is not None and black is not None:
                found[red, black] = found[black, red] = True
        return found

    def _is_plain(self, seen: _Seen) -> NDArray[np.bool_]:
        """Pairs of nodes that are the ends of one part, or one of which is the ground."""
        here = self.here[seen.case]
        at = {name: place for place, name in enumerate(seen.names)}
        found = np.zeros((len(at), len(at)), dtype=np.bool_)
        ground = at[here.network.node_names[here.network.reference]]
        found[ground], found[:, ground] = True, True
        for part in (part for group in here.state.model.parts.values() for part in group):
            first, last = (at.get(node) for node in part.nodes)
            if first is not None and last is not None:
                found[first, last] = found[last, first] = True
        return found

    def place_of(self, name: str) -> int:
        """Place of a case that comes to rest.

        Raises
        ------
        ConflictingFields
            If it does not.
        """
        place = next(at for at, case in enumerate(self._model.cases) if case.name == name)
        if place not in self.here:
            raise ConflictingFields(
                f"With these readings {name} has no state of rest.", ("cases", place)
            )
        return place


def _most_exact(brings: FloatArray, variance: FloatArray) -> int:
    """Place of the most exact of those that are as good as the best, the first of the equal."""
    of_alike = np.where(brings >= ALIKE * brings.max(), variance, np.inf)
    return int(np.argmax(of_alike <= of_alike.min() * (1.0 + ROUNDING)))


def _apart(products: FloatArray) -> FloatArray:
    """Squares of differences of each pair, of the products of all; never below zero."""
    own = np.diag(products)
    return np.maximum(own[:, None] + own - 2.0 * products, 0.0)
