"""Diagnosis of readings against manuals' limits, the Code's table and a textbook circuit."""

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics.diagnosis import regained_voltage

FINE = {"resolution_v": 0.001, "accuracy_percent": 0.0}


def diagnose(run, *readings, **fields):
    return run("drop-diagnosis", **{"meter": FINE, "readings": list(readings), **fields})


def check(found, code):
    return next(item for item in found.checks if item.code == code)


# OpenStax, University Physics: a battery of 12.0 V behind 0.0100 ohm feeds a starter of 0.0500 ohm
# through 0.0900 ohm of corrosion: 80 A, of which the starter gets 4.00 V. Without the corrosion it
# gets 10.0 V. The corrosion drops 80 A * 0.0900 ohm.
def test_corrosion_of_a_textbook_mended():
    gained_v = regained_voltage(source_v=12.0, load_voltage_v=4.00, excess_v=80 * 0.0900)
    assert_allclose(4.00 + gained_v, 10.0, atol=0.05)


# The same with a sound clamp, which may drop 0.1 V: it regains a little less, and no more.
def test_corrosion_of_a_textbook_diagnosed(run):
    clamp = {"name": "clamp", "kind": "contact", "part": "terminal", "measured_v": 80 * 0.0900}
    found = diagnose(run, clamp, current_a=80, supply_v=12.0, load_voltage_v=4.00)
    assert found.mend_first == ("clamp",)
    assert_allclose(found.readings[0].excess_resistance_ohm, 0.0900 - 0.1 / 80, rtol=1e-12)
    assert 5.7 < found.regained_v < 6.0


# NEC example, Chapter 9 Table 8 (16 AWG stranded, 4.99 ohm/kft at 75 degC): 4 A through 100 ft out
# and back drop 4.0 V.
def test_new_wire_of_the_code(run):
    wire = {
        "name": "both ways",
        "kind": "wire",
        "size": "16 AWG",
        "length_m": 200 * 0.3048,
        "temperature_c": 75,
        "measured_v": 4.0,
    }
    found = diagnose(run, wire, current_a=4, nominal_v=24)
    assert_allclose(found.readings[0].expected_v, 4.0, atol=0.05)
    assert not found.readings[0].proven


# NAVEDTRA 14050, starter circuit: 0.2 V for each cable at 12 V and 0.1 V at 6 V; TM 9-2320-211-20,
# 24 V truck: 0.2 V from battery to solenoid.
@pytest.mark.parametrize(("nominal_v", "printed_v"), [(6, 0.1), (12, 0.2), (24, 0.2)])
@pytest.mark.parametrize(("excess_v", "verdict"), [(-0.05, "pass"), (0.01, "fail")])
def test_cable_of_a_starter(run, nominal_v, printed_v, excess_v, verdict):
    cable = {
        "name": "cable",
        "kind": "wire",
        "size": "2/0 AWG",
        "length_m": 0.9,
        "measured_v": printed_v + excess_v,
    }
    found = diagnose(run, cable, current_a=200, nominal_v=nominal_v, circuit="starter_motor")
    limit = check(found, "cable_drop")
    assert (limit.limit, limit.verdict) == (printed_v, verdict)


# NAVEDTRA 14050: 0.1 V for each switch. TM 5-2420-230-24-2: 1.0 V at 12 V and 2.0 V at 24 V for the
# whole control circuit (p. 13-33), 0.5 V and 1.0 V for both battery cables (p. 13-23).
@pytest.mark.parametrize(
    ("circuit", "nominal_v", "printed_v"),
    [
        ("starter_control", 12, 1.0),
        ("starter_control", 24, 2.0),
        ("starter_motor", 12, 0.5),
        ("starter_motor", 24, 1.0),
    ],
)
def test_limits_of_switch_and_whole_path(run, circuit, nominal_v, printed_v):
    key = {"name": "key", "kind": "contact", "part": "switch", "measured_v": 0.153}
    found = diagnose(run, key, current_a=9, circuit=circuit, nominal_v=nominal_v)
    assert check(found, "path_drop").limit == printed_v
    switch = check(found, "contact_drop")
    assert (switch.limit, switch.verdict) == (0.1, "fail")
