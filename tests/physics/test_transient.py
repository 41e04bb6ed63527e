"""Heat in time: the ends of the range, cooling, and duty."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose, assert_array_equal

from lastvolt_service.physics import cooling, fusing, heat_layers, heating, hottest, transient

CEILING_C = 300.0
AREA_MM2 = 3.31
METAL, COVER = transient.heat_capacities_j_per_m_k(
    area_mm2=AREA_MM2,
    metal_j_per_m3_k=3.432e6,
    conductor_diameter_mm=2.3,
    outer_diameter_mm=3.5,
    insulation_j_per_m3_k=1.7e6,
)
WIRE = cooling.Wire(
    resistance_20_ohm_per_m=5.3e-3,
    temperature_coefficient_per_k=3.93e-3,
    conductor_diameter_mm=2.3,
    outer_diameter_mm=3.5,
    insulation_w_per_m_k=0.2,
    ambient_c=40.0,
    metal_j_per_m_k=METAL,
    insulation_j_per_m_k=COVER,
)


def _after(current_a, time_s, start_c=40.0, wire=WIRE, ceiling_c=CEILING_C):
    return transient.temperature_after_c(
        current_a=current_a, on_time_s=time_s, start_c=start_c, ceiling_c=ceiling_c, wire=wire
    )


def _duty(time_s, wire=WIRE, limit_c=105.0, **off):
    return transient.duty_current_a(limit_c=limit_c, on_time_s=time_s, wire=wire, **off)


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


def test_short_time_is_adiabatic_in_the_metal():
    expected = fusing.adiabatic_temperature_c(
        start_c=40.0,
        integral_a2s=1000.0**2 * 1e-4,
        heat_capacity_j_per_m_k=METAL,
        resistance_20_ohm_per_m=5.3e-3,
        temperature_coefficient_per_k=3.93e-3,
    )
    found = _after(1000.0, 1e-4)
    assert_allclose(found - 40.0, expected - 40.0, rtol=1e-3)
    assert found <= expected


def test_passing_the_ceiling_is_not_a_number():
    found = _after(200.0, np.array([0.1, 1.0, 60.0, 1e5]))
    assert_array_equal(np.isnan(found), [False, False, True, True])
    assert np.isnan(_after(200.0, 0.1, start_c=CEILING_C + 1))


def test_what_rests_before_goes_on_as_one():
    """From a rest, one time after the other: no shorter time ends hotter, and none jumps."""
    rises = _after(60.0, np.geomspace(1e-3, 60.0, 400))
    assert np.all(np.diff(rises) > 0.0)
    assert np.all(np.diff(rises) < 0.04 * (rises[1:] - 40.0))
    falls = _after(10.0, np.geomspace(1e-3, 1e4, 400), start_c=120.0)
    assert np.all(np.diff(falls) <= 1e-5)


def test_time_constant_falls_to_the_slope_at_rest():
    """Van Wormer: the middle of the cover's heat capacity, as its share of the resistance."""
    current_a = np.array([0.0, 1e4])
    steady = heating.conductor_temperature(current_a=current_a, wire=WIRE, ceiling_c=CEILING_C)
    tau = transient.time_constant_s(
        current_a=current_a, surface_c=steady.surface_temperature_c, wire=WIRE
    )
    outside = 1 / cooling.surface_cooling(rise_k=0.0, wire=WIRE).w_per_m_k
    radius = np.linspace(2.3, 3.5, 20_001) / 2
    resistance = np.log(1.75 / radius) / (2 * np.pi * 0.2)
    middle = np.trapezoid(resistance * radius, radius) / np.trapezoid(radius, radius)
    expected = METAL * (outside + WIRE.insulation_k_m_per_w) + COVER * (outside + middle)
    assert_allclose(tau[0], expected, rtol=1e-6)
    assert np.isnan(tau[1])


@given(
    limit_c=st.floats(60, 200),
    on_time_s=st.floats(1e-3, 1e6),
    off_time_s=st.one_of(st.just(np.inf), st.floats(0, 1e6)),
    ambient_c=st.floats(-40, 55),
    grouping_factor=st.floats(0.4, 1.0),
)
@settings(max_examples=60, deadline=None)
def test_duty_current_reaches_the_limit(limit_c, on_time_s, off_time_s, ambient_c, grouping_factor):
    """A wire at ambient, driven for long, comes up to the limit and never much beyond."""
    wire = dataclasses.replace(WIRE, ambient_c=ambient_c, grouping_factor=grouping_factor)
    current_a = _duty(on_time_s, wire, limit_c, off_time_s=off_time_s)
    steady_a = heating.permissible_current_a(limit_c=limit_c, wire=wire)
    assert current_a >= steady_a * (1 - 1e-9)
    # No cycle carries more than its mean square can be.
    if np.isfinite(off_time_s):
        assert current_a <= steady_a * np.sqrt(1 + off_time_s / on_time_s) * (1 + 1e-6)
    wires = heat_layers.LayeredWires(wire)
    heats, cools = wires.surface(ambient_c, limit_c), wires.surface(limit_c, ambient_c)
    loaded = wires.at(wires.each((current_a / grouping_factor) ** 2), heats)
    resting = wires.at(wires.each(0.0), cools)
    rises = 0.0 * wires.at_rest(limit_c, heats.heat_w_per_m[-1])
    peaks = []
    for _ in range(60):
        valley = resting.after(rises, wires.each(off_time_s))
        rises = loaded.after(valley, wires.each(on_time_s))
        peaks.append(rises[0, 0])
    top = limit_c - ambient_c
    assert max(peaks) <= top * (1 + 1e-3)
    # 60 cycles of milliseconds are on their way.
    assert peaks[-1] >= top * (1 - 1e-3) or peaks[-1] > peaks[-2]


