"""What to do for a load that is weak or fails, from the little that anyone can say of it.

The whole circuit is made up from what is usual: battery, fuse, wires, switch, plug, ground. What
is not known stands within bounds, each with its reason. remedy-choice weighs it as it is, mended,
and with a relay of the trade; the advice holds within all of these bounds, or a reading with a
meter comes first, with what follows from it. The full request is given to go on with.
"""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.parts import ChainContact, CircuitContact
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.circuits.weakest import BURNING, HEAT
from lastvolt_service.operations.decision import remedy_choice
from lastvolt_service.operations.decision.advice import OF_WAYS, Advice
from lastvolt_service.operations.decision.plan import PlanStep
from lastvolt_service.operations.decision.quick_assumed import (
    Assumed,
    MadeUp,
    assumptions,
    made_up,
)
from lastvolt_service.operations.decision.quick_cautions import cautions_for
from lastvolt_service.operations.decision.quick_circuit import ONWARD, Sizes, current_a, guessed
from lastvolt_service.operations.decision.quick_complaints import (
    cold_starter,
    look_first,
    past_switch,
)
from lastvolt_service.operations.decision.quick_judged import (
    bears,
    enough,
    good_as_new,
    holds,
    loses,
)
from lastvolt_service.operations.decision.quick_link import link
from lastvolt_service.operations.decision.quick_plan import COSTS, SEVERAL, Reading
from lastvolt_service.operations.decision.quick_question import (
    FullQuestion,
    all_cases,
    full_request,
)
from lastvolt_service.operations.decision.quick_request import COMPLAINTS, QuickAnswerRequest
from lastvolt_service.operations.decision.quick_step import (
    NAME,
    NewRelay,
    QuickStep,
    leave_off,
    leave_off_but,
    read_size,
)
from lastvolt_service.operations.decision.quick_study import (
    ACROSS,
    NEEDED,
    VOLTS,
    Within,
)
from lastvolt_service.operations.decision.quick_wire import (
    NewWire,
    allowed,
    beyond,
    hot_fuse_of,
    new_wire,
)
from lastvolt_service.operations.decision.remedy_choice import Decided, RemedyChoiceRequest
from lastvolt_service.operations.decision.start_in_way import LEAVES_START_OPEN, leaves_start_open
from lastvolt_service.operations.decision.weighing import AS_GOOD
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.judging import (
    MARGINAL,
    MARGINAL_SHARE,
)
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import COMMON_PRACTICE, Check, Result, merge
from lastvolt_service.operations.steps import Steps
from lastvolt_service.tables.limits import contact_limits
from lastvolt_service.units import high_end

