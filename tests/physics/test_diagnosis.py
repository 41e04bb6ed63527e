"""Readings: their errors, and what mending gives a load back."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.physics.diagnosis import (
    excess_voltage,
    reading_uncertainty,
    regained_voltage,
)
from lastvolt_service.physics.path import resistive_load_current

STEPS_V = st.floats(1e-6, 1)
PERCENTS = st.floats(0, 20)


def test_step_and_percentage_add_up():
    found_v = reading_uncertainty(
        reading_v=np.array([0.0, 0.4]), resolution_v=0.01, accuracy_percent=0.5
    )
    assert_allclose(found_v, [0.01, 0.012], rtol=1e-15)


@given(st.integers(0, 1), STEPS_V, PERCENTS)
def test_one_step_is_never_more_than_its_error(steps, resolution_v, accuracy_percent):
    reading_v = steps * resolution_v
    assert reading_v <= reading_uncertainty(
        reading_v=reading_v, resolution_v=resolution_v, accuracy_percent=accuracy_percent
    )


def test_only_what_is_beyond_the_expected_is_an_excess():
    found_v = excess_voltage(measured_v=np.array([0.0, 0.1, 0.4]), expected_v=0.1)
    assert_allclose(found_v, [0.0, 0.0, 0.3], rtol=1e-15)


def test_nothing_mended_nothing_regained():
    assert regained_voltage(source_v=12.0, load_voltage_v=9.0, excess_v=0.0) == 0


def test_all_that_is_dropped_comes_back():
    found_v = regained_voltage(source_v=12.0, load_voltage_v=9.0, excess_v=3.0)
    assert_allclose(found_v, 3, rtol=1e-15)


# Against the circuit itself, before and after: the same load and the same other resistances.
@given(st.floats(1, 60), st.floats(0, 10), st.floats(0, 10), st.floats(0.01, 100))
def test_circuit_solved_again_agrees(supply_v, faulty_ohm, other_ohm, load_ohm):
    def current_a(path_ohm):
        return resistive_load_current(
            supply_v=supply_v, path_resistance_ohm=path_ohm, load_resistance_ohm=load_ohm
        )

    before_a, after_a = current_a(faulty_ohm + other_ohm), current_a(other_ohm)
    found_v = regained_voltage(
        source_v=supply_v, load_voltage_v=before_a * load_ohm, excess_v=before_a * faulty_ohm
    )
    assert_allclose(found_v, (after_a - before_a) * load_ohm, rtol=1e-9, atol=1e-12 * supply_v)
    assert 0 <= found_v <= before_a * faulty_ohm * (1 + 1e-12)
