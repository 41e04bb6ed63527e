"""What a fit found, as it is told: values, what cannot be told apart, and how readings agree."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, TypeAlias

import numpy as np

from lastvolt_service.operations.circuits.bounds import input_named
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.meter.fit_model import CircuitModel, Unknown
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_verdict import Verdict
from lastvolt_service.operations.meter.fitting import ALONE, Solved
from lastvolt_service.operations.meter.next_reading import Candidate, Readable
from lastvolt_service.operations.meter.reading_fields import USUAL, MeterReading
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.units import Interval
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.amounts import amount, decimals_apart
from lastvolt_service.words.named import Named

NAME = "circuit-fit"
# Decimals of the least step that a usual meter shows.
FINEST = {
    each.unit: round(-math.log10(each.finest)) for each in USUAL.values() if each.unit != "ohm"
}
# A value is told where readings leave no more than so much of what bounds alone leave, and values
# are told together that share what is not told by so much. Common practice.
TOLD_SHARE, SHARED = 0.5, 0.1
_Sum: TypeAlias = tuple[float | None, float | None, float | None, str]


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value that was not known."""

    input: Annotated[str, "JSON path of the input, as circuit-check names it"]
    name: Annotated[str, "the same in words"]
    unit: Annotated[str, "of all numbers but the coverage factor"]
    given_low: Annotated[float, "low end of the interval that was given"]
    given_high: Annotated[float, "its high end"]
    estimate: Annotated[float, "most likely value"]
    low: Annotated[float, "it is not less, 19 times of 20"]
    high: Annotated[float, "it is not more, 19 times of 20"]
    standard_uncertainty: Annotated[float, "by JCGM 100"]
    coverage_factor: Annotated[
        float,
        f"that widens it to 19 times of 20, {COVERAGE_FACTOR}: near where many errors add up, "
        "and on the safe side where one rectangular error decides",
    ]
    told_by: Annotated[
        tuple[Annotated[int, "number of a reading"], ...],
        "readings that tell it, by their number from 1 on",
    ]
    determined: Annotated[
        bool, "whether readings leave no more than half of what its bounds alone leave"
    ]
    message: Annotated[str, "the same in a sentence"]


@dataclass(frozen=True, slots=True)
class Confounded:
    """Values that these readings cannot tell apart."""

    inputs: Annotated[tuple[str, ...], "JSON paths of the inputs"]
    together: Annotated[
        float | None, "their sum; null where even that is not told, or their units differ"
    ]
    low: Annotated[float | None, "the sum is not less, 19 times of 20"]
    high: Annotated[float | None, "the sum is not more, 19 times of 20"]
    unit: Annotated[str, "of the sum; empty where there is none"]
    measure_in: Annotated[str | None, "case in which a reading tells them apart best"]
    measure_between: Annotated[tuple[str, ...], "nodes at the red and at the black lead"]
    message: Annotated[str, "the same in a sentence"]


@dataclass(frozen=True, slots=True)
class Residual:
    """How a reading fits the rest."""

    reading: Annotated[int, "its number, from 1 on"]
    case: Annotated[str, "the case in which it was read"]
    where: Annotated[str, "where the meter was, in words"]
    unit: Annotated[str, "V, A or ohm"]
    read: Annotated[float, "what was shown, the leads put right"]
    fitted: Annotated[float, "what the meter should have shown"]
    standard_uncertainty: Annotated[float, "of the reading by its digits, and the meter's factor"]
    normalised: Annotated[
        float | None,
        "how far the reading is from what the others say, in standard uncertainties of that; null "
        "where no other reading holds it",
    ]
    swapped: Annotated[bool, "whether the leads, or the clamp, were the wrong way round"]
    used: Annotated[bool, "whether the values rest on it"]


@dataclass(frozen=True, slots=True)
class SetAside:
    """A reading of ohms that says nothing."""

    reading: Annotated[int, "its number, from 1 on"]
    least_ohm: Annotated[float, "least that this meter and its leads can tell"]
    between: Annotated[tuple[str, ...], "nodes between which to read volts with the load on"]
    message: Annotated[str, "the same in a sentence"]


def digits(value: float) -> float:
    """Leave out digits that no meter tells, and that hang on how a computer adds."""
    return float(f"{value:.6g}")


def sentence(code: str, **texts: str | None) -> str:
    """Say something of a fit."""
    return say(catalogue()[NAME].reasons[code], Named(None, texts))


def both(low: float, high: float, unit: str) -> tuple[str, str]:
    """Write the ends of an interval with as many digits as keep them apart.

    None is finer than a meter shows: there the ends are rounded outwards.
    """
    decimals = decimals_apart(low, high, unit, ("", ""))
    finest = FINEST.get(unit)
    if decimals is not None and finest is not None and decimals > finest:
        ends = ((low, "down"), (high, "up"))
        first, last = (amount(end, unit, side=side, decimals=finest) for end, side in ends)
        return first, last
    return amount(low, unit, decimals=decimals), amount(high, unit, decimals=decimals)


