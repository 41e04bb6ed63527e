"""Published curves: their points come back, and what lies before and after them is held or not."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.operations.curves import read_off
from lastvolt_service.tables.battery import Curve, cranking_power, freezing, load_test, open_circuit

CURVE = Curve((-30.0, 0.0, 27.0), (20.0, 65.0, 100.0), "a table")


def read(at, curve=CURVE, below=None):
    return read_off(curve, at, "power_percent", "power", along="temperature_c", below=below)


@pytest.mark.parametrize(("at_c", "percent"), [(-30.0, 20), (-15, 42.5), (0, 65), (27, 100)])
def test_points_and_what_lies_halfway(at_c, percent):
    assert read(at_c) == percent


@pytest.mark.parametrize(("at_c", "percent"), [(-60.0, 20), (100, 100)])
def test_the_last_points_hold_beyond_them(at_c, percent):
    assert read(at_c) == percent


def test_what_holds_before_the_first_may_be_something_else():
    assert math.isnan(read(-30.001, below=math.nan))
    assert read(-30.0, below=math.nan) == 20


@pytest.mark.parametrize("curve", [open_circuit(), freezing(), cranking_power(), load_test()])
@pytest.mark.parametrize("below", [None, math.nan])
def test_one_row_reads_as_numpy_does(curve, below):
    at = np.concatenate([curve.x, np.linspace(curve.x[0] - 20, curve.x[-1] + 20, 57)])
    expected = np.interp(at, curve.x, curve.y, left=below)
    assert_allclose([read(each, curve, below) for each in at.tolist()], expected, rtol=1e-15)
    assert_allclose(read(at, curve, below), expected, rtol=0)


@given(st.floats(-60, 100), st.floats(-60, 100))
def test_a_rising_curve_never_falls(one_c, other_c):
    low, high = sorted((one_c, other_c))
    # Within the last digits of the slopes of two pieces.
    assert read(low) <= read(high) * (1 + 1e-15)
