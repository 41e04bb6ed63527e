"""Volts that no battery rests at: something charges it, of which the circuit knows nothing."""

import pytest

from .test_circuit_fit import between, post, question, volts

CHARGER = {"kind": "charger", "name": "generator", "nodes": ["post", "ground"],
           "regulated_v": between(13.8, 14.6),
           "internal_resistance_ohm": 0.01, "limit_a": 60.0}  # fmt: skip


def running(volts_v=14.2, **more):
    """A heater of 2 ohm behind a switch that drops 0.1 V, an engine that runs."""
    over = [volts("post", "live", 0.1), volts("live", "ground", 14.1)]
    return question([volts("post", "ground", volts_v), *over], emf=between(11.5, 13.0), **more)


def test_what_charges_is_named_and_asked_for() -> None:
    answer = post("circuit-fit", running())
    assert answer["charging"].startswith("In on 14.2 V stand at the battery")
    assert answer["headline"].startswith(answer["charging"])
    assert "further_sources" in answer["charging"]


@pytest.mark.parametrize("volts_v", [12.6, 13.1])
def test_a_battery_at_rest_is_charged_by_nothing(volts_v) -> None:
    """13.2 V and more no battery of 12 V rests at; just off a charger it has 13.1 V for a while."""
    assert post("circuit-fit", running(volts_v))["charging"] is None


def test_a_charger_that_is_described_is_no_finding() -> None:
    body = running()
    body["circuit"]["further_sources"] = [CHARGER]
    assert post("circuit-fit", body)["charging"] is None


def test_where_something_charges_readings_are_taken_again() -> None:
    """Whatever these tell: not that nothing more is worth reading."""
    body = running()
    body["readings"].append({"case": "on", "through": "heater", "value_a": 7.05})
    answer = post("circuit-fit", body)
    assert answer["agreement"] in {"agrees", "not_checked"}
    assert answer["next_reading"] is None
    assert "Next, take all readings again with nothing that charges." in answer["headline"]
    assert "No single reading more" not in answer["headline"]
