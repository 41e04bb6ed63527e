"""What carries too much for a poor contact in its way: that one is told first, and mended.

By hand: a plunger that stays out draws for seconds what it should for a moment, and a converter
draws more from less. Which is told first is common practice.
"""

import pytest

from .circuit_parts import SOURCE, contact, load, wire
from .relay_lists import relay

WINDINGS = {
    "pull_in_turns": 190, "pull_in_resistance_ohm": 0.55, "hold_in_turns": 190,
    "hold_in_resistance_ohm": 1.5, "motor_resistance_ohm": 0.02, "ampere_turns": 3200,
    "hold_ampere_turns": 480,
}  # fmt: skip
TWO = {"windings": WINDINGS}
ONE = {"rated": {"resistance_ohm": 1.2, "pull_in_v": 8}}


def start(run, stop_ohm, rating_a, coil=TWO, relays=()):
    """A stop button, poor or not, and a start button that is rated for little, or a relay."""
    branches = [
        wire("feed", "post", "a", "12 AWG", 2, insulation="GXL"),
        contact("stop button", "a", "b", stop_ohm, part="switch", rating_a=40),
        contact("strap", "block", "ground", 0.0004, part="ground"),
    ]
    if not relays:
        branches += [contact("start button", "b", "t50", 0.005, part="switch", rating_a=rating_a)]
    solenoid = {
        "name": "solenoid", "kind": "solenoid", "nodes": ["t50", "block"],
        "circuit": "starter_control", **coil,
    }  # fmt: skip
    circuit = {"source": SOURCE, "branches": branches, "loads": [solenoid], "relays": list(relays)}
    return run("circuit-check", circuit=circuit, cases=[{"name": "start", "duration_s": 5}])


def is_failed(answer, code, part):
    return (code, part) in {(c.code, c.part) for c in answer.checks if c.verdict == "fail"}


@pytest.mark.parametrize(("coil", "rating_a"), [(TWO, 5), (TWO, 7), (ONE, 2), (ONE, 4)])
@pytest.mark.parametrize("stop_ohm", [1, 0.9])
def test_a_plunger_that_stays_out_for_a_stop_button_overloads_a_start_button(
    run, coil, rating_a, stop_ohm
):
    """12.6 V / (0.4 + 1) ohm are 9 A through both windings, 12.6 / 2.2 are 6 through one."""
    answer = start(run, stop_ohm, rating_a, coil)
    assert is_failed(answer, "contact_current", "start button")
    assert answer.weakest.part == "stop button"
    assert "start button" in answer.headline


@pytest.mark.parametrize(("coil", "stop_ohm"), [(TWO, 0.1), (TWO, 0.2), (ONE, 0.2), (ONE, 0.5)])
def test_a_stop_button_that_costs_much_is_mended_first_though_the_plunger_moves_yet(
    run, coil, stop_ohm
):
    """12.6 V * 0.1 / 0.5 ohm are 2.5 V of 12.6, * 0.2 / 1.4 1.8 V, with 2 A for seconds only."""
    answer = start(run, stop_ohm, 2, coil)
    assert is_failed(answer, "contact_current", "start button")
    assert (answer.weakest.code, answer.weakest.part) == ("contact_drop", "stop button")
    assert "current through the contact (start button)" in answer.headline


@pytest.mark.parametrize("stop_ohm", [0.005, 0.02])
def test_a_start_button_that_is_too_weak_itself_leads(run, stop_ohm):
    answer = start(run, stop_ohm, 5)
    assert (answer.weakest.code, answer.weakest.part) == ("contact_current", "start button")


def test_so_does_a_relay_behind_it(run):
    made = {**relay("start relay"), "coil_nodes": ["post", "ground"], "contact_nodes": ["b", "t50"]}
    made |= {"rating_a": 5, "make_rating_a": 60}
    del made["derating"]
    answer = start(run, 1, 0, relays=[made])
    assert is_failed(answer, "steady_current", "start relay")
    assert answer.weakest.part == "stop button"


def converter(run, joint_ohm, fuse_a, switch_a, *, kind="power_w", value=120.0, needed_v=8.0):
    branches = [
        contact("fuse", "post", "in", 0.002, part="fuse", rating_a=fuse_a, fuse_family="blade C"),
        contact("joint", "in", "joined", joint_ohm),
        contact("switch", "joined", "out", 0.002, part="switch", rating_a=switch_a),
    ]
    one = {**load("converter", "out", "ground", **{kind: value}), "needed_v": needed_v}
    circuit = {"source": SOURCE, "branches": branches, "loads": [one]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "on", "ambient_c": 20}])


@pytest.mark.parametrize(
    ("fuse_a", "switch_a", "code", "part"),
    [(10, 30, "fuse_load", "fuse"), (10, 11, "contact_current", "switch")],
)
def test_a_converter_behind_a_poor_joint_overloads_what_leads_to_it(
    run, fuse_a, switch_a, code, part
):
    """120 W at 7.3 V, which 0.3 ohm leave, are 16.5 A, and at 12.5 V 9.6 A."""
    answer = converter(run, 0.3, fuse_a, switch_a)
    assert is_failed(answer, code, part)
    assert answer.weakest.part == "joint"
    if code == "fuse_load":
        (check,) = [c for c in answer.checks if c.code == code]
        assert "so much for joint: look there first" in check.message


