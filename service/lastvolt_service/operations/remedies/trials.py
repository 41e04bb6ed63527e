"""Remedies: what a change to a request would bring, found by asking again with the change made."""

import copy
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service.errors import Path
from lastvolt_service.operations.results import Check, Result, show, worst
from lastvolt_service.operations.solved import Verdict

MOST_TRIALS = 30
MOST_REMEDIES = 8
# A search for the value that just passes ends after so many trials.
SEARCH_TRIALS = 6
New = float | str | bool | None


@dataclass(frozen=True, slots=True)
class Change:
    """A field of the request with its new value."""

    pointer: Annotated[str, "JSON Pointer to the field as a URI fragment"]
    new_value: Annotated[New, "to be put there; null to leave the field out"]


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change and what it brings: the request asked again with the change made."""

    change: Annotated[str, "what to do, in words"]
    changes: Annotated[tuple[Change, ...], "the same in fields of the request"]
    verdict: Annotated[Verdict, "the worst check with the change made"]
    check: Annotated[str, "name of the failed check that the change is for"]
    check_verdict: Annotated[Verdict, "of that check with the change made; pass where it is gone"]
    value_before: Annotated[float | None, "of that check, in `unit`"]
    value_after: Annotated[
        float | None, "of that check with the change made; null where it is no longer made"
    ]
    limit_after: Annotated[float | None, "what that value is held against then"]
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


def changed(body: Any, puts: Iterable[Put]) -> Any:
    """Make changes to a copy of a request.

    Parameters
    ----------
    body : object
        As JSON says it.
    puts : iterable of Put
        The changes.

    Returns
    -------
    object
    """
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


class Trials:
    """A failed answer, and the request asked again with changes, so many times at most.

    Parameters
    ----------
    body : object
        The request, as JSON says it.
    answer : Result
        What it got.
    again : callable
        Answers a changed request; None where it has no answer.
    pointer : callable
        Writes a path.
    allowance : int
        Most trials.
    decisive : Check
        The failed check that remedies are looked for.
    """

    def __init__(
        self,
        body: Any,
        again: Callable[[Any], Result | None],
        pointer: Callable[[Path], str],
        allowance: int,
        decisive: Check,
    ) -> None:
        self.body = body
        self.decisive = decisive
        self.found: list[tuple[tuple[int, int, int], Remedy]] = []
        self._again, self._pointer = again, pointer
        self._left = allowance

    def ask(self, puts: Iterable[Put]) -> Result | None:
        """Ask again.

        Parameters
        ----------
        puts : iterable of Put
            What is changed.

        Returns
        -------
        Result or None
            None where there is no answer, or no trial left.
        """
        if self._left <= 0:
            return None
        self._left -= 1
        try:
            body = changed(self.body, puts)
        except (KeyError, IndexError, TypeError, AttributeError):  # not as the request has it
            return None
        return self._again(body)

    def check_of(self, answer: Result) -> Check | None:
        """Find the decisive check in another answer."""
        return next((c for c in answer.checks if c.name == self.decisive.name), None)

    def shortfall(self, answer: Result | None) -> float:
        """By how much the decisive check fails in another answer; infinite without one."""
        if answer is None:
            return math.inf
        check = self.check_of(answer)
        if check is None:
            return -math.inf
        if check.margin is None:
            return math.inf if check.verdict == "fail" else -math.inf
        return -check.margin

    def offer(self, change: str, puts: Iterable[Put], answer: Result | None = None) -> bool:
        """Keep a change if it betters the decisive check.

        Parameters
        ----------
        change : str
            In words.
        puts : iterable of Put
            In fields.
        answer : Result, optional
            What it brings, if that is known already.

        Returns
        -------
        bool
            Whether the decisive check no longer fails.
        """
        puts = tuple(puts)
        if answer is None:
            answer = self.ask(puts)
        if answer is None or not self._betters(answer):
            return False
        remedy = self._remedy(change, puts, answer)
        failing = sum(check.verdict == "fail" for check in answer.checks)
        cured = remedy.check_verdict != "fail"
        if all(remedy.changes != known.changes for _, known in self.found):
            self.found.append(((int(not cured), failing, len(self.found)), remedy))
        return cured

    def _betters(self, answer: Result) -> bool:
        now = self.shortfall(answer)
        before = math.inf if self.decisive.margin is None else -self.decisive.margin
        return now < before - 1e-9 * abs(before) if math.isfinite(before) else now < before

    def _remedy(self, change: str, puts: tuple[Put, ...], answer: Result) -> Remedy:
        check = self.check_of(answer)
        unit, before = self.decisive.unit, self.decisive.value
        verdict = worst(each.verdict for each in answer.checks)
        after = None if check is None else check.value
        said = f"{self.decisive.name} is no longer in question"
        if after is not None and check is not None:
            said = f"{self.decisive.name}: {show(after, unit)}"
            said += "" if before is None else f" in place of {show(before, unit)}"
            said += "" if check.limit is None else f", held against {show(check.limit, unit)}"
        return Remedy(
            change=change,
            changes=tuple(Change(self._pointer(put.path), put.value) for put in puts),
            verdict=verdict,
            check=self.decisive.name,
            check_verdict="pass" if check is None else check.verdict,
            value_before=before,
            value_after=after,
            limit_after=None if check is None else check.limit,
            unit=unit,
            message=f"{change}: {said}. The worst check is then: {verdict}.",
        )

    def first_that_cures(
        self, options: Iterable[tuple[str, tuple[Put, ...]]], *, most: int
    ) -> bool:
        """Try options in order until one cures; of those that do not, the last that betters.

        Parameters
        ----------
        options : iterable of (str, tuple of Put)
            Change in words and in fields, the least first.
        most : int
            Trials at most.

        Returns
        -------
        bool
            Whether one cures.
        """
        best: tuple[float, str, tuple[Put, ...], Result] | None = None
        for (change, puts), _ in zip(options, range(most), strict=False):
            answer = self.ask(puts)
            if answer is None:
                continue
            short = self.shortfall(answer)
            check = self.check_of(answer)
            if check is None or check.verdict != "fail":
                return self.offer(change, puts, answer)
            if best is None or short < best[0]:
                best = (short, change, puts, answer)
        if best is not None:
            self.offer(*best[1:])
        return False

    def just_passing(
        self,
        say: Callable[[float], str],
        make: Callable[[float], tuple[Put, ...]],
        bad: float,
        good: float,
    ) -> bool:
        """Search between a value that fails and one that may pass, for the one that just passes.

        Parameters
        ----------
        say, make : callable
            The change in words and in fields, from the value.
        bad, good : float
            Ends of the search.

        Returns
        -------
        bool
            Whether one cures.
        """
        at_good = self.ask(make(good))
        short_good, short_bad = self.shortfall(at_good), -(self.decisive.margin or -math.inf)
        if at_good is None or short_good > 0:
            return False
        found, answer = good, at_good
        for _ in range(SEARCH_TRIALS):
            straight = math.isfinite(short_good) and math.isfinite(short_bad)
            share = short_bad / (short_bad - short_good) if straight else 0.5
            # A little to the good side of the straight line, and never beyond the middle's half.
            middle = bad + (good - bad) * min(max(1.02 * share, 0.05), 0.95)
            middle = _rounded(middle, towards=good)
            if middle in (bad, good):
                break
            answer_here = self.ask(make(middle))
            short = self.shortfall(answer_here)
            if short <= 0 and answer_here is not None:
                good, short_good, found, answer = middle, short, middle, answer_here
            else:
                bad, short_bad = middle, short
        return self.offer(say(found), make(found), answer)


def _rounded(value: float, *, towards: float) -> float:
    """To three digits, rounded to a side."""
    if value == 0 or not math.isfinite(value):
        return value
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 2)
    count = value / step
    whole = math.ceil(count) if towards > value else math.floor(count)
    return float(f"{whole * step:.12g}")


def decisive_check(answer: Result) -> Check | None:
    """Find the failed check that is furthest beyond its limit.

    Parameters
    ----------
    answer : Result
        Of an operation.

    Returns
    -------
    Check or None
        None where no check fails.
    """
    failed = [check for check in answer.checks if check.verdict == "fail"]
    return min(failed, key=_relative, default=None)


def _relative(check: Check) -> float:
    if check.margin is None:
        return -math.inf
    return check.margin / max(abs(check.limit or 0.0), 1e-9)


Arguments = Mapping[str, Any]
