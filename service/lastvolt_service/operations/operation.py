"""What an operation is, and how one request and many rows are answered by it, in the same way."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache, cached_property
from itertools import count
from typing import Annotated, Any, get_args, get_origin, get_type_hints

import numpy as np

from lastvolt_service import laws
from lastvolt_service import words as language
from lastvolt_service.fields import Fields, recorded
from lastvolt_service.operations.judging import NOT_ASKED, refuse
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import Result
from lastvolt_service.operations.steps import MOST_ITEMS, Step, Steps
from lastvolt_service.rows import number
from lastvolt_service.words.catalogue import OperationWords
from lastvolt_service.words.named import Named

_PLACE = re.compile(r"_(\d+)_(?=[a-z])")
COMMON = frozenset(field.name for field in fields(Result))


@dataclass(frozen=True)
class Operation:
    """An operation: what it takes, how it is worked out, and what it gives.

    Attributes
    ----------
    name : str
        As in its path: ``"relay-coil"``.
    about : str
        Its published description, the first line of which is the summary.
    request : type of Fields
        What it takes.
    result : type of Result
        What it gives.
    solve : callable
        Takes a request, in plain numbers or in columns, and gives an `Outcome`.
    mend : callable or None
        Looks for what cures a failed check.
    tell : callable or None
        Takes by hand the steps that no formula on the way tells: balances that were solved.
    tell_all : callable or None
        Takes all steps by hand, from the answer, where no number can be followed: networks.
    """

    name: str
    about: str
    request: type[Fields]
    result: type[Result]
    solve: Callable[[Any], Outcome]
    mend: Callable[[Any, Any, Any], None] | None = None
    tell: Callable[[Any, Outcome, Steps], None] | None = None
    tell_all: Callable[[Any, Any, Steps], None] | None = None

    @cached_property
    def words(self) -> OperationWords:
        """What is said of it."""
        return language.catalogue()[self.name]

    def answer(self, asked: Fields) -> Result:
        """Answer one request.

        Raises
        ------
        CalculationError
            If it has no answer.
        """
        outcome = self.solve(asked)
        refuse(outcome.faults)
        found = _shaped(self.result, outcome.columns, asked)
        named = Named(self.words, found, asked)
        checks = tuple(
            each.told(self.words, named)
            for each in outcome.checks
            if each.judged.verdict != NOT_ASKED
        )
        checks = (*outcome.told_checks, *checks)
        return self.result(
            **found,
            headline=language.opening(
                self.words, named, language.headline(self.words, named), checks
            ).text,
            checks=checks,
            basis=tuple(dict.fromkeys(outcome.basis)),
            cautions=tuple(outcome.cautions),
        )

    def steps(self, asked: Fields, answer: Result) -> tuple[Step, ...]:
        """Tell how the answer to one request comes about, by working it out once more."""
        kind: Any = self.result  # mypy takes the hash of instances for that of the class
        steps = Steps([name for name, inner, listed in _shape(kind) if inner and listed])
        if self.tell_all is not None:
            self.tell_all(asked, answer, steps)
            return steps.all()
        with laws.recording():
            asked = recorded(asked)
            outcome = self.solve(asked)
        for name, value in outcome.columns.items():
            place = _PLACE.search(name)
            if place is None or int(place[1]) <= MOST_ITEMS:
                meaning = _meanings(kind).get(_PLACE.sub("_", name), "")
                steps.result(name, value, meaning)
        if self.tell is not None:
            with laws.recording():
                self.tell(asked, outcome, steps)
        return steps.all()


def _plain(value: Any) -> Any:
    if type(value) is float:
        return value if value == value else None
    return number(value) if isinstance(value, float | np.ndarray) else value


@cache
def _shape(result: Any) -> tuple[tuple[str, Any, bool], ...]:
    """Fields of a result or of an object in it: name, class of what it holds, whether a list."""
    hints = get_type_hints(result)
    found = []
    for field in fields(result):
        kind, listed = hints[field.name], False
        if get_origin(kind) is tuple:
            kind, listed = get_args(kind)[0], True
        if field.name not in COMMON or not issubclass(result, Result):
            found.append((field.name, kind if is_dataclass(kind) else None, listed))
    return tuple(found)


def _shaped(
    result: type, columns: Mapping[str, Any], asked: Any, prefix: str = ""
) -> dict[str, Any]:
    """Put the columns of one row into the fields of a result; what is in none is as asked."""
    found: dict[str, Any] = {}
    for name, inner, listed in _shape(result):
        column = prefix + name
        if column in columns:  # in one row an object may be made already
            found[name] = _plain(columns[column])
        elif inner is None:
            found[name] = _plain(getattr(asked, name))
        elif not listed:
            below = getattr(asked, name, None)
            found[name] = inner(**_shaped(inner, columns, below, f"{column}_"))
        else:
            found[name] = tuple(_items(inner, columns, getattr(asked, name, ()), column))
    return found


def _items(inner: type, columns: Mapping[str, Any], asked: Any, column: str) -> Iterator[Any]:
    """Make the items of a list, as many as there are columns for."""
    names = [name for name, _, _ in _shape(inner)]
    for place in count(1):
        prefix = f"{column}_{place}_"
        if not any(prefix + name in columns for name in names):
            return
        item = asked[place - 1] if place <= len(asked) else None
        yield inner(**_shaped(inner, columns, item, prefix))


@cache
def _meanings(result: Any, prefix: str = "") -> dict[str, str]:
    """Meaning of each column, from the fields of the result."""
    hints = get_type_hints(result, include_extras=True)
    found: dict[str, str] = {}
    for name, inner, _ in _shape(result):
        if inner is not None:  # of an item of a list, without its number
            found |= _meanings(inner, f"{prefix}{name}_")
        elif get_origin(hints[name]) is Annotated:
            found[prefix + name] = get_args(hints[name])[1]
    return found
