"""Readings before and after as one problem: what they have in common, and what is compared.

A winding and a wire are the same before and after, and so is a meter's factor. The battery, the
temperatures and every contact may have changed between, and are fitted twice; to compare, the
circuit after is put at the supply and the temperatures of before.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeAlias

import numpy as np

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.bounds import CasePins
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit, Relay
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.decision.proposal import case_with_relay
from lastvolt_service.operations.meter.circuit_fit import (
    UNTOLD,
    agreement_of,
    sorted_readings,
)
from lastvolt_service.operations.meter.fit_answer import Agreement
from lastvolt_service.operations.meter.fit_model import (
    CircuitModel,
    Here,
    Unknown,
    first_points,
    settled,
)
from lastvolt_service.operations.meter.fit_outputs import Output
from lastvolt_service.operations.meter.fitting import (
    ALARMS_OF_ALL,
    SURE,
    Problem,
    Solved,
    Taken,
    Verdict,
    judged,
)
from lastvolt_service.operations.meter.proof_circuits import (
    LOADS_SWITCH,
    Built,
    built,
    built_wrong,
    new_names,
    promised,
    settled_way,
    sound,
)
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.units import Interval

# A circuit is far from the readings that misses them by so much on average, in squares of their
# uncertainty, after so many steps.
FAR, LOOKS = 25.0, 2
# Circuits that miss the readings by no more in squares of their uncertainty are as likely.
ALIKE = SURE**2
OF_A_CASE = frozenset({"cases"})
OF_THE_SUPPLY = frozenset({"source", "further_sources"})


# A reading of an ideal meter in a circuit, with its factor in a sum.
Term: TypeAlias = tuple[float, Here, Output]


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity at what was found, and its standard uncertainty."""

    value: float
    deviation: float

    @property
    def low(self) -> float:
        """It is not less, 19 times of 20."""
        return self.value - COVERAGE_FACTOR * self.deviation

    @property
    def high(self) -> float:
        """It is not more, 19 times of 20."""
        return self.value + COVERAGE_FACTOR * self.deviation


@dataclass(frozen=True, slots=True)
class Side:
    """The fit of the readings before, or after.

    Attributes
    ----------
    model, verdict : CircuitModel, Verdict
        What was fitted, and how.
    agreement : str
        As a fit tells it.
    noise : list of Taken
        Readings of ohms that say nothing.
    """

    model: CircuitModel
    verdict: Verdict
    agreement: Agreement
    noise: Sequence[Taken]

    @property
    def is_told(self) -> bool:
        """Whether anything follows from its readings."""
        return self.agreement not in UNTOLD


class Both(CircuitModel):
    """Both circuits in their cases: before, after, after at one supply, and as promised there."""

    def __init__(
        self,
        before: Side,
        after: CircuitModel,
        promise: Circuit,
        readings: int,
        narrower: Mapping[Path, Unknown] | None,
    ) -> None:
        """Find what they share; `narrower` replaces what is new, and without it nothing moved."""
        self._readings, self.count = readings, len(before.model.cases)
        own = before.model
        later_cases = list(after.cases)
        self.cases = [*own.cases, *later_cases * 3]
        self.unknowns: list[Unknown] = list(own.unknowns)
        at = {each.path: place for place, each in enumerate(own.unknowns)}
        contacts = frozenset[Path]() if narrower is None else _contacts(own.circuit)
        later: dict[Path, int] = {}
        for each in after.unknowns:
            if each.path in at and not _changes(each, contacts):
                later[each.path] = at[each.path]
            else:
                later[each.path] = len(self.unknowns)
                self.unknowns.append((narrower or {}).get(each.path, each))
        self.later = [later[each.path] for each in after.unknowns]
        once = {
            path: at[path] if path in at and _is_compared(path) else place
            for path, place in later.items()
        }
        pins = [CasePins(promise, case) for case in after.cases]
        self.pins = [*own.pins, *after.pins, *after.pins, *pins]
        self.of_case = [
            *own.of_case,
            *([later[path] for path, _ in each.given] for each in after.pins),
            *([once[path] for path, _ in each.given] for each in after.pins),
            *([at[path] for path, _ in each.given] for each in pins),
        ]

    def place_of(self, case: str, index: int) -> int:
        """Readings after come behind those before."""
        place = next(at for at, each in enumerate(self.cases) if each.name == case)
        return place + self.count * (index >= self._readings)


def narrowed(model: CircuitModel, solved: Solved) -> dict[Path, Unknown]:
    """What is new, no wider than the readings leave it, as no contact has less than nothing.

    Where they tell the sum of several contacts, none has more than that.
    """
    new = [place for place, each in enumerate(model.unknowns) if each.described is not None]
    covariance, found = solved.covariance[np.ix_(new, new)], dict[Path, Unknown]()
    for at, place in enumerate(new):
        unknown = model.unknowns[place]
        most = _most(at, solved.point[new], covariance, model.ends[0][new])
        high = min(max(most, 2.0 * (unknown.described or 0.0)), unknown.given.high)
        found[unknown.path] = replace(unknown, given=Interval(unknown.given.low, high))
    return found


