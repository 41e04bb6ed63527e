"""What is asked of a start: the plunger in every stage, and all parts as a circuit's are judged."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.assembly import open_coil_v
from lastvolt_service.operations.circuits.bare_wires import unfused
from lastvolt_service.operations.circuits.building import build
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.letting_go import LettingGo
from lastvolt_service.operations.circuits.load_checks import costliest
from lastvolt_service.operations.circuits.load_way import A_BATTERYS_SHARE, NOTHING_A, Currents
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part
from lastvolt_service.operations.circuits.off_by_design import barred, barring
from lastvolt_service.operations.circuits.part_checks import Rested, joints_out, part_checks
from lastvolt_service.operations.circuits.ruled import Ruled
from lastvolt_service.operations.circuits.source_checks import source_checks
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.operations.circuits.weakest import ALIKE, OF_LOADS, UNSOUND
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    VERDICTS_WORST_FIRST,
    flatly,
    reaches,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check, Given
from lastvolt_service.operations.solenoids.descriptions import SCALING
from lastvolt_service.operations.starting.feeds import Feeds
from lastvolt_service.operations.starting.stages import (
    LEAST_FEED_SHARE,
    Stage,
    as_it_cranks,
    heard,
    let_go,
)
from lastvolt_service.operations.starting.starter import (
    HOLD_IN,
    MAIN,
    MOTOR,
    PULL_IN,
    StartSequenceRequest,
    with_starter,
)
from lastvolt_service.operations.starting.windings import WINDINGS, of_plunger
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables.load_profiles import load_profiles
from lastvolt_service.words import catalogue

NAME = "start-sequence"
GIVEN = Given("given by the caller")
# Told of the stages themselves, or of the wires with the main contact in its place.
_TOLD_ELSEWHERE = frozenset({"hold", "relay_rest", "first_wins", "no_fuse", "motor_stands"})
# Of its voltage, within the battery: a motor that cranks leaves more at the posts. Common practice.
STANDS_SHARE = 0.15
# Of the voltage at the posts, on the way to terminal 50. Common practice.
MUCH_SHARE = 0.1
# What jumper leads that are thick enough lose, out and back. [V]. Common practice.
MOST_OF_LEADS_V = 1.5
# What is said of a contact that is to be tightened.
_OF_CONTACTS = frozenset({"contact_drop", "contact_heat"})
_OF_MOTOR = frozenset({"load_voltage", "load_off"})
_OF_WINDINGS = frozenset({"load_voltage", "not_joined"})


def start_checks(
    asked: StartSequenceRequest, starts: Sequence[Sequence[Stage]]
) -> list[tuple[Check, ...]]:
    """Judge the start in every case: its sources, its stages and its parts.

    Parameters
    ----------
    asked : StartSequenceRequest
        What was asked.
    starts : sequence of sequence of Stage
        Of each case, as far as it gets.

    Returns
    -------
    list of tuple of Check
        Of each case; a question that several stages put is answered by the worst of them.
    """
    rested = [_rested(asked, case, found) for case, found in zip(asked.cases, starts, strict=True)]
    of_parts = iter(part_checks([each for some in rested for each in some]))
    words, told, feeds = catalogue()[NAME], [], Feeds(asked)
    for case, found, some in zip(asked.cases, starts, rested, strict=True):
        at_last = let_go(asked, case, found)
        going = LettingGo(
            asked.circuit, case, Ruled.of(asked.circuit, case), starter=asked.starter.nodes
        )
        checks = [
            *_of_sources(asked, case, some[-1]),
            *of_plunger(asked, case, some[0], found),
            *_of_stages(asked, case, found, feeds),
            *_fed_at_last(case, at_last, found, feeds),
            *(check for _ in some for check in _asked(asked, next(of_parts))),
            *_unfused(asked, case),
            *going.checks([(asked.circuit, case, some[0].state)])[0],
        ]
        fed_over = _fed_over(at_last)
        checks = [c for c in checks if c.code not in _OF_CONTACTS or c.part not in fed_over]
        told.append(tuple(replace(each, case=case.name).told(words) for each in _worst_of(checks)))
    return told


def _rested(asked: StartSequenceRequest, case: Case, found: Sequence[Stage]) -> list[Rested]:
    """The states in which parts are judged: both windings in, and the cables while it cranks.

    With the plunger home the pull-in winding is in for a moment; else for as long as the key is on.
    """
    first, out = found[0], joints_out(asked.circuit, case)
    nominal = int(nominal_of(first.state.model.emf_v, asked.sure_v))
    moment_s = load_profiles()[STARTER_SOLENOID].first_time_s
    held_s = case.usual_duration_s
    in_s = min(held_s, moment_s) if first.pulls else held_s
    off = Ruled.of(asked.circuit, case).off
    of_key = Rested(first.state, nominal, in_s, open_coil_v(first.state), True, out, off)
    cranks = as_it_cranks(asked, case, found)
    if cranks is None:
        return [of_key]
    is_partial = bool(case.without)
    return [
        of_key,
        Rested(cranks, nominal, held_s, open_coil_v(cranks), is_partial, out, off),
    ]


def _of_sources(asked: StartSequenceRequest, case: Case, rested: Rested) -> Iterator[Checked]:
    yield from source_checks(asked.circuit, case, rested.state, rested.nominal, asked.sure_v)


def _asked(asked: StartSequenceRequest, checks: Sequence[Checked]) -> Iterator[Checked]:
    """What is asked of parts in a start, which no fault outlasts by hours."""
    motor, beside = asked.starter.called(MOTOR), {load.name for load in asked.circuit.loads}
    pull_in = asked.starter.called(PULL_IN)
    windings = {pull_in, asked.starter.called(HOLD_IN)}
    hot = {(c.part, c.detail) for c in checks if c.code == "fuse_overload" and c.verdict == "fail"}
    main_drop = (asked.starter.called(MAIN), "contact_drop")
    main = next((c for c in checks if (c.part, c.code) == main_drop), None)
    for check in checks:
        if check.code in _TOLD_ELSEWHERE or (check.part == motor and check.code in _OF_MOTOR):
            continue
        if check.part == pull_in and check.code == "load_off":  # with the plunger home it rests
            continue
        if check.part in windings and check.code in _OF_WINDINGS:  # told of the starter
            continue
        if check.code == "fuse_load" and check.detail in windings:  # as they do in every start
            yield replace(check, detail=None)
            continue
        for_hours = check.code == "fuse_protection" and (check.part, check.detail) not in hot
        # What other loads lack for so long is no fault of the car: headlamps dim while it cranks.
        for_seconds = check.code in OF_LOADS and check.part in beside
        if for_seconds and check.verdict in UNSOUND:  # and no weak point, either
            eased = check.judged._replace(verdict=MARGINAL, margin=NOT_GIVEN)
            yield replace(check, judged=eased)
        elif main and _is_most_of(main, check, motor):
            yield replace(check, detail=asked.starter.called(MAIN))
        elif for_hours and check.verdict == "fail":
            yield replace(check, judged=check.judged._replace(verdict=MARGINAL))
        else:
            yield check


def _is_most_of(main: Checked, check: Checked, motor: str) -> bool:
    """Whether a main contact that hardly conducts loses what the motor lacks, current or not."""
    is_path = (check.code, check.part, check.verdict) == ("path_drop", motor, "fail")
    return is_path and main.judged.value > check.judged.value / 2


def _unfused(asked: StartSequenceRequest, case: Case) -> Iterator[Checked]:
    """Wires without a fuse; the main cable, which customarily has none, is known by its motor."""
    model = build(with_starter(asked, back_v=0.0), case)
    yield from unfused(model, Metal(model), Bears([model]))


def _left_open(asked: StartSequenceRequest, case: Case, node: str) -> list[str]:
    """What a case leaves out and nothing reaches a terminal without: an inhibitor, or a strap."""
    circuit = with_starter(asked, back_v=0.0)
    ends = node, asked.starter.ground_node
    left_out = {*case.without, asked.starter.called(MAIN)}
    needed = {each.name for each in (*circuit.branches, *circuit.relays)} & {*case.without}
    if live(circuit, left_out).feeds(ends) or not live(circuit, left_out - needed).feeds(ends):
        return []
    for each in sorted(needed):
        if live(circuit, left_out - (needed - {each})).feeds(ends):
            needed.remove(each)
    return sorted(needed)


def _of_stages(
    asked: StartSequenceRequest, case: Case, found: Sequence[Stage], feeds: Feeds
) -> Iterator[Checked]:
    for stage in found:
        yield from _relays(stage)
        if stage.name == "key_off":
            yield from _lets_go(case, stage, feeds)
        else:
            code = "pull_in_force" if stage.name == "key_on" else "hold_force"
            judged = reaches(stage.ampere_turns, stage.needed)
            yield Checked(code, judged, "A", WINDINGS, part=stage.starter.name, detail=stage.name)
            if code == "pull_in_force" and judged.verdict == FAIL:
                left_open = _left_open(asked, case, asked.starter.control_node)
                if left_open or _leads_nowhere(stage):
                    yield from _not_joined(stage, left_open)
                else:
                    yield from _lost_before(stage)
        if stage.name == "cranking" and not stage.breaks_off:
            judged, detail = reaches(stage.across_v(MOTOR), stage.starter.needed_v), None
            if not known(stage.starter.back_v):
                judged, detail = flatly(UNKNOWN), "stands"
            name = stage.starter.name
            yield Checked("cranking_voltage", judged, "V", GIVEN, part=name, detail=detail)
            if left_open := _left_open(asked, case, asked.starter.stud_node):
                yield from _not_joined(stage, left_open)
            judged = reaches(stage.current_a(MOTOR), stage.least_motor_a, 0.0)
            yield Checked("motor_current", judged, "A", COMMON_PRACTICE, part=stage.starter.name)
            if heard(stage) == "slow_cranking":
                yield from _of_leads(stage)
            yield from _stands(stage)


def _not_joined(stage: Stage, left_open: Sequence[str]) -> Iterator[Checked]:
    """Say what is open: nothing flows, and no part loses anything."""
    judged = flatly(FAIL, 0.0)
    name, detail = stage.starter.name, ", ".join(left_open) or None
    yield Checked("not_joined", judged, "V", COMMON_PRACTICE, part=name, detail=detail)


def _leads_nowhere(stage: Stage) -> bool:
    """Whether no metal feeds terminal 50, whatever relays do: nothing flows there."""
    part = stage.state.named(stage.starter.called(HOLD_IN))
    if part is None or abs(stage.current_a(HOLD_IN)) >= NOTHING_A:
        return False
    return not Metal(stage.state.model).all_sides.feed(part)


def _lost_before(stage: Stage) -> Iterator[Checked]:
    """Say what is lost before terminal 50, and the most in which part."""
    posts_v = float(stage.state.flow("sources").drop_v[0])
    lost_v = posts_v - abs(stage.across_v(HOLD_IN))
    part = stage.state.named(stage.starter.called(HOLD_IN))
    most = costliest(Currents(stage.state), part) if part is not None else None
    if most is None or lost_v <= MUCH_SHARE * posts_v:
        return
    name, model = most.part.name, stage.state.model
    opened = [relay for relay in model.relays if relay.name == name and _is_open(stage, most.part)]
    if not opened:
        judged = flatly(FAIL, lost_v)
        yield Checked("control_drop", judged, "V", COMMON_PRACTICE, part=name)
    elif name in barring(stage.state):
        yield barred(stage.state, name, stage.starter.name, FAIL)
    elif (coil_v := abs(stage.state.across_v(name))) < opened[0].drop_out_v:
        # With more its coil is judged as any is; its contact is not to blame.
        judged = flatly(FAIL, coil_v)
        yield Checked("coil_unfed", judged, "V", COMMON_PRACTICE, part=name)


def _is_open(stage: Stage, contact: Part) -> bool:
    place = stage.state.model.parts["contacts"].index(contact)
    return not stage.state.solution.closed[place]


def _of_leads(stage: Stage) -> Iterator[Checked]:
    """Say what the leads of a battery that helps lose, where too little reaches the motor."""
    state = stage.state
    for helper, _, gives_a in [*state.carrying("sources")][1:]:
        if gives_a <= A_BATTERYS_SHARE * stage.current_a(MOTOR):
            continue
        leads = {
            part.name: abs(drop_v)
            for part, drop_v, current in state.carrying("wires")
            if math.isclose(abs(current), gives_a, rel_tol=ALIKE)
        }
        judged = stays_within(sum(leads.values()), MOST_OF_LEADS_V)
        if judged.verdict == FAIL:
            most = max(leads, key=leads.__getitem__)
            yield Checked("lead_drop", judged, "V", COMMON_PRACTICE, part=most, detail=helper.name)


def _stands(stage: Stage) -> Iterator[Checked]:
    """Say that a motor which makes no voltage stands, where it takes what no cranking one does."""
    model, amps = stage.state.model, stage.current_a(MOTOR)
    if stage.starter.back_v == 0.0 and amps * model.internal_ohm > STANDS_SHARE * model.drive_v:
        judged = flatly(FAIL, amps)
        yield Checked("motor_stands", judged, "A", COMMON_PRACTICE, part=stage.starter.name)


def _relays(stage: Stage) -> Iterator[Checked]:
    """Relays that must stay closed in the sag, or that find no rest."""
    model, solution = stage.state.model, stage.state.solution
    for index, relay in enumerate(model.relays):
        opens = relay.name in stage.dropped or index in solution.chatter
        if opens or relay.name in stage.shall_hold:
            volts = abs(float(stage.state.flow("coils").drop_v[index]))
            judged = reaches(volts, relay.drop_out_v)
            if opens:
                judged = judged._replace(verdict=FAIL)
            yield Checked("relay_lets_go", judged, "V", SCALING, part=relay.name, detail=stage.name)


def _fed_at_last(
    case: Case, stage: Stage | None, found: Sequence[Stage], feeds: Feeds
) -> Iterator[Checked]:
    """What would keep the starter running, once what keeps it from starting is mended."""
    if stage is not None and stage is not found[-1] and stage.comes_in == "fed":
        yield from _lets_go(case, stage, feeds)


def _fed_over(stage: Stage | None) -> set[str]:
    """Contacts over which terminal 50 is fed with the key let go: none of them is to be tightened.

    They carry what comes in there, and nothing else.
    """
    if stage is None or stage.comes_in != "fed":
        return set()
    feed_a = stage.current_a(PULL_IN) + stage.current_a(HOLD_IN)
    return {
        part.name
        for part, _, current in stage.state.carrying("resistors")
        if part.kind == "contact" and math.isclose(abs(current), feed_a, rel_tol=LEAST_FEED_SHARE)
    }


def _lets_go(case: Case, stage: Stage, feeds: Feeds) -> Iterator[Checked]:
    """Whether the plunger goes back when the key is let go; else over what terminal 50 is fed."""
    judged = stays_within(abs(stage.ampere_turns), stage.lets_go_below)
    if judged.verdict != FAIL and stage.comes_in == "fed":
        # A fault of its own, however little it is today.
        judged = judged._replace(verdict=MARGINAL)
    elif judged.verdict != FAIL and not known(stage.starter.hold_ampere_turns):
        judged = flatly(UNKNOWN, judged.value)
    detail: str = stage.comes_in
    comes_in = stage.comes_in
    so = {"part": stage.starter.name, "detail": detail}
    yield Checked("release_force", judged, "A", WINDINGS, **so)
    if comes_in == "unequal" or (comes_in == "drawn" and judged.verdict != FAIL):
        return
    if way := stage.way_to_50:
        told = flatly(judged.verdict, abs(stage.incoming_a))
        if comes_in == "fed":
            _, part = max(feeds.past_key(case, way) or way)
            detail = "fed_by_switch" if part in feeds.switches else detail
        else:
            _, part = next(iter(feeds.beside(case, way)), way[0])
        yield Checked("at_terminal_50", told, "A", WINDINGS, part=part, detail=detail)


def _worst_of(checks: Sequence[Checked]) -> list[Checked]:
    """Each question once, as it comes out worst."""
    found: dict[tuple[str, Any, str | None], Checked] = {}
    for check in checks:
        # Each stage is a question of its own.
        detail = check.detail if check.code in {"pull_in_force", "hold_force"} else None
        about = (check.code, check.part, detail)
        if about not in found or _badness(check) < _badness(found[about]):
            found[about] = check
    return [*found.values()]


def _badness(check: Checked) -> tuple[int, float]:
    judged = check.judged
    margin = float(judged.margin) / max(abs(float(judged.limit)), 1e-9)
    if math.isnan(margin):  # of what has no limit the most is told
        margin = -abs(float(judged.value)) if judged.value == judged.value else -math.inf
    return VERDICTS_WORST_FIRST.index(check.verdict), margin
