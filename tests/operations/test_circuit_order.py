"""A circuit that rests in two ways: what is switched on first decides, and both are told."""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import SOURCE, contact, load, resistance

RELAY = {
    "name": "relay", "nominal_v": 12, "coil_resistance_ohm": 100, "pick_up_v": 8.0,
    "drop_out_v": 2.0, "contact_resistance_ohm": 0.002, "rating_a": 40,
    "coil_nodes": ["shared", "ground"], "contact_nodes": ["post", "lamp"],
}  # fmt: skip


def ask(run, amps, **drawn):
    """A coil and a load behind one ohm that both share."""
    drawn = {**load("heater", "shared", "ground", current_a=amps), **drawn}
    lamp = load("lamp", "lamp", "ground", resistance_ohm=3)
    circuit = {
        "source": {**SOURCE, "internal_resistance_ohm": 0.0}, "relays": [RELAY],
        "branches": [resistance("feed", "post", "shared", 1.0)], "loads": [lamp, drawn],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)


def told(answer):
    return {check.part: check for check in answer.checks if check.code == "order"}


def test_a_relay_that_a_load_keeps_from_pulling_in_is_told_with_both_orders(run):
    """By hand: (12.6 - 6) / 1.01 = 6.5 V keep the coil and do not move it, 12.5 V do."""
    found = told(ask(run, 6.0))
    assert set(found) == {"relay"}
    assert found["relay"].verdict == "undecided"
    assert_allclose(found["relay"].limit, (12.6 - 6) / 1.01, rtol=2e-2)
    assert "pulled in before" in found["relay"].message


@pytest.mark.parametrize("amps", [2.0, 11.5])
def test_one_that_moves_or_falls_off_in_any_order_is_not(run, amps):
    """With 10.5 V it pulls in whatever comes first; with 1.1 V it is not held either."""
    assert not told(ask(run, amps))


def test_a_relay_that_feeds_what_keeps_it_out_is_told(run):
    """6 A over one ohm leave its coil 6.5 V; once in, its contact brings the battery's."""
    relay = {**RELAY, "contact_nodes": ["post", "out"], "coil_nodes": ["shared", "ground"]}
    circuit = {
        "source": {**SOURCE, "internal_resistance_ohm": 0.0}, "relays": [relay],
        "branches": [
            resistance("feed", "post", "shared", 1.0), contact("joint", "shared", "out", 0.001),
        ],
        "loads": [load("pump", "out", "ground", current_a=6.0) | {"works_from_v": 6.0}],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=12)
    assert set(told(answer)) == {"relay"}
    assert told(answer)["relay"].value > 12.0
