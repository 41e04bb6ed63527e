"""What to do for a load: mend, charge, fit the relay that is proposed, or leave it as it is.

The proposal is looked at first: fuse, ratings and insulation of what is new, a relay for this
voltage, switches that stay in charge. Then the circuit as it is, with a sound battery, with its
poor contacts mended, with the relay, and with several of these is solved in every case, and the
plainest way that gives the load enough with a tenth to spare is advised, with the reasons.
"""

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import recorded
from lastvolt_service.laws import JOULE, KIRCHHOFF, recording
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.bridging import Mend
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.loads import starter_cautions
from lastvolt_service.operations.circuits.relays_in_case import relay_in_case
from lastvolt_service.operations.circuits.remedies import mend_parts, placed_parts
from lastvolt_service.operations.circuits.source_checks import battery_cautions
from lastvolt_service.operations.circuits.state_steps import LOOPS, tell_state
from lastvolt_service.operations.circuits.weakest import BURNING, RUNS_ON, burns
from lastvolt_service.operations.decision.advice import Advice, Decision
from lastvolt_service.operations.decision.proposal import (
    RelayRetrofitRequest,
    at_the_proposal,
    case_with_relay,
    with_relay,
)
from lastvolt_service.operations.decision.reasons import reasons_for
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.versions import Both, RetrofitCase, in_full, side_by_side
from lastvolt_service.operations.decision.ways import TOLD_ONLY, Tried, Way, Ways
from lastvolt_service.operations.decision.weighing import Weighed, weigh
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    COMMON_PRACTICE,
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    ON_THE_VEHICLE,
    Check,
    Result,
    merge,
)
from lastvolt_service.operations.steps import Steps

NEW_RISKS = ("one_more_part", "rough_place", "live_feed")


BatteryState = Literal["frozen_or_dead", "frozen", "dead", "low", "weak"]
Nearest = Annotated[
    Way | None, "where no way suffices, the one that leaves the load most; else null"
]
BarredBy = Annotated[Check | None, "what speaks against that way first; else null"]
# Advice to bring what is there to what it should be, before or without the relay.
RESTORES = frozenset({"mend", "mend_then_relay", "battery_first"})


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayRetrofit(Result):
    """Answer of ``relay-retrofit``.

    Its checks are those of the proposal, and where something is to be mended or charged those of
    the circuit as it is: a verdict of ``pass`` never stands beside something to mend.
    """

    advice: Annotated[
        Advice,
        "mend, relay, mend_then_relay; insurance: nothing is short, but the switch is at risk or "
        "the relay brings much; not_the_wiring: what feeds it, or it, is wrong; battery_first; "
        "nothing_needed; find_out_first: what is not known decides; unsafe: the proposal must not "
        "be built as it stands; none_suffices",
    ]
    battery_state: Annotated[
        BatteryState | None,
        "the poorest in any case: frozen_or_dead; frozen, or nearly so; dead, with less than a "
        "flat one has; low; "
        "weak, by its resistance; null of a sound one",
    ]
    plan: Annotated[
        Way | None,
        "the way that is advised; of a proposal that is unsafe or not known well enough, the one "
        "that would do; null where none does",
    ]
    reasons: Annotated[tuple[Remark, ...], "why, in order of weight"]
    burns: Annotated[
        Check | None,
        "what runs on or catches fire in what stays, whatever is advised; null where nothing does",
    ]
    burns_as_it_is: Annotated[
        Check | None, "what catches fire until that is done; null where nothing does"
    ]
    nearest: Nearest
    barred_by: BarredBy
    ways: Annotated[tuple[Way, ...], "what was weighed, the plainest first"]
    new_risks: Annotated[tuple[Remark, ...], "what the relay brings with it"]
    cases: Annotated[tuple[RetrofitCase, ...], "as it is and with the relay, in every case"]
    poorest_case: Annotated[str, "the case in which the load has the least to spare as it is"]
    mend_first: Annotated[
        tuple[Mend, ...],
        "parts by what mending them brings the load as it is, in its poorest case",
    ]


