"""What is said in a decision of what stays poor, and of a sag that need not be supposed."""

from collections.abc import Set as AbstractSet
from dataclasses import replace

from lastvolt_service.operations.circuits.judge import Judged
from lastvolt_service.operations.results import Check
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

OF_STAYING = {"contact_drop": "drop_that_stays", "contact_heat": "heat_that_stays"}


def staying(judged: Judged, names: AbstractSet[str]) -> Judged:
    """The same, but that nobody is told to clean or replace what stays as it is."""
    if not names:
        return judged
    return replace(judged, checks=tuple(_said(check, names) for check in judged.checks))


def in_its_start(judged: Judged) -> Judged:
    """The same without a relay's hold in a supposed sag: a start is gone through, and tells it.

    None is gone through in a case with something held: there it is still supposed.
    """
    if judged.case.held:
        return judged
    checks = (each for each in judged.checks if (each.code, each.verdict) != ("hold", "unknown"))
    return replace(judged, checks=tuple(checks))


def _said(check: Check, names: AbstractSet[str]) -> Check:
    if check.verdict != "fail" or check.part not in names or check.code not in OF_STAYING:
        return check
    texts = {"part": check.part, "case": check.case, "detail": check.detail}
    named = Named().of_check(check.value, check.limit, check.unit, texts)
    sentence = catalogue()["relay-retrofit"].reasons[OF_STAYING[check.code]]
    return replace(check, message=say(sentence, named))
