"""What to do for a load that is weak or fails, from the little that anyone can say of it.

The whole circuit is made up from what is usual: battery, fuse, wires, switch, plug, ground. What
is not known stands within bounds, each with its reason. remedy-choice weighs it as it is, mended,
and with a relay of the trade; the advice holds within all of these bounds, or a reading with a
meter comes first, with what follows from it. The full request is given to go on with.
"""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.errors import CalculationError, ConflictingFields, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import with_usual_times
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.circuits.weakest import BURNING
from lastvolt_service.operations.decision import remedy_choice
from lastvolt_service.operations.decision.advice import OF_WAYS, Advice
from lastvolt_service.operations.decision.plan import PlanStep
from lastvolt_service.operations.decision.quick_circuit import (
    FullQuestion,
    Guess,
    Guessed,
    full_request,
    guessed,
    sizes,
)
from lastvolt_service.operations.decision.quick_link import link
from lastvolt_service.operations.decision.quick_plan import (
    NAME,
    QuickStep,
    Reading,
    first_readings,
    leave_off,
    told,
)
from lastvolt_service.operations.decision.quick_request import ZONES, QuickAnswerRequest
from lastvolt_service.operations.decision.quick_study import (
    ACROSS,
    NEEDED,
    VOLTS,
    Studied,
    Within,
    studied,
)
from lastvolt_service.operations.decision.remarks import remark
from lastvolt_service.operations.decision.remedy_choice import RemedyChoiceRequest
from lastvolt_service.operations.decision.usual_relay import RELAY
from lastvolt_service.operations.decision.ways import Way
from lastvolt_service.operations.decision.weighing import AS_GOOD
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.judging import FAIL, MARGINAL_SHARE, PASS, UNDECIDED, Judged
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import COMMON_PRACTICE, Check, Result, merge
from lastvolt_service.operations.steps import Steps
from lastvolt_service.tables.limits import contact_limits
from lastvolt_service.tables.usual import relays
from lastvolt_service.units import Interval

REPORT = f"/v1/reports/{remedy_choice.NAME}.md"
# Nothing to do by these numbers: not what one says of a load that is known to fail.
NOTHING: frozenset[Advice] = frozenset({"nothing_needed", "insurance"})
# A reading comes first: what is not known decides, or nothing that is known helps.
OPEN: frozenset[Advice] = frozenset({"find_out_first", "none_suffices", "unsafe", "not_the_wiring"})
# What can be read on the vehicle, with a meter or by eye.
READABLE = frozenset({"open_circuit_v", "resistance_ohm", "length_m", "current_a", "size"})
# Unit of each number that may be assumed, and what is said of why; of what is no number, too.
UNITS = {
    "open_circuit_v": "V",
    "internal_resistance_ohm": "ohm",
    "resistance_ohm": "ohm",
    "length_m": "m",
    "current_a": "A",
    "needed_v": "V",
    "pull_in_v": "V",
}
WHY = {
    "open_circuit_v": "why_charged",
    "internal_resistance_ohm": "why_sound",
    "resistance_ohm": "why_worn",
    "length_m": "why_about",
    "current_a": "why_usual_current",
    "needed_v": "why_needed",
    "pull_in_v": "why_pull_in",
    "cases": "why_cases",
    "zone": "why_zone",
    "size": "why_usual_size",
}


