"""Circuits along the bounds on work, and readings that fit nothing."""

import random
from collections.abc import Iterator
from typing import Any

from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.circuits import work

BY_NAME = {operation.name: operation for operation in OPERATIONS if operation.method == "POST"}
WIRE = {"kind": "wire", "size": "16 AWG", "length_m": 0.05, "insulation": "GXL"}
CONTACT = {"kind": "contact", "part": "connector", "resistance_ohm": 0.001}
LOADS = {
    "resistance": {"resistance_ohm": 60.0},
    "power": {"power_w": 2.0},
}
RELAY = {
    "coil_resistance_ohm": 90, "pick_up_v": 6.9, "drop_out_v": 1.2, "contact_resistance_ohm": 0.003,
    "thermal_resistance_k_per_w": 30,
}  # fmt: skip


def circuit(
    *,
    branches: int,
    loads: int,
    relays: int,
    intervals: int,
    kind: str = "power",
    wires: bool = True,
) -> dict[str, Any]:
    """A chain of relays that pull in one after the other, and a ladder of loads behind it."""
    nodes = [f"n{place}" for place in range(min(branches, 140))]
    spread = {"low": 0.9, "high": 1.1}
    made: list[dict[str, Any]] = [
        {**CONTACT, "name": "main", "nodes": ["post", "s0"], "ages": True},
        {**CONTACT, "name": "lead", "nodes": [f"s{relays}", "fused"], "part": "switch"},
        # Two side by side, of any family: all wires behind are judged for each.
        *(
            {**CONTACT, "name": name, "nodes": ["fused", "lead"], "part": "fuse", "rating_a": 20}
            for name in ("fuse", "other fuse")
        ),
    ]
    at = "lead"
    for place in range(branches):
        part = dict(WIRE if wires else CONTACT)
        if place < intervals:
            field = "length_m" if wires else "resistance_ohm"
            part[field] = {end: part[field] * by for end, by in spread.items()}
        node = nodes[place % len(nodes)]
        if node == at:
            node = nodes[(place + 1) % len(nodes)]
        made.append({**part, "name": f"b{place}", "nodes": [at, node]})
        at = node
    return {
        "source": {"plus": "post", "open_circuit_v": 13.0, "internal_resistance_ohm": 0.01},
        "branches": made,
        "loads": [
            {"name": f"l{place}", "kind": kind, **LOADS[kind], "needed_v": 12.9,
             "nodes": [nodes[-1 - place % len(nodes)], "ground"]}
            for place in range(loads)
        ],
        "relays": [
            {**RELAY, "name": f"r{place}", "coil_nodes": [f"s{place}", "ground"],
             "contact_nodes": ["post", f"s{place + 1}"]}
            for place in range(relays)
        ],
    }  # fmt: skip


def shapes() -> Iterator[dict[str, Any]]:
    for branches in (1, 20, 140, 400):
        for loads in (1, 50):
            for relays in (0, 2, 10, 20):
                for intervals in (0, 16):
                    if intervals <= branches and branches + loads + relays < 500:
                        yield {"branches": branches, "loads": loads, "relays": relays,
                               "intervals": intervals}  # fmt: skip


def checks(**shape: Any) -> dict[str, Any]:
    """As many cases as the bound leaves, 20 at most."""
    request = {"circuit": circuit(**shape), "cases": [{"name": "c0", "ageing_factor": 2}]}
    return grown(request)


def retrofits(**shape: Any) -> dict[str, Any]:
    return grown(proposed(**shape))


def sheets(**shape: Any) -> dict[str, Any]:
    request = proposed(**shape)
    wire = {
        "name": "new wire",
        "kind": "wire",
        "size": "10 AWG",
        "length_m": 1,
        "insulation": "GXL",
    }
    return grown(
        {**request, "proposal": {**request["proposal"], "outlet": [wire]}, "vehicle": "any"}
    )


def proposed(**shape: Any) -> dict[str, Any]:
    return {
        "circuit": circuit(**shape),
        "cases": [{"name": "c0", "ageing_factor": 2}],
        "load": "l0",
        "switch": "lead",
        "proposal": {"relay": {**RELAY, "name": "new"}, "feed_node": "post",
                     "feed": [{**CONTACT, "name": "new fuse"}], "outlet": []},
    }  # fmt: skip


def starts(**shape: Any) -> dict[str, Any]:
    request = {
        "circuit": circuit(**shape),
        "starter": {**BY_NAME["start-sequence"].schema.example["starter"], "control_node": "n0",
                    "stud_node": "post", "ground_node": "ground"},
        "key": "lead",
        "cases": [{"name": "c0", "ageing_factor": 2}],
    }  # fmt: skip
    return grown(request)


