"""Published curves: their points come back, and what lies before and after them is held or not."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.operations.curves import read_off
from lastvolt_service.tables.battery import cranking_power, freezing, load_test, open_circuit
from lastvolt_service.tables.curves import Curve

CURVE = Curve((-30.0, 0.0, 27.0), (20.0, 65.0, 100.0), "a table")


def read(at, curve=CURVE, **options):
    return read_off(curve, at, "power_percent", "power", along="temperature_c", **options)


@pytest.mark.parametrize(("at_c", "percent"), [(-30.0, 20), (-15, 42.5), (0, 65), (27, 100)])
def test_points_and_what_lies_halfway(at_c, percent):
    assert read(at_c) == percent


@pytest.mark.parametrize(("at_c", "percent"), [(-60.0, 20), (100, 100)])
def test_the_last_points_hold_beyond_them(at_c, percent):
    assert read(at_c) == percent


def test_what_holds_before_the_first_may_be_something_else():
    assert math.isnan(read(-30.001, below=math.nan))
    assert read(-30.0, below=math.nan) == 20


def test_what_holds_after_the_last_may_be_something_else():
    assert math.isnan(read(27.001, above=math.nan))
    assert read(27.0, above=math.nan) == 100
    assert_allclose(read(np.array([27.0, 27.001]), above=math.nan), [100, math.nan])


@pytest.mark.parametrize(
    ("at_s", "multiple"),
    [
        (1.0, 2.0),
        (0.01, 4.0),
        (0.001, 8.0),
        (0.1, 2 * 2**0.5),  # half way between 1 and 0.01 on a logarithmic scale
        (10**-0.5, 2 * 2**0.25),  # a quarter of the way
        (10**-2.5, 4 * 2**0.5),
        (3600.0, 2.0),  # beyond the points nothing is extrapolated
        (1e-6, 8.0),
    ],
)
def test_points_and_what_lies_between_them_in_logarithms(at_s, multiple):
    """A made-up fuse: twice its rating for 1 s, four times for 0.01 s, eight times for 0.001 s."""
    curve = Curve((0.001, 0.01, 1.0), (8.0, 4.0, 2.0), "a table")
    assert_allclose(read(at_s, curve, logarithmic=True), multiple, rtol=1e-14)
    assert_allclose(read(np.array([at_s]), curve, logarithmic=True), [multiple], rtol=1e-14)


@pytest.mark.parametrize("curve", [open_circuit(), freezing(), cranking_power(), load_test()])
@pytest.mark.parametrize("below", [None, math.nan])
def test_one_row_reads_as_numpy_does(curve, below):
    at = np.concatenate([curve.x, np.linspace(curve.x[0] - 20, curve.x[-1] + 20, 57)])
    expected = np.interp(at, curve.x, curve.y, left=below)
    assert_allclose([read(each, curve, below=below) for each in at.tolist()], expected, rtol=1e-15)
    assert_allclose(read(at, curve, below=below), expected, rtol=0)


@given(st.floats(-60, 100), st.floats(-60, 100))
def test_a_rising_curve_never_falls(one_c, other_c):
    low, high = sorted((one_c, other_c))
    # Within the last digits of the slopes of two pieces.
    assert read(low) <= read(high) * (1 + 1e-15)
