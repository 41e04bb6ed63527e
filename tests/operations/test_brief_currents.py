"""Currents of seconds: what wires and contacts make of them, and what a limit speaks of."""

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.operations.wires.heated_wire import heated_wire
from lastvolt_service.physics.transient import temperature_after_c

FEED = {
    "name": "feed", "kind": "wire", "size": "12 AWG", "length_m": 6, "ambient_c": 40,
    "insulation": "GPT",
}  # fmt: skip
PULL_IN = {
    "supply_v": 12.2, "load_current_a": 45, "circuit": "starter_control", "needed_v": 8,
    "segments": [FEED],
}  # fmt: skip


def cable(name, length_m):
    return {
        "name": name, "kind": "wire", "size": "2 AWG", "length_m": length_m, "ambient_c": 40,
        "insulation": "SGX",
    }  # fmt: skip


def contact(name, part, ohm):
    return {"name": name, "kind": "contact", "part": part, "resistance_ohm": ohm}


CRANKING = {
    "supply_v": 11, "circuit": "starter_motor", "load_current_a": 500,
    "segments": [cable("plus", 1.2), cable("minus", 0.6)],
}  # fmt: skip


@pytest.mark.parametrize(("asked", "held_s"), [(PULL_IN, 10), (CRANKING, 15)])
def test_wires_of_a_starter_are_warm_for_as_long_as_a_key_is_held(run, asked, held_s):
    found = run("voltage-drop", **asked)
    assert found.duration_s == held_s
    for segment, told in zip(asked["segments"], found.segments, strict=True):
        wire = heated_wire(
            size=segment["size"], standard=None, material="copper", construction="stranded",
            ambient_c=40.0, insulation_kind=segment["insulation"], insulation_limit_c=None,
            grouped_conductors=1, altitude_m=0.0, outer_diameter_mm=None,
        )  # fmt: skip
        hot_c = temperature_after_c(
            current_a=asked["load_current_a"], on_time_s=held_s, start_c=40.0,
            ceiling_c=wire.ceiling_c, wire=wire.physics,
        )  # fmt: skip
        assert_allclose(told.temperature_c, hot_c, rtol=1e-6)


def test_a_current_without_end_is_as_before(run):
    """Without a circuit of a starter, and with ever longer times, it is the steady one."""
    asked = {**PULL_IN, "circuit": "continuous", "load_current_a": 20}
    steady, long = run("voltage-drop", **asked), run("voltage-drop", **asked, duration_s=80_000)
    assert steady.duration_s is None
    assert_allclose(long.drop_v, steady.drop_v, rtol=1e-6)
    times = [0.1, 1, 10, 100, 1000]
    drops = [run("voltage-drop", **asked, duration_s=seconds).drop_v for seconds in times]
    assert np.all(np.diff([*drops, steady.drop_v]) > 0)


@pytest.mark.parametrize("load", ["load_resistance_ohm", "load_power_w"])
def test_current_and_temperature_agree_for_any_load(run, load):
    value = {"load_resistance_ohm": 0.25, "load_power_w": 400}[load]
    asked = {key: each for key, each in PULL_IN.items() if key != "load_current_a"}
    found = run("voltage-drop", **{**asked, load: value})
    again = run("voltage-drop", **{**asked, "load_current_a": found.current_a})
    assert_allclose(found.load_voltage_v, again.load_voltage_v, rtol=1e-7)
    assert math.isfinite(found.segments[0].temperature_c)


def judged(found):
    return {(check.code, check.part): check for check in found.checks}


def test_a_limit_of_cables_leaves_the_contacts_between_them_out(run):
    """TM 5-2420-230-24-2 p. 13-23: 0.5 V at 500 A for both cables together."""
    bare = judged(run("voltage-drop", **CRANKING))["path_drop", None]
    solenoid = contact("solenoid contact", "relay", 0.0004)
    clamp = contact("clamp", "terminal", 0.0001)
    for more, added_v in (([solenoid], 0.0), ([clamp], 0.05)):
        asked = {**CRANKING, "segments": [*CRANKING["segments"], *more]}
        found = judged(run("voltage-drop", **asked))["path_drop", None]
        assert found.value == pytest.approx(bare.value + added_v, rel=1e-9)


