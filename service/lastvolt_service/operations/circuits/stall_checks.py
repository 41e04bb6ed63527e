"""What a motor that stalls draws through contacts, and through wires without a fuse."""

import math
from collections.abc import Iterator

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fuse_checks import sure_to_open_a
from lastvolt_service.operations.circuits.load_way import NOTHING_A, Carries, Currents
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.metal_tree import is_fuse
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import FAIL, MARGINAL, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.tables.limits import GETS_HOT_S

# A contact bears so many times its rating until somebody looks why nothing turns. Common practice.
UNTIL_SEEN = 1.25


def stall_checks(
    state: State, metal: Metal, bears: Bears, duration_s: float | None
) -> Iterator[Checked]:
    """Judge what stands between a motor and its source, if it stalls and no fuse opens by it.

    At a stand it is its resistance. Wires behind a fuse are judged by what that may let through.
    """
    if duration_s is not None and duration_s < GETS_HOT_S:
        return
    currents, drive_v = Currents(state), state.model.drive_v
    for motor in metal.loads:
        own = currents.of[motor]
        makes_v = motor.kind == "motor" and motor.asked.circuit not in OF_CIRCUIT
        if not makes_v or motor.asked.back_v <= 0.0 or own.amps < NOTHING_A:
            continue
        lost_ohm = max(drive_v - own.across_v, 0.0) / own.amps
        more_a = drive_v / (motor.asked.resistance_ohm + lost_ohm) - own.amps
        on_it = currents.in_the_way(motor)
        opens_a = [
            sure_to_open_a(each.part) - (each.amps - own.amps)
            for each in on_it
            if is_fuse(each.part) and known(each.part.asked.rating_a)
        ]
        stalled_a = own.amps + more_a
        if more_a <= 0.0 or stalled_a > min(opens_a, default=math.inf):
            continue
        for each in on_it:
            bears_a = _bears_a(state, each, bears, is_fused=bool(opens_a))
            if bears_a is None or each.amps + more_a <= bears_a:
                continue
            judged = stays_within(each.amps + more_a, bears_a)
            little = judged.verdict == FAIL and each.amps + more_a <= UNTIL_SEEN * bears_a
            judged = judged._replace(verdict=MARGINAL) if little else judged
            so = {"part": each.part.name, "detail": motor.name}
            yield Checked("stall", judged, "A", COMMON_PRACTICE, **so)


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
