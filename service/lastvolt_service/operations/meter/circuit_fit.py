"""What a circuit is made of, from readings of it, and which reading to take next.

What is not known is given as intervals, in the circuit and its cases alike; readings of volts,
amperes by a clamp, and ohms with the power off narrow them. Weighted least squares within these
bounds on the network, by its own sensitivities; a meter's factor is common to all its readings and
is one more unknown; the bounds count as rectangular beside the readings. Where readings do not hold
together with the lengths of wires that were given as numbers, each is taken as about that, a tenth
more or less. Uncertainty is by JCGM 100, its coverage factor for 19 times of 20. The answer names
what these readings cannot tell apart, the reading that contradicts the rest, or that the circuit
does not fit at all, gives the circuit with its intervals narrowed, ready to post, and the next
reading that tells most about the voltage at the load.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np

from lastvolt_service.errors import ConflictingFields
from lastvolt_service.fields import changed, known
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.judging import FAIL, PASS, UNDECIDED, UNKNOWN, surely_reaches
from lastvolt_service.operations.judging import Judged as Judgement
from lastvolt_service.operations.meter.fit_answer import (
    Agreement,
    CircuitFit,
    Consistency,
    Decisive,
)
from lastvolt_service.operations.meter.fit_charging import as_charged
from lastvolt_service.operations.meter.fit_decisive import decisive_of, worst_case
from lastvolt_service.operations.meter.fit_explained import Explained, explained, parts_at_fault
from lastvolt_service.operations.meter.fit_faults import OF_WORN, Fault, stays_live
from lastvolt_service.operations.meter.fit_mending import Mending, listed, mending
from lastvolt_service.operations.meter.fit_model import CircuitModel, settled
from lastvolt_service.operations.meter.fit_next import following_reading, of_parts
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest, FittedCases
from lastvolt_service.operations.meter.fit_rounded import rounded
from lastvolt_service.operations.meter.fit_taken import Taken, meters_of
from lastvolt_service.operations.meter.fit_told import (
    NAME,
    SetAside,
    bounds,
    confounded,
    digits,
    estimates,
    named,
    residuals,
    sentence,
    set_aside,
    shared_places,
    stays,
)
from lastvolt_service.operations.meter.fit_verdict import Verdict
from lastvolt_service.operations.meter.next_reading import Readable
from lastvolt_service.operations.meter.reading_fields import meter_of
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
from lastvolt_service.units import Interval

GUIDE = "JCGM 100:2008: standard uncertainties, correlations, coverage factor"
# Where the inputs of the battery begin.
SOURCE = "circuit/source/"
# Of readings that hold together so badly nothing is concluded.
UNTOLD: frozenset[Agreement] = frozenset(
    {"reading_contradicts", "group_contradicts", "model_does_not_fit"}
)


def solve(asked: CircuitFitRequest) -> Outcome:
    """Fit, look for contradictions, and choose the next reading.

    Raises
    ------
    CalculationError
        If there is no state of rest within the bounds, or what was read is not there.
    """
    timed = settled(with_usual_starts(asked))
    taken, noise = sorted_readings(asked)
    model, charges = as_charged(asked, timed.circuit, timed.cases)
    found = explained(asked, model, taken)
    model, verdict = found.model, found.verdict
    agreement = agreement_of(verdict)
    is_told = agreement not in UNTOLD
    if charges and not is_told:
        # What something does that nobody described is laid at no part.
        found = Explained(asked, model, verdict)
    solved, readable = verdict.solved, Readable(model, verdict.solved)
    worst = worst_case(timed, readable)
    decisive, slopes = decisive_of(timed, found, readable, worst)
    names = named(model.unknowns, asked.circuit)
    cases = [case.name for case in asked.cases]
    # What does not fit tells nothing of any value.
    fit = next(iter(found.possible), None)
    fit = solved if len(verdict.contradicts) == 1 else fit
    following = following_reading(solved, readable, slopes) if is_told else None
    apart = tuple(confounded(model.unknowns, solved, names, readable, cases))
    load_check = _load_check(asked, decisive, agreement)
    nothing = sentence("uncharged" if charges else "nothing_more" if is_told else "again")
    lacks = load_check.judged.verdict == FAIL
    live = tuple(stays_live(model, asked.readings, asked.load))
    faults = live + parts_at_fault(found, is_told=is_told)
    is_known = is_told or bool(found.worse or found.several)
    mend = mending(
        asked,
        found.likeliest,
        is_told=is_known,
        agrees=is_told,
        lacks=lacks,
        possible=found.possible,
        said=frozenset(each.part for each in faults[:1]),
    )
    # Of what some take together any one may have it all, a wire given as a number, too.
    rows = [each.parts for each in mend.parts if each.verdict in {"fail", "undecided"}]
    shared = shared_places(model, rows)
    told = tuple(estimates(model.unknowns, fit, names, shared))
    fitted = [
        each.begin if stays(each, fit) else bounds(each, fit, is_shared=place in shared)
        for place, each in enumerate(model.unknowns)
    ]
    if not is_told and faults:
        may = all(each.fault == "takes_more" for each in faults)
        code = "give_more" if may else "mend_live" if len(faults) > 1 else "mend_worn"
        code = "read_finer" if [each.fault for each in faults] == ["perhaps_worn"] else code
        nothing = sentence(code)
        if found.several is not None and not found.several.alone:
            nothing = mend.asks or nothing
        is_one = found.several is None and all(each.fault in OF_WORN for each in faults)
        if code == "mend_live" and is_one:  # and which of them it is nobody knows
            parts = listed([each.part for each in faults])
            nothing = sentence("ask_each", part=parts, case=faults[0].case)
    # What stands in the list of faults already is no other part.
    named_ = [each.part for each in faults]
    wider = found.wider if found.several is not None else found.wider[1:]
    also = [told for _, told in wider if not told.name.endswith(tuple(named_))]
    if also:
        of_battery = all(told.input.startswith(SOURCE) for _, told in found.wider)
        of_loads = all(told.input.split("/")[1] == "loads" for told in also)
        code = "or_battery" if of_battery else "or_load" if of_loads else "or_another"
        told_also = sentence(code, part=" or ".join(each.name for each in also))
        nothing = f"{nothing} {told_also}" if of_loads else f"{told_also} {nothing}"
    if is_told and mend.asks:
        nothing = mend.asks
    if live:
        following, nothing = None, sentence("mend_live")
    elif is_told and faults:
        following, nothing = None, sentence("mend_open")
    elif is_told and (not following or load_check.judged.verdict != UNDECIDED):
        # What is sure of the voltage leaves open which part it is.
        lacking = load_check.judged.verdict == FAIL
        following = of_parts(solved, readable, slopes, mend, apart, lacks=lacking) or following
    return Outcome(
        {
            "agreement": agreement,
            "contradicts": tuple(index + 1 for index in verdict.contradicts),
            "decisive": decisive,
            "danger": mend.danger,
            "charging": charges,
            "battery": mend.battery,
            "mend": mend.mend,
            "fuse": mend.fuse,
            "rounded": rounded(asked.readings, asked.meters),
            "sound": mend.sound,
            "likely": mend.likely,
            "unread": mend.unread,
            "parts": mend.parts,
            "next_reading": following and following[0],
            "next_message": following[1] if following else nothing,
            "estimates": told,
            "beyond": tuple(told for _, told in found.wider),
            "faults": faults,
            "part_first": _part_first(found, faults, mend),
            "confounded": apart,
            "residuals": tuple(residuals(verdict)),
            "set_aside": tuple(_set_aside(asked, each) for each in noise),
            "consistency": _consistency(verdict),
            "fitted": _fitted(asked, model, fitted),
        },
        (readings_check(verdict, agreement), load_check, *mend.checks()),
        merge(
            (GUIDE,),
            readable.here[worst].state.model.basis,
            *(each.basis for each in meters_of(taken)),
            (COMMON_PRACTICE,),
        ),
        (STARTER, *ON_THE_VEHICLE, CLAMP, HOT_SURFACE, DEFERENCE),
    )


def _part_first(found: Explained, faults: Sequence[Fault], mend: Mending) -> bool:
    """Whether a part that is poor takes more than the one that explains the readings."""
    first = faults[0] if faults else None
    if first is None or first.fault not in {"worn_part", "perhaps_worn", "takes_more"}:
        return False
    if first.fault == "takes_more":
        return mend.costs_more(0.0, first.part)
    more = (each.more_v for each in found.worse if each.part == first.part)
    return mend.costs_more(next(more, first.voltage_v), first.part)


def sorted_readings(asked: CircuitFitRequest) -> tuple[list[Taken], list[Taken]]:
    """Readings that tell something, and ohms that are noise."""
    found: tuple[list[Taken], list[Taken]] = ([], [])
    for index, reading in enumerate(asked.readings):
        each = Taken(index, reading, meter_of(reading, asked.meters))
        by_meter = not known(reading.own_uncertainty)
        is_noise = by_meter and reading.kind == "ohms" and reading.value < each.meter.least_ohm
        found[is_noise].append(each)
    if not found[0]:
        first = _set_aside(asked, found[1][0])
        raise ConflictingFields(first.message, ("readings", first.reading - 1, "value_ohm"))
    return found


def _set_aside(asked: CircuitFitRequest, taken: Taken) -> SetAside:
    reading = taken.reading
    if reading.between:
        return set_aside(taken, reading.between)
    part = next(each for each in asked.circuit.parts if each.name == reading.of)
    ends: Any = getattr(part, "nodes", None) or getattr(part, "coil_nodes", ())
    return set_aside(taken, ends)


def agreement_of(verdict: Verdict) -> Agreement:
    """Say how readings go together, in a word."""
    if verdict.whole.check.agrees:
        return "agrees" if verdict.whole.check.is_checked else "not_checked"
    if not verdict.fits:
        return "model_does_not_fit"
    return "reading_contradicts" if len(verdict.contradicts) == 1 else "group_contradicts"


def _consistency(verdict: Verdict) -> Consistency:
    check = verdict.whole.check
    tail = check.probability if check.is_checked else None
    return Consistency(
        digits(check.chi_squared),
        digits(check.degrees_of_freedom),
        None if tail is None else digits(tail),
        digits(check.limit),
    )


def _fitted(
    asked: CircuitFitRequest, model: CircuitModel, found: Sequence[Interval | float]
) -> FittedCases:
    """Put the narrowed intervals into the request; what it left open stays so."""
    circuit, timed = model.narrowed(found)
    cases = [
        case if known(own.duration_s) else changed(case, duration_s=own.duration_s)
        for case, own in zip(timed, asked.cases, strict=True)
    ]
    return FittedCases(circuit=circuit, cases=cases, nominal_v=asked.nominal_v)


def readings_check(
    verdict: Verdict, agreement: Agreement, *, code: str = "readings_agree"
) -> Checked:
    """Judge whether the readings hold together."""
    check = verdict.whole.check
    held = [
        abs(float(each)) for row, each in enumerate(check.normalised) if check.is_held(row)
    ]  # fmt: skip
    if agreement == "not_checked" or not held:
        judged_ = Judgement(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        return Checked(code, judged_, "1", GUIDE, detail="not_checked")
    verdict_ = PASS if agreement == "agrees" else FAIL
    value, limit = digits(max(held)), digits(check.limit)
    if verdict_ == FAIL and value <= limit:  # all together, and none by itself
        value, limit = NOT_GIVEN, NOT_GIVEN
    part = ", ".join(str(index + 1) for index in verdict.contradicts) or None
    judged_ = Judgement(value, limit, limit - value, verdict_)
    return Checked(code, judged_, "1", GUIDE, part=part, detail=agreement)


def _load_check(asked: CircuitFitRequest, decisive: Decisive, agreement: Agreement) -> Checked:
    """Judge the decisive voltage by the whole of its interval."""
    about = {"part": asked.load, "case": decisive.case}
    needed, low, high = decisive.needed_v, decisive.low_v, decisive.high_v
    if needed is None or low is None or high is None or agreement in UNTOLD:
        nothing = Judgement(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        why = "needed_v" if needed is None else "model_does_not_fit"
        return Checked("load_voltage", nothing, "V", COMMON_PRACTICE, detail=why, **about)
    judged_ = surely_reaches(low, high, needed)
    return Checked("load_voltage", judged_, "V", GUIDE, **about)


def tell_all(asked: CircuitFitRequest, answer: CircuitFit, steps: Steps) -> None:
    """Tell the circuit as fitted, by hand, from the solved state."""
    timed = settled(with_usual_starts(asked))
    place = next(k for k, each in enumerate(asked.cases) if each.name == answer.decisive.case)
    model = CircuitModel(timed.circuit, timed.cases)
    values = {each.input: each.estimate for each in answer.estimates}
    point = np.array([values[each.input] for each in model.unknowns])
    here = model.here(place, point)
    tell_state(steps, here.state, here.case, asked.load)


OPERATION = Operation(NAME, __doc__, CircuitFitRequest, CircuitFit, solve, tell_all=tell_all)
