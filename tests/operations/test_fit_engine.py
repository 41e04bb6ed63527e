"""What a fit works on: a model with a few other values, and how each unknown moves readings."""

from dataclasses import fields
from typing import Any

import numpy as np
import pytest
from numpy.testing import assert_allclose, assert_array_equal

from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.circuits.building import build
from lastvolt_service.operations.circuits.model import Model
from lastvolt_service.operations.meter.fit_model import CircuitModel, settled
from lastvolt_service.operations.meter.fit_readings import Readings

BY_NAME = {operation.name: operation for operation in OPERATIONS}


def between(low: float, high: float) -> dict[str, float]:
    return {"low": low, "high": high}


CONTACT = {"kind": "contact", "part": "connector", "ages": True}
WIRE = {"kind": "wire", "size": "14 AWG", "insulation": "GXL"}
# A part of every kind, each with a value that is not known, and one of every kind that is.
CIRCUIT = {
    "source": {"plus": "post", "open_circuit_v": between(12.2, 12.9),
               "internal_resistance_ohm": between(0.01, 0.03)},
    "further_sources": [
        {"kind": "charger", "name": "alternator", "nodes": ["post", "ground"], "regulated_v": 12.0,
         "internal_resistance_ohm": 0.05, "limit_a": 20},
    ],
    "branches": [
        {**CONTACT, "name": "fuse", "nodes": ["post", "fused"],
         "resistance_ohm": between(0.001, 0.05)},
        {**WIRE, "name": "feed", "nodes": ["fused", "key"], "length_m": between(2.0, 5.0)},
        {**WIRE, "name": "lead", "nodes": ["key", "lamps"], "length_m": 3.0},
        {**CONTACT, "name": "plug", "nodes": ["lamps", "far"], "resistance_ohm": 0.01},
        {"kind": "resistance", "name": "bridge", "nodes": ["key", "far"],
         "resistance_ohm": between(0.05, 0.4)},
    ],
    "loads": [
        {"kind": "lamp", "name": "lamp", "nodes": ["lamps", "ground"], "rated_v": 12,
         "rated_power_w": between(40, 60)},
        {"kind": "resistance", "name": "heater", "nodes": ["far", "ground"], "copper": True,
         "resistance_ohm": between(2.0, 4.0)},
        {"kind": "power", "name": "box", "nodes": ["far", "ground"], "power_w": between(5.0, 9.0)},
        {"kind": "current", "name": "fan", "nodes": ["out", "ground"], "current_a": 3.0},
    ],
    "relays": [
        {"name": "relay", "coil_nodes": ["key", "ground"], "contact_nodes": ["post", "out"],
         "coil_resistance_ohm": between(70, 100), "pick_up_v": 6.9, "drop_out_v": 1.2,
         "contact_resistance_ohm": between(0.001, 0.02), "thermal_resistance_k_per_w": 30},
    ],
}  # fmt: skip
CASES = [
    {"name": "cold", "ambient_c": between(5, 15), "ageing_factor": 1.2},
    {"name": "held", "ambient_c": 20, "duration_s": 8},
    {"name": "no heater", "ambient_c": 40, "without": ["heater", "lead"]},
]
VOLTS = [["post", "ground"], ["fused", "key"], ["key", "far"], ["far", "ground"], ["out", "ground"]]
AMPERES = ["fuse", "bridge", "box", "relay"]


@pytest.fixture(scope="module")
def model() -> CircuitModel:
    volts = [{"case": "cold", "between": VOLTS[0], "value_v": 12.0}]
    asked = {"circuit": CIRCUIT, "cases": CASES, "load": "box", "readings": volts}
    request: Any = BY_NAME["circuit-fit"].arguments(asked)
    timed = settled(request)
    return CircuitModel(timed.circuit, timed.cases)


def readings(case: str) -> list[tuple[int, Any]]:
    read = [
        *({"case": case, "between": each, "value_v": 1.0} for each in VOLTS),
        *({"case": case, "through": each, "value_a": 1.0} for each in AMPERES),
        {"case": case, "of": "bridge", "value_ohm": 1.0},
    ]
    asked = {"circuit": CIRCUIT, "cases": CASES, "load": "box", "readings": read}
    request: Any = BY_NAME["circuit-fit"].arguments(asked)
    return list(enumerate(request.readings))


def points(model: CircuitModel, seed: int) -> tuple[np.ndarray, np.ndarray]:
    low, high = model.ends
    random = np.random.default_rng(seed)
    return tuple(random.uniform(low, high) for _ in range(2))


