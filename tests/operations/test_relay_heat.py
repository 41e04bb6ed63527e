"""Heat of a relay's contact: plastic chars from 10 W on, what is bolted down bears more.

Watts by hand: amperes squared times ohms, or amperes times volts.
"""

import pytest


def the(found, part=None):
    checks = (each for each in found.checks if each.code == "contact_heat")
    return next((each for each in checks if each.part == part), None)


def contact(run, **fields):
    asked = {
        "rating_a": 70, "rated_v": 14, "supply_v": 13.5, "ambient_c": 23, "load_current_a": 50,
        "load_kind": "resistive",
    }  # fmt: skip
    return run("relay-contact", **{**asked, **fields})


# 0.1 V are sound, 0.2 V and less no cause of a fire: 25, 125 and 12.5 W; 9.8 W are 2 mohm at 70 A.
@pytest.mark.parametrize(
    ("ohm", "fields", "heat_w"),
    [
        (0.01, {}, 25), (0.05, {}, 125), (0.005, {}, 12.5), (0.004, {}, None),
        (0.002, {"load_current_a": 70}, None), (0.05, {"load_current_a": 10}, None),
        (0.01, {"rating_a": 150}, None), (0.01, {"load_kind": "starter_solenoid"}, None),
    ],
)  # fmt: skip
def test_a_relay_that_burns_is_told(run, ohm, fields, heat_w):
    found = contact(run, contact_resistance_ohm=ohm, **fields)
    check = the(found)
    assert (check and check.value) == (heat_w and pytest.approx(heat_w))
    if heat_w:
        assert (check.verdict, check.limit) == ("fail", 10)
        assert found.headline.startswith(check.message)
        assert "replace the relay before it is used again" in check.message


# Of a relay that was only read, or whose rating is not given, nobody knows what holds it.
@pytest.mark.parametrize(
    ("current_a", "drop_v", "verdict"),
    [(40, 0.6, "undecided"), (40, 0.2, None), (20, 0.4, None), (120, 0.9, None)],
)
def test_a_relay_that_was_read_may_burn(run, current_a, drop_v, verdict):
    found = run(
        "drop-diagnosis", current_a=current_a, circuit="continuous", nominal_v=12,
        readings=[{"name": "r", "kind": "contact", "part": "relay", "measured_v": drop_v}],
    )  # fmt: skip
    check = the(found, "r")
    assert (check and check.verdict) == verdict
    if verdict:
        assert check.value == pytest.approx(24)
        assert "plastic socket" in check.message


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [({"rating_a": 70}, "fail"), ({}, "undecided"), ({"rating_a": 200}, None)],
)
def test_a_relay_in_a_path_burns_in_its_socket(run, rating, verdict):
    relay = {"name": "r", "kind": "contact", "part": "relay", "resistance_ohm": 0.015}
    found = run("voltage-drop", supply_v=13.5, load_current_a=40, segments=[relay | rating])
    check = the(found, "r")
    assert (check and check.verdict) == verdict
    if verdict:
        assert check.value == pytest.approx(24)


def in_circuit(run, ohm, rating_a, duration_s):
    relay = {
        "name": "relay", "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7.0,
        "drop_out_v": 4.0, "thermal_resistance_k_per_w": 0.001, "highest_ambient_c": 85,
        "suppression": {"kind": "diode"}, "contact_resistance_ohm": ohm, "rating_a": rating_a,
        "rated_v": 12, "load_kind": "resistive", "coil_nodes": ["post", "ground"],
        "contact_nodes": ["post", "out"],
    }  # fmt: skip
    screen = {
        "name": "screen", "kind": "resistance", "resistance_ohm": 0.25, "nodes": ["out", "ground"],
    }  # fmt: skip
    source = {"plus": "post", "open_circuit_v": 12.5, "internal_resistance_ohm": 0.001}
    circuit = {"source": source, "branches": [], "loads": [screen], "relays": [relay]}
    case = {"name": "only"} | ({"duration_s": duration_s} if duration_s else {})
    return run("circuit-check", circuit=circuit, cases=[case])


# 12.5 V through 0.001, 0.02 and 0.25 ohm are 46.1 A, and 42.5 W in the relay: 7.1 W on the mean of
# a minute in ten seconds.
@pytest.mark.parametrize(
    ("ohm", "rating_a", "duration_s", "heat_w"),
    [
        (0.02, 70, None, 42.5),
        (0.02, 70, 10, None),
        (0.02, 150, None, None),
        (0.002, 70, None, None),
    ],
)
def test_a_relay_of_a_circuit_burns_alike(run, ohm, rating_a, duration_s, heat_w):
    check = the(in_circuit(run, ohm, rating_a, duration_s), "relay")
    assert (check and check.verdict) == (heat_w and "fail")
    if heat_w:
        assert check.value == pytest.approx(heat_w, rel=0.01)
