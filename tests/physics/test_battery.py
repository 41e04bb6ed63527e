"""Batteries: curves held at the ends where they may be, and resistances that scale with power."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.physics.battery import (
    cold_cranking_resistance,
    cranking_power,
    open_circuit_voltage,
    resistance_at_power,
)

CHARGE = {
    "curve_percent": np.array([0.0, 50.0, 100.0]),
    "curve_v": np.array([11.8, 12.2, 12.6]),
    "curve_temperature_c": 25.0,
    "temperature_coefficient_v_per_k": 0.004,
}
POWER = {
    "curve_temperature_c": np.array([-30.0, 0.0, 27.0]),
    "curve_percent": np.array([20.0, 65.0, 100.0]),
}


def test_points_of_the_curve_come_back():
    found_v = open_circuit_voltage(
        state_of_charge_percent=np.array([0.0, 25.0, 50.0, 100.0]), temperature_c=25.0, **CHARGE
    )
    assert_allclose(found_v, [11.8, 12.0, 12.2, 12.6], rtol=1e-15)


def test_voltage_shifts_by_the_coefficient():
    cold_v, warm_v = open_circuit_voltage(
        state_of_charge_percent=100.0, temperature_c=np.array([0.0, 50.0]), **CHARGE
    )
    assert_allclose([cold_v, warm_v], [12.5, 12.7], rtol=1e-15)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(-60, 100), st.floats(-60, 100))
def test_charge_and_warmth_never_lower_the_voltage(one_percent, other_percent, one_c, other_c):
    low_v, high_v = open_circuit_voltage(
        state_of_charge_percent=np.array(sorted((one_percent, other_percent))),
        temperature_c=np.array(sorted((one_c, other_c))),
        **CHARGE,
    )
    assert low_v <= high_v


def test_power_is_held_in_the_warm_and_unknown_in_the_cold():
    found = cranking_power(temperature_c=np.array([-30.001, -30.0, 27.0, 100.0]), **POWER)
    assert np.isnan(found[0])
    assert found[1:].tolist() == [20, 100, 100]


@given(st.floats(-30, 100), st.floats(-30, 100), st.floats(1e-4, 1.0))
def test_colder_never_lowers_the_resistance(one_c, other_c, ohm):
    cold, warm = cranking_power(temperature_c=np.array(sorted((one_c, other_c))), **POWER)
    shared = {"resistance_ohm": ohm, "reference_percent": 40.0}
    assert resistance_at_power(power_percent=cold, **shared) >= resistance_at_power(
        power_percent=warm, **shared
    )


@given(st.floats(10, 14), st.floats(6, 9), st.floats(1, 5000))
def test_rated_current_leaves_the_rated_voltage(open_circuit_v, cold_cranking_v, current_a):
    ohm = cold_cranking_resistance(
        open_circuit_v=open_circuit_v, cold_cranking_v=cold_cranking_v, cold_cranking_a=current_a
    )
    assert_allclose(open_circuit_v - current_a * ohm, cold_cranking_v, rtol=1e-14)


@pytest.mark.parametrize("power_percent", [20.0, 40.0, 100.0])
def test_largest_power_goes_as_the_published_share(power_percent):
    """E**2 / (4 * R) at both temperatures, from the same E."""
    ohm = resistance_at_power(
        resistance_ohm=0.01, reference_percent=40.0, power_percent=power_percent
    )
    assert_allclose((1 / ohm) / (1 / 0.01), power_percent / 40.0, rtol=1e-15)
