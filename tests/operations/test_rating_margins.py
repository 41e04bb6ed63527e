"""What exceeds a rating by nothing that a meter tells: by hand, a source of 12 V and one load."""

import pytest

from .relay_lists import post, relay

FAN = {"name": "fan", "kind": "current", "current_a": 20.0, "nodes": ["out", "ground"]}


def carried(rating_a):
    """20 A through a switch of that rating."""
    branch = {
        "name": "switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.002,
        "nodes": ["post", "out"], "rating_a": rating_a,
    }  # fmt: skip
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    circuit = {"source": source, "branches": [branch], "loads": [FAN]}
    body = {"circuit": circuit, "cases": [{"name": "on", "ambient_c": 20}]}
    found = post("circuit-check", body)["cases"][0]["checks"]
    return next(each for each in found if each["code"] == "contact_current")


@pytest.mark.parametrize(
    ("rating_a", "verdict"), [(20, "marginal"), (19.996, "marginal"), (19.8, "fail"), (30, "pass")]
)
def test_a_switch_is_not_failed_by_what_no_meter_tells(rating_a, verdict):
    """0.02 % is no number of a mechanic's; 1 % is, and nobody rates a switch for less than that."""
    check = carried(rating_a)
    assert check["verdict"] == verdict
    if verdict == "marginal":
        assert "20 A of its 20 A" in check["message"]


@pytest.mark.parametrize(("load_a", "verdict"), [(20.004, "marginal"), (20.2, "fail")])
def test_nor_is_a_relay_in_its_heat_or_a_contact_of_a_path(load_a, verdict):
    """At 125 degC the relay may carry 20 A, as its maker's curve says."""
    asked = {
        key: each
        for key, each in relay("one").items()
        if key in {"rating_a", "derating", "rated_v", "contact_resistance_ohm", "make_rating_a"}
    }
    more = {"supply_v": 12, "load_current_a": load_a, "ambient_c": 125, "load_kind": "resistive"}
    found = post("relay-contact", asked | more)["checks"]
    assert next(e["verdict"] for e in found if e["code"] == "steady_current") == verdict
    segment = {
        "name": "switch",
        "kind": "contact",
        "part": "switch",
        "resistance_ohm": 0.002,
        "rating_a": 20,
    }
    body = {"supply_v": 12, "load_current_a": load_a, "segments": [segment]}
    found = post("voltage-drop", body)["checks"]
    assert next(e["verdict"] for e in found if e["code"] == "contact_current") == verdict
