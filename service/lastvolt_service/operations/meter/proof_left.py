"""What is poor after a way was built, whatever it brought: it stays lost until it is mended."""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.judging import WORN_MULTIPLE
from lastvolt_service.operations.meter.fit_condition import Conditions, most_of_wire_v
from lastvolt_service.operations.meter.fit_ends import end_of
from lastvolt_service.operations.meter.fit_model import Here
from lastvolt_service.operations.meter.proof_amount import Amount
from lastvolt_service.operations.meter.proof_fit import node_output
from lastvolt_service.operations.meter.proof_told import AFTER, BEFORE, Told
from lastvolt_service.tables.limits import contact_limit


@dataclass(frozen=True, slots=True)
class Left:
    """A part that takes too much after.

    Attributes
    ----------
    part : str
        Its name.
    drop_v, low_v, most_v : float
        What it takes, at the least 19 times of 20, and what a sound one takes at most. [V]
    amps : float
        Through it. [A]
    """

    part: str
    drop_v: float
    low_v: float
    most_v: float
    amps: float


def left(told: Told) -> list[Left]:
    """Parts that are poor after by the readings after, what takes most first."""
    side = told.proof.after
    if not told.is_told or told.proof.faults:
        return []
    found = {each.part: each for each in _worse_before(told)}
    asked = told.asked.side(side.model.circuit, told.proof.cases, told.asked.after)
    with suppress(CalculationError):
        for each in Conditions(asked, side.verdict.solved).told():
            if each.verdict == "fail" and len(each.parts) == 1 and each.limit_v is not None:
                name, values = each.parts[0], (each.drop_v, each.low_v, each.limit_v)
                found.setdefault(name, Left(name, *values, each.current_a))
    return sorted(found.values(), key=lambda each: -each.drop_v)


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
                yield Left(name, drop.value, drop.low, most_v, amps)


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
