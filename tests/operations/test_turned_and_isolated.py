"""A motor that two relays turn either way, and an isolator between the battery and the ground.

From the trade: each relay throws one end of the motor to the feed and rests it on the ground. None
of their wires joins both, though metal would if every contact were closed at once. And with a
battery taken off the ground whatever hangs on it is off, and nothing is to be mended for that.
"""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import contact, load, resistance, wire
from .test_letting_go import RELAY

INTERNAL_OHM, FEED_OHM, CONTACT_OHM = 0.006, 0.004, 0.005


def bridge(run, *more, without):
    """A tarpaulin motor of 0.5 ohm that makes 6 V, between two changeover relays."""
    throws = [
        {**RELAY, "name": name, "coil_nodes": [f"86 {name}", "ground"], "rating_a": 40,
         "contact_resistance_ohm": CONTACT_OHM, "contact_nodes": [f"30 {name}", f"87 {name}"],
         "break_nodes": [f"30 {name}", f"87a {name}"], "break_rating_a": 30}
        for name in ("out", "in")
    ]  # fmt: skip
    branches = [
        contact("feed", "post", "fed", FEED_OHM), contact("strap", "back", "ground", FEED_OHM),
        *(part for name in ("out", "in") for part in (
            contact(f"{name} button", "fed", f"86 {name}", 0.005, part="switch", rating_a=5),
            wire(f"{name} feed", "fed", f"87 {name}", "10 AWG", 0.2, insulation="GXL"),
            wire(f"{name} rest", f"87a {name}", "back", "10 AWG", 0.2, insulation="GXL"),
        )), *more,
    ]  # fmt: skip
    motor = {"name": "motor", "kind": "motor", "nodes": ["30 out", "30 in"],
             "resistance_ohm": 0.5, "back_v": 6.0}  # fmt: skip
    circuit = {
        "source": {
            "plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": INTERNAL_OHM},
        "branches": branches, "relays": throws, "loads": [motor],
    }  # fmt: skip
    cases = [{"name": "now", "without": without}]
    return run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)


def shorts(answer):
    return {check.part: check for check in answer.checks if check.code == "short"}


@pytest.mark.parametrize("left_out", [["in button"], ["in button", "out button"]])
def test_no_wire_of_a_turned_motor_is_a_short(run, left_out):
    assert not shorts(bridge(run, without=left_out))


def test_a_wire_from_the_feed_to_the_ground_is_one(run):
    chafe = wire("chafe", "fed", "back", "10 AWG", 0.2, insulation="GXL")
    assert shorts(bridge(run, chafe, without=["in button"])).keys() == {"chafe"}


def test_what_a_closed_contact_leads_to_the_ground_is_one_while_it_is_closed(run):
    """0.05 ohm behind the relay's 87: 12.6 V over 0.067 ohm or so, less the motor's share."""
    chafe = resistance("chafe", "30 out", "back", 0.05)
    closed = shorts(bridge(run, chafe, without=["in button"]))
    assert closed.keys() == {"chafe"}
    path_ohm = INTERNAL_OHM + 2 * FEED_OHM + CONTACT_OHM + 0.05
    assert_allclose(closed["chafe"].value, 12.6 / path_ohm, rtol=0.12)  # a wire, and the motor
    assert not shorts(bridge(run, chafe, without=["in button", "out button"]))


def test_of_two_shorts_the_feed_of_both_is_none(run):
    """Four switches of a window motor, all held: each pair shorts, and their feed is sound."""
    switches = [
        contact(name, *ends, 0.01, part="switch", rating_a=20)
        for name, ends in (("up live", ("fed", "a")), ("up ground", ("b", "ground")),
                           ("down live", ("fed", "b")), ("down ground", ("a", "ground")))
    ]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": [wire("feed", "post", "fed", "10 AWG", 1, insulation="GXL"), *switches],
        "loads": [{"name": "motor", "kind": "motor", "nodes": ["a", "b"], "resistance_ohm": 0.6,
                   "back_v": 6.0}],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "held"}], nominal_v=12)
    assert shorts(answer)
    assert "feed" not in shorts(answer)


def isolated(run, *more, further=(), left_out=("isolator",), isolates=True):
    lamp = load("lamp", "lit", "ground", resistance_ohm=3.0) | {"needed_v": 11.0}
    circuit = {
        "source": {"plus": "post", "minus": "negative post", "open_circuit_v": 12.6,
                   "internal_resistance_ohm": INTERNAL_OHM},
        "branches": [
            contact("isolator", "negative post", "ground", 0.0004, part="switch", rating_a=300,
                    isolates=isolates),
            contact("light switch", "post", "lit", 0.005, part="switch", rating_a=20), *more,
        ],
        "loads": [lamp], "further_sources": [*further],
    }  # fmt: skip
    cases = [{"name": "on"}, {"name": "isolated", "without": [*left_out]}]
    return run("circuit-check", circuit=circuit, cases=cases, nominal_v=12).cases[1]


@pytest.mark.parametrize("isolates", [True, False])
def test_what_an_isolator_takes_off_the_ground_is_off(run, isolates):
    (lamp,) = [check for check in isolated(run, isolates=isolates).checks if check.part == "lamp"]
    assert (lamp.code, lamp.verdict) == ("load_off", "pass")


def test_what_another_battery_still_feeds_is_on(run):
    """It hangs on the ground itself: 12.6 V less what its own resistance and the switch take."""
    second = {"name": "second", "kind": "battery", "nodes": ["post", "ground"],
              "open_circuit_v": 12.6, "internal_resistance_ohm": INTERNAL_OHM}  # fmt: skip
    state = isolated(run, further=[second])
    (lamp,) = [check for check in state.checks if check.part == "lamp"]
    assert (lamp.code, lamp.verdict) == ("load_voltage", "pass")
    assert_allclose(lamp.value, 12.6 * 3.0 / (3.0 + INTERNAL_OHM + 0.005), rtol=1e-6)
