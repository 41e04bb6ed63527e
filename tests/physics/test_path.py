"""A load behind a path: limits, roots and directions."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.physics.path import power_load_voltages, resistive_load_current

SUPPLIES_V = st.floats(0.1, 60)
PATHS_OHM = st.floats(0, 1e3)


def test_no_path_no_loss():
    current_a = resistive_load_current(
        supply_v=12.0, path_resistance_ohm=0.0, load_resistance_ohm=3.0
    )
    assert current_a == 4
    stable_v, unstable_v = power_load_voltages(
        supply_v=12.0, path_resistance_ohm=0.0, load_power_w=60.0
    )
    assert (stable_v, unstable_v) == (12, 0)


def test_largest_power_at_half_the_supply():
    stable_v, unstable_v = power_load_voltages(
        supply_v=12.0, path_resistance_ohm=0.5, load_power_w=12.0**2 / 4 / 0.5
    )
    assert stable_v == unstable_v == 6


def test_beyond_the_largest_power_only_that_row_is_nan():
    stable_v, unstable_v = power_load_voltages(
        supply_v=12.0, path_resistance_ohm=0.5, load_power_w=np.array([71.9, 72.1, 0.0])
    )
    assert np.isnan(stable_v).tolist() == np.isnan(unstable_v).tolist() == [False, True, False]


def test_nothing_on_nothing():
    stable_v, unstable_v = power_load_voltages(
        supply_v=0.0, path_resistance_ohm=0.1, load_power_w=0.0
    )
    assert (stable_v, unstable_v) == (0, 0)


# The lower root in exact arithmetic: from 12 V a path of 1 mohm feeds 1 mW at 83 nV as well. In
# doubles, half of supply less root would leave eight digits of it.
def test_small_root_keeps_its_digits():
    _, unstable_v = power_load_voltages(supply_v=12.0, path_resistance_ohm=1e-3, load_power_w=1e-3)
    lost = Fraction(1e-3) * Fraction(1e-3)
    root = Fraction(unstable_v)
    residual = root * root - 12 * root + lost
    assert abs(residual / lost) < Fraction(1, 10**15)


@given(SUPPLIES_V, PATHS_OHM, st.floats(0, 1e4))
def test_both_roots_feed_the_power(supply_v, path_ohm, power_w):
    stable_v, unstable_v = power_load_voltages(
        supply_v=supply_v, path_resistance_ohm=path_ohm, load_power_w=power_w
    )
    if np.isnan(stable_v):
        assert 4 * path_ohm * power_w > supply_v**2
        return
    assert 0 <= unstable_v <= stable_v <= supply_v
    for voltage_v in (stable_v, unstable_v):
        scale = supply_v**2
        assert_allclose(voltage_v * (supply_v - voltage_v), power_w * path_ohm, atol=1e-14 * scale)


@given(SUPPLIES_V, PATHS_OHM, PATHS_OHM, st.floats(1e-3, 1e3))
def test_longer_never_raises_load_voltage(supply_v, one_ohm, other_ohm, load_ohm):
    short_ohm, long_ohm = sorted((one_ohm, other_ohm))
    near_v, far_v = load_ohm * resistive_load_current(
        supply_v=supply_v,
        path_resistance_ohm=np.array([short_ohm, long_ohm]),
        load_resistance_ohm=load_ohm,
    )
    assert near_v >= far_v


@given(SUPPLIES_V, PATHS_OHM, PATHS_OHM, st.floats(0, 1e3))
def test_longer_never_raises_voltage_of_a_power_load(supply_v, one_ohm, other_ohm, power_w):
    short_ohm, long_ohm = sorted((one_ohm, other_ohm))
    near_v, far_v = power_load_voltages(
        supply_v=supply_v,
        path_resistance_ohm=np.array([short_ohm, long_ohm]),
        load_power_w=power_w,
    )[0]
    assert np.isnan(far_v) or near_v >= far_v


@pytest.mark.parametrize("path_ohm", [0.0, 0.1])
def test_load_of_no_power_sees_the_supply(path_ohm):
    stable_v, unstable_v = power_load_voltages(
        supply_v=12.0, path_resistance_ohm=path_ohm, load_power_w=0.0
    )
    assert (stable_v, unstable_v) == (12, 0)