def solve(asked: RelayRetrofitRequest) -> Outcome:
    """Weigh one proposal."""
    asked = with_usual_starts(asked)
    weighed, both, found = _advised(asked)
    as_is = weighed.as_is
    proposed = weighed.proposed or as_is  # there is one
    cases = tuple(in_full(asked, weighed.ways.new, each) for each in both)
    return Outcome(
        {**found, "cases": cases},
        (),
        merge(*(each.state.model.basis for each in proposed.judged), (COMMON_PRACTICE,)),
        (
            *starter_cautions(asked.circuit.loads),
            *ON_THE_VEHICLE,
            FUSE_NEAR_SOURCE,
            HOT_SURFACE,
            *battery_cautions(check for each in as_is.judged for check in each.checks),
            DEFERENCE,
        ),
        told_checks=checks_of(weighed),
    )


def advice_on(asked: RelayRetrofitRequest) -> dict[str, Any]:
    """What an answer to a proposal has, but for its cases, whose searches cost a third of it."""
    return _advised(with_usual_starts(asked))[-1]


def _advised(asked: RelayRetrofitRequest) -> tuple[Weighed, list[Both], dict[str, Any]]:
    try:
        weighed = weigh(asked)
    except CalculationError as error:
        raise at_the_proposal(error, asked.circuit, asked.proposal) from error
    ways, as_is = weighed.ways, weighed.as_is
    proposed = weighed.proposed or as_is  # there is one
    both = [
        side_by_side(asked.load, asked.switch, *each)
        for each in zip(as_is.judged, proposed.judged, strict=True)
    ]
    decision = weighed.decision
    told = {id(tried): tried.told(asked.load, works, as_is) for tried, works in decision.tried}
    found = {
        "advice": decision.advice,
        "battery_state": battery_state(ways),
        "plan": told[id(decision.plan)] if decision.plan else None,
        "reasons": reasons_for(decision, ways, both),
        "burns": burns(staying(decision), asked.new_names),
        "burns_as_it_is": burns_until_then(as_is),
        "nearest": nearest_way(weighed),
        "barred_by": barred_by(decision),
        "ways": tuple(told.values()),
        "new_risks": tuple(remark(code) for code in NEW_RISKS),
        "poorest_case": both[weighed.poorest].told.name,
        "mend_first": weighed.costs,
    }
    return weighed, both, found


def staying(decision: Decision) -> list[Check]:
    """Checks of what stays as it is, once what is advised is done."""
    return checks_in(decision.plan or decision.tried[0][0])


def checks_in(tried: Tried) -> list[Check]:
    """All checks of a way, case by case."""
    return [check for judged in tried.judged for check in judged.checks]


def burns_until_then(as_is: Tried) -> Check | None:
    """What burns in the circuit as it is, if nothing happens to it; else what may burn."""
    found = [each for each in checks_in(as_is) if each.code not in RUNS_ON]
    return burns([each for each in found if each.code in BURNING]) or burns(found)


def nearest_way(weighed: Weighed) -> Way | None:
    """What leaves the load most where nothing suffices."""
    nearest = weighed.decision.nearest
    if nearest is None:
        return None
    return nearest.told(weighed.ways.asked.load, works=False, as_is=weighed.as_is)


def barred_by(decision: Decision) -> Check | None:
    """What speaks against that way, first of all."""
    if decision.nearest is None:
        return None
    return next(iter(decision.weighing.bars(decision.nearest)), None)


def battery_state(ways: Ways) -> BatteryState | None:
    """The poorest that the battery is in any case."""
    found = ways.batteries.values()
    if any(each.may_be_frozen and each.may_be_dead for each in found):
        return "frozen_or_dead"
    if any(each.may_be_frozen for each in found):
        return "frozen"
    if any(each.may_be_dead for each in found):
        return "dead"
    if any(each.is_low for each in found):
        return "low"
    return "weak" if any(each.is_weak for each in found) else None


def _leads_on(check: Check, ways: Ways) -> bool:
    """Whether an end is that of the main cable, to which the motor, or the relay, is fitted.

    No fuse protects a starter's main cable: practice.
    """
    stud = ways.starter and ways.starter.stud_node
    if check.code == "no_fuse":
        at_stud = [each.name for each in ways.asked.circuit.branches if stud in each.nodes]
        return check.detail in at_stud
    proposal = ways.asked.proposal
    return check.code == "open_end" and check.detail in {stud, proposal and proposal.feed_node}