REPORT = f"/v1/reports/{remedy_choice.NAME}.md"
# From here on new wire to a starter, by way of its key, is more work than a relay there. [m]
FAR_M = 5.0
# Nothing to do by these numbers: not what one says of a load that is known to fail.
NOTHING: frozenset[Advice] = frozenset({"nothing_needed", "insurance"})
# When a starter's solenoid, or any other load, is read: what flows then must be what is assumed.
WHEN: dict[tuple[bool, str | None], str] = {
    (True, None): "when_held_safely",
    (True, "never"): "when_held_safely",
    (True, "always"): "when_held",
    (True, "hot"): "when_held_hot",
    (True, "cold"): "when_held_cold",
    (False, "hot"): "when_on_hot",
    (False, "cold"): "when_on_cold",
    **{(False, each): "when_on" for each in (None, "never", "always", *COMPLAINTS)},
    **{(True, each): "when_held" for each in COMPLAINTS},
}
# Where, by whether it is such a solenoid and whether its return is a wire.
AT: dict[tuple[bool, bool], str] = {
    (True, True): "at_50_and_ground",
    (True, False): "at_terminal_50",
    (False, True): "at_two_terminals",
    (False, False): "at_its_terminals",
}
# Work that comes before a relay.
BEFORE_RELAY = frozenset({"charge", "mend", "rewire"})
# A reading comes first: what is not known decides, or nothing that is known helps.
OPEN: frozenset[Advice] = frozenset({"find_out_first", "none_suffices", "unsafe", "not_the_wiring"})
# Wear of wiring that new wires or relays do not better, and the steps that would draw them.
SOUND, NEW_PARTS = frozenset({"new"}), frozenset({"rewire", "relay", "ask_again"})
# What can be read on the vehicle, with a meter or by eye.
READABLE = frozenset({"open_circuit_v", "resistance_ohm", "length_m", "current_a", "size"})


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickAnswer(Result):
    """Answer of ``quick-answer``."""

    advice: Annotated[
        Advice,
        "as remedy-choice has it, and the same within all that is assumed; relay where the wires "
        "beside it are drawn with it, in one step; find_out_first where "
        "that decides, or where the load fails though by these numbers it should not",
    ]
    load: Annotated[str, "the load, as the full request calls it"]
    case: Annotated[
        str, "the case in which it fails, where that is said, else that with the least to spare"
    ]
    load_voltage_v: Annotated[Within, "that reaches the load in that case as it is"]
    needed_v: Annotated[Within, "lowest voltage that it works at there"]
    plan: Annotated[tuple[QuickStep, ...], "what to do first, next and last"]
    assumed: Annotated[tuple[Assumed, ...], "what was not said, what matters most first"]
    measure_first: Annotated[
        str | None, "field of the assumption that decides; null where none does"
    ]
    request: Annotated[FullQuestion, "the whole, as remedy-choice takes it, to go on with"]
    leaves_start_open: Annotated[bool, LEAVES_START_OPEN]
    link: Annotated[
        str | None, "path of the report of that request; null where it is too long for a link"
    ]


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
    made = made_up(asked)
    best = remedy_choice.decided(made.full)
    assumed = assumptions(asked, made)
    reading = _reading(asked, made, best)
    advice = best.advice
    decides, steps = None, best.plan
    heats = best.burns or best.burns_as_it_is
    burning = heats is not None and heats.code in BURNING
    may_burn = None if burning else made.heat
    unread = asked.wire is None and may_burn is not None
    never = asked.fails == "never"
    fails, arrives = asked.fails_at_times, reading.volts.low_v >= reading.needed.high_v
    as_new = good_as_new(asked, made)
    lost = [] if as_new else [*loses(asked, made)]
    too_much = any(each.judged.verdict == MARGINAL for each in lost)
    only_hot = may_burn is not None and advice in NOTHING and not fails
    if burning and best.chosen is not None and best.plan:
        advice = OF_WAYS[best.chosen.code]  # it must not be switched on to be read
    elif only_hot or (fails and (arrives or advice in NOTHING)):
        advice = "find_out_first"  # it should not fail: what is assumed is wrong, or the load is
        what = "size" if unread else "current_a"
        decides = next((each for each in assumed if each.code == what), None)
    else:
        advice, by_size = _advice(asked, advice, made.sizes)
        if advice == "insurance" and never and asked.switch_to_be_had:
            advice = "nothing_needed"  # nobody spares a switch that works, and can be bought
        starts = never and asked.load == STARTER_SOLENOID  # one would have noticed
        if advice == "find_out_first" and never and (starts or holds(asked, made, reading)):
            advice, steps = "nothing_needed", ()  # it works, and whatever is assumed it may
        elif advice == "find_out_first":
            decides = _decides(reading, made, assumed, by_size)
    if burning and heats is not None:
        told = tuple(reading.told(steps))
        hot_switch = not told and heats.part == reading.worn_out  # that cannot be had
        past = tuple(past_switch(reading)) if hot_switch else ()
        advice = "mend" if past else advice
        plan = (*told, leave_off(heats.part, first=bool(told)), *past)
    else:
        reads = advice in OPEN or (advice in NOTHING and too_much)
        plan = () if only_hot else _plan(reading, decides, steps, reads=reads)
        looks = never and advice == "nothing_needed" and not (as_new and asked.wear == "new")
        if looks and not only_hot and (plan or asked.load == STARTER_SOLENOID):  # as it works
            plan = (reading.look(for_loss=too_much and asked.load != STARTER_SOLENOID),)
        if advice == "insurance" and reading.relay and all(e.code != "relay" for e in plan):
            plan = (*plan, reading.relay.step(None, told="relay_to_spare"))
        plan = _with_heat(plan, made, may_burn, reading.wire, unread=unread)
    if asked.fails in COMPLAINTS:
        advice, decides = "find_out_first", None
        first, *spared = look_first(asked, reading)
        if not heats:
            plan = _with_heat(tuple(spared), made, may_burn, reading.wire, unread=unread)
        plan = (first, *plan)  # what is too thin melts whatever is new
    if asked.load == STARTER_SOLENOID and asked.fails == "cold" and asked.wear in SOUND:
        plan = (cold_starter(reading), *(each for each in plan if each.code not in NEW_PARTS))
    if advice == "mend_then_relay" and not any(each.code in BEFORE_RELAY for each in plan):
        advice = "relay"  # wires that are drawn with it are no mending
    return Outcome(
        {
            "advice": advice,
            "load": made.full.load,
            "case": made.case,
            "load_voltage_v": reading.volts,
            "needed_v": reading.needed,
            "plan": plan,
            "assumed": assumed,
            "measure_first": decides and decides.field,
            "request": made.full,
            "leaves_start_open": leaves_start_open(made.full.circuit, made.full.load),
            "link": link(REPORT, made.full),
        },
        (
            *(() if asked.fails in COMPLAINTS else (*enough(made, as_new=as_new), *lost)),
            *(() if heats and heats.code in HEAT else bears(may_burn)),
        ),
        merge((COMMON_PRACTICE,), [each.mark for each in assumed], best.basis),
        cautions_for(asked.load, best.cautions),
        told_checks=(heats,) if heats else (),
    )


