"""What happens when the key is turned: whether the starter pulls in, holds, cranks and lets go.

The network is brought to rest four times: with the key on and both windings in, with the main
contact closed and the motor at a stand, while it cranks, and with the key let go. The plunger's
force is by the ampere-turns of both windings, each with its sign: the pull-in winding returns
through the motor, and its current turns round when the key is let go. Nothing moves within a
stage: what bounces through a sag by its mass is called clicking here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.errors import NetworkFault
from lastvolt_service.laws import OHM
from lastvolt_service.operations.circuits.cases import Case, as_long_as_held
from lastvolt_service.operations.circuits.ruled import SWITCHES
from lastvolt_service.operations.circuits.source_checks import battery_cautions
from lastvolt_service.operations.circuits.state_steps import LOOPS
from lastvolt_service.operations.circuits.weakest import (
    BURSTS,
    GROSSLY,
    RUNS_ON,
    SETS_ALIGHT,
    burns,
    weakest,
)
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL, STARTER_MOTOR
from lastvolt_service.operations.judging import KEY_OHM, WORN_MULTIPLE, Verdict
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    STARTER,
    Check,
    Result,
    merge,
    worst,
)
from lastvolt_service.operations.solenoids.descriptions import SCALING
from lastvolt_service.operations.starting.stages import (
    Sound,
    Stage,
    StartStage,
    heard,
    off_the_motors_way,
    stages,
)
from lastvolt_service.operations.starting.start_checks import NAME, start_checks
from lastvolt_service.operations.starting.starter import StartSequenceRequest
from lastvolt_service.operations.starting.windings import WINDINGS
from lastvolt_service.operations.steps import Steps
from lastvolt_service.tables import Unproven
from lastvolt_service.words import case_name

OutcomeCode = Literal["silent", "hums", "buzzes", "slow", "runs_on", "starts"]
HEARD = Unproven("what a start sounds like at the key")
OUTCOMES: dict[Sound, OutcomeCode] = {
    "nothing": "silent",
    "click": "silent",
    "hum": "hums",
    "clicking": "buzzes",
    "slow_cranking": "slow",
    "runs_on": "runs_on",
}
# By which the starter itself draws too much, whatever else is sound.
DRIVES = frozenset({"made_for", "motor_stands"})
OUTCOMES_WORST_FIRST: tuple[OutcomeCode, ...] = (
    "runs_on",
    "silent",
    "hums",
    "buzzes",
    "slow",
    "starts",
)


@dataclass(frozen=True, slots=True)
class StartCase:
    """A start in one case."""

    name: Annotated[str, "the case as the request names it"]
    outcome: Annotated[
        OutcomeCode,
        "silent: nothing moves; hums: the plunger does not go home; buzzes: it goes home and lets "
        "go again; slow; runs_on after the key is let go; starts",
    ]
    fails_in: Annotated[str | None, "the stage in which it does so; null where it starts"]
    stages: Annotated[tuple[StartStage, ...], "as far as it gets"]
    verdict: Annotated[Verdict, "the worst of its checks"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartSequence(Result):
    """Answer of ``start-sequence``."""

    cases: Annotated[tuple[StartCase, ...], "the start in every case"]
    worst_case: Annotated[str, "the case that starts worst; where all start, with the worst check"]
    outcome: Annotated[OutcomeCode, "of that case"]
    lets_go: Annotated[
        bool | None,
        "whether it lets go with the key in every case that gets so far; null where that is not "
        "known",
    ]
    turns: Annotated[bool, "whether back_v is given: without it the motor is reckoned as it stands"]
    is_charged: Annotated[
        bool,
        "whether no battery is found low in charge: how one that is cranks was not reckoned",
    ]
    hazard: Annotated[
        Check | None,
        "what runs on, welds or catches fire beside that; null where nothing does, or that does",
    ]
    fed_over: Annotated[
        Check | None,
        "of one that runs on what feeds terminal 50 with the key let go; null where nothing does",
    ]
    weakest: Annotated[
        Check | None, "the check that fails most, or has the least to spare; null without any"
    ]


def solve(asked: StartSequenceRequest) -> Outcome:
    """Go through one start in every case."""
    asked = held_key(asked)
    starts = [_stages(asked, case) for case in asked.cases]
    checks = start_checks(asked, starts)
    told = tuple(map(_told, asked.cases, starts, checks))
    place, worst_check = _worst(told, checks, [*map(off_the_motors_way, starts)])
    fed_over = _fed_over(checks[place]) if told[place].outcome == "runs_on" else None
    return Outcome(
        {
            "cases": told,
            "worst_case": told[place].name,
            "outcome": told[place].outcome,
            "lets_go": _lets_go(checks),
            "turns": asked.starter.turning_v > 0.0,
            "is_charged": all(map(_is_charged, checks)),
            "hazard": _beside((worst_check, fed_over), checks),
            "fed_over": fed_over,
            "weakest": worst_check,
        },
        (),
        merge((WINDINGS, SCALING, HEARD), *(found[0].state.model.basis for found in starts)),
        (
            STARTER,
            SHORT_CIRCUIT,
            FUSE_NEAR_SOURCE,
            *battery_cautions(check for some in checks for check in some),
            DEFERENCE,
        ),
        told_checks=tuple(check for some in checks for check in some),
    )


def held_key(asked: StartSequenceRequest) -> StartSequenceRequest:
    """The same, with the time that a start lasts where no case tells it."""
    return as_long_as_held(asked, (STARTER_CONTROL, STARTER_MOTOR))


def _stages(asked: StartSequenceRequest, case: Case) -> list[Stage]:
    try:
        return list(stages(asked, case))
    except NetworkFault as error:
        raise type(error)(
            f"In {case_name(case.name)}: {error.detail}", error.path, error.nodes
        ) from error


def _told(case: Case, found: Sequence[Stage], checks: tuple[Check, ...]) -> StartCase:
    sounds = [heard(stage) for stage in found]
    outcomes = [OUTCOMES.get(sound, "starts") for sound in sounds]
    outcome = min(outcomes, key=OUTCOMES_WORST_FIRST.index)
    return StartCase(
        name=case.name,
        outcome=outcome,
        fails_in=None if outcome == "starts" else found[outcomes.index(outcome)].name,
        stages=tuple(stage.told(sound) for stage, sound in zip(found, sounds, strict=True)),
        verdict=worst(check.verdict for check in checks),
    )


def _worst(
    told: Sequence[StartCase],
    checks: Sequence[Sequence[Check]],
    elsewhere: Sequence[frozenset[str]],
) -> tuple[int, Check | None]:
    """Place of the case that starts worst, and the check in which; where all start, of all.

    What lies `elsewhere` than in the motor's way, in each case, makes nothing turn more slowly.
    """
    badness = [OUTCOMES_WORST_FIRST.index(case.outcome) for case in told]
    if min(badness) == OUTCOMES_WORST_FIRST.index("starts"):
        off = frozenset.intersection(*elsewhere)
        place, check = weakest(checks, elsewhere=off if _loses_more(checks, off) else frozenset())
        fed = [place for place, some in enumerate(checks) if _is_fed(some)]
        if not fed or (check and check.code in BURSTS):
            return place, check
        return fed[0], _release(checks[fed[0]])
    place = badness.index(min(badness))
    _, of_all = weakest(checks)
    if of_all and of_all.code in BURSTS:
        return place, of_all
    if told[place].outcome == "runs_on":
        return place, _release(checks[place])
    cause = weakest([checks[place]], elsewhere=elsewhere[place], causes=True)[1]
    return place, _takes_most(told[place], checks[place]) or cause


def _takes_most(told: StartCase, checks: Sequence[Check]) -> Check | None:
    """A short that takes more than both windings do: what else drops too much does so by it."""
    first = told.stages[0]
    windings_a = abs(first.pull_in_current_a) + abs(first.hold_in_current_a)
    shorts = [c for c in checks if c.code == "short" and c.verdict == "fail"]
    return next((each for each in shorts if (each.value or 0.0) > windings_a), None)


def _loses_more(checks: Sequence[Sequence[Check]], off: frozenset[str]) -> bool:
    """Whether the worst in the motor's way loses no less than the worst elsewhere does."""
    lost = [
        (check.value or 0.0, check.part in off)
        for some in checks
        for check in some
        if check.verdict == "fail" and check.code in {"contact_drop", "path_drop"}
    ]
    in_its_way, elsewhere = (
        max((volts for volts, is_off in lost if is_off == where), default=0.0)
        for where in (False, True)
    )
    return in_its_way >= elsewhere


