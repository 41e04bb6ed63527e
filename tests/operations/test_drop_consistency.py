"""Readings that do not hold together, or prove nothing, blame no part and call none sound.

What a careful mechanic says of them is common practice, no source; the arithmetic is Kirchhoff's
and Ohm's.
"""

import pytest

from .test_drop_diagnosis import contact, diagnose, new_wire_v, wire

# Supply 12.4 V; 12 AWG of 5 m drops 0.21 V at 8 A.
ENDS = {"supply_v": 12.4, "load_voltage_v": 11.9}


def told(found):
    return {(check.code, check.part): check.verdict for check in found.checks}


def test_a_meter_across_an_open_switch_finds_it_open(run):
    """All of the supply stands across it, and nothing flows whatever current is given."""
    for ends in ({"supply_v": 12.4, "load_voltage_v": 0.01}, {"supply_v": 12.4}, {}):
        found = diagnose(run, wire("lead", 0.0), contact("key", 12.38), **ends)
        assert (found.advice, found.reason) == ("open_part", "open_part")
        assert found.mend_first == ("key",)
        assert "key" in found.headline
        assert "12.4" not in found.headline
        # Without a current the others drop nothing, sound or not.
        assert told(found)["wire_drop", "lead"] == "unknown"
        assert found.verdict == "fail"


def test_an_open_wire_is_found_at_24_v_too(run):
    found = diagnose(
        run, wire("lead", 24.9), contact("key", 0.0), supply_v=25.0, load_voltage_v=0.02
    )
    assert (found.advice, found.mend_first) == ("open_part", ("lead",))


def test_swapped_leads_are_told(run):
    found = diagnose(run, wire("lead", 0.21), contact("key", -0.4), **ENDS)
    assert (found.advice, found.reason) == ("not_proven", "leads_swapped")
    assert "key" in found.headline
    assert found.mend_first == ()


def test_swapped_leads_that_cancel_each_other_are_told_too(run):
    """Their sum is nothing, and all that stands across the wire would be regained."""
    readings = (wire("lead", 60, length_m=0), contact("plug", -60))
    found = diagnose(run, *readings, load_voltage_v=60)
    assert found.reason == "leads_swapped"
    assert found.regained_v == 0


@pytest.mark.parametrize("key_v", [2.0, 5.0])
def test_more_than_is_lost_cannot_stand_across_a_part(run, key_v):
    """0.5 V are lost from end to end: a key of 2 V is a wrong reading, or the ends are."""
    found = diagnose(run, wire("lead", 0.21), contact("key", key_v), **ENDS)
    assert (found.advice, found.reason) == ("not_proven", "readings_contradict")
    assert found.mend_first == ()


def test_what_was_read_within_another_part_is_named(run):
    """The plug's 0.29 V stand in those of the lead as well: without them it adds up."""
    found = diagnose(
        run,
        wire("lead and plug", 0.5),
        contact("plug", 0.29, "connector"),
        supply_v=12.4,
        load_voltage_v=11.9,
    )
    assert (found.advice, found.reason) == ("not_proven", "read_twice")
    assert found.overlap == ("plug",)
    assert "plug" in found.headline


def test_a_mistyped_current_is_suspected_and_no_wire(run):
    """0.8 A typed for 8 A: both wires drop ten times as much as new ones would."""
    drop_v = new_wire_v(run)
    readings = (wire("out", drop_v), wire("on", 2 * drop_v, length_m=10), contact("key", 0.05))
    found = diagnose(run, *readings, current_a=0.8)
    assert (found.advice, found.reason) == ("not_proven", "current_contradicts")
    assert found.mend_first == ()
    # 80 A for 8 A: they drop a tenth, which no wire of that size can.
    found = diagnose(run, *readings, current_a=80)
    assert (found.advice, found.reason) == ("not_proven", "current_contradicts")


@pytest.mark.parametrize("current_a", [0.8, 80])
def test_a_mistyped_current_is_suspected_beside_a_bad_contact_too(run, current_a):
    """The switch may be bad; by how much, only the right current tells."""
    drop_v = new_wire_v(run)
    readings = (wire("out", drop_v), wire("on", 2 * drop_v, length_m=10), contact("key", 0.6))
    found = diagnose(run, *readings, current_a=current_a)
    assert (found.advice, found.reason) == ("not_proven", "current_contradicts")
    # One wire of two that drops too much is that wire.
    found = diagnose(run, wire("out", drop_v), wire("on", 6 * drop_v, length_m=10))
    assert found.mend_first == ("on",)


def test_a_trickle_proves_nothing(run):
    """A key of 0.5 ohm drops 0.05 V at 0.1 A, and 5 V at the 10 A of its solenoid."""
    readings = (wire("lead", 0.003), contact("key", 0.05))
    found = diagnose(run, *readings, current_a=0.1)
    assert (found.advice, found.reason) == ("not_proven", "trickle")
    assert told(found)["contact_drop", "key"] == "unknown"
    assert told(found)["path_drop", None] == "unknown"
    # Where it is known what flows at work, resistance decides: 0.1 V at 10 A are 0.01 ohm.
    found = diagnose(run, *readings, current_a=0.1, working_current_a=10)
    assert (found.advice, found.mend_first) == ("mend_the_wiring", ("key",))
    assert found.readings[1].expected_v == pytest.approx(0.001)


