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
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.decision.proposal import case_with_relay
from lastvolt_service.operations.meter.circuit_fit import (
    agreement_of,
    sorted_readings,
)
from lastvolt_service.operations.meter.fit_model import (
    CircuitModel,
    Here,
    first_points,
    settled,
)
from lastvolt_service.operations.meter.fit_outputs import Output, across
from lastvolt_service.operations.meter.fit_told import TOLD_SHARE
from lastvolt_service.operations.meter.fit_verdict import SURE, Verdict, judged
from lastvolt_service.operations.meter.fitting import ALARMS_OF_ALL, Problem, Solved, Taken
from lastvolt_service.operations.meter.miswired import LOADS_SWITCH
from lastvolt_service.operations.meter.proof_both import Both, Side, contacts_of, narrowed
from lastvolt_service.operations.meter.proof_circuits import (
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

# A circuit is far from the readings that misses them by so much on average, in squares of their
# uncertainty, after so many steps.
FAR, LOOKS = 25.0, 2
# Circuits that miss the readings by no more in squares of their uncertainty are as likely.
ALIKE = SURE**2


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
        self._heres: dict[int, Here | None] = {}
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

        wrong = list(built_wrong(quick, self.promise, self.new, refeed))
        self.wrong: list[Built] = []
        self.possible: list[tuple[Built, Both, Solved]] = []
        if self.after.agreement not in {"agrees", "not_checked"}:
            found = sorted(self._agreeing(wrong), key=lambda each: _missed(each[1]))
            if found:
                self.built, self.after = found[0]
                most = _missed(self.after) + ALIKE
                self.wrong = [each for each, side in found if _missed(side) <= most]
        if self.after.is_told and not self.is_wrong:
            self.possible = list(self._not_ruled_out(wrong[:LOADS_SWITCH]))

    @property
    def is_wrong(self) -> bool:
        """Whether it was built otherwise than described."""
        return self.built.wired != "as_described"

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
        """Circuits built wrong that the readings go with as well.

        Of the contacts that were there only those moved of which the readings after tell.
        """
        used = self.as_described.verdict.solved
        told = (
            each.path[:3]
            for place, each in enumerate(self.as_described.model.unknowns)
            if used.share(place) <= TOLD_SHARE
        )
        moved = contacts_of(self.circuit) & frozenset(told)
        for each in wrong:
            model = CircuitModel(each.circuit, self.cases, each.described)
            both = Both(self.before, model, self.promise, len(self.asked.before), {}, moved)
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
        moved = contacts_of(self.circuit)
        return Both(self.before, after, self.promise, len(self.asked.before), narrower, moved)

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
        place = group * self.both.count + case
        if place not in self._heres:
            try:
                self._heres[place] = self.both.here(place, self.solved.point)
            except CalculationError:
                self._heres[place] = None
        return self._heres[place]

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
    is_there = {plus, minus} <= set(here.network.node_names)
    return across(here.state.model, plus, minus) if is_there else None


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
    return float(side.verdict.solved.fit.sum_of_squares)
