"""Contacts: derating between given points and never beyond, and heat."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from lastvolt_service.physics.contact import derated_current, joule_power

CURVE = {
    "curve_ambient_c": np.array([23.0, 85.0, 125.0]),
    "curve_current_a": np.array([60.0, 40.0, 17.0]),
}


def test_held_below_and_unknown_above():
    found_a = derated_current(ambient_c=np.array([-40.0, 23.0, 125.0, 125.001]), **CURVE)
    assert found_a[:3].tolist() == [60, 60, 17]
    assert np.isnan(found_a[3])


def test_one_point_is_a_curve():
    found_a = derated_current(
        ambient_c=np.array([-40.0, 23.0, 24.0]),
        curve_ambient_c=np.array([23.0]),
        curve_current_a=np.array([60.0]),
    )
    assert found_a[:2].tolist() == [60, 60]
    assert np.isnan(found_a[2])


@given(st.floats(-60, 125), st.floats(-60, 125))
def test_hotter_never_carries_more(one_c, other_c):
    cool_a, hot_a = derated_current(ambient_c=np.array(sorted((one_c, other_c))), **CURVE)
    assert 60 >= cool_a >= hot_a >= 17


def test_heat_grows_with_the_square():
    found_w = joule_power(current_a=np.array([0.0, 5.0, -5.0, 10.0]), resistance_ohm=0.02)
    assert found_w.tolist() == [0, 0.5, 0.5, 2]