# Common practice: 0.2 to 0.3 V across a solenoid's main contact and on the ground side; a post's
# clamp has no business to drop anything (TM 10-3930-671-24).
@pytest.mark.parametrize(
    ("part", "drop_v", "verdict"),
    [("relay", 0.22, "pass"), ("ground", 0.25, "pass"), ("relay", 0.5, "fail"),
     ("terminal", 0.22, "fail")],
)  # fmt: skip
def test_a_contact_of_the_main_circuit_has_its_own_limit(run, part, drop_v, verdict):
    amps = 350
    ohm = drop_v / amps
    asked = {**CRANKING, "load_current_a": amps, "segments": [contact("it", part, ohm)]}
    assert judged(run("voltage-drop", **asked))["contact_drop", "it"].verdict == verdict
    reading = {"name": "it", "kind": "contact", "part": part, "measured_v": drop_v}
    read = run(
        "drop-diagnosis", current_a=amps, circuit="starter_motor", supply_v=10.4,
        load_voltage_v=10.4 - drop_v, meter={"resolution_v": 0.001, "accuracy_percent": 0.5},
        readings=[reading],
    )  # fmt: skip
    assert judged(read)["contact_drop", "it"].verdict == verdict
    assert (read.advice == "mend_the_wiring") == (verdict == "fail")


def test_sound_wires_that_drop_far_too_much_are_too_thin(run):
    """3.5 V of 12.6 V at 20 A in 12 m of 16 AWG as good as new: no finer meter tells otherwise."""
    wire = {"kind": "wire", "size": "16 AWG", "length_m": 6, "temperature_c": 35,
            "measured_v": 1.72}  # fmt: skip
    found = run(
        "drop-diagnosis", current_a=20, supply_v=12.6, load_voltage_v=9.08, circuit="continuous",
        meter={"resolution_v": 0.001, "accuracy_percent": 0.5},
        readings=[{**wire, "name": "feed"}, {**wire, "name": "back"},
                  {"name": "sw", "kind": "contact", "part": "switch", "measured_v": 0.05}],
    )  # fmt: skip
    assert found.reason == "too_thin"
    assert "larger wires" in found.headline


def starter(*more, contact_ohm=0.0002):
    cable_ends = {**cable("main cable", 1.2), "nodes": ["post", "solenoid"], "size": "1/0 AWG"}
    main = {**contact("main contact", "relay", contact_ohm), "nodes": ["solenoid", "motor"]}
    motor = {
        "name": "motor", "kind": "resistance", "resistance_ohm": 0.03, "circuit": "starter_motor",
        "nodes": ["motor", "ground"], "needed_v": 9,
    }  # fmt: skip
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    return {"source": source, "branches": [cable_ends, main], "loads": [motor, *more]}


def test_a_circuit_of_nothing_but_a_starter_lasts_as_long_as_a_key_is_held(run):
    lamp = {"name": "lamp", "kind": "resistance", "resistance_ohm": 2, "nodes": ["post", "ground"]}
    cases = [{"name": "hot", "ambient_c": 40}]
    cranked = run("circuit-check", circuit=starter(), cases=cases).cases[0]
    assert cranked.duration_s == 15
    assert judged(cranked)["duty_current", "main cable"].verdict == "pass"
    assert judged(cranked)["conductor_temperature", "main cable"].verdict == "pass"
    assert run("circuit-check", circuit=starter(lamp), cases=cases).cases[0].duration_s is None


def test_a_circuit_leaves_the_contacts_between_cables_out_of_their_limit(run):
    cases = [{"name": "cold", "ambient_c": 10}]
    drops = []
    for ohm in (1e-6, 0.0006):
        state = run("circuit-check", circuit=starter(contact_ohm=ohm), cases=cases).cases[0]
        amps = state.source_current_a
        drops.append(judged(state)["path_drop", "motor"].value / amps)
    assert drops[1] == pytest.approx(drops[0], rel=0.01)  # of the cable alone, a little cooler
