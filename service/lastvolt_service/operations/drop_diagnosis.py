"""Which part of a live path drops more than a sound one, and what mending it gives."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from lastvolt_service.operations.drop_limits import nominal_voltage
from lastvolt_service.operations.readings import Reading, Readings, take_readings
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    STARTER,
    Check,
    Result,
    at_most,
    judge,
    merge,
    show,
    unknown,
)
from lastvolt_service.operations.solved import MARGINAL_SHARE, Verdict
from lastvolt_service.tables.cables import cable_limits
from lastvolt_service.tables.limits import Limit, contact_limits, drop_limits

Advice = Literal["mend_the_wiring", "path_is_sound", "not_proven", "unmeasured_part"]
DEFAULT_NOMINAL_V = 12
UNCERTAINTY_BASIS = (
    "errors add up as the worst case: one step of the last digit and the percentage of each "
    "reading, and the errors of current and temperature in what a new wire would drop"
)
KIRCHHOFF = "Kirchhoff: what the path drops and what reaches the load make up the supply"
NEW_WIRE = "a new wire of this size, length and temperature at this current"


@dataclass(frozen=True, slots=True)
class PartDiagnosis:
    """What one reading says of its part."""

    name: Annotated[str, "the part as the request names it"]
    kind: Annotated[str, "wire or contact"]
    measured_v: Annotated[float, "what the meter shows"]
    uncertainty_v: Annotated[float, "largest error of that reading"]
    expected_v: Annotated[
        float,
        "of a new wire at this current and temperature, or the most that a sound contact drops",
    ]
    excess_v: Annotated[float, "measured over expected; 0 where it drops no more"]
    excess_uncertainty_v: Annotated[
        float,
        "largest error of the excess: of the reading, of what is expected, and of readings that "
        "contradict each other",
    ]
    excess_resistance_ohm: Annotated[float, "the excess as a resistance, at the current"]
    proven: Annotated[bool, "whether the excess is beyond its largest error"]
    rank: Annotated[int, "1 is the part that gives the load most when mended"]
    regained_v: Annotated[
        float,
        "what the load gains when the excess is mended: a load of constant resistance with "
        "load_voltage_v, of constant current without it",
    ]
    share_percent: Annotated[float, "of all that is measured; 0 where nothing drops"]


@dataclass(frozen=True, slots=True, kw_only=True)
class DropDiagnosis(Result):
    """Answer of ``drop-diagnosis``."""

    advice: Annotated[
        Advice,
        "mend_the_wiring: an excess is proven; unmeasured_part: voltage is lost where nothing was "
        "read; not_proven: the readings are too coarse to tell; path_is_sound: no part can hide "
        "an excess that matters",
    ]
    advice_text: Annotated[str, "the same in words, and what to do"]
    mend_first: Annotated[tuple[str, ...], "parts of proven excess, the most worthwhile first"]
    regained_v: Annotated[float, "what the load gains when all of these are mended"]
    total_measured_v: Annotated[float, "sum of the readings"]
    total_uncertainty_v: Annotated[float, "largest error of that sum"]
    unaccounted_v: Annotated[
        float | None,
        "supply less load less readings: lost where nothing was read, or, below zero, read twice; "
        "null without supply_v and load_voltage_v",
    ]
    unaccounted_uncertainty_v: Annotated[float | None, "largest error of that"]
    nominal_v: Annotated[float, "nominal voltage of the system that the limits are for"]
    readings: Annotated[tuple[PartDiagnosis, ...], "every reading in order"]


def drop_diagnosis(
    *,
    current_a: float,
    current_accuracy_percent: float,
    temperature_accuracy_k: float,
    meter: Mapping[str, float],
    circuit: str,
    readings: Sequence[Mapping[str, Any]],
    supply_v: float | None = None,
    load_voltage_v: float | None = None,
    nominal_v: int | None = None,
) -> DropDiagnosis:
    """Which part of a live path to mend first, from the voltage across each.

    A wire is held against a new one of its size, length and temperature at the same current; a
    contact against the most that a sound one drops. Only an excess beyond the largest error of
    meter, current and temperature counts as proven. With the voltages of supply and load, what is
    lost where nothing was read shows too, and what mending gives back is worked out for a load of
    constant resistance.

    Returns
    -------
    DropDiagnosis

    Raises
    ------
    UnknownSize, NotCovered
        If a wire is in no table.
    """
    taken = take_readings(
        readings,
        meter,
        current_a,
        current_accuracy_percent,
        temperature_accuracy_k,
        supply_v,
        load_voltage_v,
    )
    found = _diagnose(taken, current_a)
    proven = sorted((each for each in found if each.proven), key=lambda each: each.rank)
    nominal = nominal_v or _nominal(taken)
    limit = drop_limits()[circuit, nominal]
    whole = _held(
        "drop of the whole path",
        "The path",
        taken.total_v,
        limit,
        taken.total_uncertainty_v,
        "mend what drops more than a sound part, or take larger wires.",
    )
    advice = _advice(taken, proven, limit)
    regained = taken.regained_v(math.fsum(each.excess_v for each in proven))
    return DropDiagnosis(
        advice=advice,
        advice_text=_words(advice, taken, proven, regained, whole.verdict),
        mend_first=tuple(each.name for each in proven),
        regained_v=regained,
        total_measured_v=taken.total_v,
        total_uncertainty_v=taken.total_uncertainty_v,
        unaccounted_v=taken.unaccounted_v,
        unaccounted_uncertainty_v=taken.unaccounted_uncertainty_v,
        nominal_v=float(nominal),
        readings=tuple(found),
        checks=(
            *_part_checks(taken, limit),
            *(_cable_checks(taken, nominal) if circuit == "starter_motor" else ()),
            whole,
            _balance_check(taken),
        ),
        basis=merge(*(part.basis for part in taken.parts), (limit.citation, UNCERTAINTY_BASIS)),
        cautions=(
            *((STARTER,) if circuit.startswith("starter") else ()),
            SHORT_CIRCUIT,
            FUSE_NEAR_SOURCE,
            DEFERENCE,
        ),
    )


def _diagnose(taken: Readings, current_a: float) -> list[PartDiagnosis]:
    order = sorted(taken.parts, key=lambda part: (-part.excess_v, -part.measured_v))
    ranks = {part.name: rank for rank, part in enumerate(order, 1)}
    total = taken.total_v
    return [
        PartDiagnosis(
            name=part.name,
            kind=part.kind,
            measured_v=part.measured_v,
            uncertainty_v=part.uncertainty_v,
            expected_v=part.expected_v,
            excess_v=part.excess_v,
            excess_uncertainty_v=_error(part, taken),
            excess_resistance_ohm=part.excess_v / current_a,
            proven=part.excess_v > _error(part, taken),
            rank=ranks[part.name],
            regained_v=taken.regained_v(part.excess_v),
            share_percent=100 * part.measured_v / total if total > 0 else 0.0,
        )
        for part in taken.parts
    ]


def _error(part: Reading, taken: Readings) -> float:
    # Where the sum is wrong, any one reading may be the wrong one.
    return part.error_v + taken.contradiction_v


def _nominal(taken: Readings) -> int:
    if taken.supply_v is not None:
        return nominal_voltage(taken.supply_v)
    if taken.load_voltage_v is not None:
        return nominal_voltage(taken.load_voltage_v + taken.total_v)
    return DEFAULT_NOMINAL_V


def _advice(taken: Readings, proven: Sequence[PartDiagnosis], limit: Limit) -> Advice:
    if proven:
        return "mend_the_wiring"
    if taken.missing_v > 0:
        return "unmeasured_part"
    hidden = math.fsum(part.hidden_v for part in taken.parts)
    if taken.contradiction_v > 0 or _matters(hidden, limit):
        return "not_proven"
    return "path_is_sound"


def _matters(excess_v: float, limit: Limit) -> bool:
    # Against what the whole path may drop; a part of it that small changes no decision.
    return excess_v > MARGINAL_SHARE * limit.limit_v


def _words(
    advice: Advice,
    taken: Readings,
    proven: Sequence[PartDiagnosis],
    regained: float,
    whole: Verdict,
) -> str:
    if advice == "mend_the_wiring":
        return " ".join(_what_to_mend(taken, proven, regained))
    if advice == "unmeasured_part":
        return (
            f"No part that was read shows a fault, but {show(taken.unaccounted_v or 0.0, 'V')} is "
            "lost where nothing was read: read every wire, joint and contact, those of the ground "
            "side too."
        )
    if advice == "not_proven":
        if taken.contradiction_v > 0:
            return (
                "Nothing is proven: readings, load and supply contradict each other. Take them "
                "again, all at the same current and each part once."
            )
        return (
            "Nothing is proven: an excess that matters could hide within the errors. Use a finer "
            "meter or range, or more current."
        )
    if whole == "fail":
        return (
            "The path is sound, but too thin or too long for its current: no part drops more than "
            "a sound one, and together they drop too much. Take larger wires, or a relay near the "
            "load."
        )
    return "The path is sound: no part drops more than a sound one. Look for the fault elsewhere."


def _what_to_mend(
    taken: Readings, proven: Sequence[PartDiagnosis], regained: float
) -> Iterator[str]:
    first, *others = proven
    yield (
        f"Mend the wiring first: {first.name} drops {show(first.excess_v, 'V')} more than a sound "
        f"one, and mending it gives the load {show(first.regained_v, 'V')}."
    )
    if others:
        names = ", ".join(each.name for each in others)
        yield f"Then {names}: {show(regained, 'V')} with all of them."
    if taken.missing_v > 0:
        missing = show(taken.unaccounted_v or 0.0, "V")
        yield f"Another {missing} is lost where nothing was read: read the rest of the path."


def _part_checks(taken: Readings, whole: Limit) -> Iterator[Check]:
    for part in taken.parts:
        if part.kind == "wire":
            yield _wire_check(part, _error(part, taken), whole)
        else:
            yield _held(
                f"drop of {part.name}",
                part.name,
                part.measured_v,
                contact_limits()[part.part],
                _error(part, taken),
                f"clean, tighten or replace the {part.part}.",
            )


def _wire_check(part: Reading, error: float, whole: Limit) -> Check:
    margin = part.expected_v - part.measured_v
    said = f"{part.name} drops {show(part.measured_v, 'V')}, a new one {show(part.expected_v, 'V')}"
    verdict: Verdict = "pass"
    message = f"{said}."
    if part.excess_v > error:
        verdict = "fail"
        message = f"{said}: look for broken strands, corrosion and bad crimps, or replace it."
    elif _matters(part.hidden_v, whole):
        verdict = "marginal"
        message = f"{said}; the errors, {show(error, 'V')}, could hide an excess that matters."
    elif margin > error:
        message = f"{said}: check its size and length and the current, for it drops less."
    return Check(
        f"drop of {part.name}",
        verdict,
        part.measured_v,
        part.expected_v,
        "V",
        margin,
        NEW_WIRE,
        message,
    )


def _cable_checks(taken: Readings, nominal: int) -> Iterator[Check]:
    for part in taken.parts:
        if part.kind == "wire":
            yield _held(
                f"{part.name} as a starter cable",
                part.name,
                part.measured_v,
                cable_limits()[nominal],
                part.uncertainty_v,
                "mend its ends, or take a larger or shorter cable.",
            )


def _held(name: str, subject: str, value: float, limit: Limit, error: float, remedy: str) -> Check:
    """Hold a reading against a limit as far as its error lets."""
    margin = limit.limit_v - value
    near = abs(margin) <= error
    verdict = "marginal" if near else judge(margin, limit.limit_v)
    said = f"{subject} drops {show(value, 'V')}"
    allowed = show(limit.limit_v, "V")
    message = {
        "pass": f"{said} of the {allowed} allowed.",
        "marginal": f"{said}; the limit is {allowed}, too near to tell within {show(error, 'V')}."
        if near
        else f"{said} of the {allowed} allowed. The margin is small.",
        "fail": f"{said}, more than {allowed}: {remedy}",
        "unknown": said,
    }[verdict]
    return Check(name, verdict, value, limit.limit_v, "V", margin, limit.citation, message)


def _balance_check(taken: Readings) -> Check:
    name = "readings make up the supply"
    left, error = taken.unaccounted_v, taken.unaccounted_uncertainty_v
    if left is None or error is None:
        return unknown(
            name, "V", KIRCHHOFF, "Give supply_v and load_voltage_v to know what was not read."
        )
    wrong = (
        "is lost where nothing was read: read the rest of the path."
        if left > 0
        else "is read twice, or at another current: take the readings again."
    )
    return at_most(
        name,
        abs(left),
        error,
        "V",
        KIRCHHOFF,
        {
            "pass": "Load and readings make up the supply, within the error of the meter.",
            "fail": f"{show(abs(left), 'V')} {wrong}",
        },
        scale=0.0,
    )
