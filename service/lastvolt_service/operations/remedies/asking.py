"""Changes to a request, and the request asked again with them."""

import copy
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from lastvolt_service.errors import Path
from lastvolt_service.operations.judging import Verdict
from lastvolt_service.operations.results import Result
from lastvolt_service.words import say
from lastvolt_service.words.named import Named

New = float | str | bool | None
Arguments = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Change:
    """A field of the request with its new value."""

    pointer: Annotated[str, "JSON Pointer to the field as a URI fragment"]
    new_value: Annotated[New, "to be put there; null to leave the field out"]


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change and what it brings: the request asked again with the change made."""

    code: Annotated[str, "what kind of change it is, in a word that stays the same"]
    change: Annotated[str, "what to do, in words"]
    changes: Annotated[tuple[Change, ...], "the same in fields of the request"]
    verdict: Annotated[Verdict, "the worst check with the change made"]
    check: Annotated[str, "name of the failed check that the change is for"]
    check_code: Annotated[str, "code of that check"]
    check_part: Annotated[str | None, "part of that check"]
    check_case: Annotated[str | None, "case of that check"]
    check_way: Annotated[str | None, "circuit of that check: as_is or proposed"]
    check_detail: Annotated[str | None, "what else that check is about"]
    check_verdict: Annotated[Verdict, "of that check with the change made; pass where it is gone"]
    value_before: Annotated[float | None, "of that check, in `unit`"]
    value_after: Annotated[
        float | None, "of that check with the change made; null where it is no longer made"
    ]
    limit_before: Annotated[float | None, "what value_before is held against"]
    limit_after: Annotated[float | None, "what value_after is held against"]
    unit: Annotated[str, "unit of the values"]
    message: Annotated[str, "one sentence: what the change brings"]


@dataclass(frozen=True, slots=True)
class Put:
    """A change to a request.

    Attributes
    ----------
    path : tuple of str or int
        Keys and indices that lead to the field.
    value : float, str, bool or None
        None to leave it out.
    """

    path: Path
    value: New


@dataclass(frozen=True, slots=True)
class Said:
    """What a change is called: its code, and what its sentence needs.

    Attributes
    ----------
    code : str
        Known to the words of the operation.
    values : mapping of str to (float or str, str)
        Value and unit by name.
    repairs : bool
        Whether it makes a worn part as good as new: worth doing though more is needed.
    """

    code: str
    values: Mapping[str, tuple[float | str, str]] = field(default_factory=dict)
    repairs: bool = False


def changed(body: Any, puts: Iterable[Put]) -> Any:
    """Make changes to a copy of a request."""
    found = copy.deepcopy(body)
    for put in puts:
        place = found
        for key in put.path[:-1]:
            place = place[key] if isinstance(key, int) else place.setdefault(key, {})
        if put.value is None:
            place.pop(put.path[-1], None)
        else:
            place[put.path[-1]] = put.value
    return found


Asked = tuple[Arguments, Result]


class Asking:
    """A request that may be asked again with changes, so many times at most.

    Parameters
    ----------
    body : object
        The request, as JSON says it.
    again : callable
        Arguments and answer of a changed request; None where it has no answer.
    pointer : callable
        Writes a path.
    allowance : int
        Most trials.
    words : mapping of str to str
        What is said of a change, by its code.
    answer : Result
        Without any change.
    """

    def __init__(
        self,
        body: Any,
        again: Callable[[Any], Asked | None],
        pointer: Callable[[Path], str],
        allowance: int,
        words: Mapping[str, str],
        answer: Result,
    ) -> None:
        self.words = words
        self.answer = answer
        self.pointer = pointer
        self.left = allowance
        self.found: dict[tuple[Put, ...], Found] = {}
        self._body, self._again = body, again

    def text(self, change: Said) -> str:
        """Say what a change is."""
        return say(self.words[change.code], Named().of_change(change.values))

    def ask(self, puts: Iterable[Put]) -> Asked | None:
        """Ask again.

        Returns
        -------
        tuple of arguments and answer, or None
            None where there is no answer, or no trial left.
        """
        if self.left <= 0:
            return None
        self.left -= 1
        try:
            body = changed(self._body, puts)
        except (KeyError, IndexError, TypeError, AttributeError):  # not as the request has it
            return None
        return self._again(body)

    def ranked(self) -> list["Found"]:
        """Sort what was found: cures first, then by failed checks left, then by effort."""
        return sorted(self.found.values(), key=lambda item: item.rank)


@dataclass(frozen=True, slots=True)
class Found:
    """A remedy with its place in the order.

    Attributes
    ----------
    rank : tuple of int
        The least is the best.
    puts : tuple of Put
        Its changes.
    remedy : Remedy
        What is told of it.
    may_be_told : bool
        Whether it cures its check, or mends a worn part, and makes no other check worse; else it
        is at most a step on the way to one that does.
    """

    rank: tuple[int, int, int]
    puts: tuple[Put, ...]
    remedy: Remedy
    may_be_told: bool