def place_in(unknown: Unknown, solved: Solved | None) -> int | None:
    """Where a value stands in a fit, which may be of a wider circuit; None where it is not told."""
    own = solved.problem.model.unknowns if solved is not None else ()
    return next((place for place, each in enumerate(own) if each.path == unknown.path), None)


def stays(unknown: Unknown, solved: Solved | None) -> bool:
    """Whether it is a length that was given as a number, and no reading tells it better."""
    place = place_in(unknown, solved)
    is_told = solved is not None and place is not None and solved.share(place) <= TOLD_SHARE
    return unknown.described is not None and unknown.path[-1] == "length_m" and not is_told


def shared_places(model: CircuitModel, rows: Sequence[Sequence[str]]) -> Mapping[int, str]:
    """Places of the ohms of parts that readings tell in a row only, and the others of each row."""
    found = {}
    for place, each in enumerate(model.unknowns):
        path = each.path
        if each.unit == "ohm" and len(path) == 4 and path[1] in {"branches", "relays"}:
            name = getattr(model.circuit, str(path[1]))[int(path[2])].name
            row = next((row for row in rows if len(row) > 1 and name in row), ())
            others = [other for other in row if other != name]
            if others:
                found[place] = " or ".join(others)
    return found


def bounds(unknown: Unknown, solved: Solved | None, *, is_shared: bool = False) -> Interval:
    """Bounds of a value, 19 times of 20; those given where no reading tells.

    What is shared with others has no more than was found, and maybe the least that was given.
    """
    place = place_in(unknown, solved)
    if solved is None or place is None or solved.share(place) >= ALONE:
        return unknown.given
    middle, deviation = float(solved.point[place]), float(solved.deviations[place])
    half = COVERAGE_FACTOR * deviation
    ends = middle - half, middle + half
    is_open = solved.share(place) > TOLD_SHARE and not solved.fit.bound[place]
    if is_open and solved.problem.model.unknowns[place].described is None:
        ends = _between_bounds(solved, place)
    low, high = (unknown.clipped(digits(end)) for end in ends)
    return Interval(unknown.given.low if is_shared else low, high)


def _between_bounds(solved: Solved, place: int) -> tuple[float, float]:
    """Ends, 19 times of 20, of a value of which readings tell little beside its bounds.

    The fit takes bounds as a normal distribution of their variance, which draws the value to their
    middle: a sound contact is at their end. What readings tell alone is what is left without that;
    bounds then cut it.
    """
    begin = float(solved.problem.begin[place])
    by_bounds = float(solved.problem.deviations[place]) ** -2
    alone = float(solved.deviations[place]) ** -2 - by_bounds
    told = begin + (float(solved.point[place]) - begin) * (1.0 + by_bounds / alone)
    half = COVERAGE_FACTOR / alone**0.5
    return told - half, told + half


def estimates(
    unknowns: Sequence[Unknown],
    solved: Solved | None,
    names: Sequence[str],
    shared: Mapping[int, str],
) -> Iterator[Estimate]:
    """Tell every value; without a fit as it was given. Some are `shared` with others."""
    for own, (name, unknown) in enumerate(zip(names, unknowns, strict=True)):
        if stays(unknown, solved):
            continue
        found = bounds(unknown, solved, is_shared=own in shared)
        place = place_in(unknown, solved)
        low, high = both(found.low, found.high, unknown.unit)
        value, deviation, is_told = unknown.begin, unknown.deviation, False
        told_by: tuple[int, ...] = ()
        if solved is not None and place is not None:
            value, deviation = float(solved.point[place]), float(solved.deviations[place])
            is_told = own not in shared and solved.share(place) <= TOLD_SHARE
            told_by = solved.told_by(place)
        code = "told" if is_told else "shared" if own in shared else "not_told"
        yield Estimate(
            unknown.input,
            name,
            unknown.unit,
            unknown.given.low,
            unknown.given.high,
            digits(unknown.clipped(value)),
            found.low,
            found.high,
            digits(deviation),
            COVERAGE_FACTOR,
            tuple(index + 1 for index in told_by),
            is_told,
            sentence(code, part=name, low=low, high=high, others=shared.get(own)),
        )


def confounded(
    unknowns: Sequence[Unknown],
    solved: Solved,
    names: Sequence[str],
    readable: Readable,
    cases: Sequence[str],
) -> Iterator[Confounded]:
    """Tell what cannot be told apart."""
    for members in groups(solved):
        group = [place for place in members if not stays(unknowns[place], solved)]
        if len(group) < 2:
            continue
        targets = np.zeros((len(group), solved.count))
        for row, place in enumerate(group):
            targets[row, place] = 1.0 / solved.problem.deviations[place]
        best = readable.best(targets, volts_only=True)
        together = _together([unknowns[place] for place in group], group, solved)
        part = ", ".join(names[place] for place in group[:-1]) + f" and {names[group[-1]]}"
        texts: dict[str, str | None] = {"part": part}
        if together is not None:
            value, low, high, unit = together
            texts["low"], texts["high"] = both(low, high, unit)
            texts["sum"] = amount(value, unit)
        if best is not None:
            texts |= {"red": best.between[0], "black": best.between[1], "case": cases[best.case]}
        code = "apart" if together is None else "together"
        sum_: _Sum = together or (None, None, None, "")
        yield Confounded(
            tuple(unknowns[place].input for place in group),
            *sum_,
            cases[best.case] if best else None,
            best.between if best else (),
            sentence(code, **texts),
        )