@dataclass(frozen=True, slots=True)
class Assumed:
    """Something that the request did not say, and what was taken in its place."""

    code: Annotated[
        str,
        "open_circuit_v, internal_resistance_ohm, resistance_ohm, length_m, current_a, needed_v, "
        "pull_in_v, size, zone, cases or relay",
    ]
    field: Annotated[str, "JSON Pointer to where it stands in the full request"]
    part: Annotated[str | None, "that it belongs to, as the full request calls it"]
    low: Annotated[float | None, "the least, in `unit`; null of what is no number"]
    high: Annotated[float | None, "the most, in `unit`; null of what is no number"]
    value: Annotated[str | None, "what is no number, such as a size; null of numbers"]
    unit: Annotated[str, "of low and high; empty where there are none"]
    why: Annotated[str, "why it is taken so, in a sentence"]
    mark: Annotated[str, "publication, or common practice"]
    matters_v: Annotated[
        float, "how much it moves what the load has to spare, from one end to the other"
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickAnswer(Result):
    """Answer of ``quick-answer``."""

    advice: Annotated[
        Advice,
        "as remedy-choice has it, and the same within all that is assumed; find_out_first where "
        "that decides, or where the load fails though by these numbers it should not",
    ]
    load: Annotated[str, "the load, as the full request calls it"]
    case: Annotated[str, "the case in which it has the least to spare"]
    load_voltage_v: Annotated[Within, "that reaches the load in that case as it is"]
    needed_v: Annotated[Within, "lowest voltage that it works at there"]
    plan: Annotated[tuple[QuickStep, ...], "what to do first, next and last"]
    assumed: Annotated[tuple[Assumed, ...], "what was not said, what matters most first"]
    measure_first: Annotated[
        str | None, "field of the assumption that decides; null where none does"
    ]
    request: Annotated[FullQuestion, "the whole, as remedy-choice takes it, to go on with"]
    link: Annotated[
        str | None, "path of the report of that request; null where it is too long for a link"
    ]


@dataclass(frozen=True, slots=True)
class _Found:
    """What was found of the circuit with each size that its wire may have."""

    full: RemedyChoiceRequest
    guesses: list[Guess]
    each: list[Studied]

    @property
    def thin(self) -> Studied:
        """With the thinnest."""
        return self.each[0]

    def within(self, what: str) -> Within:
        """What a voltage does in the poorest case, whatever the size."""
        spreads = [each.spread(what, self.thin.poorest) for each in self.each]
        return Within(min(each.low for each in spreads), max(each.high for each in spreads))


def solve(asked: QuickAnswerRequest) -> Outcome:
    """Make up the circuit, have it weighed, and say what to do.

    Raises
    ------
    CalculationError
        If no such circuit can work.
    """
    try:
        return _solved(asked)
    except CalculationError as error:
        raise _as_requested(error, asked) from error


def _solved(asked: QuickAnswerRequest) -> Outcome:
    found = _found(asked)
    best = remedy_choice.solve(found.full)
    assumed = _assumed(asked, found)
    volts, needed = found.within(VOLTS), found.within(NEEDED)
    fails = asked.fails_at_times
    reading = Reading(
        found.full.load,
        _contacts(found.full),
        volts,
        needed,
        fails,
        found.thin,
        _where(asked),
        frozenset(found.full.not_to_be_had),
    )
    advice: Advice = best.columns["advice"]
    decides = None
    heats: Check | None = best.columns["burns"] or best.columns["burns_as_it_is"]
    burning = heats is not None and heats.code in BURNING
    chosen: Way | None = best.columns["chosen"]
    if burning and chosen is not None and best.columns["plan"]:
        advice = OF_WAYS[chosen.code]  # it must not be switched on to be read
    elif fails and (advice in NOTHING or volts.low_v >= needed.high_v):
        advice = "find_out_first"  # it should not fail: what is assumed is wrong, or the load is
        decides = next((each for each in assumed if each.code == "current_a"), None)
    else:
        advice, by_size = _advice(asked, advice)
        if advice == "find_out_first":
            decides = _decides(reading, found, assumed, by_size)
    if burning and heats is not None:
        plan = (*map(told, best.columns["plan"]), leave_off(heats.part))
    else:
        plan = _plan(reading, advice, decides, best.columns["plan"])
    return Outcome(
        {
            "advice": advice,
            "load": found.full.load,
            "case": found.thin.poorest,
            "load_voltage_v": volts,
            "needed_v": needed,
            "plan": plan,
            "assumed": assumed,
            "measure_first": decides and decides.field,
            "request": found.full,
            "link": link(REPORT, found.full),
        },
        (_enough(volts, needed, found),),
        merge((COMMON_PRACTICE,), [each.mark for each in assumed], best.basis),
        best.cautions,
        told_checks=(heats,) if heats else (),
    )


def _where(asked: QuickAnswerRequest) -> str:
    """Say where to read at the load."""
    if asked.return_path == "wire":
        return "at_two_terminals"
    return "at_terminal_50" if asked.load == STARTER_SOLENOID else "at_one_terminal"


def _found(asked: QuickAnswerRequest) -> _Found:
    thin, *thicker = [guessed(asked, size) for size in sizes(asked)[0]]
    full = full_request(asked, thin)
    others = [changed(full, circuit=each.circuit, cases=each.cases) for each in thicker]
    return _Found(full, thin.guesses, [studied(full), *map(studied, others)])


def _advice(asked: QuickAnswerRequest, thin: Advice) -> tuple[Advice, bool]:
    """What holds for every size that the wire may have, and whether its size decides."""
    if thin in NOTHING or thin in OPEN or asked.wire is not None:
        return thin, False  # what is enough through a thin wire is so through a thick one
    thick = guessed(asked, sizes(asked)[0][-1])
    other: Advice = remedy_choice.solve(full_request(asked, thick)).columns["advice"]
    same = AS_GOOD.get(other, other) == AS_GOOD.get(thin, thin)
    return (thin, False) if same else ("find_out_first", other != "find_out_first")


def _contacts(full: RemedyChoiceRequest) -> dict[str, str]:
    """What makes each contact, by its name."""
    branches = full.circuit.branches
    return {each.name: each.part for each in branches if isinstance(each, CircuitContact)}


def _decides(
    reading: Reading, found: _Found, assumed: tuple[Assumed, ...], by_size: bool
) -> Assumed | None:
    """What is to be found out first: what matters most of what can be read."""
    if by_size:
        return next((each for each in assumed if each.field.endswith("/size")), None)
    readable = [each for each in assumed if each.code in READABLE]
    enough_v = (1.0 + MARGINAL_SHARE) * reading.needed.high_v
    worn = [each for each in readable if each.part in reading.contacts]
    if reading.volts.low_v >= enough_v and worn:
        # Nothing is short: what may want mending is the contact that may be the most worn.
        return max(worn, key=lambda each: _wear(reading, found, str(each.part)))
    return readable[0] if readable else None


def _wear(reading: Reading, found: _Found, part: str) -> float:
    """The most that a contact may take, over what a sound one does."""
    most_v = found.thin.spread(ACROSS, found.thin.poorest, part).high
    return most_v / contact_limits()[reading.contacts[part]].limit_v


def _plan(
    reading: Reading, advice: Advice, decides: Assumed | None, steps: tuple[PlanStep, ...]
) -> tuple[QuickStep, ...]:
    if advice not in OPEN:
        return tuple(told(each) for each in steps)
    of_source = decides is not None and "/source/" in decides.field
    return tuple(first_readings(reading, decides.part if decides else None, of_source, steps))


def _assumed(asked: QuickAnswerRequest, found: _Found) -> tuple[Assumed, ...]:
    """What was not said, what matters most first; then what matters nothing."""
    effects = found.thin.effects[found.thin.poorest]
    told = []
    for each in found.guesses:
        bounds = each.value if isinstance(each.value, Interval) else None
        told.append(
            Assumed(
                each.field,
                _pointer(each.path[:3] if each.field == "current_a" else each.path),
                each.part,
                bounds.low if bounds else None,
                bounds.high if bounds else None,
                None if isinstance(each.value, Interval) else each.value,
                UNITS.get(each.field, "") if bounds else "",
                remark(WHY[each.field], part=each.part, of=NAME).message,
                each.mark,
                _matters_v(asked, found, each, effects),
            )
        )
    if found.full.ways:
        mark, why = relays()[0].citation, remark("why_relay", of=NAME).message
        told.append(
            Assumed(
                "relay", "/ways/0/relay/relay", RELAY, None, None, "usual relay", "", why, mark, 0.0
            )
        )
    return tuple(sorted(told, key=lambda each: -each.matters_v))


def _matters_v(
    asked: QuickAnswerRequest, found: _Found, guess: Guess, effects: dict[Path, float]
) -> float:
    if guess.field == "zone":
        return _zone_matters_v(asked, found.full)
    if guess.field == "size":
        return _apart(found.each)
    return abs(effects.get(guess.path, 0.0))


def _zone_matters_v(asked: QuickAnswerRequest, full: RemedyChoiceRequest) -> float:
    """From the coolest place to the hottest."""
    size = sizes(asked)[0][0]
    ends = []
    for zone in (min(ZONES), "on_the_engine"):
        there: Guessed = guessed(changed(asked, zone=zone), size)
        ends.append(studied(changed(full, circuit=there.circuit, cases=there.cases)))
    return _apart(ends)


def _apart(ends: list[Studied]) -> float:
    """How far what the load has to spare lies apart, with all else in the middle. [V]."""
    case = ends[0].poorest
    margins = [
        each.spread(VOLTS, case).nominal - each.spread(NEEDED, case).nominal for each in ends
    ]
    return max(margins) - min(margins)


def _enough(volts: Within, needed: Within, found: _Found) -> Checked:
    """Whether enough arrives, whatever is guessed."""
    if volts.high_v < needed.low_v:
        verdict, value, limit = FAIL, volts.high_v, needed.low_v
    else:
        value, limit = volts.low_v, needed.high_v
        verdict = PASS if value >= limit else UNDECIDED
    judged = Judged(value, limit, value - limit, verdict)
    return Checked(
        "load_voltage", judged, "V", COMMON_PRACTICE, part=found.full.load, case=found.thin.poorest
    )


def _pointer(path: Path) -> str:
    return "".join(f"/{each}" for each in path)


def _as_requested(error: CalculationError, asked: QuickAnswerRequest) -> CalculationError:
    """The same error, pointing at what the caller gave."""
    if asked.wire is not None:
        path = ("wire",)
    else:
        path = ("distance_m",) if asked.current_a != asked.current_a else ("current_a",)
    return ConflictingFields(f"By what is usual no such circuit works. {error.detail}", path)


def tell_all(_: QuickAnswerRequest, answer: QuickAnswer, steps: Steps) -> None:
    """Tell the circuit as it is, all in the middle of its bounds, by hand."""
    full = answer.request
    case = next(each for each in with_usual_times(full).cases if each.name == answer.case)
    circuit, here = plain(full.circuit, case)
    tell_state(steps, rest(circuit, here), here, full.load, "as_is_")


OPERATION = Operation(NAME, __doc__, QuickAnswerRequest, QuickAnswer, solve, tell_all=tell_all)