def test_duty_current_between_its_ends():
    steady_a = heating.permissible_current_a(limit_c=105.0, wire=WIRE)
    assert_allclose(_duty(np.array([1e4, 1e6, np.inf])), steady_a, rtol=1e-8)
    assert_allclose(_duty(10.0, off_time_s=0.0), steady_a, rtol=1e-8)
    assert _duty(0.0) == np.inf
    once, often = _duty(10.0), _duty(10.0, off_time_s=np.array([1.0, 10.0, 100.0, 1e4]))
    assert np.all(np.diff(often) > 0.0)
    assert_allclose(often[-1], once, rtol=1e-9)
    assert np.all(np.diff(_duty(np.geomspace(1e-3, 1e3, 50))) < 0.0)


def test_a_bare_wire_is_its_metal():
    bare = dataclasses.replace(WIRE, outer_diameter_mm=2.3, insulation_j_per_m_k=0.0)
    for time_s, current_a in ((1e-3, 900.0), (30.0, 60.0), (1e6, 20.0)):
        found = _after(current_a, time_s, wire=bare, ceiling_c=400.0)
        slightly = dataclasses.replace(bare, outer_diameter_mm=2.31, insulation_j_per_m_k=0.03)
        assert_allclose(found, _after(current_a, time_s, wire=slightly, ceiling_c=400.0), rtol=0.01)
    assert np.isfinite(_duty(np.array([0.01, 10.0, 1e5]), bare, off_time_s=20.0)).all()


def test_duty_without_headroom():
    wire = dataclasses.replace(WIRE, ambient_c=np.array([104.0, 105.0, 120.0]))
    found = _duty(10.0, wire)
    assert found[0] > 0.0
    assert_array_equal(found[1:], 0.0)


def test_short_duty_is_adiabatic_in_the_metal():
    integral = fusing.adiabatic_a2s(
        start_c=40.0,
        end_c=105.0,
        heat_capacity_j_per_m_k=METAL,
        resistance_20_ohm_per_m=5.3e-3,
        temperature_coefficient_per_k=3.93e-3,
    )
    assert_allclose(_duty(1e-4), np.sqrt(integral / 1e-4), rtol=1e-3)


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


def test_no_conductor_gets_hotter_than_the_bound_on_it():
    """Of many wires, currents and times, some of them lost; half a kelvin is of steps in time."""
    draw, count = np.random.default_rng(7), 20_000

    def between(low, high):
        return np.exp(draw.uniform(np.log(low), np.log(high), count))

    area_mm2, wall_mm = between(0.35, 120.0), between(0.2, 2.0)
    inner_mm = 1.13 * np.sqrt(4.0 * area_mm2 / np.pi)
    metal, cover = transient.heat_capacities_j_per_m_k(
        area_mm2=area_mm2,
        metal_j_per_m3_k=3.432e6,
        conductor_diameter_mm=inner_mm,
        outer_diameter_mm=inner_mm + 2.0 * wall_mm,
        insulation_j_per_m3_k=1.7e6,
    )
    wire = cooling.Wire(
        resistance_20_ohm_per_m=0.01724 / area_mm2,
        temperature_coefficient_per_k=np.full(count, 3.93e-3),
        conductor_diameter_mm=inner_mm,
        outer_diameter_mm=inner_mm + 2.0 * wall_mm,
        insulation_w_per_m_k=np.full(count, 0.2),
        ambient_c=draw.uniform(-40.0, 85.0, count),
        grouping_factor=draw.uniform(0.5, 1.0, count),
        metal_j_per_m_k=metal,
        insulation_j_per_m_k=cover,
    )
    # Amperes per square millimetre are more in thin wires.
    current_a, time_s = between(2.0, 150.0) * area_mm2**0.75, between(0.01, 1e4)
    start_c = wire.ambient_c + draw.uniform(0.0, 1.0, count) * (CEILING_C - wire.ambient_c)
    found_c = _after(current_a, time_s, start_c, wire)
    most_c = hottest.hottest_c(current_a=current_a, on_time_s=time_s, start_c=start_c, wire=wire)
    is_lost = np.isnan(found_c)
    assert 0.1 < is_lost.mean() < 0.9
    assert np.all(most_c[~is_lost] >= found_c[~is_lost] - 0.5)
    assert np.all(most_c[is_lost] >= CEILING_C - 0.5)
    # It is worth something: most that stay wires are known to without following them.
    assert (most_c[~is_lost] < CEILING_C).mean() > 0.5
