"""What is judged of each part of a path."""

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    NOT_ASKED,
    UNDECIDED,
    Judged,
    asked_if,
    in_a_moment_v,
    stays_about,
    stays_within,
    within_rating,
)
from lastvolt_service.operations.lookup import look_up
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.wires.ampacity import (
    judge_temperature,
    nothing_left,
    table_current,
)
from lastvolt_service.operations.wires.drop_limits import (
    GIVEN,
)
from lastvolt_service.operations.wires.heated_wire import MODEL_BASIS
from lastvolt_service.operations.wires.path_parts import PathPart, Segment
from lastvolt_service.operations.wires.published_current import published_current
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
    some,
)
from lastvolt_service.tables.fuses import CONTINUOUS_SHARE, continuous_citation
from lastvolt_service.tables.insulation import insulation as kind_of_insulation
from lastvolt_service.tables.limits import (
    BURNS_W,
    CRANKING_A,
    GETS_HOT_S,
    HOTTEST_MULTIPLE,
    MOST_FOR_A_MOMENT,
    RATED,
    SOCKET_A,
)

RATING = Given("rating given by the caller")


# What is asked of a part in columns depends on the fields that were sent, and on no cell.
def contact_checks(
    part: PathPart,
    found: dict[str, Any],
    current_a: Numbers,
    duration_s: Numbers,
    is_moment: Flags,
    most_a: Numbers,
) -> Iterator[Checked]:
    """Judge what a contact drops and carries; `is_moment` where it does so for a moment only.

    One that is sound at `most_a`, of the fuse that its current blows, is no fault of this path.
    """
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
        cited = one_text(source) or ""
        may_v = pick(is_moment, in_a_moment_v(limit_v, current_a), limit_v)
        if (may_v > limit_v) is True:
            cited = COMMON_PRACTICE
        judged = stays_about(found[f"{part.column}_drop_v"], may_v)
        # One that is sound at its rating and carries more is too small, and not worn.
        ohm = segment.resistance_ohm
        at_rating = stays_about(segment.rating_a * ohm, may_v)
        too_small = (current_a > segment.rating_a) & (at_rating.verdict != FAIL)
        at_most = stays_about(pick(most_a < current_a, most_a, current_a) * ohm, may_v)
        blamed = part.is_contact & negate(too_small)
        blamed = blamed & negate((most_a < current_a) & (at_most.verdict != FAIL))
        yield Checked(
            "contact_drop",
            asked_if(blamed, judged),
            "V",
            cited,
            **so,
        )
        heat = _contact_heat(part, found, limit_v, current_a, duration_s)
        yield Checked("contact_heat", asked_if(blamed, heat), "W", COMMON_PRACTICE, **so)
        is_fuse = are(segment.part, "fuse")
        judged = within_rating(current_a, segment.rating_a)  # unknown without a rating
        bears = (judged.verdict == FAIL) & (current_a <= MOST_FOR_A_MOMENT * segment.rating_a)
        judged = judged._replace(verdict=pick(bears & is_moment, MARGINAL, judged.verdict))
        rated = part.is_contact & (given(segment.rating_a) | are(segment.part, RATED))
        kind = one_text(segment.part)
        yield Checked(
            "contact_current",
            asked_if(rated & negate(is_fuse), judged),
            "A",
            RATING,
            detail=kind if kind == "relay" else None,
            **so,
        )
        judged = _fuse_load(segment.rating_a, current_a, duration_s)
        cited = continuous_citation()
        yield Checked("fuse_load", asked_if(rated & is_fuse, judged), "A", cited, **so)


