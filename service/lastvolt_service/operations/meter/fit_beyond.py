"""Which bound, if it is the one that is wrong, makes contradicting readings hold together."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, TypeVar

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.meter.fit_ends import middle_of
from lastvolt_service.operations.meter.fit_model import CircuitModel, Unknown
from lastvolt_service.operations.meter.fit_told import TOLD_SHARE, both, digits, sentence
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.units import Interval

# A bound is opened by as many times the width of both.
OPENED = 1000.0
# No meter tells more from an open part.
OPEN_OHM = 1e6
# So many are told, and those that miss the readings by no more in squares of uncertainties.
MOST_TOLD, TOLD_APART = 3, 0.1
# So many times the width of its bounds beyond them a slope tells nothing of the near end.
FAR_OUT = 10.0


# What keeps a battery's volts back.
SOURCE_OHM = ("circuit", "source", "internal_resistance_ohm")


_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Beyond:
    """A value beyond the bounds that were given for it."""

    input: Annotated[str, "path of the input, as circuit-check names it"]
    name: Annotated[str, "what it is called"]
    unit: Annotated[str, "its unit"]
    given_low: Annotated[float, "least that was given"]
    given_high: Annotated[float, "most that was given"]
    estimate: Annotated[float, "what it would be, if all readings are right"]
    low: Annotated[float, "then it is not less, 19 times of 20"]
    high: Annotated[float, "and not more"]
    message: Annotated[str, "the same in a sentence"]


def beyond(model: CircuitModel, whole: Solved, names: Sequence[str]) -> list[tuple[Solved, Beyond]]:
    """Values that would make all readings hold together, and the fits, the likeliest first."""
    found = list(opened(model, whole, names, held(whole)))
    return first_of(found, lambda each: digits(each[0].check.chi_squared))


def first_of(found: Iterable[_T], missed: Callable[[_T], float]) -> list[_T]:
    """The likeliest by what they miss, and all that no reading tells from the last of them."""
    order = sorted(found, key=missed)
    most = missed(order[:MOST_TOLD][-1]) + TOLD_APART if order else 0.0
    return [each for each in order if missed(each) <= most]


def held(whole: Solved) -> list[int]:
    """Places of values that a fit holds at their bounds."""
    return np.flatnonzero(whole.fit.bound[: whole.count]).tolist()


def opened(
    model: CircuitModel, whole: Solved, names: Sequence[str], places: Sequence[int]
) -> Iterator[tuple[Solved, Beyond]]:
    """Those of these values that would, one after the other."""
    for place in places:
        yield from _opened(model, whole, place, model.unknowns[place], names[place])


def _opened(
    model: CircuitModel, whole: Solved, place: int, unknown: Unknown, name: str
) -> Iterator[tuple[Solved, Beyond]]:
    """Fit once more without the bound that holds this value."""
    given = unknown.given
    wide = max(OPENED * (given.high - given.low), OPEN_OHM if unknown.unit == "ohm" else 0.0)
    if whole.point[place] > 0.5 * (given.low + given.high):
        bounds = Interval(given.low, given.high + wide)
    else:
        bounds = Interval(given.low / OPENED if given.low >= 0.0 else given.low - wide, given.high)
    far = whole.point.copy()
    far[place] = bounds.high if bounds.high > given.high else bounds.low
    middle = middle_of(model)
    middle[place] = whole.point[place]
    others = [each.given for each in model.unknowns]
    thought = {each.path: each.described for each in model.unknowns if each.described is not None}
    ends = [*others[:place], bounds, *others[place + 1 :]]
    wider = CircuitModel(*model.narrowed(ends), thought)
    try:
        solved = Problem(wider, whole.problem.taken).solved_if_near([whole.point, middle, far])
    except CalculationError:
        return
    if solved is None:
        return
    value, half = float(solved.point[place]), COVERAGE_FACTOR * float(solved.deviations[place])
    low, high = max(value - half, bounds.low), min(value + half, bounds.high)
    far_out = value - given.high > FAR_OUT * (given.high - given.low)
    if far_out or (solved.share(place) > TOLD_SHARE and value > given.high):
        low = max(low, given.high)  # within the bounds given it does not fit
    if not solved.check.agrees or (low < given.high and high > given.low):
        return
    code = "weak_beyond" if unknown.path == SOURCE_OHM and value > given.high else "beyond"
    texts = dict(zip(("low", "high"), both(low, high, unknown.unit), strict=True))
    most = dict(zip(("least", "most"), both(*given, unknown.unit), strict=True))
    yield (
        solved,
        Beyond(
            unknown.input,
            name,
            unknown.unit,
            given.low,
            given.high,
            digits(value),
            digits(low),
            digits(high),
            sentence(code, part=name, **texts, **most),
        ),
    )