def assert_same(one: Model, other: Model) -> None:
    assert one.network.node_names == other.network.node_names
    for group, parts in other.parts.items():
        names = "name", "group", "nodes", "asked", "ambient_c", "needed_v", "is_load"
        for name in names:
            own = [getattr(part, name) for part in one.parts[group]]
            assert own == [getattr(part, name) for part in parts], (group, name)
        ours, theirs = getattr(one.network, group), getattr(other.network, group)
        for field in fields(ours):
            if field.name == "temperature_of":
                assert ours.temperature_of == theirs.temperature_of
            else:
                assert_array_equal(getattr(ours, field.name), getattr(theirs, field.name))
    assert one.parts.keys() == other.parts.keys()
    for name in (
        "wires",
        "relays",
        "held",
        "emf_v",
        "internal_ohm",
        "drive_v",
        "sign",
        "basis",
        "order",
        "where",
        "posts",
    ):
        assert getattr(one, name) == getattr(other, name), name


@pytest.mark.parametrize("case", range(len(CASES)))
def test_a_model_with_other_values_is_that_built_anew(model, case) -> None:
    """To the last bit: with all unknowns moved, and with each of them alone."""
    pins, own = model.pins[case], model.of_case[case]
    one, other = points(model, case)
    begin = pins.put([float(one[k]) for k in own])
    like = build(*begin)
    ways = [pins.put([float(other[k]) for k in own])]
    ways += [pins.moved(*begin, at, float(other[k])) for at, k in enumerate(own)]
    assert len(ways) > 8
    for circuit, here in ways:
        assert_same(build(circuit, here, like), build(circuit, here))
        # What it was is not touched.
        assert_same(like, build(*begin))


def test_what_is_no_longer_the_same_circuit_is_built_anew(model) -> None:
    """A case, a node, or a resistance that is none any more: nothing is taken over."""
    pins = model.pins[1]
    circuit, case = pins.put(
        [float(k) for k in (points(model, 5)[0][at] for at in model.of_case[1])]
    )
    like = build(circuit, case)
    bridge = circuit.branches[4]
    for name, value in (("resistance_ohm", 0.2), ("nodes", ["fused", "far"]), ("name", "link")):
        moved = type(bridge)(**{**vars(bridge), name: value})
        other = type(circuit)(**{**vars(circuit), "branches": [*circuit.branches[:4], moved]})
        assert_same(build(other, case, like), build(other, case))
    fewer = type(circuit)(**{**vars(circuit), "loads": circuit.loads[1:]})
    assert_same(build(fewer, case, like), build(fewer, case))
    aged = type(case)(**{**vars(case), "ageing_factor": 2.0})
    assert_same(build(circuit, aged, like), build(circuit, aged))


@pytest.mark.parametrize("case", ["cold", "held"])
@pytest.mark.parametrize("seed", range(2))
def test_slopes_are_those_of_finite_differences(model, case, seed) -> None:
    """Each unknown of every kind of part, by networks that are solved anew on both sides.

    The slope of a wire's temperature is a difference of one part in a thousand, and a state of
    rest is known to a nanovolt; steps are a thousandth of each width.
    """
    read = Readings(model, model.place_of(case, 0), readings(case))
    point, _ = points(model, seed)
    _, slopes = read.at(point)
    low, high = model.ends
    own = model.of_case[read.place]
    assert len(own) > 8
    size = np.abs(slopes * (high - low)).max(axis=1)
    for k in range(len(point)):
        step = 1e-3 * (high[k] - low[k])
        up, down = (
            Readings(model, read.place, readings(case)).values_at(
                point + sign * step * (np.arange(len(point)) == k)
            )
            for sign in (1.0, -1.0)
        )
        expected = (up - down) / (2.0 * step) * (high[k] - low[k])
        off = np.abs(slopes[:, k] * (high[k] - low[k]) - expected)
        assert np.all(off <= 1e-3 * size + 1e-5), (model.unknowns[k].input, off)
        assert (k in own) == bool(np.any(slopes[:, k]))


def test_values_without_slopes_are_the_same(model) -> None:
    read, other = (Readings(model, 0, readings("cold")) for _ in range(2))
    one, far = points(model, 3)
    for point in (one, far, one):
        assert_allclose(read.values_at(point), other.at(point)[0], rtol=1e-9)
        assert_allclose(read.values_at(point), read.at(point)[0], rtol=1e-9)
