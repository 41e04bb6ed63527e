"""Batteries: voltage with temperature and load, and resistances that scale with power."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.physics.battery import (
    cold_cranking_resistance,
    open_circuit_voltage,
    resistance_at_power,
    terminal_voltage,
)

SHIFT = {"rested_at_c": 25.0, "rise_v_per_k": 0.004}


def test_voltage_shifts_by_the_coefficient():
    cold_v, rested_v, warm_v = open_circuit_voltage(
        rested_v=12.6, temperature_c=np.array([0.0, 25.0, 50.0]), **SHIFT
    )
    assert_allclose([cold_v, rested_v, warm_v], [12.5, 12.6, 12.7], rtol=1e-15)


def test_a_load_takes_ohm_times_amperes_up_to_a_dead_short():
    found_v = terminal_voltage(
        open_circuit_v=12.0, internal_resistance_ohm=0.01, current_a=np.array([0.0, 200.0, 1200.1])
    )
    assert_allclose(found_v, [12.0, 10.0, 0.0], rtol=1e-15)


@given(st.floats(1, 100), st.floats(1, 100), st.floats(1e-4, 1.0))
def test_less_power_never_lowers_the_resistance(one_percent, other_percent, ohm):
    less, more = sorted((one_percent, other_percent))
    shared = {"resistance_ohm": ohm, "reference_percent": 40.0}
    assert resistance_at_power(power_percent=less, **shared) >= resistance_at_power(
        power_percent=more, **shared
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