def _most(at: int, point: FloatArray, covariance: FloatArray, low: FloatArray) -> float:
    """The most that one value is, within some standard uncertainties of all, none below its least.

    What would fall below its least is held there, one after the other.
    """
    held: list[int] = []
    most, size = np.inf, np.sqrt(np.diag(covariance))
    while len(held) < len(point):
        own = np.linalg.pinv(covariance[np.ix_(held, held)])
        back = (low - point)[held]
        room = SURE**2 - float(back @ own @ back)
        if room <= 0.0:
            break
        across = covariance[:, held] @ own
        left = covariance - across @ covariance[held]
        deviation = float(np.sqrt(max(left[at, at], 1e-300)))
        there = point + across @ back + np.sqrt(room) * left[:, at] / deviation
        most = min(most, float(there[at]))
        below = (low - there) / size
        below[[at, *held]] = 0.0
        if below.max() <= 0.0:
            break
        held.append(int(np.argmax(below)))
    return most


def _contacts(circuit: Circuit) -> frozenset[Path]:
    """Paths of contacts and relays, which may have been touched."""
    return frozenset(
        ("circuit", group, place)
        for group in ("branches", "relays")
        for place, each in enumerate(getattr(circuit, group))
        if isinstance(each, CircuitContact | Relay)
    )


def _is_compared(path: Path) -> bool:
    """Whether an unknown is of the supply or the temperatures, and made the same to compare."""
    return path[0] in OF_A_CASE or path[1] in OF_THE_SUPPLY


def _changes(unknown: Unknown, contacts: frozenset[Path]) -> bool:
    """Whether it may be another after than before."""
    path = unknown.path
    return unknown.described is not None or _is_compared(path) or path[:3] in contacts


class Proof:
    """Both fits, and what follows from them."""

    def __init__(self, asked: GainProofRequest) -> None:
        """Fit before, after, and both together.

        Raises
        ------
        CalculationError
            If there is no state of rest within the bounds, or what was read is not there.
        """
        self.asked = asked
        timed = settled(asked)
        self.cases = [_named(case, asked) for case in timed.cases]
        self.circuit = timed.circuit
        self.before = _side(asked, timed.circuit, timed.cases, asked.before, "before", {})
        quick = changed(timed, way=settled_way(asked.way))
        ohms = sound(quick, quick.way, self._currents_a())
        self.promise = promised(quick, quick.way, ohms)
        self.new = new_names(quick, quick.way)
        self.built = built(self.promise, self.new)
        self.after = self.as_described = self._after(self.built)

        def refeed(node: str) -> Circuit:
            relay = quick.way.relay and changed(quick.way.relay, feed_node=node)
            return promised(changed(quick, way=changed(quick.way, relay=relay)), quick.way, ohms)

        self.is_wrong = False
        wrong = list(built_wrong(quick, self.promise, self.new, refeed))
        self.wrong: list[Built] = []
        self.possible: list[tuple[Built, Both, Solved]] = []
        if self.after.agreement not in {"agrees", "not_checked"}:
            found = sorted(self._agreeing(wrong), key=lambda each: _missed(each[1]))
            if found:
                self.is_wrong, (self.built, self.after) = True, found[0]
                most = _missed(self.after) + ALIKE
                self.wrong = [each for each, side in found if _missed(side) <= most]
        if self.after.is_told and not self.is_wrong:
            self.possible = list(self._not_ruled_out(wrong[:LOADS_SWITCH]))

    def _currents_a(self) -> Mapping[str, float]:
        """What contacts carried before that are made sound: the most in any case."""
        found = dict.fromkeys(self.asked.way.sound, 0.0)
        point = self.before.verdict.solved.point
        for place in range(len(self.cases)):
            try:
                state = self.before.model.here(place, point).state
            except CalculationError:
                continue
            for name in found:
                found[name] = max(found[name], abs(state.current_a(name)))
        return found

    def _after(self, each: Built) -> Side:
        return _side(
            self.asked, each.circuit, self.cases, self.asked.after, "after", each.described
        )

    def _agreeing(self, wrong: Sequence[Built]) -> Iterator[tuple[Built, Side]]:
        """Circuits built wrong that all readings after agree with."""
        taken = _as_read(self.as_described.verdict.whole)
        for each in wrong:
            model = CircuitModel(each.circuit, self.cases, each.described)
            try:
                problem = Problem(model, taken)
                starts, _ = first_points(model, problem.cases)
                solved = problem.solved(starts) if starts else None
            except CalculationError:
                continue
            if solved is not None and solved.check.agrees:
                verdict = Verdict(solved, solved, (), fits=True)
                yield each, Side(model, verdict, agreement_of(verdict), self.after.noise)

    def _not_ruled_out(self, wrong: Sequence[Built]) -> Iterator[tuple[Built, "Both", Solved]]:
        """Circuits built wrong, nothing else moved, that the readings go with as well."""
        used = self.as_described.verdict.solved
        for each in wrong:
            model = CircuitModel(each.circuit, self.cases, each.described)
            both = Both(self.before, model, self.promise, len(self.asked.before), None)
            try:
                starts, _ = first_points(model, used.problem.cases)
                problem, points = self._together(both, _as_read(used), starts)
                near = [point for point in points if _may_fit(problem, point)]
                solved = problem.solved(near) if near else None
            except CalculationError:
                continue
            if solved is not None and solved.check.agrees:
                yield each, both, solved

    def _together(
        self, both: Both, after: Sequence[Taken], starts: Sequence[FloatArray]
    ) -> tuple[Problem, list[FloatArray]]:
        """Both sets of readings as one problem, and where to begin."""
        first, shift = self.before.verdict.solved, len(self.asked.before)
        moved = [replace(each, index=each.index + shift) for each in after]
        points = []
        for each in starts:
            start = np.zeros(len(both.unknowns))
            start[both.later] = each
            start[: first.count] = first.point
            points.append(start)
        return Problem(both, [*first.problem.taken, *moved]), points

    @cached_property
    def both(self) -> Both:
        """Both circuits."""
        after, solved = self.after.model, self.after.verdict.solved
        narrower = narrowed(after, solved)
        return Both(self.before, after, self.promise, len(self.asked.before), narrower)

    @cached_property
    def solved(self) -> Solved:
        """Both fits as one; what contradicts the rest of its side is left out."""
        after = self.after.verdict.solved
        problem, points = self._together(self.both, after.problem.taken, [after.point])
        return problem.solved(points)

    @property
    def goes_together(self) -> bool:
        """Whether what before and after share is the same in both, as far as chance allows."""
        check = self.solved.check
        return not check.is_checked or check.probability >= ALARMS_OF_ALL

    @cached_property
    def compared(self) -> list[int]:
        """Places of cases with the load and the switch in them."""
        needed = {self.asked.load, self.asked.switch}
        return [k for k, case in enumerate(self.cases) if needed.isdisjoint(case.without)]

    def here(self, group: int, case: int) -> Here | None:
        """Before, after, after at one supply, or as promised; None without a state of rest."""
        try:
            return self.both.here(group * self.both.count + case, self.solved.point)
        except CalculationError:
            return None

    def amount(self, *terms: Term) -> Amount:
        """A sum of readings of ideal meters, each with its factor, and its uncertainty."""
        value = sum(factor * float(here.told([output])[0]) for factor, here, output in terms)
        return Amount(value, self.solved.of(self.slopes(*terms)))

    def slopes(self, *terms: Term) -> FloatArray:
        """How it changes with each unknown."""
        found = np.zeros(self.solved.count)
        for factor, here, output in terms:
            found += factor * here.slopes([output])[0]
        return found

    def told_by(self, path: Path) -> tuple[int, ...]:
        """Readings after, by their number from 1 on, that tell a value of the circuit after."""
        at = next(
            k
            for k, each in zip(self.both.later, self.after.model.unknowns, strict=True)
            if each.path == path
        )
        shift = len(self.asked.before)
        found = (index - shift + 1 for index in self.solved.told_by(at))
        return tuple(number for number in found if number > 0)


