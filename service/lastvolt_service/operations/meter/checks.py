"""How readings are judged: each part, the whole path, what it adds up to, and the supply."""

from dataclasses import replace

from lastvolt_service.operations.fuses.profile import STARTER_CONTROL
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    MARGINAL_SHARE,
    PASS,
    UNDECIDED,
    UNKNOWN,
    WORN_MULTIPLE,
    Judged,
    stays_within,
)
from lastvolt_service.operations.meter.consistency import Consistency
from lastvolt_service.operations.meter.readings import (
    ContactReading,
    DropDiagnosisRequest,
    Readings,
    ReadPart,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.sources.supply import judge_system, judge_too_high, judge_too_low
from lastvolt_service.operations.wires.drop_limits import NOMINAL
from lastvolt_service.rows import NOT_GIVEN, given
from lastvolt_service.tables.limits import Limit, contact_limit

PATH_ADDS_UP = "Kirchhoff: what the path drops and what reaches the load make up the supply"
NEW_WIRE = "a new wire of this size, length and temperature at this current"
UNLESS_CRANKING = "unless_cranking"
_SUPPLY_IS = {
    ("supply", FAIL): "too_low",
    ("supply", MARGINAL): "low",
    (UNLESS_CRANKING, MARGINAL): "low_unless_cranking",
    ("supply", UNKNOWN): "unsettled",
    ("source_voltage", FAIL): "too_high",
    ("source_voltage", MARGINAL): "too_high",
    ("nominal_voltage", FAIL): "of_other_system",
}
LOWEST_NOMINAL_V = 6
# Of what a new wire drops: so far a length along a harness is off, or the current. Common practice.
WIRE_SHARE = 0.25
LITTLE_MORE = "little_more"
# Of the working current: what a load draws that sticks or is shorted. Up to it it may start, or
# another be on, too. Common practice.
OVERDRAWN_MULTIPLE = 3.0
WORKING = Given("working current given by the caller")


def _kind(check: Checked) -> tuple[str, int]:
    kind = UNLESS_CRANKING if check.detail == UNLESS_CRANKING else check.code
    return kind, int(check.judged.verdict)


def judge_supply(asked: DropDiagnosisRequest, nominal_v: float) -> tuple[Checked, ...]:
    """Judge whether the supply can be that of its system, and whether that is known."""
    if not given(asked.nominal_v) and nominal_v == LOWEST_NOMINAL_V:
        nothing = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        return (Checked("supply", nothing, "V", NOMINAL),)
    if not given(asked.supply_v):
        return ()
    supply_v, current_a = float(asked.supply_v), float(asked.current_a)
    return (
        judge_supply_voltage(supply_v, float(nominal_v), current_a, asked.circuit),
        judge_too_high(supply_v, float(nominal_v)),
        judge_system(supply_v, float(nominal_v)),
    )


def judge_supply_voltage(
    supply_v: float, nominal_v: float, current_a: float, circuit: str
) -> Checked:
    """Judge whether a battery keeps too little at a current, by the circuit that it feeds."""
    starts = circuit.startswith("starter")
    too_low = judge_too_low(supply_v, nominal_v, current_a, starts=starts)
    if circuit == STARTER_CONTROL and too_low.judged.verdict not in {FAIL, MARGINAL}:
        # The starter may have turned meanwhile, or not: then it is a flat one.
        at_rest = judge_too_low(supply_v, nominal_v, current_a, starts=False)
        if at_rest.judged.verdict == FAIL:
            judged = at_rest.judged._replace(verdict=MARGINAL)
            too_low = replace(at_rest, judged=judged, detail=UNLESS_CRANKING)
    return too_low


def judge_load(asked: DropDiagnosisRequest, held: Consistency) -> tuple[Checked, ...]:
    """Tell a load that draws more than it does at work, or than any load."""
    working_a = asked.working_current_a
    if held.doubt == "shorted":
        judged = Judged(float(asked.current_a), NOT_GIVEN, NOT_GIVEN, FAIL)
        return (Checked("load_current", judged, "A", COMMON_PRACTICE, detail="shorted"),)
    # Of a current that the wires contradict nobody knows what draws it.
    if held.doubt == "current_contradicts":
        return ()
    if not asked.current_a > WORN_MULTIPLE * working_a:
        return ()
    judged = stays_within(float(asked.current_a), float(working_a))
    if asked.current_a <= OVERDRAWN_MULTIPLE * working_a:
        judged = judged._replace(verdict=MARGINAL)
    return (Checked("load_current", judged, "A", WORKING),)


def supply_is(checks: tuple[Checked, ...]) -> str | None:
    """What is wrong with the supply itself; None for nothing."""
    return next((_SUPPLY_IS[_kind(each)] for each in checks if _kind(each) in _SUPPLY_IS), None)


def at_this_current(limit: Limit, share: float) -> Limit:
    """A limit in volts for the working current, at the share of it that flowed."""
    return replace(limit, limit_v=limit.limit_v * share)


def doubted(check: Checked, held: Consistency) -> Checked:
    """A check of readings that do not hold together is none; what is open fails."""
    keeps = check.verdict == "fail" and (
        held.doubt == "trickle" or (held.doubt == "open_part" and check.part in held.parts)
    )
    if held.doubt is None:
        return check
    if keeps:
        return replace(check, detail=held.doubt) if held.doubt == "open_part" else check
    return replace(check, judged=check.judged._replace(verdict=UNKNOWN), detail=held.doubt)


def matters(excess_v: float, whole: Limit) -> bool:
    """Whether an excess changes a decision: against what the whole path may drop."""
    return excess_v > MARGINAL_SHARE * whole.limit_v


def poor_from_v(each: ReadPart, whole: Limit) -> float:
    """From how much on a part is to be mended: what drops a little more than a sound one is not."""
    if isinstance(each.reading, ContactReading):
        return WORN_MULTIPLE * each.expected_v
    return worn_wire_v(each.expected_v, whole.limit_v)


def worn_wire_v(drop_v: float, whole_v: float) -> float:
    """From how much on a wire is poor, by what one as described drops, and the way may. [V]."""
    return drop_v + max(WIRE_SHARE * drop_v, MARGINAL_SHARE * whole_v)


def is_poor(each: ReadPart, whole: Limit) -> bool:
    """Whether a part is to be mended, whatever the meter errs by."""
    low_v = each.reading.measured_v - each.uncertainty_v
    return each.proven and low_v > poor_from_v(each, whole)


def is_unsure(each: ReadPart, whole: Limit) -> bool:
    """Whether a part that was read may be poor or sound."""
    poor_v = poor_from_v(each, whole)
    limit_v = each.expected_v if isinstance(each.reading, ContactReading) else poor_v
    may_be = may_be_poor(each.reading.measured_v, each.uncertainty_v, limit_v, poor_v)
    return may_be and not is_poor(each, whole)


def may_be_poor(drop_v: float, error_v: float, limit_v: float, poor_v: float) -> bool:
    """Whether a part may be poor by its drop and the error of that: a coarse meter cries no wolf.

    What drops within the limit of a sound one is taken for sound, and on a meter that sees nothing
    what is not poor as it stands.
    """
    sees_nothing = error_v > drop_v
    return drop_v + error_v > poor_v and drop_v > (poor_v if sees_nothing else limit_v)


def part_check(each: ReadPart, whole: Limit, share: float, working_a: float) -> Checked:
    """Hold a part against a new wire, or against what a sound contact drops."""
    reading = each.reading
    if isinstance(reading, ContactReading):
        limit = at_this_current(contact_limit(reading.part, working_a), share)
        found = held_against(
            "contact_drop", reading.measured_v, limit, each.excess_uncertainty_v, each
        )
        if is_unsure(each, whole):
            return replace(found, judged=found.judged._replace(verdict=UNDECIDED), detail=None)
        if found.verdict != "fail" or is_poor(each, whole):
            return found
        return replace(found, judged=found.judged._replace(verdict=MARGINAL), detail=LITTLE_MORE)
    judged = stays_within(reading.measured_v, each.expected_v)
    verdict = PASS
    if is_poor(each, whole):
        verdict = FAIL
    elif is_unsure(each, whole):
        verdict = UNDECIDED
    elif matters(each.hidden_v, whole):
        verdict = MARGINAL
    less = "drops_less_than_new" if judged.margin > each.excess_uncertainty_v else None
    return Checked(
        "wire_drop",
        judged._replace(verdict=verdict),
        "V",
        NEW_WIRE,
        place=each.column,
        part=reading.name,
        detail=LITTLE_MORE if each.proven and verdict == MARGINAL else less,
    )


def cable_check(each: ReadPart, limit: Limit, whole: Limit, *, is_within: bool) -> Checked:
    """Hold a starter's cable against its own limit; a sound one is thin, in a path that is good."""
    found = held_against("cable_drop", each.reading.measured_v, limit, each.uncertainty_v, each)
    if found.verdict != "fail" or is_poor(each, whole) or not is_within:
        return found
    return replace(found, judged=found.judged._replace(verdict=MARGINAL), detail="thin")


def held_against(
    code: str, value_v: float, limit: Limit, error_v: float, each: ReadPart | None = None
) -> Checked:
    """Hold a reading against a limit as far as its error lets."""
    judged = stays_within(value_v, limit.limit_v)
    near = abs(judged.margin) <= error_v
    return Checked(
        code,
        judged._replace(verdict=MARGINAL) if near else judged,
        "V",
        limit.citation,
        place="" if each is None else each.column,
        part=None if each is None else each.reading.name,
        detail="within_the_error" if near else None,
    )


def balance(taken: Readings) -> Checked:
    """Judge whether load and readings make up the supply."""
    judged = stays_within(abs(taken.unaccounted_v), taken.unaccounted_uncertainty_v, 0.0)
    detail = "not_read" if taken.missing_v > 0 else "read_twice" if judged.margin < 0 else None
    return Checked("balance", judged, "V", PATH_ADDS_UP, detail=detail)