def _fed_over(checks: Sequence[Check]) -> Check | None:
    """What feeds terminal 50 with the key let go; of a relay that stays in what keeps it there."""
    over = next((c for c in checks if c.code == "at_terminal_50" and c.detail != "drawn"), None)
    kept = (c for c in checks if c.code in RUNS_ON and c.verdict == "fail")
    return over and next((each for each in kept if each.part == over.part), over)


def _beside(told: Sequence[Check | None], checks: Sequence[Sequence[Check]]) -> Check | None:
    """What hurts whatever is mended: a feed past the key, a short, a relay that welds, a fire."""
    of_all = [each for some in checks for each in some]
    runs_on = [each for each in of_all if each.code == "release_force" and each.detail == "fed"]
    hurts = {
        code: [each for each in of_all if each.code == code and each.verdict == "fail"]
        for code in ("short", "inrush")
    }
    for hazards in (runs_on, *hurts.values()):
        if hazards:
            return None if any(each in hazards for each in told) else hazards[0]
    # What too high a voltage drives through the rest is told by that.
    if any(each and each.code in {*SETS_ALIGHT, "source_voltage"} for each in told):
        return None
    found = burns(
        _but_driven(of_all) if any(each and each.code in DRIVES for each in told) else of_all
    )
    return None if found in told else found