def test_what_draws_too_much_itself_is_no_matter_of_the_joint(run):
    """Ohms draw less behind a poor joint, not more: without it the switch would carry 20 A."""
    joint = {"kind": "resistance_ohm", "value": 0.6, "needed_v": 11.0}
    answer = converter(run, 0.02, 40, 10, **joint)
    assert is_failed(answer, "contact_drop", "joint")
    assert (answer.weakest.code, answer.weakest.part) == ("contact_current", "switch")


def pump(run, back_v, fuse_a=10):
    branches = [
        contact("fuse", "post", "in", 0.003, part="fuse", rating_a=fuse_a, fuse_family="blade C"),
        contact("switch", "in", "out", 0.005, part="switch", rating_a=30),
    ]
    motor = {"name": "pump", "kind": "motor", "nodes": ["out", "ground"], "resistance_ohm": 0.6,
             "back_v": back_v, "needed_v": 10}  # fmt: skip
    circuit = {"source": SOURCE, "branches": branches, "loads": [motor]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "on", "ambient_c": 20}])


def test_of_a_fuse_that_opens_for_a_motor_that_stands_that_is_named(run):
    """12.6 V over 0.6 ohm are 20 A, through a fuse of 10 A; at its speed 7 A."""
    answer = pump(run, 0.0)
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "fuse")
    assert "so much for pump: look there first" in answer.headline
    assert pump(run, 8.3).weakest.verdict != "fail"
    assert "pump" not in pump(run, 8.3, fuse_a=5).weakest.message


@pytest.mark.parametrize("duration_s", [3, 20])
def test_a_coil_that_is_shorted_is_no_matter_of_the_button_before_it(run, duration_s):
    """12.6 V over some 0.075 ohm, of which the button has 0.02: 165 A open a fuse of 20 A."""
    branches = [
        contact("fuse", "post", "in", 0.002, part="fuse", rating_a=20, fuse_family="blade C"),
        contact("button", "in", "out", 0.02, part="switch", rating_a=15),
    ]
    coil = {"name": "stop solenoid", "kind": "solenoid", "nodes": ["out", "ground"],
            "rated": {"resistance_ohm": 0.05, "pull_in_v": 8}}  # fmt: skip
    for circuit_is in ({}, {"circuit": "starter_control"}):
        circuit = {"source": SOURCE, "branches": branches, "loads": [{**coil, **circuit_is}]}
        cases = [{"name": "stop", "duration_s": duration_s}]
        answer = run("circuit-check", circuit=circuit, cases=cases)
        assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "fuse")


@pytest.mark.parametrize(("short_ohm", "leads"), [(0.01, "strip fuse"), (0.2, "rail")])
def test_a_glow_plug_that_is_shorted_is_no_reason_for_a_thicker_rail(run, short_ohm, leads):
    """By hand: 12.6 V over some 0.02 ohm are 600 A, and no fuse of 80 A bears as much for seconds.

    60 A and 36 A it may bear, with a rail for 40 A.
    """
    fuse = contact("strip fuse", "post", "in", 0.0005, part="fuse", rating_a=80,
                   fuse_family="bolt-in SF30")  # fmt: skip
    rail = wire("rail", "in", "plugs", "12 AWG" if leads == "rail" else "8 AWG", 0.6,
                insulation="GXL")  # fmt: skip
    plugs = [
        {**load(f"plug {place}", "plugs", "ground", resistance_ohm=ohm), "needed_v": 9.5}
        for place, ohm in enumerate([1, short_ohm, 1, 1], 1)
    ]
    circuit = {"source": SOURCE, "branches": [fuse, rail], "loads": plugs}
    cases = [{"name": "glow", "ambient_c": 40, "duration_s": 120}]
    answer = run("circuit-check", circuit=circuit, cases=cases)
    assert answer.weakest.part == leads
    if leads != "rail":
        assert "so much for plug 2" in answer.headline


@pytest.mark.parametrize("ohm", [0.3, 0.1, 0.02])
def test_of_a_horn_that_is_shorted_no_larger_relay_is_asked_for(run, ohm):
    """Some 45 to 280 A through a fuse of 25 A: what they start with is as much the short's."""
    made = {**relay("horn relay"), "coil_nodes": ["in", "button"], "contact_nodes": ["in", "out"]}
    made |= {"rating_a": 30, "make_rating_a": 120, "load_kind": "motor"}
    del made["derating"]
    branches = [
        contact("horn fuse", "post", "in", 0.002, part="fuse", rating_a=25, fuse_family="blade C"),
        contact("button", "button", "ground", 0.05, part="switch", rating_a=3),
    ]
    horns = [
        {**load(name, "out", "ground", resistance_ohm=each), "needed_v": 5}
        for name, each in (("low horn", ohm), ("high horn", 2))
    ]
    circuit = {"source": SOURCE, "branches": branches, "loads": horns, "relays": [made]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "blow", "duration_s": 5}])
    assert is_failed(answer, "inrush", "horn relay")
    assert (answer.weakest.code, answer.weakest.part) == ("fuse_load", "horn fuse")
    assert "so much for low horn" in answer.headline
