"""Long: the dearest legal request of each operation, searched for along the bounds.

Prints what each costs in seconds of CPU, as it is, explained, and as a report by link. Asserts that
what is at the bound is answered; no time but a guard against hanging.
"""

import base64
import copy
import json
import random
import time
import zlib
from collections.abc import Callable, Iterator
from itertools import chain, product
from typing import Any

import pytest
from flask.testing import FlaskClient

from lastvolt_service.api.reports import forms
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.operations.circuits import work
from lastvolt_service.operations.decision.quick_link import MAX_LINK

from .dear_circuits import (
    BY_NAME,
    CONTACT,
    LOADS,
    RELAY,
    WIRE,
    buzzing,
    checks,
    circuit,
    dear_fit,
    dear_proof,
    retrofits,
    shapes,
    sheets,
    starts,
    units,
)

pytestmark = pytest.mark.long

HANGS_S = 120.0
# Chains of parts, some unknown, and readings of them: those within the bound are asked. Of few
# parts there may be many cases.
CHAINS = [
    {"parts": parts, "unknown": unknown, "cases": cases, "readings": readings}
    for parts, unknown in ((3, 1), (8, 2), (20, 2), (20, 6), (40, 12), (150, 16))
    for cases, readings in ((1, 20), (1, 60), (2, 20), (4, 20), (6, 20), (8, 20), (20, 40))
]
SIDES = ("readings", "before", "after")


@pytest.fixture(scope="module")
def asked() -> FlaskClient:
    return create_app(Config(deadline_s=HANGS_S)).test_client()


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


def given_ways(relays: int, wires: int) -> list[dict[str, Any]]:
    """Ways with relays of their own, and with a thicker wire."""
    fed = [
        {"name": f"w{place}",
         "relay": {"relay": {**RELAY, "name": f"new{place}"}, "feed_node": "post",
                   "feed": [{**CONTACT, "name": f"fuse{place}"}], "outlet": []}}
        for place in range(relays)
    ]  # fmt: skip
    thick = [
        {"name": f"thick{place}", "wires": [{**WIRE, "name": "b0", "size": "10 AWG"}]}
        for place in range(wires)
    ]
    return [*fed, *thick]


def choices(candidates: int, places: int) -> dict[str, Any]:
    example = BY_NAME["relay-choice"].schema.example
    relay, place = example["candidates"][0], example["places"][0]
    return {
        "candidates": [{**relay, "name": f"relay {count}"} for count in range(candidates)],
        "places": [
            {**place, "name": f"place {count}", "zone": f"zone {count}", "feed_node": "post"}
            for count in range(places)
        ],
    }


# What each operation that weighs a circuit may be given beside it.
BESIDE: dict[str, list[dict[str, Any]]] = {
    "remedy-choice": [{"ways": given_ways(*each)} for each in ((1, 0), (1, 7), (4, 4), (8, 0))],
    "relay-choice": [choices(*each) for each in ((1, 1), (20, 3), (200, 6))],
    "meter-plan": [{}, {"way": given_ways(1, 0)[0]["relay"]}],
}


def asked_for(
    client: FlaskClient, name: str, shape: dict[str, Any], beside: dict[str, Any]
) -> tuple[str, dict[str, Any]] | None:
    """The request of a shape with the most cases that its operation takes; None of none."""
    request = {"circuit": circuit(**shape, kind="resistance"), "load": "l0", "switch": "lead"}
    for count in (20, 14, 10, 7, 5, 4, 3, 2, 1):
        cases = [{"name": f"c{place}", "ageing_factor": 2} for place in range(count)]
        body = {**request, "cases": cases, **beside}
        answer = client.post(f"/v1/{name}", json=body)
        if answer.status_code == 200:
            many = [f"{len(each)} {field}" for field, each in beside.items()]
            return f"{count} cases of {shape}, {', '.join(many)}", body
        # What is too much is refused by a field; the rest has no answer at all.
        assert answer.status_code == 422, answer.text[:300]
    return None


@pytest.mark.parametrize("name", BESIDE)
def test_what_weighs_a_circuit(asked: FlaskClient, name: str) -> None:
    found = (asked_for(asked, name, *each) for each in product(shapes(), BESIDE[name]))
    dearest(asked, name, filter(None, found))


def longest(name: str, field: str, most: int) -> Iterator[tuple[str, dict[str, Any]]]:
    """The example of an operation with as many items as it takes."""
    example = BY_NAME[name].schema.example
    items = [{**example[field][place % len(example[field])]} for place in range(most)]
    for place, item in enumerate(items):
        if "name" in item:
            item["name"] = f"{field} {place}"
    yield f"{most} {field}", {**example, field: items}


def scattered(name: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """The example of an operation with readings that are some percent off, and fit nothing."""
    for share in (0.02, 0.04):
        for seed in range(3):
            noise = random.Random(seed)
            request = copy.deepcopy(BY_NAME[name].schema.example)
            readings = [each for side in SIDES for each in request.get(side, ())]
            for reading, field in product(readings, ("value_v", "value_a")):
                if field in reading:
                    reading[field] *= 1.0 + noise.gauss(0.0, share)
            yield f"the example, its readings {share:.0%} off, {seed}", request


def allowed(
    client: FlaskClient, name: str, make: Callable[..., dict[str, Any]]
) -> Iterator[tuple[str, dict[str, Any]]]:
    """Requests of chains that are within the bound on work of their operation."""
    for shape in CHAINS:
        request = make(**shape)
        answer = client.post(f"/v1/{name}", json=request)
        if answer.status_code == 200:
            yield str(shape), request
        else:
            assert "units of work" in answer.text, answer.text[:300]


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
        "circuit-fit": chain(
            allowed(asked, "circuit-fit", dear_fit), scattered("circuit-fit")
        ),
        "gain-proof": chain(allowed(asked, "gain-proof", dear_proof), scattered("gain-proof")),
        "recording": iter([("16,000 samples of a buzzing plunger", buzzing())]),
    }  # fmt: skip
    for name, operation in BY_NAME.items():
        if name not in {"circuit-check", "relay-retrofit", "start-sequence", "work-sheet", *BESIDE}:
            asking = largest.get(name, iter([("the example", operation.schema.example)]))
            dearest(asked, name, asking)