def checks_of(weighed: Weighed) -> tuple[Check, ...]:
    """Those of the circuit as it is where it wants mending, else of the proposal or the plan."""
    ways, decision, as_is = weighed.ways, weighed.decision, weighed.as_is
    asked = ways.asked
    proposed = weighed.proposed or as_is
    about_proposal = decision.advice in {"unsafe", "find_out_first", "insurance"}
    plan = decision.plan or as_is
    wanting: set[str] = set()
    replaced: frozenset[str] = frozenset()
    fitted: list[Check] = []
    if decision.advice in RESTORES:
        wanting = {*plan.treatment.sound}
        if plan.treatment.changes:  # what is to be fitted is judged, and not what it replaces
            replaced = plan.treatment.changes.replaced
            new = replaced | {*plan.treatment.changes.names}
            fitted = [each for each in staying(decision) if each.part in new]
        plan = as_is
    way = decision.measured or (proposed if about_proposal else plan)
    mine = {asked.load, asked.switch, *way.treatment.sound} | wanting
    own = asked.new_names if way.treatment.relay else frozenset()
    # A contact or a path that drops too much is told as a reason: the load's own voltage decides.
    # Not so one that is to be mended, or cannot be, nor one of the proposal.
    told = wanting | own | ways.not_to_be_had
    found = [
        check
        for judged in way.judged
        for check in judged.checks
        if (
            check.part in own | mine
            # Whatever else of the circuit fails, or is not judged, is not passed over.
            or check.verdict in {"fail", "unknown", "undecided"}
            or (check.code in {"drained", "source_voltage"} and check.verdict == "marginal")
        )
        and not (check.code in TOLD_ONLY and check.verdict == "fail" and check.part not in told)
        and check.part not in replaced
        and not _leads_on(check, ways)
    ]
    looked_at = weighed.screened if way.treatment.relay else ()
    return tuple(
        dict.fromkeys(
            (*decision.asked_first, *looked_at, *decision.beyond, *decision.wrong, *fitted, *found)
        )
    )


def mend(asked: RelayRetrofitRequest, answer: RelayRetrofit, trials: Trials) -> None:
    """Look for what mends the version that fails."""
    parts = placed_parts(asked.circuit)
    for field in ("feed", "outlet"):
        for index, part in enumerate(getattr(asked.proposal, field)):
            parts[part.name] = (("proposal", field, index), part)
    parts[asked.proposal.relay.name] = (("proposal", "relay"), asked.proposal.relay)
    amps = max(
        abs(each.switch_current_a) for told in answer.cases for each in (told.as_is, told.proposed)
    )
    mend_parts(parts, dict.fromkeys(parts, amps), answer.mend_first, trials)


def tell_all(asked: RelayRetrofitRequest, answer: RelayRetrofit, steps: Steps) -> None:
    """Tell both versions in the poorest case, by hand from the solved states."""
    told = next(each for each in answer.cases if each.name == answer.poorest_case)
    cases = with_usual_starts(asked).cases
    case = next(each for each in cases if each.name == answer.poorest_case)
    new = with_relay(asked)
    for circuit, its_case, version, p in (
        (asked.circuit, case, told.as_is, "as_is_"),
        (new, case_with_relay(case, asked.load, asked.proposal), told.proposed, "proposed_"),
    ):
        here, plain_case = plain(circuit, its_case)
        state = rest(here, plain_case)
        tell_state(steps, state, plain_case, asked.load, p)
        real = state.model.sign
        volts, amps = real * state.across_v(asked.switch), real * state.current_a(asked.switch)
        steps.solved(f"{p}switch_current_a", amps, f"through {asked.switch}", LOOPS)
        steps.solved(f"{p}switch_drop_v", volts, f"across {asked.switch}", LOOPS)
        sign = "" if amps * volts >= 0 else "-"
        formula = f"{sign}{p}switch_current_a * {p}switch_drop_v"
        steps.computed(f"{p}switch_power_w", formula, version.switch_power_w, "heat in it", JOULE)
        if version.coil_v is not None:
            meaning = "at the relay's coil before it closes"
            steps.solved(f"{p}coil_v", version.coil_v, meaning, LOOPS)
            relay = here.relays[-1]
            with recording():
                warm = relay_in_case(
                    recorded(relay, f"{p}relay_"),
                    plain_case,
                    state.model.drive_v,
                    f"{p}relay_",
                )
            steps.result(f"{p}pick_up_v", warm.pick_up_v, "that closes the relay, its coil warm")
    formula = "proposed_load_voltage_v - as_is_load_voltage_v"
    steps.computed("gain_v", formula, told.gain_v, "more voltage at the load", KIRCHHOFF)


OPERATION = Operation(
    "relay-retrofit", __doc__, RelayRetrofitRequest, RelayRetrofit, solve, mend, tell_all=tell_all
)
