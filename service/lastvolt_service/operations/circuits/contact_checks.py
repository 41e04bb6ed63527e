"""What the contacts of a circuit drop and carry, and for how long."""

import math
from collections.abc import Iterator
from dataclasses import replace

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fuse_checks import GIVEN, fuse_load
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.fuses.profile import (
    OF_CIRCUIT,
    STARTER_CONTROL,
    STARTER_MOTOR,
    STARTER_SOLENOID,
)
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    Judged,
    flatly,
    in_a_moment_v,
    stays_about,
    stays_within,
    within_rating,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables.limits import (
    GETS_HOT_S,
    HOTTEST_MULTIPLE,
    MOMENT_S,
    MOST_FOR_A_MOMENT,
    RATED,
    Limit,
    burns_w,
    contact_limit,
)
from lastvolt_service.tables.load_profiles import load_profiles

# An isolator bears a starter's current, which is some times its rating, for less than that. Common
# practice.
MOST_FOR_SECONDS = 5.0
# Of what a contact carries, from which on a pilot lamp beside a plunger makes no difference. Common
# practice.
ALMOST_ALL = 0.9
# A blade fuse bears so many times its rating until a plunger is home. Common practice.
FUSE_FOR_A_MOMENT = 2.0


def sound_contact(kind: str, current_a: float, carries_s: float) -> Limit:
    """What a sound contact may drop at a current that it carries for so long."""
    limit = contact_limit(kind, current_a)
    if carries_s >= MOMENT_S:
        return limit
    limit_v = float(in_a_moment_v(limit.limit_v, current_a))
    return limit if limit_v == limit.limit_v else Limit(limit_v, COMMON_PRACTICE)


def contact_checks(state: State, metal: Metal, duration_s: float | None) -> Iterator[Checked]:
    """Judge every contact: what it drops, how hot it gets, and what it is rated for."""
    for part, drop, current in state.carrying("resistors"):
        if part.kind != "contact":
            continue
        amps, kind = abs(current), part.asked.part
        limit = contact_limit(kind, amps)
        on_s = carries_s(state, metal, part, duration_s)
        may = sound_contact(kind, amps, on_s)
        judged = stays_about(abs(drop), may.limit_v)
        yield Checked("contact_drop", judged, "V", may.citation, part=part.name, detail=kind)
        heated_w = abs(drop) * amps * min((duration_s or math.inf) / GETS_HOT_S, 1.0)
        rating = part.asked.rating_a
        most_w = burns_w(kind, float(rating) if known(rating) else NOT_GIVEN)
        if abs(drop) > HOTTEST_MULTIPLE * limit.limit_v and heated_w > most_w:
            judged = stays_within(abs(drop) * amps, most_w)
            yield Checked("contact_heat", judged, "W", COMMON_PRACTICE, part=part.name)
        if not known(rating):
            if kind == RATED:
                judged = flatly(UNKNOWN, amps)
                yield Checked("contact_current", judged, "A", GIVEN, part=part.name)
            continue
        if kind == "fuse":
            yield _of_fuse(state, metal, part, duration_s)
        else:
            judged = within_rating(amps, rating)
            isolates = part.asked.isolates or _is_cranked(metal, part)
            judged = for_a_while(judged, on_s, isolates=isolates)
            yield Checked("contact_current", judged, "A", Given(f"rating {GIVEN}"), part=part.name)


def _of_fuse(state: State, metal: Metal, part: Part, duration_s: float | None) -> Checked:
    """Judge a fuse; one that bears a plunger's first moment may open only if that sticks."""
    amps = abs(state.current_a(part.name))
    found = fuse_load(part, amps, duration_s)
    if found.verdict == "fail":
        found = replace(found, detail=_takes_most(state, metal, part, amps))
    on_s = carries_s(state, metal, part, duration_s)
    if found.verdict != "fail" or on_s >= MOMENT_S:
        return found
    moment = fuse_load(part, amps, on_s)
    eased = found.judged._replace(verdict=MARGINAL)
    bears = moment.verdict != "fail" or amps <= FUSE_FOR_A_MOMENT * float(part.asked.rating_a)
    return replace(found, judged=eased) if bears else found


def _takes_most(state: State, metal: Metal, part: Part, amps: float) -> str | None:
    """Of several loads behind a fuse the one that takes most of what flows through it.

    Or the only one, where that is a motor that stands.
    """
    loads = metal.loads_behind(part)
    takes_a = {load: abs(state.current_a(load.name)) for load in loads}
    most = max(takes_a, key=takes_a.__getitem__, default=None)
    if most is None or takes_a[most] <= amps / 2:
        return None
    return most.name if len(takes_a) > 1 or stands(most) else None


def carries_s(state: State, metal: Metal, part: Part, duration_s: float | None) -> float:
    """How long a contact carries its current: what moves a plunger does so for a moment. [s]."""
    loads = metal.loads_behind(part)
    on_s = duration_s or math.inf
    takes_a = {load: abs(state.current_a(load.name)) for load in loads}
    moving_a = sum(amps for load, amps in takes_a.items() if _pulls_in(state, load))
    moves = moving_a > 0.0 and moving_a >= ALMOST_ALL * sum(takes_a.values())
    return min(on_s, load_profiles()[STARTER_SOLENOID].first_time_s) if moves else on_s


def _is_cranked(metal: Metal, part: Part) -> bool:
    """Whether a starter motor hangs on a contact: what switches it off is an isolator."""
    return any(load.asked.circuit == STARTER_MOTOR for load in metal.loads_behind(part))


def _pulls_in(state: State, load: Part) -> bool:
    """Whether it is a starter's solenoid that moves its plunger."""
    needed_v = load.needed_v
    return is_starters_coil(load) and needed_v is not None and state.across_v(load.name) >= needed_v


def stands(load: Part) -> bool:
    """Whether a motor makes no voltage; a starter is reckoned so by custom."""
    return (
        load.kind == "motor" and load.asked.back_v == 0.0 and load.asked.circuit not in OF_CIRCUIT
    )


def is_starters_coil(load: Part) -> bool:
    """Whether a load is a starter's solenoid, to pull in; one that is held did so before."""
    windings = getattr(load.asked, "windings", None)
    two = windings is not None and known(windings.pull_in_resistance_ohm)
    return not load.is_held and (two or load.asked.circuit == STARTER_CONTROL)


def for_a_while(judged: Judged, duration_s: float, *, isolates: bool) -> Judged:
    """The same, of what is rated for hours and carries its current for a moment, or for seconds."""
    multiple = judged.value / judged.limit
    if judged.verdict == FAIL and duration_s < MOMENT_S and multiple <= MOST_FOR_A_MOMENT:
        return judged._replace(verdict=MARGINAL)
    if judged.verdict == FAIL and isolates and duration_s < GETS_HOT_S:
        bears_more = multiple <= MOST_FOR_SECONDS  # its maker tells
        return judged._replace(verdict=UNKNOWN) if bears_more else judged
    return judged
