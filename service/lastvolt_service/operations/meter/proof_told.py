"""What follows from both fits: the gain, the switch, the drops, and what to look at."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.meter.circuit_fit import load_state
from lastvolt_service.operations.meter.fit_model import Here
from lastvolt_service.operations.meter.fit_outputs import Output, element
from lastvolt_service.operations.meter.fit_told import digits
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.meter.proof_answer import (
    Gain,
    Met,
    NewDrop,
    Promise,
    ProofOfCase,
    SwitchCurrent,
    Verdict,
    What,
    Wired,
)
from lastvolt_service.operations.meter.proof_both import Both
from lastvolt_service.operations.meter.proof_fit import Amount, Proof, Term, node_output
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

BEFORE, AFTER, ONCE, PROMISED = range(4)
# Of the gain that is promised so much may be missing: no circuit is built to a hair. Common
# practice.
KEPT_SHARE = 0.1
# A switch is loaded that carries so many times what the coil takes, or so much of what it did.
# Common practice.
OF_THE_COIL, LOADED_SHARE = 2.0, 0.5
# Parts in series carry the same but for what a computer leaves.
SAME_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class Over:
    """What a drop is read over: what it is, its part, and its nodes."""

    what: What
    part: str
    plus: str
    minus: str


def _ends(found: Amount | None) -> tuple[float | None, float | None, float | None]:
    """A value with its interval, 19 times of 20; none where there is no state of rest."""
    return (digits(found.value), digits(found.low), digits(found.high)) if found else (None,) * 3


class Told:
    """What a proof tells."""

    def __init__(self, proof: Proof) -> None:
        self.proof, self.asked = proof, proof.asked
        self.by_case = tuple(self._of_case(k) for k in proof.compared)

    @cached_property
    def worst(self) -> int:
        """Place of the case in which before and after are compared.

        Raises
        ------
        ConflictingFields
            If it has no state of rest, before or after.
        """
        names = [each.name for each in self.proof.cases]
        if self.asked.worst_case is not None:
            place = names.index(self.asked.worst_case)
        else:
            rests = [e for e in self.by_case if e.before_v is not None and e.after_v is not None]
            if not rests:
                raise ConflictingFields("No case has a state of rest.", ("cases",))
            least = min(rests, key=lambda each: (each.before_v or 0.0) - (each.needed_v or 0.0))
            place = names.index(least.case)
        if any(self.proof.here(group, place) is None for group in (BEFORE, ONCE, PROMISED)):
            raise ConflictingFields(
                f"With these readings {names[place]} has no state of rest before, after or as "
                "promised.",
                ("cases", place),
            )
        return place

    def _here(self, group: int) -> Here:
        here = self.proof.here(group, self.worst)
        if here is None:  # `worst` refuses it
            raise AssertionError
        return here

    def _load(self, here: Here, factor: float = 1.0) -> Term:
        """The load's voltage as a term of a sum."""
        found = load_state(here.state, self.asked.load)
        if found is None:
            raise AssertionError  # no case is compared that leaves it out
        return factor * here.state.model.sign, here, found[2]

    @property
    def _gain(self) -> tuple[Term, Term]:
        return self._load(self._here(ONCE)), self._load(self._here(BEFORE), -1)

    @cached_property
    def gained(self) -> Amount:
        """What the way brings."""
        return self.proof.amount(*self._gain)

    @property
    def gain_slopes(self) -> FloatArray:
        """How that changes with each unknown."""
        return self.proof.slopes(*self._gain)

    @cached_property
    def promised(self) -> Amount:
        """What it promises."""
        here = self._here(PROMISED)
        return self.proof.amount(self._load(here), self._load(self._here(BEFORE), -1))

    @cached_property
    def missing(self) -> Amount:
        """What of that is missing."""
        return self.proof.amount(self._load(self._here(PROMISED)), self._load(self._here(ONCE), -1))

    @property
    def most_missing_v(self) -> float:
        """What may be missing."""
        return KEPT_SHARE * max(self.promised.value, 0.0)

    @property
    def falls_short(self) -> bool:
        """Whether more is missing than may be."""
        return self.missing.value > self.most_missing_v

    def gain(self) -> Gain:
        """Tell what the way brings."""
        before = self.proof.amount(self._load(self._here(BEFORE)))
        after = self.proof.amount(self._load(self._here(ONCE)))
        both = 2.0 * before.deviation * after.deviation
        apart = before.deviation**2 + after.deviation**2 - self.gained.deviation**2
        return Gain(
            self.proof.cases[self.worst].name,
            digits(before.value),
            digits(before.deviation),
            digits(after.value),
            digits(after.deviation),
            round(min(max(apart / both, -1.0), 1.0), 4) if both > 0.0 else None,
            digits(self.gained.value),
            digits(self.gained.low),
            digits(self.gained.high),
            digits(self.gained.deviation),
            COVERAGE_FACTOR,
        )

    def promise(self) -> Promise:
        """Tell what it promises."""
        volts = self.proof.amount(self._load(self._here(PROMISED)))
        missing = self.missing
        return Promise(
            digits(volts.value),
            digits(self.promised.value),
            digits(missing.value),
            digits(missing.low),
            digits(missing.high),
        )

    def _switch_a(self, group: int) -> Amount:
        """What the switch carries, the way its current runs before."""
        here = self._here(group)
        found = element(here.state.model, self.asked.switch)
        if found is None:
            return Amount(0.0, 0.0)
        amps = self.proof.amount((1.0, here, Output(group=found[0], index=found[1])))
        before = element(self._here(BEFORE).state.model, self.asked.switch)
        flow = self._here(BEFORE).state.flow(before[0]) if before else None
        sign = -1.0 if before and flow and flow.current_a[before[1]] < 0.0 else 1.0
        return Amount(sign * amps.value, amps.deviation)

    @cached_property
    def switch_current(self) -> SwitchCurrent:
        """What the switch carries before and after."""
        before, after = self._switch_a(BEFORE), self._switch_a(ONCE)
        return SwitchCurrent(
            digits(before.value),
            digits(before.low),
            digits(before.high),
            digits(after.value),
            digits(after.low),
            digits(after.high),
            self.is_told and not self.still_loaded,
        )

    @cached_property
    def still_loaded(self) -> bool:
        """Whether it may be that the switch is not spared.

        Volts at the load are much the same where the old wire was left on it, and the relay then
        holds itself: nobody but a clamp round the switch's own lead tells that. Nor may the
        readings go with a circuit wired wrong whose switch carries more than a coil.
        """
        if self.asked.way.relay is not None and not self._is_switch_read:
            return True
        coil = abs(self._switch_a(ONCE).value)
        return any(
            self._carries(both, solved) > OF_THE_COIL * coil
            for _, both, solved in self.proof.possible
        )

    @property
    def _is_switch_read(self) -> bool:
        """Whether a clamp lay round the switch, or what is in series with it before and after."""
        used = {each.index for each in self.proof.after.verdict.solved.problem.taken}
        clamped = {
            (reading.case, reading.through)
            for index, reading in enumerate(self.asked.after)
            if index in used and reading.through is not None
        }
        return any(self._is_in_series(*each) for each in clamped)

    def _is_in_series(self, case: str, part: str) -> bool:
        place = next(k for k, each in enumerate(self.proof.cases) if each.name == case)
        states = [self.proof.here(group, place) for group in (BEFORE, AFTER)]
        return all(
            here is not None
            and here.state.named(part) is not None
            and math.isclose(
                abs(here.state.current_a(part)),
                abs(here.state.current_a(self.asked.switch)),
                rel_tol=SAME_SHARE,
            )
            for here in states
        )

    @property
    def case_to_read(self) -> str:
        """The case that decides, or one that can be read today."""
        cases = [self.proof.cases[self.worst], *self.proof.cases]
        return next((each for each in cases if each.ageing_factor == 1.0), cases[0]).name

    def _carries(self, both: Both, solved: Solved) -> float:
        """What the switch carries in another circuit after. [A]."""
        try:
            here = both.here(both.count + self.worst, solved.point)
        except CalculationError:
            return math.inf
        return abs(here.state.current_a(self.asked.switch))

    @cached_property
    def is_loaded(self) -> bool:
        """Whether the switch carries much of what it did."""
        return abs(self._switch_a(ONCE).value) > LOADED_SHARE * abs(self._switch_a(BEFORE).value)

    def drops(self) -> Iterator[NewDrop]:
        """Tell what is lost over what is new, and over the ground."""
        once, promise = self._here(ONCE), self._here(PROMISED)
        for each in self._overs():
            output = node_output(once, each.plus, each.minus)
            wanted = node_output(promise, each.plus, each.minus)
            if output is None or wanted is None:
                continue
            drop = self.proof.amount((1.0, once, output))
            due = self.proof.amount((1.0, promise, wanted))
            sign = -1.0 if due.value < 0.0 else 1.0
            low, high = sorted((sign * drop.low, sign * drop.high))
            low = max(low, min(sign * drop.value, 0.0))  # no contact gives anything
            yield NewDrop(
                each.what,
                each.part,
                (each.plus, each.minus) if sign > 0.0 else (each.minus, each.plus),
                digits(sign * drop.value),
                digits(low),
                digits(high),
                digits(sign * due.value),
            )

    def _overs(self) -> Iterator[Over]:
        circuit, way = self.proof.promise, self.asked.way
        if way.relay is not None:
            relay, name = circuit.relays[-1], way.relay.relay.name
            at_30, at_87 = relay.contact_nodes
            load = next(each for each in circuit.loads if each.name == self.asked.load)
            at_load = Sides(circuit).live_first(load.nodes)[0]
            if way.relay.feed:
                yield Over("feed", name, way.relay.feed_node, at_30)
            yield Over("contact", name, at_30, at_87)
            if way.relay.outlet:
                yield Over("outlet", name, at_87, at_load)
        switch = {self.asked.switch} if way.switch is not None else set[str]()
        for branch in circuit.branches:
            first, second = branch.nodes
            if branch.name in way.sound:
                yield Over("sound", branch.name, first, second)
            elif branch.name in {each.name for each in way.wires} | switch:
                yield Over("replaced", branch.name, first, second)
        load = next(each for each in circuit.loads if each.name == self.asked.load)
        at_ground = Sides(circuit).live_first(load.nodes)[1]
        if at_ground != circuit.ground_node:
            yield Over("ground", self.asked.load, at_ground, circuit.ground_node)

    def _of_case(self, place: int) -> ProofOfCase:
        """The load in one case."""
        proof = self.proof
        before, once = proof.here(BEFORE, place), proof.here(ONCE, place)
        name = proof.cases[place].name
        sides = (proof.before, proof.after)
        is_read = all(
            any(each.reading.case == name for each in side.verdict.solved.problem.taken)
            for side in sides
        )
        found = load_state(once.state, self.asked.load) if once else None
        was = None if before is None else proof.amount(self._load(before))
        if once is None or found is None or found[1] is None:
            needed = load_state(before.state, self.asked.load) if before else None
            met: Met = "no" if once is None else "not_told"
            told = needed[1] if needed else None
            return ProofOfCase(name, is_read, told, *_ends(was), *_ends(None), *_ends(None), met)
        after = proof.amount(self._load(once))
        needed_v = found[1]
        met = "not_told"
        if after.low >= needed_v:
            met = "yes"
        elif after.high < needed_v:
            met = "no"
        gain = None if before is None else proof.amount(self._load(once), self._load(before, -1))
        return ProofOfCase(
            name,
            is_read,
            digits(needed_v),
            *_ends(was),
            *_ends(after),
            *_ends(gain),
            met,
        )

    @property
    def is_told(self) -> bool:
        """Whether both sets of readings go with themselves and with a circuit."""
        proof = self.proof
        return proof.before.is_told and proof.after.is_told and proof.goes_together

    @property
    def wired(self) -> Wired:
        """How the way was built."""
        return self.proof.built.wired if self.proof.after.is_told else "not_told"

    @cached_property
    def verdict(self) -> Verdict:
        """What it comes to."""
        if not self.is_told:
            return "not_proven"
        if self.gained.high < 0.0:
            return "worse"
        if self.falls_short and self.missing.low > 0.0:
            return "less_than_promised"
        holds = self.gained.low > 0.0 and all(each.met == "yes" for each in self.by_case)
        is_right = self.wired == "as_described" and not self.still_loaded
        return "proven" if holds and is_right and not self.falls_short else "not_proven"