def _reading(asked: QuickAnswerRequest, made: MadeUp, best: Decided) -> Reading:
    """What readings are held against."""
    starts, wired = asked.load == STARTER_SOLENOID, asked.return_path == "wire"
    relay, wire = _new_relay(asked, made.full, best), new_wire(asked, all_cases(asked))
    return Reading(
        made.full.load,
        _contacts(made.full),
        made.within(VOLTS, made.case),
        made.within(NEEDED, made.case),
        asked.fails_at_times,
        made.thin,
        made.case,
        WHEN[starts, asked.fails],
        AT[starts, wired],
        next(iter(made.full.not_to_be_had), None),
        relay,
        high_end(current_a(asked)),
        allowed(asked).limit_v,
        COSTS[asked.load],
        wire,
        None if relay or wire else beyond(asked, all_cases(asked)),
        wired and not starts,  # the heavy cable back begins at a starter
        SEVERAL.get(asked.load),
        starts,
        starts and asked.distance_m >= FAR_M,
    )


def _new_relay(
    asked: QuickAnswerRequest, full: RemedyChoiceRequest, best: Decided
) -> NewRelay | None:
    """The relay of the trade, with what it alone would bring."""
    way = next((each for each in full.ways if each.relay is not None), None)
    if way is None or way.relay is None or best.relay_gain_v is None:
        return None
    several = SEVERAL.get(asked.load)
    relay = way.relay
    fuse_a = max(float(e.rating_a) for e in relay.feed if isinstance(e, ChainContact))
    hottest_c = max(high_end(each.ambient_of(relay.relay.zone)) for each in all_cases(asked))
    hot_fuse = hot_fuse_of(asked, fuse_a, hottest_c)
    return NewRelay(relay, asked.system_v, best.relay_gain_v, bool(relay.wires), several, hot_fuse)


def _advice(asked: QuickAnswerRequest, thin: Advice, sizes: Sizes) -> tuple[Advice, bool]:
    """What holds for every size that the wire may have, and whether its size decides."""
    if thin in NOTHING or thin in OPEN or asked.wire is not None:
        return thin, False  # what is enough through a thin wire is so through a thick one
    thick = guessed(asked, sizes.names[-1], sizes)
    other = remedy_choice.advised(full_request(asked, thick))
    same = AS_GOOD.get(other, other) == AS_GOOD.get(thin, thin)
    return (thin, False) if same else ("find_out_first", other != "find_out_first")


def _contacts(full: RemedyChoiceRequest) -> dict[str, str]:
    """What makes each contact, by its name."""
    branches = full.circuit.branches
    return {each.name: each.part for each in branches if isinstance(each, CircuitContact)}


def _decides(
    reading: Reading, made: MadeUp, assumed: tuple[Assumed, ...], by_size: bool
) -> Assumed | None:
    """What is to be found out first: what matters most of what can be read."""
    if by_size:
        return next((each for each in assumed if each.code == "size"), None)
    readable = [each for each in assumed if each.code in READABLE]
    enough_v = (1.0 + MARGINAL_SHARE) * reading.needed.high_v
    worn = [each for each in readable if each.part in reading.contacts]
    if reading.volts.low_v >= enough_v and worn:
        # Nothing is short: what may want mending is the contact that may be the most worn.
        return max(worn, key=lambda each: _wear(reading, made, str(each.part)))
    return readable[0] if readable else None


def _wear(reading: Reading, made: MadeUp, part: str) -> float:
    """The most that a contact may take, over what a sound one does."""
    most_v = made.thin.spread(ACROSS, made.case, part).high
    return most_v / contact_limits()[reading.contacts[part]].limit_v


def _plan(
    reading: Reading, decides: Assumed | None, steps: tuple[PlanStep, ...], *, reads: bool
) -> tuple[QuickStep, ...]:
    if not reads:
        return tuple(reading.told(steps))
    return tuple(reading.plan(decides.part if decides else None, steps))


def _with_heat(
    plan: tuple[QuickStep, ...],
    made: MadeUp,
    heat: Check | None,
    wire: NewWire | None,
    *,
    unread: bool,
) -> tuple[QuickStep, ...]:
    """The plan, after what is to be read or left off before the wire may burn."""
    if heat is None:
        return plan
    if unread:
        return (read_size(ONWARD, made.sizes.names[0], heat.value or 0.0, wire), *plan)
    return (leave_off_but(heat, wire), *plan)


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
    case = next(each for each in with_usual_starts(full).cases if each.name == answer.case)
    circuit, here = plain(full.circuit, case)
    tell_state(steps, rest(circuit, here), here, full.load, "as_is_")


OPERATION = Operation(NAME, __doc__, QuickAnswerRequest, QuickAnswer, solve, tell_all=tell_all)
