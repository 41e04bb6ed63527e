"""What each part is worth by readings: poor, sound, or not told; circuit-check is the judge.

What a part drops, with its uncertainty, is held against what a sound one may: a contact's limit, or
what a new wire of its size and length drops. Wires and what was given as a number may be worse
than described here, so that nothing is blamed that was not read: parts that no reading tells apart
are judged together. While something holds the current down, limits are those at that current.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from lastvolt_service.operations.circuits.contact_checks import carries_s, sound_contact
from lastvolt_service.operations.circuits.judge import Asked, judge_all
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.judging import (
    WORN_MULTIPLE,
)
from lastvolt_service.operations.meter.checks import may_be_poor, worn_wire_v
from lastvolt_service.operations.meter.fit_ends import (
    LEAST_A,
)
from lastvolt_service.operations.meter.fit_model import Here
from lastvolt_service.operations.meter.fit_opened import opened
from lastvolt_service.operations.meter.fit_outputs import across, clamped, element
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_told import TOLD_SHARE, digits
from lastvolt_service.operations.meter.fit_way import ways_of
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.tables.limits import drop_limits

Worth = Literal["fail", "undecided", "marginal", "likely", "pass", "unknown"]
WORST_FIRST: tuple[Worth, ...] = ("fail", "undecided", "marginal", "likely", "pass", "unknown")
# A sum of drops is told to so much of it, and in any case to so many volts. Common practice.
OF_SUM, SUM_V = 0.3, 0.05
# A run is told as well as another that leaves so many times as much open.
AS_WELL = 1.1
# From so many times on that a load would take more current, limits are those at the present one,
# and beyond so many nothing is called sound. Common practice.
HELD_DOWN, NEARLY_OFF = 2.0, 10.0
# A current that is told no nearer may be so much more that a sound part drops more, too.
UNTOLD_SHARE = 0.25
# Parts in series carry the same.
SAME_CURRENT_SHARE = 0.02
# Sound contacts in a row drop so much each, or half of their limits: what is left of a sum beside
# that may be one's that is poor. [V]. Common practice.
USUAL_V, USUAL_SHARE = 0.05, 0.5
WIRES = frozenset({"wire", "resistance"})
# Of the nominal voltage, what a way may drop whose load has no limit of its own. Common practice.
OF_NOMINAL = 0.04


@dataclass(frozen=True, slots=True)
class Condition:
    """What a part is worth, or several that no reading tells apart."""

    parts: Annotated[tuple[str, ...], "its name; of several, in the order of the current"]
    kind: Annotated[str, "wire, resistance, relay, or what makes the contact; of several: several"]
    case: Annotated[str, "the case that tells"]
    verdict: Annotated[
        Worth,
        "fail: poor; undecided: poor or sound, and a closer reading tells; marginal: a little "
        "worn; likely: sound as far as the meter tells, which is too coarse to be sure; pass: "
        "sound; unknown: no reading tells",
    ]
    drop_v: Annotated[float, "most likely across it there; of several the sum"]
    low_v: Annotated[float, "it is not less, 19 times of 20"]
    high_v: Annotated[float, "it is not more, 19 times of 20"]
    limit_v: Annotated[
        float | None,
        "that a sound one drops at most, at this current; of one that is poor, at the most that "
        "may flow; of several the sum",
    ]
    current_a: Annotated[float, "most likely through it; of several the least"]
    measure_between: Annotated[
        tuple[str, ...], "nodes at the red and at the black lead; empty of several"
    ]
    is_read: Annotated[bool, "whether volts across it were read there"]
    message: Annotated[str, "the same in a sentence"] = ""


@dataclass(frozen=True, slots=True)
class _Part:
    """A part that carries current in a case, and what is known of its drop."""

    part: Part
    kind: str
    drop_v: float
    amps: float
    slopes: FloatArray
    deviation: float
    limit_v: float
    most_v: float
    least_v: float
    is_told: bool
    is_read: bool
    is_sound_as_given: bool

    @property
    def usual_v(self) -> float:
        """What a sound one usually drops beyond the least. [V]."""
        return 0.0 if self.kind in WIRES else min(USUAL_V, USUAL_SHARE * self.limit_v)

    @property
    def likely_poor_v(self) -> float:
        """From how much on it is poor, and not a little worn only, at the most likely current."""
        return poor_from_v(self.kind, self.limit_v)

    @property
    def poor_v(self) -> float:
        """The same at the most that may flow."""
        return poor_from_v(self.kind, self.most_v)

    @property
    def ends(self) -> tuple[str, str]:
        first, last = self.part.nodes
        return (first, last) if self.amps >= 0.0 else (last, first)


@dataclass(frozen=True, slots=True)
class _Run:
    """What several sound parts drop at most together, and the least of their currents."""

    limit_v: float
    amps: float


@dataclass(frozen=True, slots=True)
class _Summed:
    """Some neighbours: their places, and the share of what bounds alone leave that is left open."""

    places: range
    left: float
    half_v: float
    condition: Condition

    @property
    def is_told(self) -> bool:
        """Whether the sum is told closely, or so that all are sound as far as it tells."""
        each = self.condition
        is_close = self.half_v <= max(SUM_V, OF_SUM * each.drop_v)
        return is_close or (self.left <= TOLD_SHARE and each.verdict in {"pass", "likely"})


def poor_from_v(kind: str, limit_v: float) -> float:
    """From how much on a part is poor that drops `limit_v` at most while it is sound. [V]."""
    return limit_v * (1.0 if kind in WIRES else WORN_MULTIPLE)


class Conditions:
    """Parts of a fitted circuit in the cases that were read.

    Attributes
    ----------
    cases : list of int
        Places of these.
    states : mapping of int to State
        The circuit in each.
    checks : mapping of int to tuple of Check
        What circuit-check says of each.
    """

    def __init__(self, asked: CircuitFitRequest, solved: Solved) -> None:
        """Judge the circuit where it was found to be, and open what was given as numbers.

        Raises
        ------
        CalculationError
            If a case has no state of rest there.
        """
        model = solved.problem.model
        self.cases = sorted(solved.problem.cases)
        there = [model.pins[place].put([float(solved.point[k]) for k in model.of_case[place]])
                 for place in self.cases]  # fmt: skip
        judged = judge_all([Asked(*each, asked.sure_v, asked.load) for each in there])
        self.states = {place: each.state for place, each in zip(self.cases, judged, strict=True)}
        self.checks = {place: each.checks for place, each in zip(self.cases, judged, strict=True)}
        self._asked, self._fit = asked, solved
        self._solved, self._own = opened(solved, self.states.values())

    def told(self) -> list[Condition]:
        """Every part, or several together; what costs most volts first."""
        found: dict[str, Condition] = {}
        together: list[Condition] = []
        for place in self.cases:
            here = self._solved.problem.model.here(place, self._solved.point)
            parts = self._parts(place, here)
            for each in (_alone(self._case(place), one) for one in parts.values()):
                before = found.get(each.parts[0])
                if before is None or _rank(each) < _rank(before):
                    found[each.parts[0]] = each
            together += self._together(place, parts)
        untold = {name for name, each in found.items() if each.verdict == "unknown"}
        kept = _least([each for each in together if untold.issuperset(each.parts)])
        told = {name for each in kept for name in each.parts}
        alone = [each for name, each in found.items() if name not in told]
        return sorted([*kept, *alone], key=_rank)

    def _case(self, place: int) -> str:
        return str(self._asked.cases[place].name)

    def _parts(self, place: int, here: Here) -> dict[str, _Part]:
        """Those that carry current and of which it is known what a sound one drops, by name."""
        state = self.states[place]
        limits = {
            str(check.part): check.limit or 0.0
            for check in self.checks[place]
            if check.code == "contact_drop"
        }
        conductors = {
            part.name: (part, drop_v, amps)
            for part, drop_v, amps in state.carrying("contacts", "resistors", "wires")
            if not part.is_load and abs(amps) > LEAST_A and part.name in self._own
        }
        outputs = [across(here.state.model, *part.nodes) for part, _, _ in conductors.values()]
        amperes = [clamped(here.state.model, *at) for name in conductors
                   if (at := element(here.state.model, name)) is not None]  # fmt: skip
        rows = here.slopes([*outputs, *amperes])
        halves_a = [COVERAGE_FACTOR * self._solved.of(each) for each in rows[len(outputs) :]]
        metal = Metal(state.model)
        read = {frozenset(r.between) for r in self._asked.readings if r.case == self._case(place)}
        found = {}
        for (name, (part, drop_v, amps)), slopes, half_a in zip(
            conductors.items(), rows[: len(outputs)], halves_a, strict=True
        ):
            kind = part.asked.part if isinstance(part.asked, CircuitContact) else part.kind
            kind = "relay" if part.group == "contacts" else kind
            limit_v = limits.get(name, math.inf)
            if part.kind in {"wire", "resistance"}:
                limit_v = self._most_of_wire_v(state, abs(drop_v))
            own = self._own[name]
            most_v, most_a = limit_v, abs(amps) + half_a
            if half_a > UNTOLD_SHARE * abs(amps):
                times = most_a / abs(amps)
                if kind in WIRES:
                    most_v = self._most_of_wire_v(state, abs(drop_v) * times)
                elif name in limits:
                    on_s = carries_s(state, metal, part, self._asked.cases[place].duration_s)
                    most_v = max(limit_v, sound_contact(kind, most_a, on_s).limit_v)
            held = _held_down(state, amps)
            is_within = abs(amps) * own.high_ohm * held <= limit_v
            deviation = self._solved.of(slopes)
            found[name] = _Part(
                part,
                kind,
                abs(drop_v),
                amps,
                math.copysign(1.0, drop_v) * slopes,
                deviation,
                math.inf if held > NEARLY_OFF else limit_v / held,
                math.inf if held > NEARLY_OFF else most_v / held,
                least_v=abs(drop_v) if kind in WIRES else abs(amps) * own.low_ohm,
                is_told=self._solved.share(own.place) <= TOLD_SHARE,
                is_read=frozenset(part.nodes) in read,
                is_sound_as_given=is_within,
            )
        return found

    def _most_of_wire_v(self, state: State, drop_v: float) -> float:
        return most_of_wire_v(state, self._asked.load, self._asked.sure_v, drop_v)

    def _together(self, place: int, parts: Mapping[str, _Part]) -> Iterator[Condition]:
        """Runs, on the way of a load or a coil, whose untold parts are told together.

        Of runs that share parts that which the readings bind most, beside what bounds alone leave:
        a shorter one is told by its bounds only, and what is poor may lie beside it. It asks of
        neighbours what they take in volts, beside what a sound part may. Which values of any kind
        share what no reading tells, beside their bounds, `groups` asks.
        """
        for way in ways_of(self.states[place]):
            untold = [
                parts[name]
                for name in way
                if name in parts and not parts[name].is_sound_as_given
                if _alone(self._case(place), parts[name]).verdict == "unknown"
            ]
            runs = [
                self._run(place, untold, range(first, first + length))
                for length in range(2, len(untold) + 1)
                for first in range(len(untold) - length + 1)
            ]
            told = [each for each in runs if each.is_told]
            while told:
                most = AS_WELL * min(each.left for each in told)
                best = next(each for each in told if each.left <= most)  # the shortest come first
                told = [each for each in told if set(each.places).isdisjoint(best.places)]
                yield best.condition

    def _run(self, place: int, untold: Sequence[_Part], places: range) -> "_Summed":
        """What some neighbours take together, and how closely that is told."""
        run = [untold[at] for at in places]
        drop_v = sum(each.drop_v for each in run)
        slopes = np.sum([each.slopes for each in run], axis=0)
        deviation = self._solved.of(slopes)
        bounds = self._solved.problem.deviations[: self._solved.count]
        left = deviation / max(float(np.linalg.norm(slopes * bounds)), 1e-300)
        half = COVERAGE_FACTOR * deviation
        return _Summed(places, left, half, _summed(self._case(place), run, drop_v, half))


def most_of_wire_v(state: State, load_name: str, sure_v: float, drop_v: float) -> float:
    """What a wire may drop before it is poor, by what one as it is described drops. [V]."""
    load = state.named(load_name)
    nominal = int(nominal_of(state.model.emf_v, sure_v))
    circuit = load.asked.circuit if load is not None else None
    whole = drop_limits().get((circuit, nominal)) if circuit else None
    whole_v = whole.limit_v if whole is not None else OF_NOMINAL * nominal
    return worn_wire_v(drop_v, whole_v)


def _held_down(state: State, amps: float) -> float:
    """How many times as much would flow if nothing were lost on the way."""
    for part, across_v, current in state.carrying("coils", *LOAD_GROUPS):
        draws = part.is_load or part.group == "coils"
        if draws and math.isclose(abs(current), abs(amps), rel_tol=SAME_CURRENT_SHARE) and across_v:
            times = state.model.drive_v / abs(across_v)
            return times if times > HELD_DOWN else 1.0
    return 1.0


def _verdict(low_v: float, high_v: float, each: _Part) -> Worth:
    """Hold both ends against its limits: poor is what is so whatever flows."""
    if low_v > each.poor_v:
        return "fail"
    if high_v > each.likely_poor_v:
        return "undecided"
    return "pass" if high_v <= each.limit_v else "marginal"


def _alone(case: str, each: _Part) -> Condition:
    half = COVERAGE_FACTOR * each.deviation
    low, high = max(each.drop_v - half, 0.0), each.drop_v + half
    verdict: Worth = "unknown"
    if (each.is_told or each.is_read) and math.isfinite(each.limit_v):
        verdict = _verdict(low, high, each)
    if verdict == "undecided" or (verdict == "marginal" and each.drop_v <= each.limit_v):
        verdict = _straddling(each, half)
    ends = each.part.nodes if each.amps >= 0.0 else each.part.nodes[::-1]
    drops = each.drop_v, low, high
    return _condition((each.part.name,), each.kind, case, verdict, drops, each, ends)


def _straddling(each: _Part, half: float) -> Worth:
    """What a part is worth that may be poor or sound."""
    if half > each.drop_v and not each.is_read:
        return "unknown"
    may_be = may_be_poor(each.drop_v, half, each.limit_v, each.likely_poor_v)
    return "undecided" if may_be else "likely"


def _condition(
    names: tuple[str, ...],
    kind: str,
    case: str,
    verdict: Worth,
    drops: tuple[float, float, float],
    of: "_Part | _Run",
    ends: tuple[str, ...] = (),
) -> Condition:
    drop_v, low, high = map(digits, drops)
    most_v = of.most_v if isinstance(of, _Part) and verdict == "fail" else of.limit_v
    limit_v = digits(most_v) if math.isfinite(most_v) else None
    amps = digits(abs(of.amps))
    is_read = isinstance(of, _Part) and of.is_read
    return Condition(names, kind, case, verdict, drop_v, low, high, limit_v, amps, ends, is_read)


def _summed(case: str, run: Sequence[_Part], drop_v: float, half: float) -> Condition:
    """Judge what some parts drop together: no one of sound ones drops more than its limit.

    A sum within the limits of all may stand over one of them, as far as the others need less.
    """
    low, high = max(drop_v - half, 0.0), drop_v + half
    limit_v = sum(each.limit_v for each in run)
    spare_v = low - sum(each.least_v for each in run)
    verdict: Worth = "unknown"
    if math.isfinite(limit_v):
        usual_v = sum(each.usual_v for each in run)
        hides = spare_v > usual_v and any(spare_v + each.least_v > each.poor_v for each in run)
        verdict = "undecided" if hides or high > limit_v else "pass"
        verdict = "fail" if low > sum(each.poor_v for each in run) else verdict
        # A coarse meter cries no wolf: what it sees nothing of may not be much more, either.
        sees_nothing = half > drop_v and high <= WORN_MULTIPLE * limit_v
        verdict = "likely" if verdict == "undecided" and sees_nothing else verdict
    amps = min(abs(each.amps) for each in run)
    names = tuple(each.part.name for each in run)
    drops = drop_v, low, high
    return _condition(names, "several", case, verdict, drops, _Run(limit_v, amps))


def _rank(each: Condition) -> tuple[int, float]:
    return WORST_FIRST.index(each.verdict), -each.drop_v


def _least(together: Sequence[Condition]) -> list[Condition]:
    """The worst of those that share a part."""
    found: list[Condition] = []
    for each in sorted(together, key=_rank):
        if not any(set(each.parts) & set(other.parts) for other in found):
            found.append(each)
    return found
