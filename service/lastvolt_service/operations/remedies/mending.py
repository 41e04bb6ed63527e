"""Remedies for failed checks, each computed by asking again with its change made."""

from collections.abc import Callable, Sequence
from typing import Any

from lastvolt_service import words
from lastvolt_service.errors import Path
from lastvolt_service.operations.circuits.cases import Cases
from lastvolt_service.operations.circuits.work import MOST_UNITS, Work
from lastvolt_service.operations.remedies.asking import Arguments, Asked, Asking, Found, Remedy
from lastvolt_service.operations.remedies.trials import (
    MOST_REMEDIES,
    MOST_TRIALS,
    Trials,
    failed_checks,
    same_question,
)
from lastvolt_service.operations.results import Check, Result

Mend = Callable[[Any, Any, Trials], None]
# Failed checks that remedies are looked for.
MOST_CHECKS = 3


def remedies(
    name: str,
    body: Any,
    arguments: Arguments,
    answer: Result,
    *,
    mend: Mend | None,
    again: Callable[[Any], Asked | None],
    pointer: Callable[[Path], str],
) -> tuple[Remedy, ...]:
    """Look for changes that cure the failed checks that are furthest beyond their limits.

    Parameters
    ----------
    name : str
        Of the operation, as in its path.
    body : object
        The request, as JSON says it.
    arguments : mapping
        Of the operation, as the schema gives them.
    answer : Result
        What it answered.
    mend : callable or None
        Of the operation.
    again : callable
        Arguments and answer of a changed request; None where it has no answer.
    pointer : callable
        Writes a path into the request.

    Returns
    -------
    tuple of Remedy
        Each cures its check, or mends a worn part, and makes no other check worse; first those
        that cure, of them those that leave the fewest failed checks, of them in the order of
        effort; empty where nothing fails or nothing helps.
    """
    failed = failed_checks(answer)
    if mend is None or not failed:
        return ()
    told = words.catalogue()[name].remedies
    asking = Asking(body, again, pointer, _allowance(arguments), told, answer)
    for check in _different(failed):
        mend(arguments, answer, Trials(asking, check))
    found = asking.ranked()
    if found and all(item.rank[1] for item in found):
        _second_round(mend, asking, found[0], failed)
    told_of = [item.remedy for item in asking.ranked() if item.may_be_told]
    return tuple(told_of[:MOST_REMEDIES])


def _different(failed: Sequence[Check]) -> list[Check]:
    """The first few failed checks, each once though it fails in several cases."""
    kinds: dict[tuple[str | None, ...], Check] = {}
    for check in failed:
        kinds.setdefault((check.name, check.code, check.part, check.way, check.detail), check)
    return list(kinds.values())[:MOST_CHECKS]


def _second_round(mend: Mend, asking: Asking, base: Found, failed: Sequence[Check]) -> None:
    """With the best change made, look for what cures what still fails."""
    asked = asking.ask(base.puts)
    if asked is None:
        return
    arguments, answer = asked
    left = failed_checks(answer)
    if left:
        before = next((check for check in failed if same_question(check, left[0])), None)
        mend(arguments, answer, Trials(asking, left[0], base, before))


def _allowance(arguments: Any) -> int:
    """Trials that a request gets, by what each costs: the same for the same request."""
    if not isinstance(arguments, Cases):
        return MOST_TRIALS
    units = Work.of(arguments).units
    return min(MOST_TRIALS, (MOST_UNITS * 5 // 4 - units) // units)
