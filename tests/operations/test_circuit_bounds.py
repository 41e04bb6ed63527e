"""Circuits with intervals in which a relay does not close at every end."""

import pytest

CIRCUIT = {
    "source": {
        "plus": "post",
        "open_circuit_v": {"low": 5.0, "high": 15.0},
        "internal_resistance_ohm": 0.01,
    },
    "branches": [],
    "loads": [
        {
            "name": "lamp",
            "kind": "resistance",
            "nodes": ["out", "ground"],
            "resistance_ohm": 5.0,
        }
    ],
    "relays": [
        {
            "name": "relay",
            "coil_nodes": ["post", "ground"],
            "contact_nodes": ["post", "out"],
            "coil_resistance_ohm": 80.0,
            "pick_up_v": 7.0,
            "drop_out_v": 1.5,
            "contact_resistance_ohm": 0.01,
        }
    ],
}


def test_relay_that_stays_open_at_the_low_end_falls_short(run):
    """At 5 V the coil alone draws current: it has 5 * 80 / 80.01 V and lacks the rest of 7 V."""
    answer = run("circuit-check", circuit=CIRCUIT, cases=[{"name": "only"}])
    (case,) = answer.cases
    assert case.relays[0].energised
    (spread,) = (
        item for item in case.spreads if (item.code, item.part) == ("coil_margin", "relay")
    )
    assert spread.low_v == pytest.approx(5.0 * 80.0 / 80.01 - 7.0, rel=1e-9)
    assert spread.high_v > 0
    (check,) = (
        item for item in case.checks if (item.code, item.part) == ("within_bounds", "relay")
    )
    assert (check.verdict, check.detail) == ("undecided", "circuit/source/open_circuit_v")
    assert "measure circuit/source/open_circuit_v" in check.message
