"""Wires of a circuit that have a way to a source with no fuse in it."""

import math
from collections.abc import Iterator

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Model, Part
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.judging import UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.wires.drop_limits import NO_WIRE_OHM

# Of unfused wire between the source and the fuse: as near as it can be mounted; practice.
MOST_UNFUSED_M = 0.3
# What is given as ohms alone may be a wire, of whatever length.
_MAY_CHAFE = frozenset({"wire", "resistance"})


def unfused(model: Model, metal: Metal, bears: Bears) -> Iterator[Checked]:
    """Say which wires have a way to a source with no fuse in it.

    A starter motor's main cable has none by custom, and neither need a short lead before a fuse,
    nor what bears all that the chargers give and no battery reaches.
    """
    wires = {
        part.name: part
        for group in ("wires", "resistors")
        for part in metal.parts[group]
        if part.kind in _MAY_CHAFE
        and not part.is_load
        and getattr(part.asked, "resistance_ohm", 0.0) < NO_WIRE_OHM
    }
    _, names = metal.reached(metal.fed_from, through_fuses=False)
    names -= _charged_only(model, metal, bears)
    bare = [
        wires[name]
        for name in sorted(names & wires.keys(), key=model.order.__getitem__)
        if not _is_main_cable(metal, wires[name])
    ]
    lengths_m = [getattr(part.asked, "length_m", math.inf) for part in bare]
    if sum(lengths_m) > MOST_UNFUSED_M:
        detail = ", ".join(part.name for part in bare)
        judged = flatly(UNKNOWN)
        yield Checked("no_fuse", judged, "m", COMMON_PRACTICE, detail=detail)


def _charged_only(model: Model, metal: Metal, bears: Bears) -> set[str]:
    """Names of wires that bear all that the chargers give, and no battery reaches past a fuse."""
    chargers = model.parts["chargers"]
    if not chargers:
        return set()
    most_a = sum(charger.asked.limit_a for charger in chargers)
    ends = {*metal.batteries, metal.ground}
    _, of_batteries = metal.reached(metal.batteries, through_fuses=False, ends=ends)
    return {
        part.name
        for part, wire in zip(model.parts["wires"], model.wires, strict=True)
        if part.name not in of_batteries
        and wire is not None
        and known(wire.limit_c)
        and bears.of(wire)[0] >= most_a
    }


def _is_main_cable(metal: Metal, wire: Part) -> bool:
    """Whether a starter motor gets its current through this wire and no other way."""
    if not metal.cranked:  # following the metal for every wire takes its time
        return False
    # What charges stands at its far end in many a vehicle.
    ends = {*metal.batteries, metal.ground}
    fed, _ = metal.reached(metal.batteries, through_fuses=False, ends=ends)
    without, _ = metal.reached(metal.batteries, [wire], through_fuses=False, ends=ends)
    return any(not fed.isdisjoint(each) and without.isdisjoint(each) for each in metal.cranked)