def _named(case: Case, asked: GainProofRequest) -> Case:
    return case_with_relay(case, asked.load, asked.proposal)


def _side(
    asked: GainProofRequest,
    circuit: Circuit,
    cases: Sequence[Case],
    readings: Sequence[MeterReading],
    field: str,
    described: Mapping[Path, float],
) -> Side:
    """Fit one side.

    Raises
    ------
    CalculationError
        As a fit does; its path points at the readings of this side.
    """
    try:
        taken, noise = sorted_readings(asked.side(circuit, cases, readings))
        model = CircuitModel(circuit, cases, described)
        verdict = judged(model, taken)
    except CalculationError as error:
        if error.path[:1] != ("readings",):
            raise
        raise type(error)(error.detail, (field, *error.path[1:])) from error
    return Side(model, verdict, agreement_of(verdict), noise)


def node_output(here: Here, plus: str, minus: str) -> Output | None:
    """Volts between two nodes; None where the case has them not."""
    names = here.network.node_names
    if plus not in names or minus not in names:
        return None
    return Output(names.index(plus), names.index(minus))


def _as_read(solved: Solved) -> list[Taken]:
    """Readings, their leads as they were."""
    return [replace(each, turned=False) for each in solved.problem.taken]


def _may_fit(problem: Problem, start: FloatArray) -> bool:
    """Whether two steps come anywhere near the readings; it spares most fits of wrong circuits."""
    low, high = problem.model.ends
    point = np.concatenate([start, np.zeros(len(problem.meters))])
    for _ in range(LOOKS):
        missed, slopes = problem.missed(point)
        if not (np.isfinite(missed).all() and np.isfinite(slopes).all()):
            return False
        step = np.linalg.lstsq(slopes, -missed, rcond=None)[0]
        left = missed + slopes @ step
        point = point + step
        point[: len(low)] = np.clip(point[: len(low)], low, high)
    return bool(left @ left <= FAR * len(left))


def _missed(side: Side) -> float:
    return side.verdict.solved.fit.sum_of_squares
