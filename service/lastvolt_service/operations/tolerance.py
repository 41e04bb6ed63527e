"""Inputs known only within bounds: the interval of an output, and which input matters most."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.units import Interval

Outputs = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Spread:
    """What an output does within the bounds of all inputs.

    Attributes
    ----------
    nominal, low, high : float
        With all inputs in the middle, and the least and the most that was found.
    """

    nominal: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Study:
    """Everything found about the outputs of one case.

    Attributes
    ----------
    spreads : dict of str to Spread
        By output.
    effects : dict of str to tuple of float
        By output: its change from the low to the high end of each input, the others in the middle.
        Where an end has no solution, to the middle only.
    unsolved : tuple of str
        Why some ends have no solution, each sentence once.
    """

    spreads: Mapping[str, Spread]
    effects: Mapping[str, tuple[float, ...]]
    unsolved: tuple[str, ...]


NOT_STUDIED = Study({}, {}, ())


def intervals(data: Any, path: Path = ()) -> Iterator[tuple[Path, Interval]]:
    """Walk the intervals of a request in order.

    Parameters
    ----------
    data : mapping, list or value
        As loaded.
    path : tuple of str or int
        Of `data` in the request.

    Yields
    ------
    path : tuple of str or int
    interval : Interval
    """
    if isinstance(data, Interval):
        yield path, data
    elif isinstance(data, Mapping):
        for key, value in data.items():
            yield from intervals(value, (*path, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from intervals(value, (*path, index))


def pinned(data: Any, values: Iterator[float]) -> Any:
    """Put numbers in the place of intervals.

    Parameters
    ----------
    data : mapping, list or value
        As loaded.
    values : iterator of float
        One for each interval, in the order of `intervals`.

    Returns
    -------
    object
        The same with plain numbers.
    """
    if isinstance(data, Interval):
        return next(values)
    if isinstance(data, Mapping):
        return {key: pinned(value, values) for key, value in data.items()}
    if isinstance(data, list):
        return [pinned(value, values) for value in data]
    return data


def middle(found: Sequence[Interval]) -> tuple[float, ...]:
    """Take the middle of intervals.

    Parameters
    ----------
    found : sequence of Interval
        Any number.

    Returns
    -------
    tuple of float
    """
    return tuple(0.5 * (item.low + item.high) for item in found)


def study(found: Sequence[Interval], outputs: Callable[[tuple[float, ...]], Outputs]) -> Study:
    """Find what outputs do within the bounds of all inputs.

    Parameters
    ----------
    found : sequence of Interval
        Bounds of the inputs.
    outputs : callable
        Values of all inputs in, always the same outputs out; may raise CalculationError.

    Returns
    -------
    Study

    Raises
    ------
    CalculationError
        If there is no solution even with all inputs in the middle.

    Notes
    -----
    Each input is moved to both of its ends with the others in the middle; the sign of what an
    output does tells which end of each input makes it least and which most, and these two corners
    are computed for every output. All that was computed counts, so an output that has its extreme
    at an end and not in a corner is not missed. Exact for outputs that are monotone in each input.
    """
    centre = middle(found)
    known: dict[tuple[float, ...], Outputs | None] = {centre: outputs(centre)}
    unsolved: dict[str, None] = {}

    def at(point: tuple[float, ...]) -> Outputs | None:
        if point not in known:
            try:
                known[point] = outputs(point)
            except CalculationError as error:
                known[point] = None
                unsolved[error.detail] = None
        return known[point]

    nominal = known[centre] or {}
    ends = [
        tuple(at((*centre[:index], end, *centre[index + 1 :])) for end in (item.low, item.high))
        for index, item in enumerate(found)
    ]
    effects = {
        name: tuple((high or nominal)[name] - (low or nominal)[name] for low, high in ends)
        for name in nominal
    }
    for changes in effects.values():
        for least in (True, False):
            at(
                tuple(
                    item.low if (change >= 0) == least else item.high
                    for item, change in zip(found, changes, strict=True)
                )
            )
    spreads = {}
    for name, value in nominal.items():
        seen = [one[name] for one in known.values() if one is not None]
        spreads[name] = Spread(value, min(seen), max(seen))
    return Study(spreads, effects, tuple(unsolved))
