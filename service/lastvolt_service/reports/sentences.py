"""What an operation says for itself, and what is said of one that has no sentences of its own."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

from lastvolt_service.operations.results import Result
from lastvolt_service.reports.amounts import amount
from lastvolt_service.units import unit_of

_MOST_NUMBERS = 4


@dataclass(frozen=True, slots=True)
class Told:
    """An answer in sentences, as plain text.

    Attributes
    ----------
    headline : str
        The answer in one sentence.
    facts : tuple of str
        What else to know, most important first.
    said : tuple of str
        Names of checks that these sentences already tell.
    verdict : str or None
        In place of the worst of the checks; empty for none.
    lists_checks : bool
        Whether further failed checks are told after the facts.
    said_of : str or None
        Part whose checks of these names the sentences tell; by default all.
    """

    headline: str
    facts: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    verdict: str | None = None
    lists_checks: bool = True
    said_of: str | None = None


def other(_request: Mapping[str, Any], answer: Result) -> Told:
    """Tell any answer by its decisive check and its first numbers.

    Parameters
    ----------
    _request : mapping
        As loaded.
    answer : Result
        What the operation returned.

    Returns
    -------
    Told
    """
    numbers: list[str] = []
    for field in fields(answer):
        value, unit = getattr(answer, field.name), unit_of(field.name)
        if isinstance(value, float) and unit is not None and len(numbers) < _MOST_NUMBERS:
            name = field.name.removesuffix(unit.suffix).replace("_", " ")
            numbers.append(f"{name} {amount(value, unit.symbol)}")
    counted = [check for check in answer.checks if check.verdict == "pass"]
    headline = f"{len(counted)} of {len(answer.checks)} checks passed."
    listed = ", ".join(numbers)
    return Told(headline, (f"{listed[:1].upper()}{listed[1:]}.",) if numbers else ())
