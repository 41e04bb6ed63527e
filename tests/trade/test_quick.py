"""Twenty questions of a few words, with what a careful mechanic answers to each.

They were written from the trade before they were asked, but for those of winch, wipers, window and
air horns, and of ten amperes far off, beside which others like them had been answered: what is done
first, what is fitted at last, and between which copper and fuse. All of it is common practice: a
fuse carries three quarters of its rating for long, and one of the next few does; the way of lamps
and motors may lose half a volt of 12, that of a horn one; a switch is not spared by a relay for a
few amperes; nothing is done to what is new and never fails.
"""

import json
from functools import cache
from typing import Any

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json
from lastvolt_service.operations.wires.conductors import conductor

(QUICK,) = (each for each in OPERATIONS if each.name == "quick-answer")
READS, LEAVES = "read_battery", None
RELAY, WIRE, EITHER = {"relay"}, {"rewire"}, {"relay", "rewire"}
# System, load, metres, and what else is said; first step, what is fitted, mm2 and fuse from and to.
CASES: dict[str, tuple[dict[str, Any], str | None, set[str], tuple[float, float], Any]] = {
    "a worn key switch that cannot be had, 9 m to the starter": (
        {"system_v": 12, "load": "starter_solenoid", "distance_m": 9, "wear": "old",
         "fails": "hot", "switch_to_be_had": False}, READS, RELAY, (2, 6), (15, 30)),
    "a new harness of a starter": (
        {"system_v": 12, "load": "starter_solenoid", "distance_m": 1.5, "wear": "new",
         "fails": "never"}, LEAVES, set(), (0, 0), (0, 0)),
    "a bus of 24 V, its starter at the far end": (
        {"system_v": 24, "load": "starter_solenoid", "distance_m": 12, "wear": "very_old",
         "fails": "hot"}, READS, RELAY, (1.3, 6), (10, 25)),
    "a starter of 6 V in frost": (
        {"system_v": 6, "load": "starter_solenoid", "distance_m": 3, "wear": "old",
         "fails": "cold"}, READS, RELAY, (3.3, 10), (20, 60)),
    "dim headlamps of an old car": (
        {"system_v": 12, "load": "headlamps", "distance_m": 4, "wear": "old", "fails": "always"},
        READS, EITHER, (2, 6), (15, 30)),
    "headlamps just wired": (
        {"system_v": 12, "load": "headlamps", "distance_m": 3, "wear": "new", "fails": "never"},
        LEAVES, set(), (0, 0), (0, 0)),
    "headlamps of a bus of 24 V": (
        {"system_v": 24, "load": "headlamps", "distance_m": 10, "wear": "old", "fails": "always"},
        READS, EITHER, (1, 4), (7.5, 15)),
    "a croaking horn": (
        {"system_v": 12, "load": "horn", "distance_m": 3, "wear": "very_old", "fails": "always"},
        READS, EITHER, (0.8, 2.5), (7.5, 15)),
    "a fan of 20 A that runs slow when hot": (
        {"system_v": 12, "load": "fan", "distance_m": 3, "wear": "used", "fails": "hot"},
        READS, RELAY, (3.3, 8.4), (25, 40)),
    "a pump with a wire back": (
        {"system_v": 12, "load": "pump", "distance_m": 6, "wear": "used", "fails": "always",
         "return_path": "wire"}, READS, EITHER, (2, 8.4), (10, 20)),
    "glow plugs that stay dull": (
        {"system_v": 12, "load": "glow_plugs", "distance_m": 3, "wear": "old", "fails": "cold"},
        READS, EITHER, (8.4, 21.2), (50, 80)),
    "glow plugs that never fail": (
        {"system_v": 12, "load": "glow_plugs", "distance_m": 2, "wear": "new", "fails": "never"},
        LEAVES, set(), (0, 0), (0, 0)),
    "a heated screen": (
        {"system_v": 12, "load": "heated_screen", "distance_m": 5, "wear": "used",
         "fails": "always"}, READS, EITHER, (2, 8.4), (20, 40)),
    "a winch of 24 V": (
        {"system_v": 24, "load": "winch", "distance_m": 4, "wear": "used", "fails": "always"},
        READS, EITHER, (8.4, 34), (50, 80)),
    "a heater that hardly blows": (
        {"system_v": 12, "load": "blower", "distance_m": 2, "wear": "old", "fails": "always"},
        READS, EITHER, (1.3, 3.4), (15, 20)),
    "a heater of 6 V, called a fan": (
        {"system_v": 6, "load": "fan", "zone": "cabin", "distance_m": 2, "wear": "old",
         "fails": "always"}, READS, RELAY, (2.5, 8.4), (25, 30)),
    "wipers that crawl": (
        {"system_v": 12, "load": "wipers", "distance_m": 3, "wear": "old", "fails": "always"},
        READS, WIRE, (0.8, 3.4), (10, 20)),
    "a window of 24 V that sticks in frost": (
        {"system_v": 24, "load": "power_window", "distance_m": 3, "wear": "old", "fails": "cold"},
        READS, WIRE, (0.8, 2.5), (7.5, 15)),
    "air horns behind a worn button": (
        {"system_v": 12, "load": "air_horns", "distance_m": 2, "wear": "very_old",
         "fails": "always"}, READS, EITHER, (2, 6), (20, 30)),
    "ten amperes far off, out and back": (
        {"system_v": 12, "load": "other", "current_a": 10, "distance_m": 15, "wear": "used",
         "fails": "always", "return_path": "wire"}, READS, RELAY, (5, 10), (15, 20)),
    "a lamp of 2 A at the end of a trailer": (
        {"system_v": 12, "load": "other", "current_a": 2, "distance_m": 20, "wear": "used",
         "fails": "always"}, READS, WIRE, (1.3, 5.3), (3, 7.5)),
    "five amperes of 6 V on positive ground": (
        {"system_v": 6, "load": "other", "current_a": 5, "distance_m": 6, "wear": "old",
         "fails": "always", "return_path": "positive_body"}, READS, EITHER, (2, 10), (7.5, 15)),
}  # fmt: skip


@cache
def answered(name: str) -> Any:
    body, *_ = CASES[name]
    return json.loads(to_json(QUICK.compute(QUICK.arguments(body))))


@pytest.mark.parametrize("name", CASES)
def test_the_plan_is_that_of_a_careful_mechanic(name: str) -> None:
    _, first, fitted, (least_mm2, most_mm2), (least_a, most_a) = CASES[name]
    answer = answered(name)
    codes = [each["code"] for each in answer["plan"]]
    assert next(iter(codes), None) == first, answer["headline"]
    made = [each for each in answer["plan"] if each["size"]]
    assert {each["code"] for each in made} <= fitted
    assert bool(made) == bool(fitted)
    for each in made:
        assert least_mm2 <= conductor(each["size"]).area_mm2 <= most_mm2, each["message"]
        assert least_a <= each["fuse_a"] <= most_a, each["message"]


@pytest.mark.parametrize("name", CASES)
def test_what_never_fails_is_left_alone_and_the_rest_is_read_first(name: str) -> None:
    _, first, *_ = CASES[name]
    advice = answered(name)["advice"]
    assert (advice in {"nothing_needed", "insurance"}) == (first is None)
