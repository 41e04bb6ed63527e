"""What follows from both fits: the gain, the switch, the drops, and what to look at."""

import math
from functools import cached_property

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.circuits.mended import contact_kinds
from lastvolt_service.operations.meter.fit_decisive import load_state
from lastvolt_service.operations.meter.fit_model import Here
from lastvolt_service.operations.meter.fit_outputs import SAME_SHARE, Output, element
from lastvolt_service.operations.meter.fit_told import digits
from lastvolt_service.operations.meter.fit_verdict import SURE
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.meter.miswired import LOADED_SHARE
from lastvolt_service.operations.meter.proof_amount import Amount
from lastvolt_service.operations.meter.proof_answer import (
    Gain,
    Met,
    Promise,
    ProofOfCase,
    SwitchCurrent,
    Verdict,
    Wired,
)
from lastvolt_service.operations.meter.proof_both import OF_THE_SUPPLY, Both
from lastvolt_service.operations.meter.proof_fit import Proof, Term
from lastvolt_service.operations.meter.proof_read import least_and_most_v, part_is_read
from lastvolt_service.operations.remedies.options import NEW_SHARE
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.tables.limits import contact_limit

# Faults of one part of the way or of the load, whichever it is; a fuse is made to open.
OF_PARTS = frozenset({"part_open", "got_worse", "load_takes_more", "load_takes_less"})
BEFORE, AFTER, ONCE, PROMISED = range(4)
# So much of a promised gain may be missing: no circuit is built to a hair. Common practice.
KEPT_SHARE = 0.1
# A switch is loaded that carries so many times what the coil takes. Common practice.
OF_THE_COIL = 2.0
# Less than a sound contact drops is nothing to gain, nor to lose. [V]. Common practice.
NOTHING_V = 0.1
# Of what it had, a load that is dead after has less. Common practice.
DEAD_SHARE = 0.1


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

    def at_worst(self, group: int) -> Here:
        """The case in which before and after are compared, before, after or as promised."""
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
        return self._load(self.at_worst(ONCE)), self._load(self.at_worst(BEFORE), -1)

    def _volts(self, here: Here) -> Amount:
        """The load's voltage: no more than its sources have, and never the wrong way round."""
        supply = (
            each.given.high
            for each in self.proof.both.unknowns
            if each.path[1] in OF_THE_SUPPLY and each.unit == "V"
        )
        most_v = max(here.state.model.drive_v, *supply, 0.0)
        return self.proof.amount(self._load(here)).within(0.0, most_v)

    def _more(self, before: Here, after: Here) -> Amount:
        """What the load gets more."""
        was, then = self._volts(before), self._volts(after)
        gain = self.proof.amount(self._load(after), self._load(before, -1))
        return gain.within(then.low - was.high, then.high - was.low)

    @cached_property
    def gained(self) -> Amount:
        """What the way brings."""
        return self._more(self.at_worst(BEFORE), self.at_worst(ONCE))

    @property
    def nothing_to_gain(self) -> bool:
        """Whether the way promises next to nothing, and the load had what it needs before."""
        had = all(
            each.before_v is not None and each.before_v >= (each.needed_v or math.inf)
            for each in self.by_case
        )
        return had and self.promised.value <= NOTHING_V

    @property
    def gain_slopes(self) -> FloatArray:
        """How that changes with each unknown."""
        return self.proof.slopes(*self._gain)

    @cached_property
    def promised(self) -> Amount:
        """What it promises."""
        here = self.at_worst(PROMISED)
        return self.proof.amount(self._load(here), self._load(self.at_worst(BEFORE), -1))

    @cached_property
    def missing(self) -> Amount:
        """What of that is missing."""
        due, there = self.at_worst(PROMISED), self.at_worst(ONCE)
        return self.proof.amount(self._load(due), self._load(there, -1))

    @cached_property
    def most_of_sound_v(self) -> dict[str, float]:
        """By name, what contacts that were made sound may drop: twice what new ones promise."""
        here = self.at_worst(PROMISED)
        return {
            name: contact_limit(kind, here.state.contact_a(name)).limit_v
            for name, kind in contact_kinds(self.asked.circuit).items()
            if name in self.asked.way.sound
        }

    @property
    def most_missing_v(self) -> float:
        """What may be missing, and contacts that were made sound are so all the same."""
        of_sound_v = (1.0 - NEW_SHARE) * sum(self.most_of_sound_v.values())
        return KEPT_SHARE * max(self.promised.value, 0.0) + of_sound_v

    @property
    def falls_short(self) -> bool:
        """Whether more is missing than may be."""
        return self.missing.value > self.most_missing_v

    def gain(self) -> Gain:
        """Tell what the way brings."""
        before = self.proof.amount(self._load(self.at_worst(BEFORE)))
        after = self.proof.amount(self._load(self.at_worst(ONCE)))
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
        volts = self.proof.amount(self._load(self.at_worst(PROMISED)))
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
        here = self.at_worst(group)
        found = element(here.state.model, self.asked.switch)
        if found is None:
            return Amount(0.0, 0.0)
        amps = self.proof.amount((1.0, here, Output(group=found[0], index=found[1])))
        before = element(self.at_worst(BEFORE).state.model, self.asked.switch)
        flow = self.at_worst(BEFORE).state.flow(before[0]) if before else None
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
        most_a = OF_THE_COIL * abs(self._switch_a(ONCE).value)
        if self._is_clamped_below(most_a):
            return False
        return any(self._carries(both, solved) > most_a for _, both, solved in self.proof.possible)

    def _is_clamped_below(self, most_a: float) -> bool:
        """Whether a clamp round the switch itself says so for sure, whatever the circuit is."""
        return any(
            each.reading.through == self.asked.switch
            and abs(each.value) + SURE * each.deviation <= most_a
            for each in self.proof.after.verdict.solved.problem.taken
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
        """The case that decides, or one with the switch on that can be read today."""
        cases = [self.proof.cases[place] for place in (self.worst, *self.proof.compared)]
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
        was = None if before is None else self._volts(before)
        if once is None or found is None or found[1] is None:
            needed = load_state(before.state, self.asked.load) if before else None
            met: Met = "no" if once is None else "not_told"
            told = needed[1] if needed else None
            return ProofOfCase(name, is_read, told, *_ends(was), *_ends(None), *_ends(None), met)
        after = self._volts(once)
        needed_v = found[1]
        met = "not_told"
        if after.low >= needed_v:
            met = "yes"
        elif after.high < needed_v:
            met = "no"
        gain = None if before is None else self._more(before, once)
        return ProofOfCase(
            name,
            is_read,
            digits(needed_v),
            *_ends(was),
            *_ends(after),
            *_ends(gain),
            met,
        )

    @cached_property
    def rests_on(self) -> int | None:
        """Number of a reading after that, were it false, would take the gain or the need away.

        And nothing would show it: the others hold it so loosely that it passes.
        """
        if self.proof.after.agreement != "agrees" or not self.is_told:
            return None
        spare = [
            each.after_low_v - each.needed_v
            for each in self.by_case
            if each.after_low_v is not None and each.needed_v is not None
        ]
        least_v, shift = min([self.gained.low, *spare]), len(self.asked.before)
        hidden = self.proof.hidden(self.gain_slopes)
        most_v, index = max((volts, index) for index, volts in hidden.items() if index >= shift)
        return index - shift + 1 if 0.0 < least_v < most_v else None

    @property
    def nobody_read(self) -> bool:
        """Whether several parts may be at fault, and no reading, false or not, is of one alone."""
        found = self.proof.faults
        readings = [e.reading for e in self.proof.as_described.verdict.whole.problem.taken]
        return len({each.part for each in found}) > 1 and all(
            each.code in OF_PARTS and not part_is_read(readings, each.built.circuit, each.part)
            for each in found
        )

    @property
    def runs_on(self) -> bool:
        """Whether the load was read live with its switch off, last of all."""
        before, after = self.proof.off_before, self.proof.off
        return bool(after.live or (before.live and not after.dead))

    @property
    def is_told(self) -> bool:
        """Whether both sets of readings go with themselves and with a circuit."""
        proof = self.proof
        return proof.before.is_told and proof.after.is_told and proof.goes_together

    @property
    def wired(self) -> Wired:
        """How the way was built."""
        return self.proof.built.wired if self.proof.after.is_told else "not_told"

    @property
    def is_dead(self) -> bool:
        """Whether the meter across the load shows next to nothing after, where it had volts.

        For that the readings before need not hold together.
        """
        proof, load = self.proof, self.asked.load
        if not proof.after.is_told:
            return False
        verdict = proof.before.verdict
        # A reading that contradicts the rest by itself shows nothing.
        alone = verdict.contradicts if len(verdict.contradicts) == 1 else ()
        before = [each for each in verdict.whole.problem.taken if each.index not in alone]
        after = proof.after.verdict.solved.problem.taken
        had = least_and_most_v(before, proof.circuit, load)
        has = least_and_most_v(after, proof.built.circuit, load)
        return any(has[case][1] < DEAD_SHARE * had[case][0] for case in had.keys() & has.keys())

    @property
    def is_worse(self) -> bool:
        """Whether the load surely gets less, and by more than a sound contact drops.

        Where others get their share once more, the battery keeps a little less.
        """
        return self.gained.high < 0.0 and self.gained.value < -NOTHING_V

    @cached_property
    def verdict(self) -> Verdict:
        """What it comes to."""
        if not self.is_told:
            return "worse" if self.is_dead else "not_proven"
        if self.is_worse:
            return "worse"
        if self.falls_short and self.missing.low > 0.0:
            return "less_than_promised"
        holds = self.gained.low > 0.0 and all(each.met == "yes" for each in self.by_case)
        is_right = not self.proof.faults and not self.runs_on and not self.still_loaded
        return "proven" if holds and is_right and not self.falls_short else "not_proven"