def grown(request: dict[str, Any]) -> dict[str, Any]:
    one = units(request)
    count = max(1, min(20, work.MOST_UNITS // one))
    (first,) = request["cases"]
    return {**request, "cases": [{**first, "name": f"c{place}"} for place in range(count)]}


def intervals(value: Any) -> int:
    """Intervals of a request, or of a part of one, before it is read."""
    if isinstance(value, dict):
        inner = sum(map(intervals, value.values()))
        return 1 if value.keys() == {"low", "high"} else inner
    return sum(map(intervals, value)) if isinstance(value, list) else 0


def units(request: dict[str, Any]) -> int:
    """Units of work of a request that may be over the bound, which no schema would read."""
    circuit, proposal = request["circuit"], request.get("proposal")
    parts = sum(len(circuit.get(group, ())) for group in ("branches", "loads", "relays"))
    if "starter" in request:
        parts += work.STARTER_PARTS
    if proposal is not None:
        parts += 1 + len(proposal["feed"]) + len(proposal["outlet"])
    return work.Work(
        parts=parts,
        loads=len(circuit["loads"]),
        relays=len(circuit.get("relays", ())) + (proposal is not None),
        everywhere=intervals(circuit) + intervals(proposal),
        in_cases=tuple(map(intervals, request["cases"])),
        is_retrofit=proposal is not None,
        is_start="starter" in request,
        again=2 if "vehicle" in request else 0,
    ).units


def dear_fit(
    *, parts: int = 150, unknown: int = 16, cases: int = 4, readings: int = 60
) -> dict[str, Any]:
    """A chain, some of its plugs unknown, whose readings fit nothing."""
    branches = [
        {"name": f"wire {place}", "kind": "wire", "nodes": [f"n{place}", f"n{place + 1}"],
         "size": "12 AWG", "length_m": 0.2 + 0.001 * place, "insulation": "GXL"}
        if place % 2 else
        {"name": f"plug {place}", "kind": "contact", "part": "connector" if place else "switch",
         "nodes": [f"n{place}", f"n{place + 1}"],
         "resistance_ohm": {"low": 0.001, "high": 0.01} if place < 2 * unknown else 0.002}
        for place in range(parts - 1)
    ]  # fmt: skip
    end = [f"n{parts - 1}", "ground"]
    load = {"name": "load", "kind": "resistance", "nodes": end, "resistance_ohm": 2, "needed_v": 9}
    source = {"plus": "n0", "open_circuit_v": 12.5, "internal_resistance_ohm": 0.01}
    return {
        "circuit": {"source": source, "branches": branches, "loads": [load]},
        "cases": [{"name": f"case {place}", "ambient_c": 20 + place} for place in range(cases)],
        "load": "load",
        "readings": fall(parts, cases, readings),
    }  # fmt: skip


def fall(parts: int, cases: int, readings: int) -> list[dict[str, Any]]:
    """Readings along a chain that fall by as much from one to the next."""
    return [
        {"case": f"case {place % cases}", "between": [f"n{place * 2 % parts}", "ground"],
         "value_v": 11.5 - 0.01 * place}
        for place in range(readings)
    ]  # fmt: skip


def dear_proof(**shape: int) -> dict[str, Any]:
    """The same with a relay fitted, and what was read then contradicts it, too."""
    found = dear_fit(**shape)
    before = found.pop("readings")
    relay = {"relay": {**RELAY, "name": "relay"}, "feed_node": "n0",
             "feed": [{**CONTACT, "name": "new fuse"}], "outlet": []}  # fmt: skip
    after = [{**each, "value_v": each["value_v"] + 0.3} for each in before]
    way = {"name": "relay", "relay": relay}
    return {**found, "switch": "plug 0", "way": way, "before": before, "after": after}


def buzzing(samples: int = 16_000) -> dict[str, Any]:
    """A plunger that buzzes for as long as a recording lasts, in its noise."""
    noise = random.Random(5)
    time_s = [place / samples for place in range(samples)]
    on = [place % 500 < 250 for place in range(samples)]
    return {
        "time_s": time_s,
        "volts_v": [12.4 - 0.8 * each + noise.gauss(0.0, 0.02) for each in on],
        "current_a": [20.0 * each + noise.gauss(0.0, 0.2) for each in on],
        "between": "battery",
        "winding": True,
    }
