"""Heat in time: the ends of the range, cooling, and duty."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose, assert_array_equal

from lastvolt_service.physics import cooling, fusing, heating, transient

CEILING_C = 300.0
AREA_MM2 = 3.31
WIRE = cooling.Wire(
    resistance_20_ohm_per_m=5.3e-3,
    temperature_coefficient_per_k=3.93e-3,
    conductor_diameter_mm=2.3,
    outer_diameter_mm=3.5,
    insulation_w_per_m_k=0.2,
    ambient_c=40.0,
)
CAPACITY = transient.heat_capacity_j_per_m_k(
    area_mm2=AREA_MM2,
    metal_j_per_m3_k=3.432e6,
    conductor_diameter_mm=2.3,
    outer_diameter_mm=3.5,
    insulation_j_per_m3_k=1.7e6,
)


def _after(current_a, time_s, start_c=40.0, wire=WIRE, ceiling_c=CEILING_C):
    return transient.temperature_after_c(
        current_a=current_a,
        on_time_s=time_s,
        start_c=start_c,
        ceiling_c=ceiling_c,
        wire=wire,
        heat_capacity_j_per_m_k=CAPACITY,
    )


def _duty(time_s, wire=WIRE, limit_c=105.0, **off):
    return transient.duty_current_a(
        limit_c=limit_c, on_time_s=time_s, wire=wire, heat_capacity_j_per_m_k=CAPACITY, **off
    )


def test_heat_capacity():
    bare = transient.heat_capacity_j_per_m_k(
        area_mm2=AREA_MM2,
        metal_j_per_m3_k=3.432e6,
        conductor_diameter_mm=2.3,
        outer_diameter_mm=2.3,
        insulation_j_per_m3_k=1.7e6,
    )
    assert_allclose(bare, 3.432 * AREA_MM2, rtol=1e-12)
    insulation = 1.7 * np.pi / 4 * (3.5**2 - 2.3**2)
    assert bare < CAPACITY < bare + 0.5 * insulation  # less than half of it counts


@pytest.mark.parametrize("current_a", [0.0, 20.0, 1000.0])
@pytest.mark.parametrize("start_c", [-20.0, 40.0, 150.0])
def test_no_time_changes_nothing(current_a, start_c):
    assert_allclose(_after(current_a, 0.0, start_c), start_c, rtol=1e-12)


@pytest.mark.parametrize("current_a", [0.0, 20.0, 45.0])
@pytest.mark.parametrize("start_c", [-20.0, 40.0, 150.0])
def test_long_time_is_the_steady_state(current_a, start_c):
    steady = heating.conductor_temperature(current_a=current_a, wire=WIRE, ceiling_c=CEILING_C)
    for time_s in (1e4, 1e6, np.inf):
        found = _after(current_a, time_s, start_c)
        assert_allclose(found, steady.conductor_temperature_c, atol=1e-6)


def test_start_at_the_steady_state_stays():
    current_a = heating.permissible_current_a(limit_c=105.0, wire=WIRE)
    found = _after(current_a, np.array([0.0, 1.0, 100.0, 1e6]), start_c=105.0)
    assert_allclose(found, 105.0, atol=1e-6)
    assert _after(0.0, 10.0) == 40.0


def test_short_time_is_adiabatic():
    expected = fusing.adiabatic_temperature_c(
        start_c=40.0,
        integral_a2s=1000.0**2 * 1e-3,
        heat_capacity_j_per_m_k=CAPACITY,
        resistance_20_ohm_per_m=5.3e-3,
        temperature_coefficient_per_k=3.93e-3,
    )
    assert_allclose(_after(1000.0, 1e-3) - 40.0, expected - 40.0, rtol=1e-4)


def test_passing_the_ceiling_is_not_a_number():
    found = _after(200.0, np.array([0.1, 1.0, 60.0, 1e5]))
    assert_array_equal(np.isnan(found), [False, False, True, True])
    assert np.isnan(_after(200.0, 0.1, start_c=CEILING_C + 1))


def test_two_halves_make_a_whole():
    middle = _after(60.0, 20.0)
    assert_allclose(_after(60.0, 20.0, middle), _after(60.0, 40.0), atol=0.05)


def test_time_constant_falls_to_the_slope_at_rest():
    current_a = np.array([0.0, 1e4])
    steady = heating.conductor_temperature(current_a=current_a, wire=WIRE, ceiling_c=CEILING_C)
    tau = transient.time_constant_s(
        current_a=current_a,
        surface_c=steady.surface_temperature_c,
        wire=WIRE,
        heat_capacity_j_per_m_k=CAPACITY,
    )
    slope = cooling.surface_cooling(rise_k=0.0, wire=WIRE).w_per_m_k
    expected = CAPACITY * (1.0 / slope + WIRE.insulation_k_m_per_w)
    assert_allclose(tau[0], expected, rtol=1e-9)
    assert np.isnan(tau[1])


@given(
    limit_c=st.floats(60, 200),
    on_time_s=st.floats(1e-3, 1e6),
    off_time_s=st.one_of(st.just(np.inf), st.floats(0, 1e6)),
    ambient_c=st.floats(-40, 55),
    grouping_factor=st.floats(0.4, 1.0),
)
@settings(max_examples=200, deadline=None)
def test_duty_current_reaches_the_limit(limit_c, on_time_s, off_time_s, ambient_c, grouping_factor):
    """One cycle from the limit leads back to the limit, and never allows less than steady."""
    wire = dataclasses.replace(WIRE, ambient_c=ambient_c, grouping_factor=grouping_factor)
    current_a = _duty(on_time_s, wire, limit_c, off_time_s=off_time_s)
    steady_a = heating.permissible_current_a(limit_c=limit_c, wire=wire)
    assert current_a >= steady_a * (1 - 1e-9)
    valley_c = _after(0.0, off_time_s, limit_c, wire)
    peak_c = _after(current_a, on_time_s, valley_c, wire, ceiling_c=1000.0)
    assert abs(peak_c - limit_c) <= 2e-3 * (limit_c - ambient_c)  # twice 0.1 % of the way


def test_duty_current_between_its_ends():
    steady_a = heating.permissible_current_a(limit_c=105.0, wire=WIRE)
    assert_allclose(_duty(np.array([1e4, 1e6, np.inf])), steady_a, rtol=1e-9)
    assert_allclose(_duty(10.0, off_time_s=0.0), steady_a, rtol=1e-9)
    assert _duty(0.0) == np.inf
    once, often = _duty(10.0), _duty(10.0, off_time_s=np.array([1.0, 10.0, 100.0, 1e4]))
    assert np.all(np.diff(often) > 0.0)
    assert_allclose(often[-1], once, rtol=1e-9)
    assert np.all(np.diff(_duty(np.geomspace(1e-3, 1e3, 50))) < 0.0)


def test_duty_without_headroom():
    wire = dataclasses.replace(WIRE, ambient_c=np.array([104.0, 105.0, 120.0]))
    found = _duty(10.0, wire)
    assert found[0] > 0.0
    assert_array_equal(found[1:], 0.0)


def test_short_duty_is_adiabatic():
    integral = fusing.adiabatic_a2s(
        start_c=40.0,
        end_c=105.0,
        heat_capacity_j_per_m_k=CAPACITY,
        resistance_20_ohm_per_m=5.3e-3,
        temperature_coefficient_per_k=3.93e-3,
    )
    assert_allclose(_duty(1e-3), np.sqrt(integral / 1e-3), rtol=1e-4)


def test_arrays_equal_loops():
    rows = 2500  # more than a block
    random = np.random.default_rng(7)
    wire = dataclasses.replace(WIRE, ambient_c=random.uniform(-40, 90, rows))
    current_a, time_s = random.uniform(0, 200, rows), 10 ** random.uniform(-1, 4, rows)
    heated = _after(current_a, time_s, start_c=wire.ambient_c, wire=wire)
    allowed = _duty(time_s, wire, off_time_s=2 * time_s)
    for row in range(0, rows, 250):
        single = dataclasses.replace(WIRE, ambient_c=wire.ambient_c[row])
        alone = _after(current_a[row], time_s[row], start_c=single.ambient_c, wire=single)
        assert np.ndim(alone) == 0
        assert_allclose(alone, heated[row], rtol=1e-9)
        alone = _duty(time_s[row], single, off_time_s=2 * time_s[row])
        assert_allclose(alone, allowed[row], rtol=1e-9)


def test_not_a_number_stays_in_its_row():
    bad = np.array([np.nan, 10.0])
    assert_array_equal(np.isnan(_duty(bad)), [True, False])
    assert_array_equal(np.isnan(_after(20.0, bad)), [True, False])
    assert_array_equal(np.isnan(_after(bad, 10.0)), [True, False])
