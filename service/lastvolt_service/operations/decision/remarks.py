"""What a decision rests on, in sentences with their codes and numbers."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from lastvolt_service.operations.results import Check
from lastvolt_service.units import UNITS
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

_SUFFIXES = {unit.symbol: unit.suffix for unit in UNITS}


@dataclass(frozen=True, slots=True)
class Remark:
    """One sentence about a decision, with its code and its numbers."""

    code: Annotated[str, "what kind of remark it is, in a word that stays the same"]
    message: Annotated[str, "the same in a sentence"]
    case: Annotated[str | None, "the case that shows it, as the request names it"] = None
    part: Annotated[
        str | None, "the part that it is about, as the request names it, or several in a row"
    ] = None
    check: Annotated[str | None, "code of the check that it repeats"] = None
    values: Annotated[dict[str, Annotated[float, "the number"]], "its numbers by name"] = field(
        default_factory=dict
    )


def remark(
    code: str,
    *,
    case: str | None = None,
    part: str | None = None,
    check: Check | None = None,
    values: Mapping[str, float] | None = None,
    of: str = "relay-retrofit",
) -> Remark:
    """Put a remark of an operation into words."""
    told = dict(values or {})
    if check is not None:
        case, part, suffix = check.case, check.part, _SUFFIXES[check.unit]
        numbers = {"value": check.value, "limit": check.limit}
        told = {f"{name}{suffix}": found for name, found in numbers.items() if found is not None}
    texts = {"case": case, "part": part, "check": check.message if check else None}
    named = Named(None, told).of_check(None, None, "", texts)
    message = say(catalogue()[of].reasons[code], named)
    return Remark(code, message, case, part, check.code if check else None, told)
