"""A quick answer holds for every vehicle that it may be: drawn ones, each asked in full."""

import json
import random
from functools import cache

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.circuits.intervals import Pins

from ..cost import some

BY_NAME = {each.name: each for each in OPERATIONS}
VEHICLES = some(2, 12)
BOXES = (
    {"system_v": 12, "load": "headlamps", "distance_m": 4, "wear": "used"},
    {"system_v": 6, "load": "horn", "distance_m": 3, "wear": "old", "fails": "cold"},
    {"system_v": 24, "load": "fan", "distance_m": 9, "return_path": "wire", "wear": "old"},
    {"system_v": 12, "load": "starter_solenoid", "distance_m": 8, "wear": "old", "fails": "hot"},
    {"system_v": 24, "load": "horn", "distance_m": 2, "wear": "very_old", "current_a": 2.5,
     "wire": "16 AWG"},
    {"system_v": 6, "load": "headlamps", "distance_m": 6, "wear": "very_old", "current_a": 18,
     "wire": "14 AWG", "return_path": "positive_body"},
)  # fmt: skip
AS_GOOD = {"insurance": "nothing_needed"}


@cache
def quick(body):
    """One answer for all checks of it."""
    return BY_NAME["quick-answer"].answer(json.loads(body))


def volts_at(vehicle, case):
    """What circuit-check says of one vehicle."""
    body = {"circuit": vehicle.circuit, "cases": vehicle.cases, "nominal_v": vehicle.nominal_v}
    asked = BY_NAME["circuit-check"].described.request(**body)
    answer = BY_NAME["circuit-check"].compute(asked)
    (load,) = next(each for each in answer.cases if each.name == case).loads
    return load.voltage_v


def vehicles(answer, drawn):
    """The two corners of the box by plain physics, and some at random within it."""
    pins = Pins(answer.request)

    def strongest(path, bounds):
        in_the_way = path[-1] in {"length_m"} or (path[1:2] == ("branches",))
        more_current = path[-1] == "rated_power_w"
        return bounds.low if in_the_way or more_current else bounds.high

    best = [strongest(path, bounds) for path, bounds in pins.given]
    worst = [
        bounds.low + bounds.high - end for (_, bounds), end in zip(pins.given, best, strict=True)
    ]
    yield pins.put(iter(best))
    yield pins.put(iter(worst))
    for _ in range(VEHICLES):
        yield pins.put(iter([drawn.uniform(*bounds) for _, bounds in pins.given]))


@pytest.mark.hypothesis  # for the long job, which draws more
@pytest.mark.parametrize("body", BOXES)
def test_the_interval_holds_every_vehicle_and_little_more(body):
    drawn = random.Random(2026)
    answer = quick(json.dumps(body))
    sizes = [body["wire"]] if "wire" in body else _sizes(answer)
    found = []
    for vehicle in vehicles(answer, drawn):
        for size in sizes:
            for wire in vehicle.circuit.branches:
                if wire.kind == "wire":
                    wire.size = size
            found.append(volts_at(vehicle, answer.case))
    low, high = answer.load_voltage_v.low_v, answer.load_voltage_v.high_v
    assert low - 1e-6 <= min(found)
    assert max(found) <= high + 1e-6
    assert high - low <= 1.5 * (max(found) - min(found))


def _sizes(answer):
    (size,) = (each for each in answer.assumed if each.code == "size")
    return size.value.split(" or ")


@pytest.mark.hypothesis  # for the long job, which draws more
@pytest.mark.parametrize("body", BOXES)
def test_a_settled_advice_is_that_of_every_vehicle(body):
    drawn = random.Random(7)
    answer = quick(json.dumps(body))
    if answer.advice == "find_out_first":
        return
    for vehicle in vehicles(answer, drawn):
        there = BY_NAME["remedy-choice"].compute(vehicle).advice
        assert AS_GOOD.get(there, there) == AS_GOOD.get(answer.advice, answer.advice)


def test_some_of_these_are_settled():
    assert {quick(json.dumps(body)).advice for body in BOXES} >= {"find_out_first", "mend"}
