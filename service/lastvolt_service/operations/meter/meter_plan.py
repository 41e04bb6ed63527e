"""Which readings to take of a load and its switch, in which order, and what they should show.

Each tells where the leads go, what is on, the band that passes as the circuit is and with a
proposed relay, and what it means when it is off. The bands come from the network within all of its
intervals, widened by the largest error of the meter. One walk a case leads from the battery along
the wiring to the load and back by the ground, the coldest case first. Of a starter's solenoid there
is the test with a jumper, too. Whether the relay may be built is for ``relay-retrofit`` to say.
"""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import with_usual_times
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.judging import UNKNOWN, surely_reaches
from lastvolt_service.operations.judging import Judged as Judgement
from lastvolt_service.operations.meter.fit_told import both
from lastvolt_service.operations.meter.jumper import JumperTest, jumper
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_round import Rounds, Walked
from lastvolt_service.operations.meter.plan_told import (
    NAME,
    Before,
    PlannedReading,
    before,
    sentence,
)
from lastvolt_service.operations.meter.reading_fields import Kind
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import (
    CLAMP,
    COMMON_PRACTICE,
    DEFERENCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Result,
    merge,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.rows import NOT_GIVEN


@dataclass(frozen=True, slots=True)
class Round:
    """One walk: the readings of a case."""

    case: Annotated[str, "the case as the request names it"]
    ambient_c: Annotated[float, "at the load, in the middle of its bounds"]
    first: Annotated[int, "number of its first reading"]
    last: Annotated[int, "number of its last reading"]
    text: Annotated[str, "what is on, and how warm it is"]


@dataclass(frozen=True, slots=True)
class AtLoad:
    """What decides: the voltage at the load in the case in which it has the least to spare."""

    case: Annotated[str, "the case"]
    number: Annotated[int, "of the reading that tells it"]
    low_v: Annotated[float, "least as it is, within the bounds of all inputs"]
    high_v: Annotated[float, "most as it is"]
    needed_v: Annotated[float | None, "lowest voltage that it works at there"]


@dataclass(frozen=True, slots=True)
class PlanMeter:
    """A meter that the bands allow for."""

    kind: Annotated[Kind, "what it reads"]
    name: Annotated[str | None, "as the request calls it; null of a usual one"]
    accuracy_percent: Annotated[float, "largest error as a share of what it reads"]
    accuracy_digits: Annotated[int, "largest error in steps of its last digit, beside rounding"]


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterPlan(Result):
    """Answer of ``meter-plan``."""

    at_load: Annotated[AtLoad, "what decides"]
    load_message: Annotated[str, "the same in a sentence"]
    before: Annotated[tuple[Before, ...], "what is done before the first reading"]
    rounds: Annotated[tuple[Round, ...], "the walks, in order"]
    readings: Annotated[tuple[PlannedReading, ...], "all readings, in the order of the walks"]
    jumper: Annotated[
        JumperTest | None, "the test that parts the way from the starter; null without a starter"
    ]
    meters_used: Annotated[tuple[PlanMeter, ...], "what the bands allow for"]


def solve(asked: MeterPlanRequest) -> Outcome:
    """Plan the readings of all cases, the coldest first.

    Raises
    ------
    CalculationError
        If a case has no state of rest, or a part is in no table.
    """
    timed = of_today(with_usual_times(asked))
    made = Rounds(timed)
    walks: list[Walked] = []
    for case in sorted(timed.cases, key=made.ambient_c):
        walks.append(made.walked(case, 1 + sum(len(each.readings) for each in walks)))
    poorest = min(walks, key=lambda each: (each.margin or each.volts).low)
    at_load = _at_load(poorest, asked.load)
    tested = made.starts and isinstance(made.load, SolenoidLoad)
    return Outcome(
        {
            "at_load": at_load,
            "load_message": _message(at_load, asked.load),
            "before": before(asked, made.starts),
            "rounds": tuple(_round(each, asked) for each in walks),
            "readings": tuple(each for walk in walks for each in walk.readings),
            "jumper": jumper(timed, made.load) if tested else None,
            "meters_used": tuple(
                PlanMeter(
                    kind,
                    each.name if each in asked.meters else None,
                    100.0 * each.share,
                    int(each.steps),
                )
                for kind, each in made.meters.items()
            ),
        },
        (_load_check(asked.load, poorest, at_load.needed_v),),
        merge(
            poorest.shown.state.model.basis,
            *(each.basis for each in made.meters.values()),
            (COMMON_PRACTICE,),
        ),
        (*((STARTER,) if made.starts else ()), SHORT_CIRCUIT, CLAMP, HOT_SURFACE, DEFERENCE),
    )


def of_today(asked: MeterPlanRequest) -> MeterPlanRequest:
    """Leave out the ageing of cases: a vehicle is read as it is.

    What differs from another case by that alone is read there.
    """
    aged, found, seen = _aged(asked), [], []
    for case in sorted(asked.cases, key=lambda each: each.name in aged):
        now = changed(case, ageing_factor=1.0)
        alike = {key: each for key, each in vars(now).items() if key != "name"}
        if case.name not in aged or alike not in seen:
            found.append(now)
        seen.append(alike)
    return changed(asked, cases=found)


def _aged(asked: MeterPlanRequest) -> set[str]:
    return {case.name for case in asked.cases if case.ageing_factor != 1.0}


def _round(walked: Walked, asked: MeterPlanRequest) -> Round:
    text = sentence(
        "round",
        case=walked.case.name,
        switch=asked.switch,
        on=", ".join(walked.on) or None,
        load=asked.load,
        ambient_c=walked.ambient_c,
        aged=walked.case.name if walked.case.name in _aged(asked) else None,
    )
    first, last = walked.readings[0].number, walked.readings[-1].number
    return Round(walked.case.name, walked.ambient_c, first, last, text)


def _at_load(walked: Walked, load: str) -> AtLoad:
    part = walked.shown.state.named(load)
    needed_v = None if part is None else part.needed_v
    volts = walked.volts
    return AtLoad(walked.case.name, walked.number, volts.low, volts.high, needed_v)


def _message(found: AtLoad, load: str) -> str:
    low, high = both(found.low_v, found.high_v, "V")
    code = "at_load" if low != high else "at_load_sure"
    number = str(found.number)
    return sentence(code, load=load, case=found.case, low=low, high=high, number=number)


def _load_check(load: str, walked: Walked, needed_v: float | None) -> Checked:
    """Judge what reaches the load by the whole of its bounds."""
    about = {"part": load, "case": walked.case.name}
    margin = walked.margin
    if margin is None or needed_v is None:
        nothing = Judgement(walked.volts.low, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        return Checked("load_voltage", nothing, "V", COMMON_PRACTICE, **about)
    judged = surely_reaches(needed_v + margin.low, needed_v + margin.high, needed_v)
    return Checked("load_voltage", judged, "V", COMMON_PRACTICE, **about)


def tell_all(asked: MeterPlanRequest, answer: MeterPlan, steps: Steps) -> None:
    """Tell the circuit as it is in the case that decides, by hand, from the solved state."""
    timed = of_today(with_usual_times(asked))
    case = next(each for each in timed.cases if each.name == answer.at_load.case)
    circuit, middle = plain(timed.circuit, case)
    tell_state(steps, rest(circuit, middle), middle, asked.load)


OPERATION = Operation(NAME, __doc__, MeterPlanRequest, MeterPlan, solve, tell_all=tell_all)
