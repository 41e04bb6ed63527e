"""Loads, relays and batteries of another voltage than the system's are named before all else.

Common practice: a solenoid closes cold at half to three quarters of the voltage that it is made
for, and a lamp stands a quarter more than is stamped on it, not half as much again.
"""

import pytest

from lastvolt_service.api.problems import Refused

from .circuit_parts import contact, wire

FUSE = contact("fuse", "post", "in", 0.002, part="fuse", rating_a=40, fuse_family="blade C")


def ask(run, load, volts, nominal_v, *branches):
    source = {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.01}
    circuit = {"source": source, "branches": [FUSE, *branches], "loads": [load]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "now"}], nominal_v=nominal_v)


def solenoid(pull_in_v, **windings):
    rated = {"pull_in_v": pull_in_v, "resistance_ohm": 1.0}
    kind = {"windings": windings} if windings else {"rated": rated}
    return {"name": "plunger", "kind": "solenoid", "nodes": ["in", "ground"], **kind}


def lamp(rated_v):
    of = {"rated_power_w": 20, "rated_v": rated_v}
    return {"name": "lamp", "kind": "lamp", "nodes": ["in", "ground"], **of}


@pytest.mark.parametrize(
    ("load", "volts", "nominal_v", "said"),
    [
        (solenoid(8), 25.2, 24, "made for a lower one"),
        (solenoid(4), 12.6, 12, "made for a lower one"),
        (solenoid(16), 12.4, 12, "made for a higher voltage"),
        (solenoid(8), 6.4, 6, "made for a higher voltage"),
        (lamp(6), 12.6, 12, "made for a lower voltage"),
        (lamp(12), 25.2, 24, "made for a lower voltage"),
        (lamp(12), 6.4, 6, "only glows"),
        (lamp(24), 12.6, 12, "only glows"),
    ],
)
def test_one_of_another_system_leads(run, load, volts, nominal_v, said):
    answer = ask(run, load, volts, nominal_v)
    assert (answer.weakest.code, answer.weakest.verdict) == ("made_for", "fail")
    assert said in answer.headline


@pytest.mark.parametrize(
    ("load", "volts", "nominal_v"),
    [
        (solenoid(7), 12.6, 12),
        (solenoid(5.5), 14.4, 12),
        (solenoid(14), 28.0, 24),
        (solenoid(3.5), 6.4, 6),
        (lamp(13.5), 12.6, 12),
        (lamp(12), 14.8, 12),
        (lamp(24), 28.4, 24),
        (lamp(6.75), 6.9, 6),
    ],
)
def test_one_of_the_system_passes(run, load, volts, nominal_v):
    (check,) = [c for c in ask(run, load, volts, nominal_v).checks if c.code == "made_for"]
    assert check.verdict == "pass"


@pytest.mark.parametrize(
    ("load", "told"),
    [
        ({**lamp(12), "needed_v": 13.5}, True),
        ({**lamp(12), "needed_v": 12.4}, False),
        # At 120 degC its copper has 1.39 times the resistance: 9.5 V become 13.2.
        ({**solenoid(9.5), "zone": "hot"}, True),
    ],
)
def test_what_no_source_has_is_no_fault_of_wires(run, load, told):
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    thin = wire("thin", "in", "end", "18 AWG", 12, insulation="GXL")
    circuit = {
        "source": source, "branches": [{**FUSE, "rating_a": 7.5}, thin],
        "loads": [{**load, "nodes": ["end", "ground"]}],
    }  # fmt: skip
    case = {"name": "now", "zone_ambients_c": {"hot": 120}}
    answer = run("circuit-check", circuit=circuit, cases=[case])
    assert (answer.weakest.code == "full_voltage") == told
    assert ("no wiring cures that" in answer.headline) == told


def test_a_motor_that_makes_more_than_it_gets_does_not_turn(run):
    motor = {
        "name": "fan", "kind": "motor", "nodes": ["in", "ground"], "resistance_ohm": 0.5,
        "back_v": 14, "needed_v": 10,
    }  # fmt: skip
    answer = ask(run, motor, 12.6, 12)
    assert (answer.weakest.code, answer.weakest.detail) == ("made_for", "motor")
    # One that a sag makes slower is no other motor.
    heavy = {"name": "winch", "kind": "resistance", "resistance_ohm": 0.02}
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    loads = [{**motor, "back_v": 11, "needed_v": 7}, {**heavy, "nodes": ["in", "ground"]}]
    circuit = {"source": source, "branches": [FUSE], "loads": loads}
    slower = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert "made_for" not in {check.code for check in slower.checks}


def test_a_battery_of_another_system_is_refused(run):
    battery = {"nominal_v": 12, "cold_cranking_a": 400, "state_of_charge_percent": 90}
    circuit = {"source": {"plus": "post", "battery": battery}, "branches": [FUSE]}
    body = {"circuit": {**circuit, "loads": [lamp(24)]}, "cases": [{"name": "now"}]}
    with pytest.raises(Refused) as refused:
        run("circuit-check", **body, nominal_v=24)
    assert [error["pointer"] for error in refused.value.errors] == ["#/nominal_v"]


def test_two_lamps_of_half_the_voltage_in_series_are_right(run):
    """Each gets half of 25.2 V: what counts is what it gets, not what is stamped on it."""
    first = {**lamp(12), "nodes": ["in", "between"]}
    second = {**lamp(12), "name": "other", "nodes": ["between", "ground"]}
    source = {"plus": "post", "open_circuit_v": 25.2, "internal_resistance_ohm": 0.01}
    circuit = {"source": source, "branches": [FUSE], "loads": [first, second]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert {c.verdict for c in answer.checks if c.code == "made_for"} == {"pass"}


def test_worn_brushes_make_no_solenoid_of_another_system(run):
    """By its windings 3000 A take 3000 / (200 (1 / 0.5 + 1 / 1.5)) = 5.6 V, brushes or not."""
    worn = solenoid(
        0, pull_in_turns=200, pull_in_resistance_ohm=0.5, hold_in_turns=200,
        hold_in_resistance_ohm=1.5, motor_resistance_ohm=20, ampere_turns=3000,
    )  # fmt: skip
    (check,) = [c for c in ask(run, worn, 12.6, 12).checks if c.code == "made_for"]
    assert check.verdict == "pass"
    assert check.value == pytest.approx(3000 / (200 * (1 / 0.5 + 1 / 1.5)), rel=1e-9)


def test_another_loads_bulb_is_not_the_fault(run):
    """The headlamps are short for their switch, whatever the dash has."""
    switch = contact("switch", "in", "lamps", 0.15, part="switch", rating_a=20)
    lamps = {"name": "headlamps", "kind": "resistance", "resistance_ohm": 1.5, "needed_v": 11.5}
    dash = {**lamp(24), "name": "dash bulb", "rated_power_w": 2}
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    circuit = {
        "source": source, "branches": [FUSE, switch],
        "loads": [{**lamps, "nodes": ["lamps", "ground"]}, dash],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert (answer.weakest.code, answer.weakest.part) == ("contact_drop", "switch")
    assert "load for this voltage" in answer.headline
