"""What circuits cost beside each other and beside an empty view, side by side in one run.

Run it by hand, when nothing else runs; it prints ratios of processor time, and what the dearest
legal requests take of it, and judges nothing.
"""

import argparse
import statistics
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from bench_single import Target, load, request_bytes, say, serving

sys.path.insert(0, str(Path(__file__).parents[2]))
from tests.faults.dear_circuits import BY_NAME, checks, retrofits, sheets, starts
from tests.faults.test_work import choices, given_ways, longest, scattered

CASES = [
    {"name": "cold", "ambient_c": -10},
    {"name": "hot", "ambient_c": 60, "ageing_factor": 2.0},
]
RELAY = {
    "name": "new relay",
    "nominal_v": 12,
    "coil_resistance_ohm": 90,
    "pick_up_v": 7.2,
    "drop_out_v": 1.2,
    "contact_resistance_ohm": 0.002,
    "rating_a": 40,
}
HANGS_S = 120.0
SPREAD = {"low": 0.9, "high": 1.1}


def harness(branches: int, intervals: int = 0, lamps: int = 1) -> dict[str, Any]:
    """A bus that feeds fused and switched lamps: one part, and three and the lamps for each."""
    parts: list[dict[str, Any]] = [
        {"name": "main", "kind": "wire", "size": "2 AWG", "length_m": 1.0, "insulation": "SGX",
         "nodes": ["post", "bus"]},
    ]  # fmt: skip
    loads = []
    for place in range(branches):
        fuse, out, on = f"f{place}", f"o{place}", f"s{place}"
        parts += [
            {"name": f"fuse {place}", "kind": "contact", "part": "fuse", "rating_a": 20,
             "resistance_ohm": 0.004, "nodes": ["bus", fuse]},
            {"name": f"wire {place}", "kind": "wire", "size": "14 AWG", "insulation": "GXL",
             "length_m": 4.0, "nodes": [fuse, out]},
            {"name": f"switch {place}", "kind": "contact", "part": "switch", "rating_a": 15,
             "resistance_ohm": 0.01, "nodes": [out, on]},
        ]  # fmt: skip
        loads += [
            {
                "name": f"lamp {place}.{lamp}",
                "kind": "resistance",
                "resistance_ohm": 3.0 * lamps,
                "needed_v": 11,
                "nodes": [on, "ground"],
            }
            for lamp in range(lamps)
        ]
    for part in [part for part in parts if part["kind"] == "contact"][:intervals]:
        ohm = part["resistance_ohm"]
        part["resistance_ohm"] = {end: ohm * factor for end, factor in SPREAD.items()}
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    return {"source": source, "branches": parts, "loads": loads}


def check(branches: int, intervals: int = 0, lamps: int = 1) -> dict[str, Any]:
    return {"circuit": harness(branches, intervals, lamps), "cases": CASES}


def retrofit() -> dict[str, Any]:
    wire = {"kind": "wire", "size": "10 AWG", "length_m": 1.0, "insulation": "GXL"}
    fuse = {"name": "new fuse", "kind": "contact", "part": "fuse", "rating_a": 20}
    return {
        **check(1),
        "load": "lamp 0.0",
        "switch": "switch 0",
        "proposal": {
            "relay": RELAY,
            "feed_node": "bus",
            "feed": [{**fuse, "resistance_ohm": 0.004}, {**wire, "name": "feed"}],
            "outlet": [{**wire, "name": "outlet"}],
        },
    }


# Of the shapes that `tests/faults/test_work.py` asks those that took most: branches, loads, relays
# and intervals, each with as many cases as are legal.
DEAREST = (
    ("circuit-check", checks, (400, 50, 0, 0)),
    ("circuit-check", checks, (140, 50, 0, 0)),
    ("circuit-check", checks, (20, 1, 2, 16)),
    ("start-sequence", starts, (140, 50, 0, 0)),
    ("relay-retrofit", retrofits, (20, 1, 2, 0)),
    ("work-sheet", sheets, (20, 1, 0, 16)),
)
# Those that weigh a circuit, in one case, with what they may be given beside it.
WEIGHED: tuple[tuple[str, tuple[int, ...], dict[str, Any]], ...] = (
    ("remedy-choice", (60, 1, 2, 0), {"ways": given_ways(4, 4)}),
    ("relay-choice", (140, 50, 0, 0), choices(200, 6)),
    ("meter-plan", (400, 1, 0, 0), {"way": given_ways(1, 0)[0]["relay"]}),
)


def shaped(make: Callable[..., dict[str, Any]], shape: tuple[int, ...]) -> dict[str, Any]:
    """The request of a shape with as many cases as are legal."""
    names = ("branches", "loads", "relays", "intervals")
    return make(**dict(zip(names, shape, strict=True)), kind="resistance")


