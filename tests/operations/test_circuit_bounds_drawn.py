"""What is left out at the points of a circuit's bounds changes no answer: drawn circuits."""

import math
import random

import pytest

from lastvolt_service.operations.circuits import judge, part_checks
from lastvolt_service.operations.circuits.metal import Metal

from ..cost import some

SIZES = ("20 AWG", "18 AWG", "16 AWG", "14 AWG", "12 AWG")
# What a wire, a fuse and a contact are asked, of which each must flip in some circuit.
FLIP = {
    "conductor_temperature",
    "permissible_current",
    "duty_current",
    "contact_drop",
    "fuse_load",
    "fuse_protection",
    "fuse_overload",
}


def spread(draw, value, share, most):
    """A value, or the bounds round it."""
    if draw.random() > share:
        return value
    return {"low": value / draw.uniform(1.01, most), "high": value * draw.uniform(1.01, most)}


def branch(draw, name, share):
    """A fuse or two side by side, a wire, a contact and its load."""
    fused, out, on = f"f{name}", f"o{name}", f"s{name}"
    rating_a = spread(draw, draw.choice((5, 10, 15, 20, 30)), share / 3, 1.5)
    fuse = {"kind": "contact", "part": "fuse", "nodes": ["bus", fused], "rating_a": rating_a,
            "resistance_ohm": spread(draw, 0.004, share, 2.0)}  # fmt: skip
    wire = {"name": f"wire {name}", "kind": "wire", "nodes": [fused, out], "insulation": "GXL",
            "size": draw.choice(SIZES), "length_m": spread(draw, draw.uniform(0.3, 5), share, 2.0),
            "zone": draw.choice(("engine", "cab"))}  # fmt: skip
    switch = {"name": f"switch {name}", "kind": "contact", "part": "switch", "nodes": [out, on],
              "resistance_ohm": spread(draw, draw.choice((0.005, 0.03)), share, 3.0),
              "rating_a": draw.choice((5, 20)), "ages": True}  # fmt: skip
    load = {"name": f"load {name}", "kind": "resistance", "nodes": [on, "ground"],
            "resistance_ohm": spread(draw, draw.choice((0.4, 0.6, 1.0, 2.0)), share, 1.6),
            "needed_v": draw.choice((9, 11))}  # fmt: skip
    fuses = [{**fuse, "name": f"fuse {name}.{each}"} for each in range(draw.choice((1, 1, 2)))]
    return [*fuses, wire, switch], load


def drawn(seed):
    draw = random.Random(seed)
    share = draw.choice((0.2, 0.4))
    branches, loads = zip(*(branch(draw, str(each), share) for each in range(2)), strict=True)
    source = {"plus": "post", "open_circuit_v": 12.6,
              "internal_resistance_ohm": {"low": 0.005, "high": 0.02}}  # fmt: skip
    main = {"name": "main", "kind": "wire", "size": "6 AWG", "length_m": 1.0, "insulation": "GXL",
            "nodes": ["post", "bus"]}  # fmt: skip
    if draw.random() < 0.3:  # fed from both sides, past each fuse
        tie = {**main, "name": "tie", "size": "14 AWG", "nodes": ["o0", "o1"]}
        branches = (*branches, [tie])
    parts = [main, *(part for some in branches for part in some)]
    on = {"duration_s": draw.choice((2.0, 60.0, 600.0))} if draw.random() < 0.7 else {}
    zone_c = {"engine": spread(draw, draw.choice((70.0, 95.0)), 0.4, 1.3)}
    cases = [
        {"name": "warm", "ambient_c": 40, "zone_ambients_c": zone_c, **on},
        {"name": "old", "ambient_c": 20, "ageing_factor": spread(draw, 2.0, 0.5, 2.0)},
    ]
    return {"circuit": {"source": source, "branches": parts, "loads": [*loads]}, "cases": cases}


def told(answer):
    """All checks of an answer: who, how, with which numbers, and in which words."""
    return {
        (case.name, check.code, check.part, check.detail, check.verdict): (
            [math.nan if n is None else n for n in (check.value, check.limit, check.margin)],
            check.message,
        )
        for case in answer.cases
        for check in case.checks
    }


def every_point(groups):
    """All checks of each point, as of a circuit of its own."""
    return [(part_checks.part_checks(group), set()) for group in groups]


def test_what_comes_out_alike_at_all_points_is_not_missed(run, monkeypatch):
    flips, fewer = set(), 0
    checks_within = part_checks.checks_within

    def both(groups):
        """Look how much is left out."""
        nonlocal fewer
        found, every = checks_within(groups), every_point(groups)
        for (few, _), (most, _) in zip(found, every, strict=True):
            fewer += sum(map(len, most)) - sum(map(len, few))
        return found

    for seed in range(some(10, 60)):
        asked = drawn(seed)
        monkeypatch.setattr(judge, "checks_within", both)
        found = told(run("circuit-check", **asked))
        with monkeypatch.context() as plainly:
            plainly.setattr(judge, "checks_within", every_point)
            plainly.setattr(part_checks, "metals_of", lambda models: [*map(Metal, models)])
            expected = told(run("circuit-check", **asked))
        assert found.keys() == expected.keys(), seed
        for who, (numbers, message) in expected.items():
            assert found[who][0] == pytest.approx(numbers, rel=1e-12, nan_ok=True), (seed, who)
            assert found[who][1] == message, (seed, who)
        flips |= {who[1] for who, (_, message) in expected.items() if "measure" in message}
    assert fewer > 100
    assert flips >= FLIP


def test_an_overload_may_be_borne_from_a_cool_start_only(run):
    """What flows before decides it: 0.06 A of the load, or all that its fuse is rated for."""

    def overload(resistance_ohm):
        circuit = {
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": [
                {"name": "fuse", "kind": "contact", "part": "fuse", "nodes": ["post", "fused"],
                 "rating_a": 30, "fuse_family": "blade C", "resistance_ohm": 0.004},
                {"name": "wire", "kind": "wire", "size": "14 AWG", "length_m": 1,
                 "insulation": "GXL", "nodes": ["fused", "on"]},
            ],
            "loads": [{"name": "load", "kind": "resistance", "resistance_ohm": resistance_ohm,
                       "nodes": ["on", "ground"]}],
        }  # fmt: skip
        (case,) = run(
            "circuit-check", circuit=circuit, cases=[{"name": "warm", "ambient_c": 40}]
        ).cases
        (check,) = [each for each in case.checks if each.code == "fuse_overload"]
        return check

    cool, hot = overload(200.0), overload(0.42)
    assert (cool.verdict, hot.verdict) == ("pass", "fail")
    either = overload({"low": 0.42, "high": 200.0})
    assert either.verdict == "undecided"
    assert "measure current of load and the volts across it first" in either.message
    assert either.value == pytest.approx(hot.value, rel=1e-12)
