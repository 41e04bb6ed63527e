"""What to do in which order, and the volts that each step brings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from lastvolt_service.operations.decision.given_ways import Replaced
from lastvolt_service.operations.decision.ways import Treatment, Tried, Ways

StepCode = Literal["battery", "mend", "own_ground", "new_wire", "new_switch", "relay"]


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One step of a plan, done after those before it."""

    code: Annotated[StepCode, "battery, mend, own_ground, new_wire, new_switch or relay"]
    part: Annotated[str | None, "what it is done to, or is new; null of the battery"]
    size: Annotated[str | None, "of a new wire; null of what is none"]
    brings_v: Annotated[
        float, "more voltage at the load, in the case that is poorest as it is, after those before"
    ]
    load_voltage_v: Annotated[float, "that reaches the load then, in that case"]


def steps_of(ways: Ways, plan: Treatment, as_is: Tried) -> tuple[PlanStep, ...]:
    """Tell the steps of a way in order of work: what feeds, what is there, then the relay."""
    order = [*_in_order(ways, plan, as_is)]
    so_far = [each for *_, each in order]
    solved = {id(each.treatment): each for each in ways.solve(so_far)}
    poorest, load = as_is.poorest(ways.asked.load), ways.asked.load
    before_v, _ = as_is.volts(poorest, load)
    told = []
    for code, part, size, treatment in order:
        tried = solved.get(id(treatment))
        if tried is None:  # no state of rest until the next step is done, too
            continue
        volts, _ = tried.volts(poorest, load)
        told.append(PlanStep(code, part, size, volts - before_v, volts))
        before_v = volts
    return tuple(told)


def _in_order(
    ways: Ways, plan: Treatment, as_is: Tried
) -> Iterator[tuple[StepCode, str | None, str | None, Treatment]]:
    """Steps, each with the size of what is new and all that is done until then."""
    done = Treatment("as_is")
    if plan.battery or ways.battery_first:
        done = replace(done, battery=True)
        yield "battery", None, None, done
    drawn = [*plan.changes.one_by_one()] if isinstance(plan.changes, Replaced) else []
    mended = [*_by_gain(ways, plan)]
    for new in (True, False) if _new_comes_first(ways, plan, as_is) else (False, True):
        if new:
            for code, part, size, changes in drawn:
                done = replace(done, changes=changes)
                yield code, part, size, done
        else:
            for name in mended:
                done = replace(done, sound={**done.sound, name: plan.sound[name]})
                yield "mend", name, None, done
    if plan.relay and ways.asked.proposal is not None:
        yield "relay", ways.asked.proposal.relay.name, None, replace(done, relay=True)


def _new_comes_first(ways: Ways, plan: Treatment, as_is: Tried) -> bool:
    """Whether a part that is replaced takes more than any contact that is mended.

    Else what is there is mended first: it costs nothing, and may be enough. Common practice.
    """
    state = as_is.judged[as_is.poorest(ways.asked.load)].state
    replaced = plan.changes.replaced if plan.changes else ()
    most_v = [
        max((abs(state.across_v(name)) for name in names), default=0.0)
        for names in (replaced, plan.sound)
    ]
    return most_v[0] > most_v[1]


def _by_gain(ways: Ways, plan: Treatment) -> Sequence[str]:
    """Contacts, the one that mending betters most first."""
    gains = {each.name: each.regained_v for each in ways.mends}
    return sorted(plan.sound, key=lambda name: -gains.get(name, 0.0))
