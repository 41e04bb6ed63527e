"""Which readings to take of a load and its switch, in which order, and what they should show.

Each tells where the leads go, what is on, the band that passes as the circuit is and with a
proposed relay, and what it means when it is off. The bands come from the network within all of its
intervals, widened by the largest error of the meter. Beside each stands what is sound whatever was
given, for a fault that was given passes; and what the reading shows where the relay is wired wrong.
One walk a case leads from the battery along the wiring to the load and back by the ground, the
coldest case first. A starter is read as it cranks, when its hold-in winding alone draws, and while
its plunger moves; there is the test with a jumper, too. Whether the relay may be built is for
``relay-retrofit`` to say.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case, with_usual_starts
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.meter.fit_told import both
from lastvolt_service.operations.meter.jumper import JumperTest, jumper
from lastvolt_service.operations.meter.plan_answer import PlannedReading
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_round import Rounds, Walked
from lastvolt_service.operations.meter.plan_stages import moves_a_plunger
from lastvolt_service.operations.meter.plan_told import NAME, Before, before, sentence
from lastvolt_service.operations.meter.plan_way import need, way_checks
from lastvolt_service.operations.meter.reading_fields import Kind
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import (
    CLAMP,
    COMMON_PRACTICE,
    DEFERENCE,
    HOT_SURFACE,
    ON_THE_VEHICLE,
    STARTER,
    Result,
    merge,
)
from lastvolt_service.operations.steps import Steps


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
    part_message: Annotated[
        str | None, "the contact that may cost the load most, as it was given; null where none is"
    ]
    way_message: Annotated[str | None, "that the relay itself is not judged here; null without one"]
    before: Annotated[tuple[Before, ...], "what is done before the first reading"]
    rounds: Annotated[tuple[Round, ...], "the walks, in order"]
    readings: Annotated[tuple[PlannedReading, ...], "all readings, in the order of the walks"]
    jumper: Annotated[
        JumperTest | None, "the test that parts the way from the starter; null without a starter"
    ]
    meters_used: Annotated[tuple[PlanMeter, ...], "what the bands allow for"]


# A part that costs the load less is not named for it. [V]
COSTS_V = 0.01


def solve(asked: MeterPlanRequest) -> Outcome:
    """Plan the readings of all cases, the coldest first.

    Raises
    ------
    CalculationError
        If a case has no state of rest, or a part is in no table.
    """
    usual = with_usual_starts(asked)
    timed = of_today(usual)
    made = Rounds(timed)
    walks: list[Walked] = []
    for case in sorted(timed.cases, key=made.ambient_c):
        walks.append(made.walked(case, 1 + sum(len(each.readings) for each in walks)))
    poorest = min(walks, key=lambda each: (each.margin or each.volts).low)
    at_load = _at_load(poorest, asked.load)
    tested = made.starts and moves_a_plunger(made.load)
    return Outcome(
        {
            "at_load": at_load,
            "load_message": _message(at_load, asked.load),
            "part_message": _part_message(walks, asked.load),
            "way_message": _way_message(timed),
            "before": before(asked, made.starts),
            "rounds": tuple(_round(each, usual) for each in walks),
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
        (
            need(asked.load, poorest, poorest.as_is, poorest.volts, poorest.margin),
            *way_checks(timed, walks),
        ),
        merge(
            poorest.as_is.stages.on.state.model.basis,
            *(each.basis for each in made.meters.values()),
            (COMMON_PRACTICE,),
        ),
        (*((STARTER,) if made.starts else ()), *ON_THE_VEHICLE, CLAMP, HOT_SURFACE, DEFERENCE),
    )


def of_today(asked: MeterPlanRequest) -> MeterPlanRequest:
    """Leave out the ageing of cases: a vehicle is read as it is.

    What differs from another case by that alone is read there.
    """
    aged, found, seen = _aged(asked), [], []
    for case in sorted(asked.cases, key=lambda each: each.name in aged):
        now = changed(case, ageing_factor=1.0)
        alike = _but_its_name(now)
        if case.name not in aged or alike not in seen:
            found.append(now)
        seen.append(alike)
    return changed(asked, cases=found)


def _but_its_name(case: Case) -> dict[str, Any]:
    return {key: each for key, each in vars(case).items() if key != "name"}


def _only_older(asked: MeterPlanRequest, read: Case) -> list[str]:
    """Cases that differ from one that is read by their age alone."""
    aged, today = _aged(asked), _but_its_name(changed(read, ageing_factor=1.0))
    return [
        each.name
        for each in asked.cases
        if each.name in aged
        and each.name != read.name
        and _but_its_name(changed(each, ageing_factor=1.0)) == today
    ]


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
        older=", ".join(_only_older(asked, walked.case)) or None,
    )
    rest = "round_rest" if walked.rests else "round_no_rest"
    emf_v = walked.as_is.stages.off.state.model.emf_v
    running = [sentence("round_running")] if walked.runs else []
    text = " ".join([text, *running, sentence(rest, emf_v=emf_v)])
    first, last = walked.readings[0].number, walked.readings[-1].number
    return Round(walked.case.name, walked.ambient_c, first, last, text)


def _at_load(walked: Walked, load: str) -> AtLoad:
    part = walked.as_is.stages.decides.state.named(load)
    needed_v = None if part is None else part.needed_v
    volts = walked.volts
    return AtLoad(walked.case.name, walked.number, volts.low, volts.high, needed_v)


def _message(found: AtLoad, load: str) -> str:
    low, high = both(found.low_v, found.high_v, "V")
    code = "at_load" if low != high else "at_load_sure"
    number = str(found.number)
    return sentence(code, load=load, case=found.case, low=low, high=high, number=number)


def _part_message(walks: Sequence[Walked], load: str) -> str | None:
    """What costs the load most of what may be no good as it was given."""
    costly = [
        (each.sound_as_is.costs_v, each)
        for walk in walks
        for each in walk.readings
        if each.sound_as_is is not None
        if each.sound_as_is.costs_v is not None and each.sound_as_is.costs_v >= COSTS_V
    ]
    if not costly:
        return None
    costs_v, worst = max(costly, key=lambda each: each[0])
    given = worst.sound_as_is.given if worst.sound_as_is else "sound"
    return sentence(
        "part_poor" if given == "poor" else "part_may_be_poor",
        part=worst.part,
        load=load,
        case=worst.case,
        costs_v=costs_v,
        number=str(worst.number),
    )


def _way_message(asked: MeterPlanRequest) -> str | None:
    return None if asked.way is None else sentence("way_not_judged", part=asked.way.relay.name)


def tell_all(asked: MeterPlanRequest, answer: MeterPlan, steps: Steps) -> None:
    """Tell the circuit as it is in the case that decides, by hand, from the solved state."""
    timed = of_today(with_usual_starts(asked))
    case = next(each for each in timed.cases if each.name == answer.at_load.case)
    circuit, middle = plain(timed.circuit, case)
    tell_state(steps, rest(circuit, middle), middle, asked.load)


OPERATION = Operation(NAME, __doc__, MeterPlanRequest, MeterPlan, solve, tell_all=tell_all)
