"""A key while a plunger moves: every operation that judges it allows the same.

Common practice: a sound key with its plugs has up to 8 milliohm, and both windings take up to 40 A,
so that it drops up to 0.3 V for a tenth of a second.
"""

import pytest


def wire(name, length_m, **more):
    return {"name": name, "kind": "wire", "size": "12 AWG", "length_m": length_m, **more}


def contact(name, part, **more):
    return {"name": name, "kind": "contact", "part": part, **more}


def path(run, key_ohm, load_ohm, **fields):
    segments = [
        wire("feed", 1.5),
        contact("key", "switch", resistance_ohm=key_ohm, rating_a=30),
        wire("to 50", 2.5),
    ]
    fields = {"circuit": "starter_control", "needed_v": 8.5, "nominal_v": 12} | fields
    return run(
        "voltage-drop", segments=segments, supply_v=11.9, load_resistance_ohm=load_ohm, **fields
    )


def of_key(found, code="contact_drop"):
    return next(c for c in found.checks if (c.code, c.part) == (code, "key"))


@pytest.mark.parametrize(
    # By hand, 11.9 V over the load and some 30 milliohm: 38 A over 6 milliohm are 0.23 V, 28 A over
    # 8 are 0.23 V and over 20 are 0.57 V.
    ("key_ohm", "load_ohm", "verdict"),
    [(0.006, 0.283, "pass"), (0.008, 0.39, "pass"), (0.02, 0.39, "fail")],
)
def test_a_key_is_allowed_what_a_sound_one_drops(run, key_ohm, load_ohm, verdict):
    found = path(run, key_ohm, load_ohm)
    drops = [c.verdict for c in found.checks if (c.code, c.part) == ("contact_drop", "key")]
    # What carries a little more than its rating for a moment is not worn, and said so.
    assert drops in ([verdict], [] if verdict == "pass" else [verdict])


def test_a_key_that_carries_as_much_for_longer_is_not(run):
    """28 A for minutes, and of lamps."""
    assert of_key(path(run, 0.008, 0.39, duration_s=60)).verdict == "fail"
    assert of_key(path(run, 0.008, 0.39, circuit="continuous")).verdict == "fail"
    # It does not pull in: both windings stay in.
    assert of_key(path(run, 0.008, 0.39, needed_v=11.8)).verdict == "fail"


def read(run, key_v, current_a=25, **fields):
    readings = [
        {**wire("feed", 2), "measured_v": 0.25},
        {**contact("key", "switch"), "measured_v": key_v},
        {**wire("to 50", 2), "measured_v": 0.25},
        {**contact("strap", "ground"), "measured_v": 0.02},
    ]
    fields = {"circuit": "starter_control", "nominal_v": 12, "supply_v": 11.6} | fields
    fields["load_voltage_v"] = round(fields["supply_v"] - 0.52 - key_v, 2)
    return run("drop-diagnosis", readings=readings, current_a=current_a, **fields)


def test_nobody_buys_a_key_for_a_tenth_of_a_volt(run):
    """0.2 V at 25 A are 8 milliohm."""
    assert "key" not in read(run, 0.2).mend_first
    assert read(run, 0.5).mend_first[0] == "key"
    # Of the hold-in winding alone, 8 A, 0.2 V are 25 milliohm.
    assert "key" in read(run, 0.2, current_a=8).mend_first
    assert "key" in read(run, 0.2, circuit="continuous").mend_first


@pytest.mark.parametrize(
    # By hand, 12.5 V: 27.8 A and 0.2 A or 2.5 A over 8 milliohm are 0.22 V and 0.24 V; with 1 ohm
    # more than a tenth of the current stays on.
    ("beside_ohm", "verdict"),
    [(70, "pass"), (5, "pass"), (1, "fail")],
)
def test_a_pilot_lamp_beside_the_plunger_makes_no_key_poor(run, beside_ohm, verdict):
    key = contact("key", "switch", nodes=["post", "50"], resistance_ohm=0.008, rating_a=60)
    loads = [
        {"name": name, "kind": "resistance", "nodes": ["50", "ground"], "resistance_ohm": ohm, **of}
        for name, ohm, of in (
            ("solenoid", 0.45, {"circuit": "starter_control", "needed_v": 7.5}),
            ("beside", beside_ohm, {}),
        )
    ]
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.004}
    circuit = {"source": source, "branches": [key], "loads": loads}
    cases = [{"name": "start", "duration_s": 5}]
    found = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    drops = [c.verdict for c in found.cases[0].checks if c.code == "contact_drop"]
    assert drops == [verdict]


@pytest.mark.parametrize(
    # By hand, 10.7 A: a sound key may have 10 milliohm there, which are 0.107 V, and half as much
    # again is little. 12 milliohm are 0.128 V, 35 are 0.37 V. At 25 A 20 milliohm are 0.5 V.
    ("current_a", "key_ohm", "is_poor"),
    [(10.7, 0.008, False), (10.7, 0.012, False), (10.7, 0.035, True), (25, 0.02, True)],
)
def test_a_key_is_worth_the_same_by_its_parts_and_by_its_volts(run, current_a, key_ohm, is_poor):
    load_ohm = 11.9 / current_a - key_ohm - 0.02
    drops = [c for c in path(run, key_ohm, load_ohm).checks if c.code == "contact_drop"]
    assert any(c.verdict == "fail" for c in drops) is is_poor
    assert ("key" in read(run, key_ohm * current_a, current_a).mend_first) is is_poor
