"""Contacts that carry too much for a poor one in their way: mending that is what is needed."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from lastvolt_service.operations.circuits.contact_checks import (
    FUSE_FOR_A_MOMENT,
    is_starters_coil,
)
from lastvolt_service.operations.circuits.load_way import Currents
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.metal_tree import is_fuse
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.tables.limits import GETS_HOT_S

# What a contact, a relay's contact and a fuse carry.
CARRIED = frozenset({"contact_current", "steady_current", "fuse_load"})
# Of what a load lacks, from which on a contact is to blame for it. Common practice.
BLAMED_SHARE = 0.5
# Of the battery's voltage, from which on a poor contact is mended before one that bears its current
# for a moment, though the load works yet. Common practice.
MUCH_SHARE = 0.1
# Less across a load is a short within it, which no contact before it is to blame for. [V].
LEAST_V = 1e-3


def told_by_cause(
    checks: Iterable[Checked], state: State, metal: Metal, duration_s: float | None
) -> Iterator[Checked]:
    """The same checks; of what is overloaded for a poor contact, with that one's name.

    A plunger that stays out draws for seconds what it should for a moment, and what takes a
    constant power draws more from less.
    """
    checks = [*checks]
    more_v = {
        str(c.part): float(c.judged.value - c.judged.limit)
        for c in checks
        if c.code == "contact_drop" and c.verdict == "fail"
    }
    currents = Currents(state)
    parts = {part.name: part for part in (*metal.parts["resistors"], *metal.parts["contacts"])}
    for check in checks:
        cause = None
        if check.verdict == "fail" and check.code in CARRIED and more_v:
            cause = _cause(check, parts[str(check.part)], currents, more_v, metal, duration_s)
        yield check if cause is None else replace(check, detail=cause)


def _cause(
    check: Checked,
    part: Part,
    currents: Currents,
    more_v: dict[str, float],
    metal: Metal,
    duration_s: float | None,
) -> str | None:
    """Name of the contact without which a part would carry no more than it may for as long."""
    for load in metal.loads_behind(part):
        on_it = {each.part.name for each in currents.in_the_way(load)} - {part.name}
        worst = max(on_it & more_v.keys(), key=more_v.__getitem__, default=None)
        if worst is None:
            continue
        amps, gets_v, lost_v = currents.of[load].amps, currents.of[load].across_v, more_v[worst]
        if gets_v < LEAST_V:
            continue
        lacks_v = (load.needed_v or 0.0) - gets_v
        then_a = check.judged.value * (1.0 + lost_v / gets_v)
        if is_fuse(part):  # bears a plunger's moment
            bears = is_starters_coil(load) and then_a <= FUSE_FOR_A_MOMENT * part.asked.rating_a
        else:
            bears = is_starters_coil(load) or (duration_s or math.inf) < GETS_HOT_S
        costs_much = not is_fuse(part) and lost_v >= MUCH_SHARE * metal.drive_v
        if bears and (lost_v >= BLAMED_SHARE * lacks_v if lacks_v > 0.0 else costs_much):
            return worst
        rating_a = part.asked.rating_a if is_fuse(part) else 0.0  # which a fuse holds, and ages
        too_much_a = float(check.judged.value) - max(float(check.judged.limit), rating_a)
        less_a = amps * lost_v / (gets_v + lost_v)
        if load.kind == "power" and less_a >= too_much_a:
            return worst
    return None