def _contact_heat(
    part: PathPart,
    found: dict[str, Any],
    limit_v: Numbers,
    current_a: Numbers,
    duration_s: Numbers,
) -> Judged:
    """Judge the heat of a poor contact; of one that stays cool nothing is said."""
    burns_w: Numbers = NOT_GIVEN
    for kind, watts in BURNS_W.items():
        burns_w = pick(are(part.segment.part, kind), watts, burns_w)
    made_w = found[f"{part.column}_power_w"]
    is_poor = found[f"{part.column}_drop_v"] > HOTTEST_MULTIPLE * limit_v
    share = pick(duration_s < GETS_HOT_S, duration_s / GETS_HOT_S, 1.0)
    burns = part.is_contact & is_poor & (made_w * share > burns_w)
    # A relay of which nobody tells the rating may be a large one, bolted down.
    rating_a, is_relay = part.segment.rating_a, are(part.segment.part, "relay")
    burns = burns & negate(is_relay & (pick(given(rating_a), rating_a, current_a) >= SOCKET_A))
    judged = stays_within(made_w, burns_w)
    unsure = is_relay & negate(given(rating_a))
    judged = judged._replace(verdict=pick(unsure, UNDECIDED, judged.verdict))
    return asked_if(burns, judged)


def blown_a(parts: Sequence[PathPart], current_a: Numbers, duration_s: Numbers) -> Numbers:
    """Least rating of the fuses that do not hold a current; endless where all do. [A]."""
    least_a: Numbers = math.inf
    for segment in (part.segment for part in parts if is_sent(part.segment.part)):
        blows = _fuse_load(segment.rating_a, current_a, duration_s).verdict == FAIL
        blows = blows & are(segment.part, "fuse") & (segment.rating_a < least_a)
        least_a = pick(blows, segment.rating_a, least_a)
    return least_a


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


def wire_checks(
    part: PathPart,
    found: dict[str, Any],
    current_a: Numbers,
    duration_s: Numbers,
    overdrawn: str | None,
) -> Iterator[Checked]:
    """Judge how warm a wire gets, and hold its current against the published one."""
    segment = part.segment
    so: dict[str, Any] = {"place": part.column, "part": segment.name, "detail": overdrawn}
    if is_sent(segment.ambient_c) or is_sent(segment.temperature_c):
        limit_c = NOT_GIVEN if part.wire is None else part.wire.limit_c
        hot_c = found[f"{part.column}_temperature_c"]
        heated = judge_temperature(hot_c, limit_c, segment.ambient_c)
        judged = Judged(*map(pick, [part.is_heated] * 4, heated, _as_given(segment)))
        # Beside one that heats up without end, nobody knows how warm a wire gets.
        verdict = pick(part.is_heated & negate(given(hot_c)), NOT_ASKED, judged.verdict)
        judged = judged._replace(verdict=pick(part.runs_away, FAIL, verdict))
        basis: str = GIVEN
        if part.wire is not None and isinstance(limit_c, float) and given(limit_c):
            basis = part.wire.one.insulation.citation
        so["detail"] = overdrawn or nothing_left(limit_c, segment.ambient_c)
        yield Checked("conductor_temperature", judged, "degC", basis, **so)
    if is_sent(segment.ambient_c):
        yield _by_table(part, current_a, duration_s, so)


def _by_table(
    part: PathPart, current_a: Numbers, duration_s: Numbers, so: dict[str, Any]
) -> Checked:
    """Hold a current against the published one, which the heat balance does not know."""
    may_a: Numbers = NOT_GIVEN
    basis = MODEL_BASIS
    if part.wire is not None:
        table = published_current(part.wire)
        may_a = table.current_a
        if not isinstance(may_a, np.ndarray) and given(may_a):
            basis = table.citation()
        is_brief = given(duration_s)
        if some(is_brief):
            brief_a = table_current(part.wire, may_a, duration_s, math.inf)
            may_a = pick(is_brief, brief_a, may_a)
    judged = stays_within(current_a, may_a)
    asked = part.is_heated & given(may_a)
    return Checked("permissible_current", asked_if(asked, judged), "A", basis, **so)


def _as_given(segment: Segment) -> Judged:
    """A conductor that is hotter than its insulation bears, whatever heats it; else nothing."""
    kinds = look_up(_limit_of, insulation=segment.insulation)
    own_c = segment.insulation_limit_c
    limit_c = pick(given(own_c), own_c, kinds.numbers(lambda limit_c: limit_c))
    judged = stays_within(segment.temperature_c, limit_c, 0.0)
    return asked_if(judged.verdict == FAIL, judged)


def _limit_of(insulation: str | None) -> float | None:
    return None if insulation is None else kind_of_insulation(insulation).limit_c
