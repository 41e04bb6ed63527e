"""Circuits whose answer is known: a plain series path, and starters in print."""

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

COLD = {"kind": "wire", "size": "12 AWG", "length_m": 6, "temperature_c": 60}
HOT = {"kind": "wire", "size": "14 AWG", "length_m": 4, "ambient_c": 85, "insulation": "GXL"}
KEY = {"kind": "contact", "part": "switch", "resistance_ohm": 0.02}
LOADS = {"current_a": "current", "resistance_ohm": "resistance", "power_w": "power"}

WIRES = st.fixed_dictionaries(
    {
        "kind": st.just("wire"),
        "size": st.sampled_from(["16 AWG", "12 AWG", "10 SAE", "4 mm2"]),
        "length_m": st.floats(0.01, 5.0),
        "material": st.sampled_from(["copper", "aluminium"]),
    },
)
GIVEN = st.builds(lambda wire, c: {**wire, "temperature_c": c}, WIRES, st.floats(-40, 120))
SOLVED = st.builds(
    lambda wire, c, insulation: {**wire, "ambient_c": c, "insulation": insulation},
    WIRES,
    st.floats(-40, 90),
    st.sampled_from(["GXL", "GPT", "ISO class B"]),
)
CONTACTS = st.builds(
    lambda part, ohm: {"kind": "contact", "part": part, "resistance_ohm": ohm},
    st.sampled_from(["switch", "connector", "ground", "fuse"]),
    st.floats(1e-4, 0.05),
)
PLAIN = st.builds(lambda ohm: {"kind": "resistance", "resistance_ohm": ohm}, st.floats(1e-4, 0.05))


def named(segments):
    return [{**part, "name": f"part {index}"} for index, part in enumerate(segments)]


def in_a_row(run, segments, load, supply_v):
    """The same path as a circuit: from the post through every part and the load to ground."""
    (quantity, value), *_ = load.items()
    parts = named(segments)
    ends = ["post", *(f"after {part['name']}" for part in parts)]
    branches = [
        {**part, "nodes": list(pair)} for part, pair in zip(parts, pairwise(ends), strict=True)
    ]
    return run(
        "circuit-check",
        circuit={
            "source": {
                "plus": "post",
                "open_circuit_v": supply_v,
                "internal_resistance_ohm": 0,
            },
            "branches": branches,
            "loads": [
                {
                    "name": "load",
                    "kind": LOADS[quantity],
                    "nodes": [ends[-1], "ground"],
                    quantity: value,
                }
            ],
        },
        cases=[{"name": "only"}],
    ).cases[0]


def assert_as_voltage_drop(run, segments, load, supply_v=12.6):
    state = in_a_row(run, segments, load, supply_v)
    path = run(
        "voltage-drop",
        supply_v=supply_v,
        nominal_v=12,
        segments=named(segments),
        **{f"load_{quantity}": value for quantity, value in load.items()},
    )
    # Both end their iterations within nanovolts; the load has volts.
    atol_v = 1e-8
    fed = state.loads[0]
    assert_allclose(fed.voltage_v, path.load_voltage_v, atol=atol_v)
    assert_allclose(fed.current_a, path.current_a, rtol=1e-8)
    assert_allclose(fed.power_w, path.load_power_w, rtol=1e-8, atol=1e-12)
    for part, segment in zip(state.parts, path.segments, strict=True):
        assert (part.name, part.kind) == (segment.name, segment.kind)
        assert_allclose(part.drop_v, segment.drop_v, atol=atol_v)
        assert_allclose(part.power_w, segment.power_w, rtol=1e-6, atol=1e-9)
        if segment.temperature_c is None:
            assert part.temperature_c is None
        else:
            assert_allclose(part.temperature_c, segment.temperature_c, atol=1e-5)


@pytest.mark.parametrize("load", [{"current_a": 9.5}, {"resistance_ohm": 1.3}, {"power_w": 60}])
@pytest.mark.parametrize("segments", [[COLD, KEY], [HOT, KEY, COLD], [HOT]], ids=len)
def test_series_circuit_answers_as_voltage_drop(run, load, segments):
    assert_as_voltage_drop(run, segments, load)


LIGHT_LOADS = st.one_of(
    st.builds(lambda a: {"current_a": a}, st.floats(0, 12)),
    st.builds(lambda ohm: {"resistance_ohm": ohm}, st.floats(0.8, 1e4)),
    st.builds(lambda watts: {"power_w": watts}, st.floats(0, 60)),
)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    segments=st.lists(st.one_of(GIVEN, SOLVED, CONTACTS, PLAIN), min_size=1, max_size=6),
    load=LIGHT_LOADS,
    supply_v=st.floats(11, 28),
)
def test_any_series_circuit_answers_as_voltage_drop(run, segments, load, supply_v):
    assert_as_voltage_drop(run, segments, load, supply_v)


# OpenStax, College Physics, section 21.2, on a car battery of 12.0 V and 0.0100 ohm with a starter
# of 0.0500 ohm: 200 A, 10.0 V and 2.00 kW; with 0.0900 ohm of corrosion in the way 80 A, 4.00 V
# and 320 W. Printed to three digits.
@pytest.mark.parametrize(
    ("corrosion_ohm", "amps", "volts", "watts"),
    [(0.0, 200.0, 10.0, 2000.0), (0.0900, 80.0, 4.00, 320.0)],
)
def test_starter_in_print(run, corrosion_ohm, amps, volts, watts):
    state = run(
        "circuit-check",
        circuit={
            "source": {
                "plus": "post",
                "open_circuit_v": 12.0,
                "internal_resistance_ohm": 0.0100,
            },
            "branches": [
                {
                    "name": "corroded clamp",
                    "kind": "contact",
                    "part": "terminal",
                    "resistance_ohm": corrosion_ohm,
                    "nodes": ["post", "starter"],
                }
            ],
            "loads": [
                {
                    "name": "motor",
                    "kind": "resistance",
                    "resistance_ohm": 0.0500,
                    "nodes": ["starter", "ground"],
                }
            ],
        },
        cases=[{"name": "cranking"}],
    ).cases[0]
    motor = state.loads[0]
    assert_allclose(motor.current_a, amps, rtol=0.0025)
    assert_allclose(motor.voltage_v, volts, rtol=0.0025)
    assert_allclose(motor.power_w, watts, rtol=0.0025)


# By hand: Ohm's law, and the wire as its own operation has it.
def test_starter_control_by_hand(run):
    state = in_a_row(
        run,
        [{**COLD, "temperature_c": 20}, KEY, {"kind": "resistance", "resistance_ohm": 0.01}],
        {"resistance_ohm": 1.25},
        12.0,
    )
    wire = run("wire-resistance", size="12 AWG", length_m=6)
    total = wire.resistance_ohm + 0.02 + 0.01 + 1.25
    assert_allclose(state.source_current_a, 12.0 / total, rtol=1e-12)
    assert_allclose(state.loads[0].voltage_v, 12.0 * 1.25 / total, rtol=1e-12)
    assert state.residual_a < 1e-9
