"""The sizes of a standard tried one after the other, for one request or for many, until one passes.

Sizes of one request are rows of the same columns as requests of a batch: arrays of a few hundred
numbers cost hardly more than one number does, so that few requests try many sizes at once.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.fields import choice
from lastvolt_service.operations.judging import FAIL, NOT_ASKED, Fault, Judged, refuse
from lastvolt_service.operations.lookup import Found, Refusal, look_up
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.wires.fields import Metal, Zoned
from lastvolt_service.operations.wires.heated_wire import lay
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire, insulated_wire
from lastvolt_service.operations.wires.size_check import Held, Needs, hold
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Texts,
    Words,
    count_of,
    given,
    known_texts,
    negate,
    row_of,
    take,
)
from lastvolt_service.tables.sizes import STANDARDS, trade_sizes

AT_ONCE = 256
_NOT_JUDGED = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_ASKED)


class WireOfAnySize(Metal, Zoned):
    """A wire where it lies, of a size that is sought."""

    standard: Texts = choice("standard of the sizes", tuple(STANDARDS), default="AWG")


class Tried(NamedTuple):
    """One size that one request tried: its name, what was found, and the checks that it fails."""

    size: str
    columns: Mapping[str, Any]
    failing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Searched:
    """What was found of the size that was tried last.

    Attributes
    ----------
    size : str, None or Words
        Its name.
    passed : bool or ndarray of bool
        Whether it passes.
    columns : mapping of str to float, str, None, ndarray or Words
        As of `Held`.
    judged : mapping of str to Judged
        Likewise; of many the verdicts alone.
    basis : tuple of str
        What the wires rest on.
    beyond : Fault
        As of a `Window`.
    none_fits : tuple of Fault
        Where there is no size at all, for which `refusals` stand as well.
    tried : tuple of Tried
        All sizes of one request up to it.
    citation, insulation : str
        Of one request: who says what it may carry, and how hot it may become.
    """

    size: Texts
    passed: Flags
    columns: Mapping[str, Any]
    judged: Mapping[str, Judged]
    basis: tuple[str, ...]
    beyond: Fault
    none_fits: tuple[Fault, ...] = ()
    refusals: Sequence[Refusal] = ()
    tried: tuple[Tried, ...] = ()
    citation: str = ""
    insulation: str = ""


def known_size(asked: WireOfAnySize, size: Texts) -> Found[InsulatedWire]:
    """Look up wires of a size; none where there is none of that size and metal in columns."""
    return look_up(
        insulated_wire,
        size=size,
        standard=asked.standard,
        material=asked.material,
        construction=asked.construction,
        insulation=asked.insulation,
    )


def search(asked: WireOfAnySize, needs: Needs) -> Searched:
    """Find the smallest size that passes.

    Raises
    ------
    NotCovered, ConflictingFields
        If there is no size at all for one request.
    """
    count = count_of(asked)
    trials = _trials(asked, needs, 1 if count is None else count)
    return (
        _of_one(asked, needs, next(trials))
        if count is None
        else _of_many(asked, needs, trials, count)
    )


@dataclass(frozen=True, slots=True)
class _Trial:
    """Some sizes, tried by some rows.

    `pair` is the place in the columns of `held`, sizes of a row side by side, of the size tried
    last in each row that `has` any.
    """

    rows: NDArray[np.intp]
    held: Held
    sizes: Words
    place: NDArray[np.intp]
    there: NDArray[np.bool_]
    passed: NDArray[np.bool_]
    has: NDArray[np.bool_]
    pair: NDArray[np.intp]

    def put(self, column: NDArray[Any], values: Any) -> None:
        """Put what was found of the size tried last into a column of all rows."""
        found = np.broadcast_to(values, len(self.place))[self.pair]
        column[self.rows[self.has]] = found[self.has]


def _trials(asked: WireOfAnySize, needs: Needs, count: int) -> Iterator[_Trial]:
    standards = asked.standard.values if isinstance(asked.standard, Words) else (asked.standard,)
    most = max((_COUNTS[str(each)] for each in standards), default=1)
    pending, start = np.arange(count), 0
    while start < most and (len(pending) or not start):  # once at least, for the names of columns
        end = min(most, start + max(1, AT_ONCE // max(1, len(pending))))
        trial = _trial(asked, needs, pending, np.arange(start, end))
        yield trial
        pending, start = pending[~trial.passed], end


def _trial(
    asked: WireOfAnySize, needs: Needs, rows: NDArray[np.intp], places: NDArray[np.intp]
) -> _Trial:
    row, place = np.repeat(rows, len(places)), np.tile(places, len(rows))
    part, needed = take(asked, row), Needs(*(take(each, row) for each in needs))
    sizes = _sizes(part.standard, place)
    wires, no_room = lay(known_size(part, sizes), part, needed.ambient_c)
    held = hold(wires, needed)
    there: Any = np.broadcast_to(given(wires.area_mm2) & negate(no_room.where), len(row))
    passes = there
    for judged in held.of_size.values():
        passes = passes & (judged.verdict != FAIL)
    shape = len(rows), len(places)
    good, known = passes.reshape(shape), there.reshape(shape)
    passed = good.any(axis=1)
    last = np.where(passed, good.argmax(axis=1), shape[1] - 1 - known[:, ::-1].argmax(axis=1))
    pair = np.arange(shape[0]) * shape[1] + last
    return _Trial(rows, held, sizes, place, there, passed, known.any(axis=1), pair)


_ALL_SIZES = tuple(size for standard in STANDARDS for size in trade_sizes(standard))
_COUNTS = {standard: len(trade_sizes(standard)) for standard in STANDARDS}
_STARTS = dict(zip(STANDARDS, accumulate(_COUNTS.values(), initial=0), strict=False))


def _sizes(standard: Texts, place: NDArray[np.intp]) -> Words:
    """Name the sizes at places in the lists of their standards; none beyond the ends."""
    start, count = (_by_standard(standard, each) for each in (_STARTS, _COUNTS))
    codes = np.where((place >= 0) & (place < count), start + place, len(_ALL_SIZES))
    named: Words = known_texts(Words((*_ALL_SIZES, None), codes))
    return named


def _by_standard(standard: Texts, numbers: Mapping[str, int]) -> Any:
    if isinstance(standard, Words):
        return standard.map(lambda each: numbers[str(each)], int)
    return numbers[str(standard)]


def _of_one(asked: WireOfAnySize, needs: Needs, trial: _Trial) -> Searched:
    """Of one request, whose rows are sizes."""
    if not trial.has[0]:
        refuse((_none_fits(asked, needs)[0],))
    held, chosen = trial.held, int(trial.pair[0])
    tried = tuple(
        Tried(
            row_of(trial.sizes, row),
            {name: row_of(value, row) for name, value in held.columns.items()},
            tuple(c for c, judged in held.of_size.items() if row_of(judged.verdict, row) == FAIL),
        )
        for row in np.flatnonzero(trial.there[: chosen + 1]).tolist()
    )
    wire, _ = lay(known_size(asked, tried[-1].size), asked, needs.ambient_c)
    return Searched(
        tried[-1].size,
        not tried[-1].failing,
        tried[-1].columns,
        {
            code: Judged(*(row_of(each, chosen) for each in judged))
            for code, judged in held.judged.items()
        },
        wire.basis,
        held.window.beyond._replace(where=row_of(held.window.beyond.where, chosen)),
        tried=tried,
        citation=held.may.citation(chosen),
        insulation=wire.one.insulation.citation,
    )


def _of_many(asked: WireOfAnySize, needs: Needs, trials: Iterator[_Trial], count: int) -> Searched:
    """Of many requests, row by row."""
    numbers: dict[str, NDArray[Any]] = {}
    words: dict[str, Words] = {}
    judged: dict[str, NDArray[Any]] = {}
    place, passed = np.full(count, -1), np.zeros(count, dtype=bool)
    beyond = np.zeros(count, dtype=bool)
    basis: list[str] = []
    for trial in trials:
        held = trial.held
        trial.put(place, trial.place)
        trial.put(beyond, held.window.beyond.where)
        passed[trial.rows] = trial.passed
        for name, value in held.columns.items():
            if isinstance(value, Words):
                known = words.setdefault(name, Words(value.values, np.full(count, 0)))
                trial.put(known.codes, value.codes)
            else:
                trial.put(numbers.setdefault(name, np.full(count, np.nan)), value)
        for code, each in held.judged.items():
            trial.put(judged.setdefault(code, np.full(count, NOT_ASKED)), each.verdict)
        basis += [*held.may.wire.basis, *held.may.basis]
    untried = place < 0
    no_room, refusals = _none_fits(asked, needs) if untried.any() else (None, [])
    return Searched(
        _sizes(asked.standard, place),
        passed,
        {**numbers, **words},
        {code: _NOT_JUDGED._replace(verdict=verdict) for code, verdict in judged.items()},
        merge(basis),
        held.window.beyond._replace(where=beyond),
        () if no_room is None else (no_room._replace(where=no_room.where & untried),),
        [each for each in refusals if untried[each.row]],
    )


def _none_fits(asked: WireOfAnySize, needs: Needs) -> tuple[Fault, list[Refusal]]:
    """Say why there is no size at all, of the largest one."""
    standard = asked.standard
    if isinstance(standard, Words):
        largest: Texts = _sizes(standard, _by_standard(standard, _COUNTS) - 1)
    else:
        largest = trade_sizes(str(standard))[-1]
    known = known_size(asked, largest)
    return lay(known, asked, needs.ambient_c)[1], known.refusals()
