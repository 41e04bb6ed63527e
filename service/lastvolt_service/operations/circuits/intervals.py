"""Inputs known only within bounds: the interval of an output, and which input matters most."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeAlias, TypeVar

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import Fields, changed
from lastvolt_service.units import Interval

Key = TypeVar("Key", bound=Hashable)
Point: TypeAlias = tuple[float, ...]  # the values of all inputs


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
class Study(Generic[Key]):
    """Everything found about the outputs of one case.

    Attributes
    ----------
    spreads : dict to Spread
        By output that is there with all inputs in the middle.
    effects : dict to tuple of float
        By output: its change from the low to the high end of each input, the others in the middle.
        Where an end has no solution, to the middle only; where it has no such output, to nothing.
    unsolved : tuple of str
        Why some ends have no solution, each sentence once.
    ends : tuple of (int, int)
        The low and the high end of each input, counted among the points that have a solution, in
        the order in which these were asked for; the middle, 0, in place of an end that has none.
    """

    spreads: Mapping[Key, Spread]
    effects: Mapping[Key, tuple[float, ...]]
    unsolved: tuple[str, ...]
    ends: tuple[tuple[int, int], ...] = ()

    def effects_on(self, found: Sequence[Mapping[Key, float]], name: Key) -> tuple[float, ...]:
        """As `effects`, of what was found later at the points that have a solution, in order."""
        return tuple(
            found[high].get(name, 0.0) - found[low].get(name, 0.0) for low, high in self.ends
        )


def intervals(asked: Any, path: Path = ()) -> Iterator[tuple[Path, Interval]]:
    """Walk the intervals of a request in order, each with its path."""
    if isinstance(asked, Interval):
        yield path, asked
    else:
        for key, value in _inner(asked):
            yield from intervals(value, (*path, key))


def _inner(asked: Any) -> Iterable[tuple[str | int, Any]]:
    if isinstance(asked, Fields):
        return vars(asked).items()
    if isinstance(asked, Mapping):
        return asked.items()
    return enumerate(asked) if isinstance(asked, list | tuple) else ()


class Pins:
    """The places of a request's intervals, to put numbers there over and over.

    What holds none is the same object in all copies.
    """

    def __init__(self, asked: Any) -> None:
        """Find the intervals: `given` is each with its path."""
        self._asked = asked
        self.given = tuple(intervals(asked))
        self._tree: dict[str | int, Any] = {}
        for path, _ in self.given:
            if not path:  # it is one itself
                continue
            tree = self._tree
            for key in path[:-1]:
                tree = tree.setdefault(key, {})
            tree[path[-1]] = {}

    def put(self, values: Iterator[float]) -> Any:
        """Make a copy with numbers, in the order of `intervals`."""
        return _put(self._asked, self._tree, values)


def _put(asked: Any, tree: Mapping[str | int, Any], values: Iterator[float]) -> Any:
    if not tree:
        return next(values) if isinstance(asked, Interval) else asked
    if isinstance(asked, Fields):
        new = {key: _put(getattr(asked, str(key)), each, values) for key, each in tree.items()}
        return changed(asked, **{str(key): value for key, value in new.items()})
    new = {key: _put(asked[key], each, values) for key, each in tree.items()}
    if isinstance(asked, Mapping):
        return {**asked, **new}
    return [new.get(place, value) for place, value in enumerate(asked)]


def placed(asked: Any, path: Path, value: float) -> Any:
    """Make a copy with another value at a path; what does not hold it is the same object."""
    if not path:
        return value
    key: Any = path[0]
    if isinstance(asked, Fields):
        return changed(asked, **{key: placed(getattr(asked, key), path[1:], value)})
    new = placed(asked[key], path[1:], value)
    if isinstance(asked, Mapping):
        return {**asked, key: new}
    return [*asked[:key], new, *asked[key + 1 :]]


def middle(found: Sequence[Interval]) -> tuple[float, ...]:
    """Take the middle of each."""
    return tuple(0.5 * (item.low + item.high) for item in found)


def study(
    found: Sequence[Interval],
    outputs: Callable[
        [Sequence[tuple[float, ...]]], Sequence[Mapping[Key, float] | CalculationError]
    ],
    cornered: Callable[[Key], bool] = lambda _: True,
) -> Study[Key]:
    """Find what outputs do within the bounds of all inputs.

    Parameters
    ----------
    found : sequence of Interval
        Bounds of the inputs.
    outputs : callable
        Many points in, each with the values of all inputs, the outputs of each out, or why there
        are none; the middle comes first.
    cornered : callable
        Whether the corners that make an output least and most are computed for it.

    Raises
    ------
    CalculationError
        If there is no solution even with all inputs in the middle.

    Notes
    -----
    Each input is moved to both of its ends with the others in the middle; the sign of what an
    output does tells which end of each input makes it least and which most, and these two corners
    are computed for it. All that was computed counts, so an output that has its extreme at an end
    and not in a corner is not missed. Exact for outputs that are monotone in each input.
    """
    centre = middle(found)
    known: dict[Point, Mapping[Key, float] | None] = {}
    unsolved: dict[str, None] = {}

    def learn(points: Sequence[Point]) -> None:
        new = [point for point in dict.fromkeys(points) if point not in known]
        for point, found_there in zip(new, outputs(new) if new else (), strict=True):
            if isinstance(found_there, CalculationError):
                if point == centre:
                    raise found_there
                known[point] = None
                unsolved[found_there.detail] = None
            else:
                known[point] = found_there

    pairs = [
        [(*centre[:index], end, *centre[index + 1 :]) for end in (item.low, item.high)]
        for index, item in enumerate(found)
    ]
    # All at once: what is reckoned side by side costs little more than one.
    learn([centre, *(point for pair in pairs for point in pair)])
    nominal = known[centre] or {}
    ends = [(known[low], known[high]) for low, high in pairs]

    def effects_on(name: Key) -> tuple[float, ...]:
        return tuple(
            (nominal if high is None else high).get(name, 0.0)
            - (nominal if low is None else low).get(name, 0.0)
            for low, high in ends
        )

    learn(
        [
            tuple(
                item.low if (change >= 0) == least else item.high
                for item, change in zip(found, effects_on(name), strict=True)
            )
            for name in nominal
            for least in ((True, False) if cornered(name) else ())
        ]
    )
    solved = [one for one in known.values() if one is not None]
    spreads = {}
    for name, value in nominal.items():
        seen = [one[name] for one in solved if name in one]
        spreads[name] = Spread(value, min(seen), max(seen))
    names = dict.fromkeys(name for one in solved for name in one)
    effects = {name: effects_on(name) for name in names}
    places = {point: at for at, point in enumerate(p for p in known if known[p] is not None)}
    at_ends = tuple((places.get(low, 0), places.get(high, 0)) for low, high in pairs)
    return Study(spreads, effects, tuple(unsolved), at_ends)
