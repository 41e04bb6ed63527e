"""Faults behind the fuses of a circuit: whether the least of them, at a load, opens its fuse."""

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

import numpy as np

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fuse_checks import (
    cold_rating_a,
    families_of_all,
    together,
)
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.short_checks import AS_OHMS
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.fuses.shorts import judge_least
from lastvolt_service.operations.judging import UNDECIDED
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.wires.drop_limits import NO_WIRE_OHM
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.tables import fuses, short_circuit

Joints = dict[str, list[tuple[str, float]]]


def far_shorts(state: State, metal: Metal, bears: Bears) -> Iterator[Checked]:
    """Judge the fault at each load behind a fuse: over all wires, hot, and all contacts there.

    One that all wires there bear hurts none; where that is not known, what the fuse is there to
    carry.
    """
    fed = [
        *(((fuse,), *metal.behind(fuse)) for fuse in metal.fuses),
        *((each.fuses, each.nodes, each.names) for each in metal.fed_together),
    ]
    judged = [
        (some, families, nodes, bears.least_a(state.model, names) or _rating_a(some))
        for some, nodes, names in fed
        if all(known(fuse.asked.rating_a) for fuse in some) and (families := families_of_all(some))
    ]
    if not (judged and metal.loads):
        return
    network, joints = state.model.network, _joints(state)
    out_ohm = _distances(joints, state.model.live_post)
    back_ohm = _distances(joints, network.node_names[network.reference])
    # A source that keeps its voltage says nothing of its battery: a good one, cold.
    usual_ohm = short_circuit.GOOD_BATTERY_OHM * short_circuit.COLD_MULTIPLE
    own_ohm = state.model.network.sources.internal_resistance_ohm.tolist()
    source_ohm = 1.0 / sum(1.0 / (each or usual_ohm) for each in own_ohm)
    for some, families, nodes, borne_a in judged:
        there = {load.name: load for node in nodes for load in metal.loads_at.get(node, ())}
        for load in sorted(there.values(), key=lambda each: state.model.order[each.name]):
            loop_ohm = min(
                (
                    out_ohm[near] + back_ohm[far]
                    for near, far in (load.nodes, load.nodes[::-1])
                    if near in nodes and near in out_ohm and far in back_ohm
                ),
                default=None,
            )
            if loop_ohm is not None:
                least_a = state.model.emf_v / (source_ohm + loop_ohm)
                if least_a > borne_a:
                    yield _far_short(some, families, load, least_a)


def _rating_a(side_by_side: Sequence[Part]) -> float:
    return sum(float(fuse.asked.rating_a) for fuse in side_by_side)


def _far_short(
    side_by_side: Sequence[Part], families: Sequence[str], load: Part, least_a: float
) -> Checked:
    cold_a = sum(cold_rating_a(fuse) for fuse in side_by_side)
    judged = [judge_least(least_a, fuses.band(name), cold_a) for name in families]
    slowest = max(judged, key=lambda each: each.limit)
    if len({int(each.verdict) for each in judged}) > 1:
        slowest = slowest._replace(verdict=UNDECIDED)
    cited = short_circuit.five_seconds_citation()
    name = together(side_by_side)
    return Checked("far_short", slowest, "A", cited, part=name, detail=load.name)


def _joints(state: State) -> Joints:
    """What conductors join each node to, with their resistance: of wires hot. [ohm].

    A resistor is none: what it leads to gets no more by design.
    """
    network, found = state.model.network, Joints()
    wires_ohm = np.array(state.solution.wire_resistance_ohm, dtype=float)
    for place, wire in enumerate(state.model.wires):
        if wire is not None and known(wire.limit_c):
            hot = resistance_ratio(
                temperature_c=wire.limit_c,
                temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
            )
            wires_ohm[place] = network.wires.resistance_20_ohm[place] * hot
    for group, ohms in (
        ("wires", wires_ohm),
        ("resistors", network.resistors.resistance_ohm),
        ("contacts", network.contacts.resistance_ohm),
    ):
        for part, ohm in zip(state.model.parts[group], ohms.tolist(), strict=True):
            is_resistor = part.kind == AS_OHMS and ohm >= NO_WIRE_OHM
            if not (part.is_load or is_resistor):
                first, second = part.nodes
                found.setdefault(first, []).append((second, ohm))
                found.setdefault(second, []).append((first, ohm))
    return found


def _distances(joints: Joints, start: str) -> dict[str, float]:
    """Least resistance of a way from a node to every other: Dijkstra. [ohm]."""
    found: dict[str, float] = {}
    todo = [(0.0, start)]
    while todo:
        ohm, node = heappop(todo)
        if node in found:
            continue
        found[node] = ohm
        for other, more_ohm in joints.get(node, ()):
            if other not in found:
                heappush(todo, (ohm + more_ohm, other))
    return found
