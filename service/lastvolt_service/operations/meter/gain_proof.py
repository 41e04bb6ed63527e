"""Whether a way brought what it promised, from readings before and after it was built.

Both sets of readings are fitted as circuit-fit does, before to the circuit and after to the circuit
with the way, in which what is new is not taken for well made. Then both are compared in one case,
at one supply and the same temperatures. The winding, the wires and each meter's factor are the same
in both, so that their errors cancel in part. A case that cannot be measured, such as a hot restart,
is predicted from the two fits. Where the readings after do not go with the way as it is described,
one fault at a time is tried: coil and contact changed about, the old wire left on the load, the
feed taken from another node, a relay that does not open or close, a load or a part that is open or
got worse. A battery that ran down, or was charged, between the two is told, and nobody's fault; no
part is blamed for a loss that was not read over it. Only where none of these goes with all of them
is a reading taken for false. A load that is live with its switch off, before or after, is a
finding, whatever else is.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any
from weakref import WeakKeyDictionary

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.judging import (
    FAIL,
    PASS,
    UNDECIDED,
    UNKNOWN,
    Judged,
    surely_reaches,
)
from lastvolt_service.operations.meter.circuit_fit import GUIDE, readings_check
from lastvolt_service.operations.meter.fit_answer import NextReading
from lastvolt_service.operations.meter.fit_mending import listed
from lastvolt_service.operations.meter.fit_next import across_one, following_reading, told_next
from lastvolt_service.operations.meter.fit_rounded import rounded
from lastvolt_service.operations.meter.fit_taken import meters_of
from lastvolt_service.operations.meter.fit_told import digits, sentence
from lastvolt_service.operations.meter.next_reading import Readable
from lastvolt_service.operations.meter.proof_answer import GainProof, ProofOfCase
from lastvolt_service.operations.meter.proof_drops import drops
from lastvolt_service.operations.meter.proof_fit import Proof
from lastvolt_service.operations.meter.proof_judged import (
    NOTHING,
    as_built,
    not_judged_here,
    switches_off,
)
from lastvolt_service.operations.meter.proof_left import Left, left
from lastvolt_service.operations.meter.proof_look import NAME, looks
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.operations.meter.proof_told import BEFORE, ONCE, Told
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import (
    CLAMP,
    COMMON_PRACTICE,
    DEFERENCE,
    HOT_SURFACE,
    ON_THE_VEHICLE,
    STARTER,
    merge,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.rows import NOT_GIVEN

LATCH = (
    "Turn the switch off after each try and see that the load stops: a relay holds itself by an "
    "old wire left on the load, and its contact may weld. What does not stop is stopped at the "
    "battery: its ground off first."
)
# What one looks at because the readings do not decide.
NOT_DECIDED = frozenset({"gain_open", "promise_open", "need_open", "need_not_known"})
# The fits take seconds: how an answer came about is told from those that it rests on.
_PROOFS: WeakKeyDictionary[GainProofRequest, Proof] = WeakKeyDictionary()


def solve(asked: GainProofRequest) -> Outcome:
    """Fit before and after, and hold the one against the other.

    Raises
    ------
    CalculationError
        If there is no state of rest within the bounds, or what was read is not there.
    """
    proof = _proof(asked)
    told = Told(proof)
    lost, still = tuple(drops(told)), left(told)
    sides = (proof.before, proof.after)
    look_at = looks(told, lost, still)
    following = _following(told, still, frozenset(each.code for each in look_at))
    here = proof.here(BEFORE, told.worst)
    taken = [each for side in sides for each in side.verdict.whole.problem.taken]
    return Outcome(
        {
            "proof": told.verdict,
            "gain": told.gain(),
            "promise": told.promise(),
            "switch_current": told.switch_current,
            "drops": lost,
            "by_case": told.by_case,
            "wired": told.wired,
            "look_at": look_at,
            "agreement_before": proof.before.agreement,
            "agreement_after": proof.after.agreement,
            **{
                f"contradicts_{name}": tuple(index + 1 for index in side.verdict.contradicts)
                for name, side in zip(("before", "after"), sides, strict=True)
            },
            "next_reading": following[0],
            "next_message": following[1],
            "rounded": rounded([*asked.before, *asked.after], asked.meters),
        },
        tuple(_checks(told)),
        merge(
            (GUIDE,),
            here.state.model.basis if here else (),
            *(each.basis for each in meters_of(taken)),
            (COMMON_PRACTICE,),
        ),
        (
            STARTER,
            *ON_THE_VEHICLE,
            *((LATCH,) if asked.way.relay is not None else ()),
            CLAMP,
            HOT_SURFACE,
            DEFERENCE,
        ),
    )


def _following(
    told: Told, still: Sequence[Left], said: frozenset[str]
) -> tuple[NextReading | None, str | None]:
    """What to read next of the circuit after, where it is not proven."""
    proof = told.proof
    is_found = bool(told.runs_on or proof.faults) and not proof.is_wrong
    if told.verdict == "proven" or is_found:  # what was found is mended first
        return None, None
    if not told.is_told:
        return None, sentence("again")
    here = proof.here(ONCE, told.worst)
    if here is None:
        return None, sentence("nothing_more")
    read = [place for place in proof.solved.problem.cases if place >= proof.both.count]
    readable = Readable(proof.both, proof.solved, read)
    row = next((each for each in still if len(each.parts) > 1), None)
    if row is not None:
        asked = sentence("ask_each", part=listed(row.parts), case=row.case)
        place = next((each for each in read if proof.both.cases[each].name == row.case), None)
        across = None
        if place is not None and not row.is_one:  # else what to expect hangs on which one it is
            across = across_one(readable, place, row.parts, told.gain_slopes)
        if across is None:
            return None, asked
        return told_next(proof.solved, readable, across, told.gain_slopes), asked
    best = following_reading(proof.solved, readable, told.gain_slopes)
    # Where something is to be mended, or a clamp to be put somewhere, that is said already.
    return best or (None, None if said.isdisjoint(NOT_DECIDED) else sentence("nothing_more"))


def _checks(told: Told) -> Iterator[Checked]:
    """Hold the readings against each other, and what they tell against what is wanted."""
    proof = told.proof
    yield from switches_off(told)
    yield readings_check(proof.before.verdict, proof.before.agreement, code="readings_agree_before")
    after = readings_check(proof.after.verdict, proof.after.agreement, code="readings_agree_after")
    if told.rests_on is not None:
        after = replace(after, judged=NOTHING, detail="rests_on", part=str(told.rests_on))
    yield after
    yield from not_judged_here(told)
    about: Mapping[str, Any] = {
        "part": told.asked.load,
        "case": proof.cases[told.worst].name,
    }
    if not told.is_told:
        yield Checked("gain", NOTHING, "V", GUIDE, detail="contradict", **about)
        return
    gain, missing = told.gained, told.missing
    judged = surely_reaches(digits(gain.low), digits(gain.high), 0.0)
    yield Checked("gain", judged, "V", GUIDE, **about)
    value, most, verdict = digits(missing.value), digits(told.most_missing_v), PASS
    if told.falls_short:
        verdict = FAIL if missing.low > 0.0 else UNDECIDED
    judged = Judged(value, most, most - value, verdict)
    yield Checked("promise", judged, "V", COMMON_PRACTICE, **about)
    yield from as_built(told)
    yield from (_need(told, each) for each in told.by_case)


def _need(told: Told, each: ProofOfCase) -> Checked:
    """Judge the voltage of a case by the whole of its interval."""
    about: Mapping[str, Any] = {"part": told.asked.load, "case": each.case}
    if each.after_low_v is None or each.after_high_v is None or each.needed_v is None:
        verdict = FAIL if each.met == "no" else UNKNOWN
        judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, verdict)
        return Checked("load_voltage", judged, "V", COMMON_PRACTICE, detail="no_rest", **about)
    judged = surely_reaches(each.after_low_v, each.after_high_v, each.needed_v)
    return Checked("load_voltage", judged, "V", GUIDE, **about)


def _proof(asked: GainProofRequest) -> Proof:
    found = _PROOFS.get(asked)
    if found is None:
        # A copy: a value that held its own key would never be let go.
        found = _PROOFS[asked] = Proof(changed(with_usual_starts(asked)))
    return found


def tell_all(asked: GainProofRequest, answer: GainProof, steps: Steps) -> None:
    """Tell both circuits as fitted, by hand, from their solved states."""
    proof = _proof(asked)
    place = next(k for k, each in enumerate(proof.cases) if each.name == answer.gain.case)
    for group, prefix in ((BEFORE, "before_"), (ONCE, "after_")):
        here = proof.here(group, place)
        if here is not None:
            tell_state(steps, here.state, here.case, asked.load, prefix)


OPERATION = Operation(NAME, __doc__, GainProofRequest, GainProof, solve, tell_all=tell_all)