def groups(solved: Solved) -> list[list[int]]:
    """Places of values that share what no reading tells.

    In units of what bounds alone leave, the readings add to a precision of one; where they add
    less than three in a direction, what is left is more than half.

    It asks of values, a battery's or a load's among them, what was learnt beside their bounds.
    Which parts are judged as one, by the volts that they take, `Conditions` asks: parts whose
    values nobody can tell apart may all be sound as given, and volts be told closer than ohms.
    """
    count = solved.count
    scale = solved.problem.deviations[:count]
    covariance = solved.covariance[:count, :count] / np.outer(scale, scale)
    values, vectors = np.linalg.eigh(covariance)
    weak = vectors[:, values > TOLD_SHARE**2]
    shared = np.abs(weak @ weak.T)
    open_ = [place for place in range(count) if solved.share(place) > TOLD_SHARE]
    found: list[list[int]] = []
    left = set(open_)
    while left:
        group, todo = set[int](), [min(left)]
        while todo:
            place = todo.pop()
            if place not in group:
                group.add(place)
                todo += [other for other in left - group if shared[place, other] > SHARED]
        left -= group
        if len(group) > 1:
            found.append(sorted(group))
    return found


def _together(
    unknowns: Sequence[Unknown], group: Sequence[int], solved: Solved
) -> tuple[float, float, float, str] | None:
    """Sum of values of one unit, its ends and the unit; None where readings do not tell it."""
    if len({each.unit for each in unknowns}) > 1:
        return None
    slopes = np.zeros(solved.count)
    slopes[list(group)] = 1.0
    deviation = solved.of(slopes)
    alone = math.sqrt(float(np.sum((slopes * solved.problem.deviations[: solved.count]) ** 2)))
    if deviation > TOLD_SHARE * alone:
        return None
    total, half = float(slopes @ solved.point), COVERAGE_FACTOR * deviation
    low = max(total - half, sum(each.given.low for each in unknowns))
    high = min(total + half, sum(each.given.high for each in unknowns))
    return digits(total), digits(low), digits(high), unknowns[0].unit


def residuals(verdict: Verdict) -> list[Residual]:
    """Tell how each reading fits, in the order of the request; one left out, by the others."""
    check, used = verdict.whole.check, {each.index for each in verdict.solved.problem.taken}
    left_out = _predicted(verdict, used)
    shown = dict(
        zip(
            (each.index for each in verdict.solved.problem.taken), verdict.solved.shown, strict=True
        )
    )
    found = []
    for row, each in enumerate(verdict.whole.problem.taken):
        fitted = float(shown[each.index] if each.index in used else left_out[each.index])
        own = math.hypot(each.digits, each.meter.gain * fitted)
        held = check.is_checked and check.is_held(row)
        found.append(
            Residual(
                each.index + 1,
                each.reading.case,
                where(each.reading),
                each.meter.usual.unit,
                each.value,
                digits(fitted),
                digits(own),
                digits(float(check.normalised[row])) if held else None,
                each.turned,
                each.index in used,
            )
        )
    return sorted(found, key=lambda each: each.reading)


def _predicted(verdict: Verdict, used: set[int]) -> Mapping[int, float]:
    """What the values say that readings should have been that they do not rest on."""
    whole = verdict.whole.problem
    rows = [row for row, each in enumerate(whole.taken) if each.index not in used]
    if not rows:
        return {}
    point = whole.begin.copy()
    point[: whole.count] = verdict.solved.point
    shown, _ = whole.shown(point)
    return {whole.taken[row].index: float(shown[row]) for row in rows}


def where(reading: MeterReading) -> str:
    """Say where a meter was."""
    if reading.between:
        red, black = reading.between
        return sentence("between", red=red, black=black)
    through = reading.through
    return sentence("through" if through else "of", part=through or reading.of)


def set_aside(taken: Taken, ends: Sequence[str]) -> SetAside:
    """Say why a reading of ohms was not used, and what to read in its place."""
    least = taken.meter.least_ohm
    red, black = ends
    message = sentence(
        "set_aside",
        number=str(taken.index + 1),
        least=amount(least, "ohm", side="up"),
        red=red,
        black=black,
    )
    return SetAside(taken.index + 1, least, (red, black), message)


def named(unknowns: Sequence[Unknown], circuit: Circuit) -> list[str]:
    """Name every value as a mechanic would."""
    return [input_named([str(key) for key in each.path], circuit) for each in unknowns]


def best_of(candidate: Candidate, case: str) -> dict[str, str | None]:
    """Texts of a reading to be taken."""
    low, high = both(*candidate.expected, candidate.unit)
    texts: dict[str, str | None] = {"case": case, "low": low, "high": high}
    if candidate.between:
        return texts | {"red": candidate.between[0], "black": candidate.between[1]}
    return texts | {"part": candidate.through}
