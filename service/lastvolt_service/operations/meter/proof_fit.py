"""Readings before and after as one problem: what they have in common, and what is compared.

A winding and a wire are the same before and after, and so is a meter's factor. The battery, the
temperatures and every contact may have changed between, and are fitted twice; to compare, the
circuit after is put at the supply and the temperatures of before.
"""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import cached_property
from typing import TypeAlias

import numpy as np

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.mended import carried_once_sound_a
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.decision.proposal import case_with_relay
from lastvolt_service.operations.meter.fit_about import with_supplies
from lastvolt_service.operations.meter.fit_agreement import ALARMS_OF_ALL
from lastvolt_service.operations.meter.fit_model import CircuitModel, Here, settled
from lastvolt_service.operations.meter.fit_outputs import Output, across
from lastvolt_service.operations.meter.fit_points import first_points
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_told import TOLD_SHARE
from lastvolt_service.operations.meter.fit_verdict import SURE
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.operations.meter.miswired import LOADS_SWITCH
from lastvolt_service.operations.meter.proof_amount import Amount
from lastvolt_service.operations.meter.proof_both import Both, Side, contacts_of, narrowed
from lastvolt_service.operations.meter.proof_circuits import (
    Built,
    built,
    built_wrong,
    new_names,
    poorly_built,
    promised,
    settled_way,
    sound,
)
from lastvolt_service.operations.meter.proof_faults import OF_A_LOAD, Fault, as_read, faults
from lastvolt_service.operations.meter.proof_moved import with_any_supply
from lastvolt_service.operations.meter.proof_read import supply_is_read
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.operations.meter.proof_sides import fitted_before, side_of, supplied
from lastvolt_service.operations.meter.switched_off import off
from lastvolt_service.physics.network.elements import FloatArray

# Redundancy of a reading that nothing holds.
LEAST_HELD = 1e-12