def test_a_circuit_of_little_current_is_judged_at_it(run):
    """A gauge of 0.05 A is at work: 0.02 V across its plug are sound."""
    fields = {"current_a": 0.05, "working_current_a": 0.05, "circuit": "continuous"}
    found = diagnose(run, contact("plug", 0.02, "connector"), **fields)
    assert found.advice == "path_is_sound"


@pytest.mark.parametrize(
    ("circuit", "enough_a", "trickle_a"),
    [("starter_motor", 60, 10), ("starter_control", 3, 0.5), ("continuous", 2, 0.1)],
)
def test_what_a_trickle_is_depends_on_the_circuit(run, circuit, enough_a, trickle_a):
    for amps, reason in ((enough_a, "parts_are_sound"), (trickle_a, "trickle")):
        found = diagnose(run, contact("joint", 0.001, "ground"), current_a=amps, circuit=circuit)
        assert found.reason == reason


FULL = {"supply_v": 12.6, "circuit": "continuous"}


@pytest.mark.parametrize("circuit", ["continuous", "starter_control"])
@pytest.mark.parametrize("current_a", [0.02, 0.05, 0.08, 0.13])
def test_a_small_load_is_not_open(run, current_a, circuit):
    """A pilot, a gauge, a relay's coil of 90 ohm: 0.005 V lost of 12.6 V."""
    read = {**FULL, "circuit": circuit, "current_a": current_a, "load_voltage_v": 12.595}
    found = diagnose(run, contact("gnd", 0.005, "ground"), **read)
    assert found.reason == "trickle"
    assert "If the load should take more, it is open or off." in found.headline
    at_work = diagnose(run, contact("gnd", 0.005, "ground"), **read, working_current_a=current_a)
    assert (at_work.advice, at_work.verdict) == ("path_is_sound", "pass")


@pytest.mark.parametrize("circuit", ["continuous", "starter_control"])
@pytest.mark.parametrize("current_a", [0.02, 0.13])
def test_the_bad_ground_of_a_small_load_is_found(run, current_a, circuit):
    """1.2 V across a ground at which a sound one drops 0.1 V, though 11.4 V are left."""
    read = {**FULL, "circuit": circuit, "current_a": current_a, "load_voltage_v": 11.4}
    found = diagnose(run, contact("gnd", 1.2, "ground"), **read)
    assert (found.advice, found.mend_first) == ("mend_the_wiring", ("gnd",))
    assert "too small for" not in str([check.message for check in found.checks])


def test_a_starter_motor_of_half_an_ampere_is_open(run):
    read = {**FULL, "circuit": "starter_motor", "current_a": 0.5, "load_voltage_v": 12.6}
    assert diagnose(run, contact("gnd", 0, "ground"), **read).reason == "load_open"
    # Read with a lamp in its place on purpose, it is not.
    read["load_voltage_v"] = 12.1
    found = diagnose(run, contact("gnd", 0.5, "ground"), **read, working_current_a=200)
    assert found.mend_first == ("gnd",)


@pytest.mark.parametrize(("step_v", "key_v"), [(0.001, -0.001), (0.01, -0.01)])
def test_one_digit_below_zero_is_zero(run, step_v, key_v):
    meter = {"resolution_v": step_v, "accuracy_percent": 0.5}
    ends = {"supply_v": 12.4, "load_voltage_v": 12.38, "meter": meter}
    found = diagnose(run, contact("key", key_v), contact("gnd", 0.02, "ground"), **ends)
    assert found.advice == "path_is_sound"
    beyond = diagnose(run, contact("key", 3 * key_v), contact("gnd", 0.02, "ground"), **ends)
    assert beyond.reason == "leads_swapped"


def test_an_open_part_is_called_open_and_not_poor(run):
    found = diagnose(run, contact("gnd", 12.5, "ground"), current_a=0.02, supply_v=12.6)
    (check,) = (each for each in found.checks if each.code == "contact_drop")
    assert check.message.startswith("gnd drops 12.5 V, more than 0.1 V: it is open.")


def test_a_trickle_is_told_as_what_it_is_at_work(run):
    """0.003 V at 1.2 A are 0.5 V at 200 A; a sound solenoid drops 0.3 V there."""
    found = diagnose(
        run, contact("sol", 0.003, "relay"), current_a=1.2, working_current_a=200,
        circuit="starter_motor", meter={"resolution_v": 0.0001, "accuracy_percent": 0.1},
    )  # fmt: skip
    assert found.headline.startswith("Poor parts found: at 200 A sol drops 0.2 V more than a sound")


@pytest.mark.parametrize("current_a", [0, 0.0005])
@pytest.mark.parametrize("open_part", ["switch", "ground"])
def test_what_everybody_reads_first_of_a_dead_load_is_taken(run, current_a, open_part):
    """Switch on, nothing flows, nothing at the lamp: all of the battery stands across one part."""
    readings = [
        {"kind": "contact", "name": part, "part": part, "measured_v": 12.4 * (part == open_part)}
        for part in ("switch", "ground")
    ]
    found = run(
        "drop-diagnosis", circuit="continuous", current_a=current_a, supply_v=12.4,
        load_voltage_v=0, readings=readings, explain=True,
    )  # fmt: skip
    assert (found["advice"], found["mend_first"]) == ("open_part", (open_part,))
    assert open_part in found["headline"]
