"""What is judged of each part of a path."""

from collections.abc import Iterator, Sequence
from typing import Any

from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    Judged,
    asked_if,
    stays_about,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import (
    Given,
)
from lastvolt_service.operations.wires.ampacity import judge_temperature
from lastvolt_service.operations.wires.drop_limits import (
    GIVEN,
)
from lastvolt_service.operations.wires.path_parts import (
    PathPart,
)
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    are,
    given,
    is_sent,
    negate,
    one_text,
    pick,
)
from lastvolt_service.tables.fuses import CONTINUOUS_SHARE, continuous_citation
from lastvolt_service.tables.limits import CRANKING_A, RATED

RATING = Given("rating given by the caller")


# What is asked of a part in columns depends on the fields that were sent, and on no cell.
def contact_checks(
    part: PathPart, found: dict[str, Any], current_a: Numbers, duration_s: Numbers
) -> Iterator[Checked]:
    """Judge what a contact drops and carries."""
    segment = part.segment
    so: dict[str, Any] = {"place": part.column, "part": segment.name}
    if is_sent(segment.part):
        limit_v: Numbers = NOT_GIVEN
        source: Texts = None
        if part.limit is not None and part.cranking_limit is not None:
            usual, cranking = part.limit, part.cranking_limit
            heavy = current_a >= CRANKING_A
            limit_v = pick(
                heavy,
                cranking.numbers(lambda limit: limit.limit_v),
                usual.numbers(lambda limit: limit.limit_v),
            )
            source = (cranking if heavy is True else usual).words(lambda limit: limit.citation)
        judged = stays_about(found[f"{part.column}_drop_v"], limit_v)
        # One that is sound at its rating and carries more is too small, and not worn.
        at_rating = stays_about(segment.rating_a * segment.resistance_ohm, limit_v)
        too_small = (current_a > segment.rating_a) & (at_rating.verdict != FAIL)
        yield Checked(
            "contact_drop",
            asked_if(part.is_contact & negate(too_small), judged),
            "V",
            one_text(source) or "",
            **so,
        )
        is_fuse = are(segment.part, "fuse")
        judged = stays_within(current_a, segment.rating_a)  # unknown without a rating
        rated = part.is_contact & (given(segment.rating_a) | are(segment.part, RATED))
        yield Checked(
            "contact_current", asked_if(rated & negate(is_fuse), judged), "A", RATING, **so
        )
        judged = _fuse_load(segment.rating_a, current_a, duration_s)
        cited = continuous_citation()
        yield Checked("fuse_load", asked_if(rated & is_fuse, judged), "A", cited, **so)


# Of its rating: what a fuse holds for a start. Common practice.
HELD_A_WHILE = 1.35


def _fuse_load(rating_a: Numbers, current_a: Numbers, duration_s: Numbers) -> Judged:
    """Hold a fuse to its share of the rating, or to what it holds for a while.

    It ages, and need not open, up to its rating; for a while, up to what fuses hold for minutes.
    """
    is_brief = given(duration_s)
    judged = stays_within(current_a, pick(is_brief, 1.0, CONTINUOUS_SHARE) * rating_a)
    holds_a = pick(is_brief, HELD_A_WHILE, 1.0) * rating_a
    ages = (judged.verdict == FAIL) & (current_a <= holds_a)
    return judged._replace(verdict=pick(ages, MARGINAL, judged.verdict))


def wire_checks(part: PathPart, found: dict[str, Any]) -> Iterator[Checked]:
    """Judge how warm a wire gets."""
    segment = part.segment
    if is_sent(segment.ambient_c):
        hot_c = found[f"{part.column}_temperature_c"]
        limit_c = NOT_GIVEN if part.wire is None else part.wire.limit_c
        judged = asked_if(part.is_heated, judge_temperature(hot_c, limit_c, segment.ambient_c))
        basis: str = GIVEN
        if part.wire is not None and isinstance(limit_c, float) and given(limit_c):
            basis = part.wire.one.insulation.citation
        yield Checked("conductor_temperature", judged, "degC", basis, part.column, segment.name)


def cold_wires(parts: Sequence[PathPart]) -> Checked:
    """Whether wires of a given temperature get too hot: nothing tells what heats or cools them."""
    cold = [part.is_wire & negate(part.is_heated) for part in parts]
    names = ", ".join(
        str(part.segment.name) for part, each in zip(parts, cold, strict=True) if each is True
    )
    where: Flags = False
    for each in cold:
        where = where | each
    judged = asked_if(where, Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN))
    return Checked("wires_heat", judged, "degC", GIVEN, detail=names or None)
