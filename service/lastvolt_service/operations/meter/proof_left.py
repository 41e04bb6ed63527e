"""What is poor after a way was built, whatever it brought: it stays lost until it is mended."""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.judging import WORN_MULTIPLE
from lastvolt_service.operations.meter.fit_condition import Conditions, most_of_wire_v
from lastvolt_service.operations.meter.fit_ends import end_of
from lastvolt_service.operations.meter.fit_faults import OPEN_SHARE
from lastvolt_service.operations.meter.fit_mending import either, listed
from lastvolt_service.operations.meter.fit_model import Here
from lastvolt_service.operations.meter.proof_amount import Amount
from lastvolt_service.operations.meter.proof_fit import node_output
from lastvolt_service.operations.meter.proof_read import part_is_read
from lastvolt_service.operations.meter.proof_told import AFTER, BEFORE, ONCE, PROMISED, Told
from lastvolt_service.tables.limits import contact_limit

# So many times the ohms that it had a part did not get by itself, nor by a coarse meter. Common
# practice.
TIMES_MORE = 2.0
# By what several parts, or one, are worth after.
_CODES = {
    ("fail", False): "still_poor",
    ("fail", True): "still_poor_together",
    ("undecided", True): "may_be_poor_together",
}


@dataclass(frozen=True, slots=True)
class Left:
    """A part that takes too much after, or several of which one or more do.

    Attributes
    ----------
    parts : tuple of str
        Its name, or theirs.
    drop_v, low_v, most_v : float
        What it takes, at the least 19 times of 20, and what a sound one takes at most. [V]
    amps : float
        Through it. [A]
    case : str
        The case that tells.
    code : str
        What is said of it.
    before_v : float or None
        What it took before, of one that was sound then. [V]
    """

    parts: tuple[str, ...]
    drop_v: float
    low_v: float
    most_v: float
    amps: float
    case: str
    code: str = "still_poor"
    before_v: float | None = None

    @property
    def is_one(self) -> bool:
        """Whether it is one of several, and nobody knows which."""
        return self.code in {"one_still_open", "one_still_poor"}

    @property
    def part(self) -> str:
        """What it is called."""
        return either(self.parts) if self.is_one else listed(self.parts)


def rivals(told: Told, name: str) -> tuple[str, ...]:
    """Parts any one of which may be what was worse before; of those read after none is another."""
    proof, readings = told.proof, told.asked.after
    circuit = proof.after.model.circuit
    if part_is_read(readings, circuit, name):
        return (name,)
    return tuple(
        each
        for each in proof.worse_among
        if each == name or not (each in proof.new or part_is_read(readings, circuit, each))
    ) or (name,)


def left(told: Told) -> list[Left]:
    """Parts that are poor after by the readings after, what takes most first."""
    side = told.proof.after
    if not told.is_told or told.proof.faults:
        return []
    found = {name: each for each in _worse_before(told) for name in each.parts}
    # What may be poor is worth a reading where the load lacks volts, and nothing else takes them.
    lacks = any(each.met != "yes" for each in told.by_case)
    asked = told.asked.side(side.model.circuit, told.proof.cases, told.asked.after)
    with suppress(CalculationError):
        for each in Conditions(asked, side.verdict.solved).told():
            code = _CODES.get((each.verdict, len(each.parts) > 1))
            is_due = each.verdict == "fail" or (lacks and not found)
            if code and is_due and each.limit_v and found.keys().isdisjoint(each.parts):
                values = each.drop_v, each.low_v, each.limit_v, each.current_a
                found |= dict.fromkeys(each.parts, Left(each.parts, *values, each.case, code))
    told_once = [_since(told, each) for each in dict.fromkeys(found.values())]
    return sorted(told_once, key=lambda each: -each.drop_v)


def _since(told: Told, each: Left) -> Left:
    """A part that is poor, and surely had less before: it got so since."""
    if each.code != "still_poor":
        return each
    heres = (told.at_worst(group) for group in (BEFORE, AFTER))
    was, now = (_of(told, here, each.parts[0]) for here in heres)
    if was is None or now is None or TIMES_MORE * was[0].high * now[1] >= now[0].low * was[1]:
        return each
    return replace(each, code="poor_now", before_v=was[0].value)


def more_than_promised_v(told: Told, lost: Sequence[Left]) -> float:
    """What these parts take in the worst case beyond what they were to take. [V]."""
    once, promised = told.at_worst(ONCE).state, told.at_worst(PROMISED).state
    names = (name for each in lost for name in each.parts)
    return sum(abs(once.across_v(name)) - abs(promised.across_v(name)) for name in names)


def mended(told: Told) -> set[str]:
    """Parts that were worse before than given, and are no more, by the readings after.

    What takes less for sure than it took then was mended, or was never the one.
    """
    proof, found = told.proof, set[str]()
    before, after = proof.here(BEFORE, told.worst), proof.here(AFTER, told.worst)
    if before is None or after is None:
        return found
    for name in proof.worse_before:
        was, now = _of(told, before, name), _of(told, after, name)
        if was is not None and now is not None:
            drop, _, most_v = now
            if drop.high <= most_v or drop.high < was[0].low:
                found.add(name)
    return found


def _worse_before(told: Told) -> Iterator[Left]:
    """Parts that were worse before than given, and are poor after, by the readings after."""
    proof, here = told.proof, told.proof.here(AFTER, told.worst)
    if here is None:
        return
    for name in proof.worse_before:
        found = _of(told, here, name)
        if found is not None and name not in proof.new:
            drop, amps, most_v = found
            if drop.low > most_v:
                parts, code = rivals(told, name), "still_poor"
                if len(parts) > 1:
                    is_open = drop.low >= OPEN_SHARE * here.state.model.drive_v
                    code = "one_still_open" if is_open else "one_still_poor"
                case = proof.cases[told.worst].name
                yield Left(parts, drop.value, drop.low, most_v, amps, case, code)


def _of(told: Told, here: Here, name: str) -> tuple[Amount, float, float] | None:
    """What a part takes, its current, and what a sound one takes at most; None if it is no part."""
    branches = {each.name: each for each in told.proof.after.model.circuit.branches}
    own = branches.get(name)
    if own is None or here.state.named(name) is None:
        return None
    amps = abs(here.state.current_a(name))
    last = branches.get(end_of(name), own).nodes[1]
    output = node_output(here, own.nodes[0], last)
    if output is None:
        return None
    drop = told.proof.amount((1.0 if here.state.current_a(name) >= 0 else -1.0, here, output))
    if isinstance(own, CircuitContact):
        return drop, amps, WORN_MULTIPLE * contact_limit(own.part, amps).limit_v
    given = {each.name: each for each in told.asked.circuit.branches}[name]
    ohm = getattr(given, "resistance_ohm", None)
    copper_v = amps * ohm if isinstance(ohm, float) else abs(here.state.across_v(name))
    asked = told.asked
    return drop, amps, most_of_wire_v(here.state, asked.load, asked.sure_v, copper_v)