# A reading of an ideal meter in a circuit, with its factor in a sum.
Term: TypeAlias = tuple[float, Here, Output]


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
        self._slopes: dict[tuple[Here, Output], FloatArray] = {}
        timed = settled(asked)
        self.cases = [_named(case, asked) for case in timed.cases]
        first = CircuitModel(timed.circuit, timed.cases, {})
        self.off_before = off(first, asked.before, asked.load, asked.switch)
        self.before, self.worse_before, self.worse_among = fitted_before(
            asked, first, self.off_before.apart
        )
        wrong = self._fitted_after(timed)
        circuit, thought = with_supplies(self.circuit)
        if thought and self.before.is_told and not self.after.is_told:
            # A battery rests at another voltage on another day, whatever it was given to have.
            known = {**(self.before.model.described or {}), **thought}
            self.before = side_of(
                asked, circuit, timed.cases, asked.before, "before", known, self.off_before.apart
            )
            wrong = self._fitted_after(timed)
        self.faults: list[Fault] = []
        if not self.after.is_told:
            wrong = self._explained(wrong)
        self._loading = wrong[:LOADS_SWITCH]

    def _fitted_after(self, timed: GainProofRequest) -> list[Built]:
        """Fit the readings after; gives what may be built wrong."""
        asked = self.asked
        # What the readings before had to leave open is the same circuit after.
        self.circuit = self.before.model.circuit
        quick = changed(timed, way=settled_way(asked.way), circuit=self.circuit)
        carried_a = carried_once_sound_a(self._states_before(), quick.way.sound)
        ohms = sound(quick, quick.way, carried_a)
        self.promise = promised(quick, quick.way, ohms)
        self.new = new_names(quick, quick.way)
        thought = self.before.model.described or {}
        self.built = self.as_built = built(self.promise, self.new, thought)
        self.supply_moved = False
        is_read = supply_is_read(asked.after, self.promise)
        if not is_read:  # nobody knows what the battery had after
            self.built = with_any_supply(self.built)
        after = CircuitModel(self.built.circuit, self.cases, self.built.described)
        self.off = off(after, asked.after, asked.load, asked.switch)
        self.after = self.as_described = self._after(self.built)

        def refeed(node: str) -> Circuit:
            relay = quick.way.relay and changed(quick.way.relay, feed_node=node)
            return promised(changed(quick, way=changed(quick.way, relay=relay)), quick.way, ohms)

        wrong = list(built_wrong(quick, self.promise, self.new, refeed, thought))
        if not is_read:
            wrong = [with_any_supply(each) for each in wrong]
        return wrong

    def _explained(self, wrong: Sequence[Built]) -> list[Built]:
        """Find a supply or a fault with which the readings after hold together.

        The supply is compared at what it was before, so that another one is nobody's fault. Gives
        what may be built wrong, with such a supply if need be.
        """
        if self.built is not self.as_built:  # that leaves the supply open already
            self.faults = faults(self.after, self.built, wrong, self.new)
        else:
            side, opened, ohms = supplied(self.after, self.as_built, self.cases)
            moved = [with_any_supply(each, ohms) for each in wrong]
            found = [] if side.is_told else faults(side, opened, moved, self.new)
            # What goes with no supply at all need not be tried with the one that was given.
            self.faults = faults(self.after, self.built, wrong, self.new) if found else []
            if side.is_told or (found and not self.faults):
                self.built, self.after, self.faults = opened, side, found
                self.as_described, wrong, self.supply_moved = side, moved, True
        if not any(each.code not in OF_A_LOAD for each in self.faults):
            self._poorly_built()
        if self.faults:
            self.built, self.after = self.faults[0].built, self.faults[0].side
        return list(wrong)

    def _poorly_built(self) -> None:
        """See whether several new contacts that are poor go with the readings after.

        Work that was not done is likelier than a load that changed meanwhile.
        """
        poor = poorly_built(self.built, self.new)
        side = None if poor is None else self._after(poor)
        if poor is not None and side is not None and side.is_told:
            self.built, self.after, self.faults = poor, side, []
            self.as_described = side

    @cached_property
    def before_with_any_supply(self) -> Side | None:
        """The fit before with another supply, where none within what is given goes with it."""
        if self.before.is_told:
            return None
        given = Built(self.circuit, self.before.model.described or {})
        side, _, _ = supplied(self.before, given, self.before.model.cases)
        return side if side.is_told else None

    @cached_property
    def possible(self) -> list[tuple[Built, Both, Solved]]:
        """Circuits built wrong, their switch loaded, that the readings go with as well."""
        is_right = self.after.is_told and not self.faults
        return list(self._not_ruled_out(self._loading)) if is_right else []

    @property
    def is_wrong(self) -> bool:
        """Whether it was built otherwise than described."""
        return self.built.wired != "as_described"

    def _states_before(self) -> Iterator[State]:
        """What was found before, in each case that has a state of rest."""
        point = self.before.verdict.solved.point
        for place in range(len(self.cases)):
            with suppress(CalculationError):
                yield self.before.model.here(place, point).state

    def _after(self, each: Built) -> Side:
        """Fit the readings after; a load that runs on is in another state than that of its case."""
        apart = self.off.apart
        return side_of(
            self.asked, each.circuit, self.cases, self.asked.after, "after", each.described, apart
        )

    def _not_ruled_out(self, wrong: Sequence[Built]) -> Iterator[tuple[Built, Both, Solved]]:
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
                problem, points = self._together(both, as_read(used), starts)
                solved = problem.solved_if_near(points)
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
        points: list[FloatArray] = []
        for each in starts:
            start = np.zeros(len(both.unknowns))
            start[both.later] = each
            start[: first.count] = first.point
            if not any(np.array_equal(start, point) for point in points):  # what is shared differed
                points.append(start)
        return Problem(both, [*first.problem.taken, *moved]), points

    @cached_property
    def both(self) -> Both:
        """Both circuits."""
        after, solved = self.after.model, self.after.verdict.solved
        narrower = narrowed(after, solved)
        moved, stuck = contacts_of(self.circuit), dict[str, bool]()
        for fault in self.faults[:1]:
            stuck |= fault.stuck
            if fault.path is not None:
                narrower.pop(fault.path, None)
                moved |= {fault.path[:3]}
        count = len(self.asked.before)
        return Both(self.before, after, self.promise, count, narrower, moved, stuck)

    @cached_property
    def _by_one_meter(self) -> Solved:
        """Both fits as one; what contradicts the rest of its side is left out."""
        after = self.after.verdict.solved
        problem, points = self._together(self.both, after.problem.taken, [after.point])
        return problem.solved(points)

    @cached_property
    def _by_other_meters(self) -> Solved | None:
        """The same with meters of their own after; None where these need not, or do not, help.

        One name may stand for two meters, or for one that drifted from one day to the next.
        """
        one = self._by_one_meter
        if not (self.before.is_told and self.after.is_told) or _goes_together(one):
            return None
        after = self.after.verdict.solved
        others = [
            replace(each, meter=changed(each.meter, name=f"{each.meter.name} after"))
            for each in after.problem.taken
        ]
        problem, points = self._together(self.both, others, [after.point])
        found = problem.solved(points)
        return found if _goes_together(found) else None

    @property
    def solved(self) -> Solved:
        """Both fits as one, each meter with one factor where it may be."""
        return self._by_other_meters or self._by_one_meter

    @property
    def other_meters(self) -> bool:
        """Whether before and after go together as what two meters show, and not as of one."""
        return self._by_other_meters is not None

    @property
    def goes_together(self) -> bool:
        """Whether what before and after share is the same in both, as far as chance allows."""
        return _goes_together(self.solved)

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
            if (here, output) not in self._slopes:
                self._slopes[here, output] = here.slopes([output])[0]
            found += factor * self._slopes[here, output]
        return found

    def hidden(self, slopes: FloatArray) -> dict[int, float]:
        """By the place of a reading, how far it may put off what has slopes and pass unnoticed."""
        solved = self.solved
        rows = solved.fit.slopes[: solved.rows]
        moved = slopes @ (solved.covariance @ rows.T)[: solved.count]
        least = SURE / np.sqrt(np.maximum(solved.check.redundancy, LEAST_HELD))
        return {
            each.index: float(volts)
            for each, volts in zip(solved.problem.taken, np.abs(moved) * least, strict=True)
        }

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


def _goes_together(solved: Solved) -> bool:
    check = solved.check
    return not check.is_checked or check.probability >= ALARMS_OF_ALL


def _named(case: Case, asked: GainProofRequest) -> Case:
    return case_with_relay(case, asked.load, asked.proposal)


def node_output(here: Here, plus: str, minus: str) -> Output | None:
    """Volts between two nodes; None where the case has them not."""
    is_there = {plus, minus} <= set(here.network.node_names)
    return across(here.state.model, plus, minus) if is_there else None
