"""What a motor that stalls draws through contacts, and through wires without a fuse."""

import math
from collections.abc import Iterator, Sequence

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fuse_checks import sure_to_open_a
from lastvolt_service.operations.circuits.load_way import NOTHING_A, Carries, Currents
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.metal_tree import is_fuse
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import FAIL, MARGINAL, UNKNOWN, flatly, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.tables.limits import GETS_HOT_S

# A contact bears so many times its rating until somebody looks why nothing turns. Common practice.
UNTIL_SEEN = 1.25
# What is given by its current or its power, and takes as much as a fan or a pump, may be a motor.
# [A]. Common practice.
MOTOR, MAY_TURN, LEAST_MOTOR_A = "motor", frozenset({"current", "power"}), 10.0


def stall_checks(
    state: State, metal: Metal, bears: Bears, duration_s: float | None
) -> Iterator[Checked]:
    """Judge what stands between a motor and its source, if it stalls and no fuse opens by it.

    At a stand it is its resistance. Wires behind a fuse are judged by what that may let through. Of
    what may be a motor and is given as something else it is told that nothing was judged.
    """
    if duration_s is not None and duration_s < GETS_HOT_S:
        return
    currents = Currents(state)
    for load in metal.loads:
        own = currents.of[load]
        if load.asked.circuit in OF_CIRCUIT or own.amps < NOTHING_A:
            continue
        on_it = currents.in_the_way(load)
        if load.kind == "motor":
            yield from _of_motor(state, own, on_it, bears)
        elif _may_be_motor(own, on_it):
            yield from _not_judged(state, own, on_it, bears)


def _of_motor(
    state: State, own: Carries, on_it: Sequence[Carries], bears: Bears
) -> Iterator[Checked]:
    motor, drive_v = own.part, state.model.drive_v
    if motor.asked.back_v <= 0.0:
        return
    lost_ohm = max(drive_v - own.across_v, 0.0) / own.amps
    stalled_a = drive_v / (motor.asked.resistance_ohm + lost_ohm)
    more_a, opens_a = stalled_a - own.amps, _opens_a(own, on_it)
    if more_a <= 0.0 or stalled_a > opens_a:
        return
    for each in on_it:
        bears_a = _bears_a(state, each, bears, is_fused=opens_a < math.inf)
        if bears_a is None or each.amps + more_a <= bears_a:
            continue
        judged = stays_within(each.amps + more_a, bears_a)
        little = judged.verdict == FAIL and each.amps + more_a <= UNTIL_SEEN * bears_a
        judged = judged._replace(verdict=MARGINAL) if little else judged
        so = {"part": each.part.name, "detail": motor.name}
        yield Checked("stall", judged, "A", COMMON_PRACTICE, **so)


def _not_judged(
    state: State, own: Carries, on_it: Sequence[Carries], bears: Bears
) -> Iterator[Checked]:
    """Ask of the contact that bears least, unless a fuse opens before it is overloaded."""
    may_a = {
        each.part.name: bears_a - (each.amps - own.amps)
        for each in on_it
        if (bears_a := _bears_a(state, each, bears, is_fused=True)) is not None
    }
    weakest = min(may_a, key=may_a.__getitem__, default=None)
    if weakest is not None and _opens_a(own, on_it) > UNTIL_SEEN * may_a[weakest]:
        so = {"part": weakest, "detail": own.part.name}
        yield Checked("stall", flatly(UNKNOWN), "A", COMMON_PRACTICE, **so)


def _may_be_motor(own: Carries, on_it: Sequence[Carries]) -> bool:
    """Whether a load may be a motor: a relay in its way tells, else its kind and its current."""
    kinds = {
        each.part.asked.load_kind
        for each in on_it
        if each.part.kind == "relay" and each.part.asked.load_kind is not None
    }
    return MOTOR in kinds if kinds else own.part.kind in MAY_TURN and own.amps >= LEAST_MOTOR_A


def _opens_a(own: Carries, on_it: Sequence[Carries]) -> float:
    """What a load draws at which a fuse in its way is sure to open; without any, no end. [A]."""
    opens_a = (
        sure_to_open_a(each.part) - (each.amps - own.amps)
        for each in on_it
        if is_fuse(each.part) and known(each.part.asked.rating_a)
    )
    return min(opens_a, default=math.inf)


def _bears_a(state: State, each: Carries, bears: Bears, *, is_fused: bool) -> float | None:
    """What a part in the way of a motor may carry for hours; None where it is not known. [A]."""
    part: Part = each.part
    if part.kind == "wire":
        return None if is_fused else bears.least_a(state.model, {part.name}) or None
    if part.kind not in {"contact", "relay"} or is_fuse(part):
        return None
    if part.kind == "relay" and {*part.nodes} != {*part.asked.contact_nodes}:
        return None  # its break contact has a rating of its own
    return float(part.asked.rating_a) if known(part.asked.rating_a) else None