def _but_driven(checks: Sequence[Check]) -> list[Check]:
    """All but the heat of contacts that are no worse than others: what drives it is told first.

    Of a key by its ohms: what a shorted winding draws drops much over a sound one, too.
    """
    drops = {c.part: c for c in checks if c.code == "contact_drop"}

    def is_poor(heat: Check) -> bool:
        drop = drops[heat.part]
        volts, most_v = drop.value or 0.0, GROSSLY * (drop.limit or 0.0)
        ohm = volts**2 / heat.value if heat.value else 0.0
        is_sound_key = drop.detail in SWITCHES and ohm <= WORN_MULTIPLE * KEY_OHM
        return volts > most_v and not is_sound_key

    return [each for each in checks if each.code != "contact_heat" or is_poor(each)]


def _lets_go(checks: Sequence[Sequence[Check]]) -> bool | None:
    verdicts = {each.verdict for some in checks for each in some if each.code == "release_force"}
    if "fail" in verdicts:
        return False
    fed = any(map(_is_fed, checks))
    return None if "unknown" in verdicts or fed or not verdicts else True


def _release(checks: Sequence[Check]) -> Check | None:
    return next((each for each in checks if each.code == "release_force"), None)


def _is_charged(checks: Sequence[Check]) -> bool:
    """Whether no battery that bears the start alone is low."""
    charges = [each for each in checks if each.code == "charge"]
    low = {"fail", "undecided", "marginal"}
    return not any(each.verdict in low and each.detail != "helped" for each in charges)


def _is_fed(checks: Sequence[Check]) -> bool:
    """Whether something feeds terminal 50 with the key let go."""
    release = _release(checks)
    return release is not None and release.detail == "fed"


def tell_all(asked: StartSequenceRequest, answer: StartSequence, steps: Steps) -> None:
    """Tell the stages of the worst case, by hand from their solved states."""
    asked = held_key(asked)
    case = next(each for each in asked.cases if each.name == answer.worst_case)
    starter = asked.starter
    pull_in = steps.given("pull_in_turns", starter.pull_in_turns, "of the pull-in winding")
    hold_in = steps.given("hold_in_turns", starter.hold_in_turns, "of the hold-in winding")
    ohm = steps.given("motor_resistance_ohm", starter.motor_resistance_ohm, "of the motor")
    back = steps.given("back_v", starter.turning_v, "voltage that it makes while it cranks")
    for stage in stages(asked, case):
        told, p = stage.told(heard(stage)), f"{stage.name}_"
        for name in ("pull_in_current_a", "hold_in_current_a", "motor_current_a"):
            steps.solved(f"{p}{name}", getattr(told, name), name.replace("_", " "), LOOPS)
        steps.computed(
            f"{p}ampere_turns",
            f"{pull_in} * {p}pull_in_current_a + {hold_in} * {p}hold_in_current_a",
            stage.ampere_turns,
            "of both windings, each with its sign",
            WINDINGS,
        )
        if told.motor_current_a:  # it takes none in reverse
            turns = f" + {back}" if stage.name == "cranking" else ""
            formula = f"{p}motor_current_a * {ohm}{turns}"
            steps.computed(f"{p}motor_v", formula, told.motor_v, "at the motor", OHM)


OPERATION = Operation(NAME, __doc__, StartSequenceRequest, StartSequence, solve, tell_all=tell_all)
