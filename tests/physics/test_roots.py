"""Crossings of rising functions, against their closed forms."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from lastvolt_service.physics.roots import rising_crossing


def crossing(function, low, high, tolerance=1e-9):
    return rising_crossing(function=function, low=low, high=high, tolerance=tolerance)


@pytest.mark.parametrize(
    ("function", "low", "high", "expected"),
    [
        pytest.param(lambda x: x - 3, 0, 1000, 3.0, id="straight"),
        pytest.param(lambda x: x**2 - 2, 0, 1000, math.sqrt(2), id="square"),
        pytest.param(lambda x: math.exp(x) - 5, -60, 400, math.log(5), id="exponential"),
        pytest.param(lambda x: math.atan(x - 7), -1000, 1000, 7.0, id="flat at both ends"),
        pytest.param(lambda x: x, 0, 1, 0.0, id="at the low end"),
        pytest.param(lambda x: x - 1, 0, 1, 1.0, id="at the high end"),
    ],
)
def test_closed_forms(function, low, high, expected):
    assert crossing(function, low, high) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_nothing_to_find():
    assert crossing(lambda x: x + 1, 0, 10) is None
    assert crossing(lambda x: x - 11, 0, 10) == 10


@given(at=st.floats(1e-3, 999), height=st.sampled_from([1.0, 1e-9, 1e9, math.inf]))
def test_a_jump_is_found_from_the_good_side(at, height):
    found = crossing(lambda x: height if x > at else -1.0, 0, 1000, 1e-9)
    assert found <= at
    assert at - found <= 1e-9 * max(1.0, at)


@given(at=st.floats(1e-3, 999))
def test_straight_below_and_infinite_above(at):
    found = crossing(lambda x: x - at - 1 if x <= at else math.inf, 0, 1000, 1e-9)
    assert found <= at
    assert at - found <= 1e-9 * max(1.0, at)


@given(
    root=st.floats(-50, 390),
    slope=st.floats(1e-3, 1e3),
    bend=st.floats(0, 10),
    wave=st.floats(0, 0.9),
)
def test_any_rising_function_as_scipy_finds_it(root, slope, bend, wave):
    def rising(x):
        off = x - root
        return slope * (off + wave * math.sin(off)) + bend * off**3

    found = crossing(rising, -60, 400, 1e-6)
    expected = brentq(rising, -60, 400, xtol=1e-9)
    assert abs(found - expected) <= 2e-6 * max(1.0, abs(expected))
    assert rising(found) <= 0


def test_a_straight_function_takes_a_handful_of_steps():
    asked = []

    def straight(x):
        asked.append(x)
        return x / 0.3 - 1

    crossing(straight, 0, 1000, 1e-6)
    assert len(asked) <= 6
