"""Relay coils against relay makers' notes, a standard's formula and textbook exercises."""

import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics.coil import self_heating_rise, voltage_at_rise
from lastvolt_service.physics.conductors import (
    resistance_change,
    resistance_ratio,
    temperature_at_ratio,
)
from lastvolt_service.tables.materials import material

COPPER_PER_K = material("copper").temperature_coefficient_per_k


# A relay maker's note on coil temperature: 320 ohm and 13.0 V at 25 degC become 443.3 ohm and
# 18.0 V at 125 degC. A second note's coil: 90 ohm and 6.5 V at 20 degC; with that note's law
# (234.5 + T) / 254.5 they become 112.99 ohm and 8.16 V at 85 degC.
@pytest.mark.parametrize(
    ("cold_ohm", "cold_v", "cold_c", "hot_c", "hot_ohm", "atol_ohm", "hot_v", "atol_v"),
    [
        (320, 13.0, 25, 125, 443.3, 0.05, 18.0, 0.05),
        (90, 6.5, 20, 85, 112.99, 0.005, 8.16, 0.005),
    ],
)
def test_hot_coil(run, cold_ohm, cold_v, cold_c, hot_c, hot_ohm, atol_ohm, hot_v, atol_v):
    found = run(
        "relay-coil",
        nominal_v=24,
        coil_resistance_ohm=cold_ohm,
        pick_up_v=cold_v,
        reference_temperature_c=cold_c,
        ambient_c=hot_c,
        available_v=24,
    )
    assert_allclose(found.hot_coil_resistance_ohm, hot_ohm, atol=atol_ohm)
    assert_allclose(found.hot_pick_up_v, hot_v, atol=atol_v)
    assert_allclose(found.pick_up_margin_v, 24 - hot_v, atol=atol_v)


# A relay maker's note: ten kelvin raise a coil's resistance by about 4 %, one digit.
def test_ten_kelvin_are_four_percent():
    growth = resistance_ratio(temperature_c=30.0, temperature_coefficient_per_k=COPPER_PER_K)
    assert_allclose(100 * (growth - 1), 4, atol=0.5)


# Coil rise by resistance as IEC 61810-1 measures it: 80 ohm at 20 degC and 100 ohm hot is
# 83.6 degC, a rise of 63.6 K.
def test_temperature_from_resistance():
    hot_c = temperature_at_ratio(ratio=100 / 80, temperature_coefficient_per_k=COPPER_PER_K)
    assert_allclose(hot_c, 83.6, atol=0.05)


# Physics exercise: a coil takes 0.12 A from 6 V at 15 degC and needs 0.10 A; with a coefficient of
# 0.0043/K at 15 degC it fails above 61.5 degC. The same metal has 0.0043 / 1.0215 at 20 degC.
def test_coil_that_must_keep_its_current():
    per_k = 0.0043 / (1 + 0.0043 * 5)
    known = resistance_change(
        temperature_c=15.0, reference_temperature_c=20.0, temperature_coefficient_per_k=per_k
    )
    limit_c = temperature_at_ratio(ratio=0.12 / 0.10 * known, temperature_coefficient_per_k=per_k)
    assert_allclose(limit_c, 61.5, atol=0.05)


# A relay maker's sheet: 5.1 W at most for hours at 20 degC, with 155 degC allowed in the coil. That
# is 26.5 K/W, and the two digits of 5.1 W are what it holds to.
def test_longest_power_and_thermal_resistance(run):
    found = run(
        "relay-coil",
        nominal_v=12,
        coil_resistance_ohm=90,
        pick_up_v=6.9,
        ambient_c=20,
        available_v=12,
        maximum_v=14,
        thermal_resistance_k_per_w=26.5,
        coil_limit_c=155,
    )
    hot_ohm = 90 * resistance_ratio(temperature_c=155.0, temperature_coefficient_per_k=COPPER_PER_K)
    assert_allclose(found.maximum_continuous_v**2 / hot_ohm, 5.1, atol=0.05)


# The same sheet, the other way round: the coil that makes 5.1 W warms by 135 K.
def test_rise_and_voltage_are_inverse():
    coil = {
        "resistance_ohm": 90.0,
        "ambient_c": 20.0,
        "thermal_resistance_k_per_w": 135 / 5.1,
        "temperature_coefficient_per_k": COPPER_PER_K,
    }
    coil_v = voltage_at_rise(rise_k=135.0, **coil)
    assert_allclose(self_heating_rise(coil_v=coil_v, **coil), 135.0, rtol=1e-12)


# Relay makers' notes: the continuous coil voltage is generally below 120 % of nominal, where the
# thermal data of the coil are not known. ISO 16750-2 knows of 16 V at most in a 12 V system.
@pytest.mark.parametrize(
    ("maximum_v", "verdict"), [(14.39, "pass"), (14.41, "marginal"), (16.01, "fail")]
)
def test_longest_voltage_without_thermal_data(run, maximum_v, verdict):
    found = run(
        "relay-coil",
        nominal_v=12,
        coil_resistance_ohm=90,
        pick_up_v=6.9,
        ambient_c=20,
        available_v=12,
        maximum_v=maximum_v,
    )
    check = next(check for check in found.checks if check.name == "continuous voltage")
    assert check.verdict == verdict


# A coil that is nowhere between: 120 % of its nominal voltage, and no more.
@pytest.mark.parametrize(("maximum_v", "verdict"), [(10.79, "pass"), (10.81, "fail")])
def test_longest_voltage_of_an_unusual_coil(run, maximum_v, verdict):
    found = run(
        "relay-coil",
        nominal_v=9,
        coil_resistance_ohm=90,
        pick_up_v=6.0,
        ambient_c=20,
        available_v=9,
        maximum_v=maximum_v,
    )
    check = next(check for check in found.checks if check.name == "continuous voltage")
    assert check.verdict == verdict


# A relay maker's note on suppression: a diode holds the coil to 0.7 V below ground.
def test_diode_peak(run):
    found = run(
        "relay-coil",
        nominal_v=12,
        coil_resistance_ohm=120,
        pick_up_v=7,
        ambient_c=20,
        available_v=12,
        suppression={"kind": "diode"},
    )
    assert_allclose(found.suppression.peak_v - 12, 0.7, atol=0.05)