def dearest() -> Iterator[tuple[str, str, dict[str, Any]]]:
    """The dearest legal requests known, each with what it is of."""
    told = "{} parts, {} loads, {} relays, {} intervals"
    for name, make, shape in DEAREST:
        request = shaped(make, shape)
        yield name, f"{told.format(*shape)}, {len(request['cases'])} cases", request
    for name, shape, beside in WEIGHED:
        one = {**shaped(checks, shape), "cases": [{"name": "aged", "ageing_factor": 2}]}
        yield name, told.format(*shape), {**one, "load": "l0", "switch": "lead", **beside}
    for name in ("circuit-fit", "gain-proof"):
        about, request = next(scattered(name))  # one of six that take as much
        yield name, about, request
    quick = BY_NAME["quick-answer"].schema.example
    yield "quick-answer", "the example", quick
    # Two sizes with three corners each, as its advice holds within all bounds: the dearest known.
    old = {"system_v": 24, "distance_m": 6, "wear": "very_old", "fails": "never"}
    yield "quick-answer", "24 V, very old", quick | old
    for name, field in (("drop-diagnosis", "readings"), ("voltage-drop", "segments")):
        ((about, request),) = longest(name, field, 100)
        yield name, about, request
    heated = [
        {"insulation": "GXL", "ambient_c": 40, **part} if part["kind"] == "wire" else part
        for part in request["segments"]
    ]
    for part in heated:
        part.pop("temperature_c", None)
    yield "voltage-drop", f"{about} that heat themselves", {**request, "segments": heated}


def beside_empty(rounds: int, seconds: float) -> dict[str, float]:
    """Processor time of a worker for each request, over that for an empty view."""
    with serving("bench_single:empty_view()") as bare, serving() as full:
        targets = [
            Target("empty view", *bare, request_bytes("/")),
            Target("circuit-check", *full, request_bytes("/v1/circuit-check", check(1))),
            Target("relay-retrofit", *full, request_bytes("/v1/relay-retrofit", retrofit())),
        ]
        for _ in range(rounds):
            for target in targets:
                load(target, 8, seconds)
    first, *others = targets
    return {
        target.name: statistics.median(
            a / b for a, b in zip(first.cpu_us, target.cpu_us, strict=True)
        )
        for target in others
    }


def asking(path: str, body: dict[str, Any]) -> Callable[[], float]:
    """Make the function that asks once and tells what it took of the processor. [s]."""
    from lastvolt_service.app import create_app
    from lastvolt_service.config import Config

    client = create_app(Config(deadline_s=HANGS_S)).test_client()

    def ask() -> float:
        began = time.process_time()
        answer = client.post(path, json=body)
        took = time.process_time() - began
        if answer.status_code != 200:
            raise SystemExit(answer.text)
        return took

    return ask


def least_s(rounds: int, name: str, body: dict[str, Any]) -> float:
    """The least that a request took of the processor in up to three tries. [s]."""
    ask = asking(f"/v1/{name}", body)
    return min(ask() for _ in range(min(rounds, 3)))


def ratio(rounds: int, path: str, dear: dict[str, Any], plain: dict[str, Any]) -> float:
    """Cost of one request over that of another, asked in turn."""
    first, second = asking(path, dear), asking(path, plain)
    first(), second()
    return statistics.median(first() / second() for _ in range(rounds))


def main() -> None:
    """Measure, and print a table of ratios with their goals."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--seconds", type=float, default=2.0, help="for each target, each round")
    given = parser.parse_args()
    empty = beside_empty(given.rounds, given.seconds)
    circuit, relay = "/v1/circuit-check", "/v1/relay-retrofit"
    five = check(1)
    few, many = check(2, lamps=7), check(49, lamps=7)

    def over(path: str, dear: dict[str, Any], plain: dict[str, Any]) -> float:
        return ratio(given.rounds, path, dear, plain)

    rows = [
        ("empty view / circuit-check, 5 parts, 2 cases", empty["circuit-check"], ">= .25"),
        ("empty view / relay-retrofit, the same", empty["relay-retrofit"], ">= .04"),
        (
            "relay-retrofit / circuit-check",
            empty["circuit-check"] / empty["relay-retrofit"],
            "<= 8",
        ),
        ("16 intervals / none, 21 parts", over(circuit, check(5, 16), check(5)), "<= 5"),
        ("491 / 21 parts", over(circuit, many, few), "<= 12"),
        ("circuit-check explained / plain", over(circuit, {**five, "explain": True}, five), "<= 5"),
        (
            "relay-retrofit explained / plain",
            over(relay, {**retrofit(), "explain": True}, retrofit()),
            "<= 5",
        ),
    ]
    for name, found, goal in rows:
        say(f"{name:46} {found:8.3f}   goal {goal}")
    for name, about, request in dearest():
        spent_s = [least_s(given.rounds, name, {**request, "explain": e}) for e in (False, True)]
        told = "{:.2f}, explained {:.2f}".format(*spent_s)
        say(f"{name}, {about}: {told} s of CPU, goal <= 2")


if __name__ == "__main__":
    main()
