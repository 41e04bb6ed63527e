"""Contacts that are worn, and proposed parts that do not bear what they carry."""

from collections.abc import Iterator, Sequence

from lastvolt_service.operations.decision.ways import BOUNDS, TOLD_ONLY, WORKS, Tried
from lastvolt_service.operations.judging import WORN_MULTIPLE
from lastvolt_service.operations.results import Check

# What a poor part elsewhere makes fail, and mending that part cures.
BY_THE_REST = frozenset({"far_short"})
# A contact that takes as much is mended, whatever the load can spare: it makes heat.
WORTH_GAINING_SHARE = 0.5 / 12.0


def worn_in(tried: Tried, nominal_v: float) -> Iterator[Check]:
    """Drops of contacts that take so much that they are mended though the load can spare it."""
    for check in tried.found(frozenset({"contact_drop"})):
        if _takes_much(check, nominal_v) or _is_worn(check):
            yield check


def unfit(tried: Sequence[Tried], own: frozenset[str], nominal_v: float) -> tuple[Check, ...]:
    """Proposed parts that do not bear what they carry, with the rest as it is or mended."""
    with_relay = [each for each in reversed(tried) if each.treatment.relay]
    found = {
        (check.part, check.code): check
        for each in with_relay
        for judged in each.judged
        for check in judged.checks
        if check.part in own
        and check.verdict == "fail"
        and check.code not in WORKS | BOUNDS
        and (check.code not in TOLD_ONLY or _takes_much(check, nominal_v))
        and (
            check.code not in BY_THE_REST
            or all(way.found(BY_THE_REST, parts={check.part}) for way in with_relay)
        )
    }
    return tuple(found.values())


def _takes_much(check: Check, nominal_v: float) -> bool:
    return check.value is not None and check.value >= WORTH_GAINING_SHARE * nominal_v


def _is_worn(check: Check) -> bool:
    return (
        check.value is not None
        and check.limit is not None
        and check.value > WORN_MULTIPLE * check.limit
    )
