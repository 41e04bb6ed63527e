"""What happens when the key is turned: whether the starter pulls in, holds, cranks and lets go.

The network is brought to rest four times: with the key on and both windings in, with the main
contact closed and the motor at a stand, while it cranks, and with the key let go. The plunger's
force is by the ampere-turns of both windings, each with its sign: the pull-in winding returns
through the motor, and its current turns round when the key is let go. Nothing moves within a
stage: what bounces through a sag by its mass is called clicking here.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from lastvolt_service.errors import NetworkFault
from lastvolt_service.laws import OHM
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.source_checks import battery_cautions, source_checks
from lastvolt_service.operations.circuits.state_steps import LOOPS
from lastvolt_service.operations.judging import (
    FAIL,
    UNKNOWN,
    VERDICTS_WORST_FIRST,
    Judged,
    Verdict,
    reaches,
    stays_within,
)
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import (
    DEFERENCE,
    SHORT_CIRCUIT,
    STARTER,
    Check,
    Given,
    Result,
    merge,
    relative_margin,
    worst,
)
from lastvolt_service.operations.solenoids.descriptions import SCALING
from lastvolt_service.operations.starting.stages import Sound, Stage, StartStage, heard, stages
from lastvolt_service.operations.starting.starter import (
    MOTOR,
    StartSequenceRequest,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.rows import NOT_GIVEN, optional
from lastvolt_service.tables import Unproven, citation
from lastvolt_service.words import catalogue

NAME = "start-sequence"
OutcomeCode = Literal["silent", "hums", "buzzes", "slow", "runs_on", "starts"]
GIVEN = Given("given by the caller")
WINDINGS = citation("solenoids", "two_windings")
HEARD = Unproven("what a start sounds like at the key")
OUTCOMES: dict[Sound, OutcomeCode] = {
    "nothing": "silent",
    "click": "silent",
    "hum": "hums",
    "clicking": "buzzes",
    "slow_cranking": "slow",
    "runs_on": "runs_on",
}


@dataclass(frozen=True, slots=True)
class StartCase:
    """A start in one case."""

    name: Annotated[str, "the case as the request names it"]
    outcome: Annotated[
        OutcomeCode,
        "silent: nothing moves; hums: the plunger does not go home; buzzes: it goes home and lets "
        "go again; slow; runs_on after the key is let go; starts",
    ]
    fails_in: Annotated[str | None, "the stage in which it goes wrong first; null where none does"]
    stages: Annotated[tuple[StartStage, ...], "as far as it gets"]
    verdict: Annotated[Verdict, "the worst of its checks"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StartSequence(Result):
    """Answer of ``start-sequence``."""

    cases: Annotated[tuple[StartCase, ...], "the start in every case"]
    worst_case: Annotated[str, "the case with the worst check"]
    outcome: Annotated[OutcomeCode, "of that case"]
    weakest: Annotated[
        Check | None, "the check that fails most, or has the least to spare; null without any"
    ]


def solve(asked: StartSequenceRequest) -> Outcome:
    """Go through one start in every case."""
    words = catalogue()[NAME]
    told: list[StartCase] = []
    checks: list[Check] = []
    basis: list[str] = []
    for case in asked.cases:
        try:
            found = list(stages(asked, case))
        except NetworkFault as error:
            raise type(error)(f"In {case.name}: {error.detail}", error.path, error.nodes) from error
        own = tuple(
            replace(each, case=case.name).told(words) for each in _checks(asked, case, found)
        )
        checks += own
        basis += found[0].state.model.basis
        told.append(_told(case, found, own))
    weakest = _weakest(checks)
    place = [case.name for case in told].index(str(weakest.case)) if weakest else 0
    return Outcome(
        {
            "cases": tuple(told),
            "worst_case": told[place].name,
            "outcome": told[place].outcome,
            "weakest": weakest,
        },
        (),
        merge((WINDINGS, SCALING, HEARD), basis),
        (STARTER, SHORT_CIRCUIT, *battery_cautions(checks), DEFERENCE),
        told_checks=tuple(checks),
    )


def _told(case: Case, found: Sequence[Stage], checks: Sequence[Check]) -> StartCase:
    sounds = [heard(stage) for stage in found]
    bad = [place for place, sound in enumerate(sounds) if sound in OUTCOMES]
    first = bad[0] if bad else None
    return StartCase(
        name=case.name,
        outcome="starts" if first is None else OUTCOMES[sounds[first]],
        fails_in=None if first is None else found[first].name,
        stages=tuple(stage.told(sound) for stage, sound in zip(found, sounds, strict=True)),
        verdict=worst(check.verdict for check in checks),
    )


def _weakest(checks: Sequence[Check]) -> Check | None:
    ranked = [
        (VERDICTS_WORST_FIRST.index(check.verdict), place, relative_margin(check), check)
        for place, check in enumerate(checks)
        if check.verdict == "fail"
    ] or [(0, 0, relative_margin(check), check) for check in checks if check.margin is not None]
    return min(ranked, key=lambda row: row[:-1])[-1] if ranked else None


def _checks(asked: StartSequenceRequest, case: Case, found: Sequence[Stage]) -> Iterator[Checked]:
    """Judge the battery, then every stage as it comes."""
    *_, furthest = (stage.state for stage in found if stage.name != "key_off")
    nominal = int(nominal_of(furthest.model.emf_v, asked.sure_v))
    yield from source_checks(asked.circuit, case, furthest, nominal, asked.sure_v)
    for stage in found:
        yield from _relays(stage)
        if stage.name == "key_off":
            yield _lets_go(stage)
        else:
            code = "pull_in_force" if stage.name == "key_on" else "hold_force"
            judged = reaches(stage.ampere_turns, stage.needed)
            yield Checked(code, judged, "A", WINDINGS, part=asked.starter.name, detail=stage.name)
        if stage.name == "cranking" and not stage.breaks_off:
            judged = reaches(stage.across_v(MOTOR), asked.starter.needed_v)
            yield Checked("cranking_voltage", judged, "V", GIVEN, part=asked.starter.name)


def _relays(stage: Stage) -> Iterator[Checked]:
    """Relays that let go in the sag, or find no rest."""
    model, solution = stage.state.model, stage.state.solution
    for index, relay in enumerate(model.relays):
        volts = abs(float(stage.state.flow("coils").drop_v[index]))
        if relay.name in stage.dropped or index in solution.chatter:
            judged = Judged(volts, relay.drop_out_v, NOT_GIVEN, FAIL)
            yield Checked("relay_lets_go", judged, "V", SCALING, part=relay.name, detail=stage.name)


def _lets_go(stage: Stage) -> Checked:
    """Whether the plunger goes back when the key is let go."""
    judged = stays_within(abs(stage.ampere_turns), optional(stage.starter.hold_ampere_turns))
    if judged.limit != judged.limit:
        judged = judged._replace(verdict=UNKNOWN)
    return Checked("release_force", judged, "A", WINDINGS, part=stage.starter.name)


def tell_all(asked: StartSequenceRequest, answer: StartSequence, steps: Steps) -> None:
    """Tell the stages of the worst case, by hand from their solved states."""
    case = next(each for each in asked.cases if each.name == answer.worst_case)
    starter = asked.starter
    pull_in = steps.given("pull_in_turns", starter.pull_in_turns, "of the pull-in winding")
    hold_in = steps.given("hold_in_turns", starter.hold_in_turns, "of the hold-in winding")
    ohm = steps.given("motor_resistance_ohm", starter.motor_resistance_ohm, "of the motor")
    back = steps.given("back_v", starter.back_v, "voltage that it makes while it cranks")
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
            turns = stage.name in {"cranking", "key_off"}
            formula = f"{p}motor_current_a * {ohm}" + (f" + {back}" if turns else "")
            steps.computed(f"{p}motor_v", formula, told.motor_v, "at the motor", OHM)


OPERATION = Operation(NAME, __doc__, StartSequenceRequest, StartSequence, solve, tell_all=tell_all)
