"""Long: the dearest legal request of each operation, searched for along the bounds.

Prints what each costs in seconds of CPU, as it is, explained, and as a report by link. Asserts that
what is at the bound is answered; no time but a guard against hanging.
"""

import base64
import json
import time
import zlib
from collections.abc import Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.reports import forms
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.operations.circuits import work
from lastvolt_service.operations.decision.quick_link import MAX_LINK

pytestmark = pytest.mark.long

HANGS_S = 120.0
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


@pytest.fixture(scope="module")
def asked() -> FlaskClient:
    return create_app(Config(deadline_s=HANGS_S)).test_client()


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


def shapes() -> Iterator[dict[str, Any]]:
    for branches in (1, 20, 140, 400):
        for loads in (1, 50):
            for relays in (0, 2, 10, 20):
                for intervals in (0, 16):
                    if intervals <= branches and branches + loads + relays < 500:
                        yield {"branches": branches, "loads": loads, "relays": relays,
                               "intervals": intervals}  # fmt: skip


def cost(client: FlaskClient, method: str, path: str, **given: Any) -> tuple[float, Any]:
    begun = time.process_time()
    answer = client.open(path, method=method, **given)
    spent = time.process_time() - begun
    assert spent < HANGS_S
    return spent, answer


def link(request: dict[str, Any]) -> str | None:
    packed = zlib.compress(json.dumps(request, separators=(",", ":")).encode(), 9)
    text = base64.urlsafe_b64encode(packed).decode()
    return text if len(text) <= MAX_LINK else None


def dearest(client: FlaskClient, name: str, requests: Iterator[tuple[str, dict[str, Any]]]) -> None:
    """Ask all, and print the dearest of them, once more explained and as a report."""
    found = []
    for told, request in requests:
        spent, answer = cost(client, "POST", f"/v1/{name}", json=request)
        assert answer.status_code == 200, (told, answer.text[:300])
        found.append((spent, told, request))
    found.sort(key=lambda each: each[0], reverse=True)
    spent, told, request = found[0]
    explained, answer = cost(client, "POST", f"/v1/{name}", json={**request, "explain": True})
    assert answer.status_code == 200, answer.text[:300]
    figures = [f"as it is {spent:.2f}", f"explained {explained:.2f}"]
    for form in forms(BY_NAME[name]):
        if form != "png":
            drawn, answer = cost(client, "POST", f"/v1/reports/{name}.{form}", json=request)
            assert answer.status_code == 200, answer.text[:300]
            figures.append(f"{form} {drawn:.2f}")
    linked = next(((t, text) for _, t, r in found if (text := link(r)) is not None), None)
    if linked is not None:
        by_link, answer = cost(client, "GET", f"/v1/reports/{name}.md?request={linked[1]}")
        assert answer.status_code == 200, answer.text[:300]
        figures.append(f"by link {by_link:.2f} ({linked[0]}, {len(linked[1])} characters)")
    print(f"{name}, {len(found)} asked, dearest {told}: {', '.join(figures)} s of CPU")


def legal(make: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    for shape in shapes():
        # With no way for a relay to close, no load of constant power is fed: there is no answer.
        for kind in LOADS if make is checks else ("resistance",):
            if make is starts and shape["intervals"]:
                continue  # a start is reckoned in no bounds
            request = make(**shape, kind=kind)
            if units(request) <= work.MOST_UNITS:
                yield f"{len(request['cases'])} cases of {shape} {kind}", request


def test_circuit_check(asked: FlaskClient) -> None:
    dearest(asked, "circuit-check", legal(checks))


def test_relay_retrofit(asked: FlaskClient) -> None:
    dearest(asked, "relay-retrofit", legal(retrofits))


def test_work_sheet(asked: FlaskClient) -> None:
    dearest(asked, "work-sheet", legal(sheets))


def test_start_sequence(asked: FlaskClient) -> None:
    dearest(asked, "start-sequence", legal(starts))


def longest(name: str, field: str, most: int) -> Iterator[tuple[str, dict[str, Any]]]:
    """The example of an operation with as many items as it takes."""
    example = BY_NAME[name].schema.example
    items = [{**example[field][place % len(example[field])]} for place in range(most)]
    for place, item in enumerate(items):
        if "name" in item:
            item["name"] = f"{field} {place}"
    yield f"{most} {field}", {**example, field: items}


def dear_fit() -> dict[str, Any]:
    """A chain of 150 parts, 16 of them open, in 4 cases, whose 60 readings fit nothing."""
    branches = [
        {"name": f"wire {place}", "kind": "wire", "nodes": [f"n{place}", f"n{place + 1}"],
         "size": "12 AWG", "length_m": 0.2 + 0.001 * place, "insulation": "GXL"}
        if place % 2 else
        {"name": f"plug {place}", "kind": "contact", "part": "connector",
         "nodes": [f"n{place}", f"n{place + 1}"],
         "resistance_ohm": {"low": 0.001, "high": 0.01} if place < 32 else 0.002}
        for place in range(149)
    ]  # fmt: skip
    load = {"name": "load", "kind": "resistance", "nodes": ["n149", "ground"], "resistance_ohm": 2}
    source = {"plus": "n0", "open_circuit_v": 12.5, "internal_resistance_ohm": 0.01}
    return {
        "circuit": {"source": source, "branches": branches, "loads": [load]},
        "cases": [{"name": f"case {place}", "ambient_c": 20 + place} for place in range(4)],
        "load": "load",
        "readings": [
            {"case": f"case {place % 4}", "between": [f"n{place * 2}", "ground"],
             "value_v": 11.5 - 0.01 * place}
            for place in range(60)
        ],
    }  # fmt: skip


def test_every_other_operation(asked: FlaskClient) -> None:
    """Their work grows no faster than their size, or is bounded by it: what is largest is cheap."""
    switch = BY_NAME["switch-loading"].schema.example
    positions = [f"p{place}" for place in range(10)]
    loads = [
        {"name": f"l{place}", "current_a": 2 + place / 100, "positions": positions}
        for place in range(50)
    ]
    largest = {
        "switch-loading": iter(
            [("50 loads in 10 positions", {**switch, "rating_a": 1, "loads": loads,
                                           "relay_coil_current_a": 0.01})]
        ),
        "drop-diagnosis": longest("drop-diagnosis", "readings", 100),
        "voltage-drop": longest("voltage-drop", "segments", 100),
        "circuit-fit": iter([("60 readings of 150 parts", dear_fit())]),
    }  # fmt: skip
    for name, operation in BY_NAME.items():
        if name not in {"circuit-check", "relay-retrofit", "start-sequence", "work-sheet"}:
            asking = largest.get(name, iter([("the example", operation.schema.example)]))
            dearest(asked, name, asking)
