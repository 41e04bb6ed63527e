"""Whether a relay close to a load, its coil on the old wire, is worth fitting.

The circuit as it is and with the relay are solved in every case: voltage at the load, margin to
what it needs, current and heat in the switch, how much more contact resistance each stands, and
the hottest winding that still pulls in. The advice says whether the relay is worth it, insurance
only, or not the remedy, and why.
"""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import recorded
from lastvolt_service.laws import JOULE, KIRCHHOFF, recording
from lastvolt_service.operations.circuits.assembly import relay_in_case, rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.remedies import mend_parts, placed_parts
from lastvolt_service.operations.circuits.state_steps import NODAL, tell_state
from lastvolt_service.operations.decision.advice import NEW_RISKS, Advice, Remark, advise, remark
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest, with_relay
from lastvolt_service.operations.decision.versions import RetrofitCase, solve_both
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Result,
    merge,
)
from lastvolt_service.operations.steps import Steps


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayRetrofit(Result):
    """Answer of ``relay-retrofit``."""

    advice: Annotated[Advice, "worth_it, insurance_only, not_the_remedy or change_the_proposal"]
    reasons: Annotated[tuple[Remark, ...], "why, in order of weight"]
    new_risks: Annotated[tuple[Remark, ...], "what the relay brings with it"]
    cases: Annotated[tuple[RetrofitCase, ...], "both versions in every case"]
    poorest_case: Annotated[str, "the case in which the load has the least to spare as it is"]
    mend_first: Annotated[
        tuple[Mend, ...], "parts by the volts they cost the load as it is, in its poorest case"
    ]


def solve(asked: RelayRetrofitRequest) -> Outcome:
    """Weigh one proposal."""
    new = with_relay(asked.circuit, asked.load, asked.proposal)
    own = asked.proposal.names
    try:
        both = [solve_both(asked, new, case) for case in asked.cases]
    except CalculationError as error:
        raise _as_requested(error, asked) from error
    poorest = min(both, key=lambda item: item.share)
    mend_first = mending(poorest.as_is.state, asked.load)
    advice, reasons = advise(both, poorest, mend_first, asked.load, asked.switch, own)
    return Outcome(
        {
            "advice": advice,
            "reasons": reasons,
            "new_risks": tuple(remark(code) for code in NEW_RISKS),
            "cases": tuple(item.told for item in both),
            "poorest_case": poorest.told.name,
            "mend_first": mend_first,
        },
        (),
        merge(*(item.proposed.state.model.basis for item in both)),
        (STARTER, SHORT_CIRCUIT, FUSE_NEAR_SOURCE, HOT_SURFACE, DEFERENCE),
        told_checks=tuple(
            check
            for item in both
            for judged in (item.as_is, item.proposed)
            for check in judged.checks
            if check.part in {asked.load, asked.switch} | own
        ),
    )


def _as_requested(error: CalculationError, asked: RelayRetrofitRequest) -> CalculationError:
    """The same error, pointing at the proposal where a proposed part is at fault."""
    where, branches = error.path, len(asked.circuit.branches)
    if where[:2] != ("circuit", "branches") or int(where[2]) < branches:
        return error
    place, feed = int(where[2]) - branches, len(asked.proposal.feed)
    chain = ("feed", place) if place < feed else ("outlet", place - feed)
    return type(error)(error.detail, ("proposal", *chain, *where[3:]))


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
    case = next(each for each in asked.cases if each.name == answer.poorest_case)
    new = with_relay(asked.circuit, asked.load, asked.proposal)
    for circuit, version, p in (
        (asked.circuit, told.as_is, "as_is_"),
        (new, told.proposed, "proposed_"),
    ):
        here, plain_case = plain(circuit, case)
        state = rest(here, plain_case)
        tell_state(steps, state, plain_case, asked.load, p)
        volts, amps = state.across_v(asked.switch), state.current_a(asked.switch)
        steps.solved(f"{p}switch_current_a", amps, f"through {asked.switch}", NODAL)
        steps.solved(f"{p}switch_drop_v", volts, f"across {asked.switch}", NODAL)
        sign = "" if amps * volts >= 0 else "-"
        formula = f"{sign}{p}switch_current_a * {p}switch_drop_v"
        steps.computed(f"{p}switch_power_w", formula, version.switch_power_w, "heat in it", JOULE)
        if version.coil_v is not None:
            meaning = "at the relay's coil before it closes"
            steps.solved(f"{p}coil_v", version.coil_v, meaning, NODAL)
            relay = here.relays[-1]
            with recording():
                warm = relay_in_case(
                    recorded(relay, f"{p}relay_"),
                    plain_case,
                    state.model.emf_v,
                    f"{p}relay_",
                )
            steps.result(f"{p}pick_up_v", warm.pick_up_v, "that closes the relay, its coil warm")
    formula = "proposed_load_voltage_v - as_is_load_voltage_v"
    steps.computed("gain_v", formula, told.gain_v, "more voltage at the load", KIRCHHOFF)


OPERATION = Operation(
    "relay-retrofit", __doc__, RelayRetrofitRequest, RelayRetrofit, solve, mend, tell_all=tell_all
)
