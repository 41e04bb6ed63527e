"""Steady heat: the balance closes, at the limits too, and arrays equal loops of scalars."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose, assert_array_equal

from lastvolt_service.physics import blocks, conductors, cooling, heating

CEILING_C = 250.0
WIRE = cooling.Wire(
    resistance_20_ohm_per_m=5.3e-3,
    temperature_coefficient_per_k=3.93e-3,
    conductor_diameter_mm=2.3,
    outer_diameter_mm=3.5,
    insulation_w_per_m_k=0.2,
    ambient_c=40.0,
)


def _gauge(gauge, wall_mm=0.6, **other):
    diameter_mm = conductors.awg_diameter_mm(gauge=gauge)
    area_mm2 = conductors.circle_area_mm2(diameter_mm=diameter_mm)
    return dataclasses.replace(
        WIRE,
        resistance_20_ohm_per_m=0.01758 / area_mm2,
        conductor_diameter_mm=1.147 * diameter_mm,
        outer_diameter_mm=1.147 * diameter_mm + 2 * wall_mm,
        **other,
    )


def _settled(current_a, wire, ceiling_c=CEILING_C):
    return heating.conductor_temperature(current_a=current_a, wire=wire, ceiling_c=ceiling_c)


wires = st.builds(
    _gauge,
    st.floats(-3, 36),
    wall_mm=st.floats(0.0, 2.0),
    ambient_c=st.floats(-60, 150),
    pressure_pa=st.floats(4e4, 1.1e5),
    emissivity=st.floats(0.05, 1.0),
    grouping_factor=st.floats(0.3, 1.0),
)
shares = st.floats(0.0, 1.6)


@given(wire=wires, share=shares)
@settings(max_examples=300, deadline=None)
def test_balance_closes_or_runs_away(wire, share):
    """Heat released, through the insulation and off the surface, each from the answer alone."""
    full_a = heating.permissible_current_a(limit_c=200.0, wire=wire)
    found = _settled(share * full_a, wire)
    assert found.converged != found.runaway
    if found.runaway:
        assert np.isnan(found.conductor_temperature_c)
        assert np.isnan(found.surface_temperature_c)
        return
    assert abs(found.residual) <= heating.TOLERANCE
    ratio = conductors.resistance_ratio(
        temperature_c=found.conductor_temperature_c, temperature_coefficient_per_k=3.93e-3
    )
    single_a = share * full_a / wire.grouping_factor
    released = single_a**2 * wire.resistance_20_ohm_per_m * ratio
    rise = found.surface_temperature_c - wire.ambient_c
    off = rise * cooling.surface_cooling(rise_k=rise, wire=wire).w_per_m_k
    # Temperatures carry 1e-14 of themselves, and small rises are their differences.
    assert_allclose(off, released, rtol=1e-9, atol=1e-12)
    drop = found.conductor_temperature_c - found.surface_temperature_c
    assert_allclose(drop, released * wire.insulation_k_m_per_w, rtol=1e-9, atol=1e-11)


@given(wire=wires, limit_c=st.floats(60, 240))
@settings(max_examples=200, deadline=None)
def test_permissible_current_is_the_inverse(wire, limit_c):
    current_a = heating.permissible_current_a(limit_c=limit_c, wire=wire)
    if limit_c <= wire.ambient_c:
        assert current_a == 0.0
        return
    found = _settled(current_a, wire)
    assert_allclose(found.conductor_temperature_c, limit_c, rtol=0, atol=1e-6)


@given(
    wire=wires,
    shares=st.tuples(shares, shares).filter(lambda pair: abs(pair[0] - pair[1]) > 1e-3),
)
@settings(max_examples=100, deadline=None)
def test_more_current_is_hotter(wire, shares):
    full_a = heating.permissible_current_a(limit_c=200.0, wire=wire)
    less, more = (_settled(share * full_a, wire) for share in sorted(shares))
    if full_a == 0.0 or more.runaway:
        assert less.runaway <= more.runaway
        return
    assert more.conductor_temperature_c > less.conductor_temperature_c


@pytest.mark.parametrize("ambient_c", [-60.0, 0.0, 23.7, 150.0])
def test_no_current_is_ambient_exactly(ambient_c):
    found = _settled(0.0, _gauge(12, ambient_c=ambient_c))
    assert found.conductor_temperature_c == ambient_c
    assert found.surface_temperature_c == ambient_c
    assert found.residual == 0.0


def test_bare_wire_has_no_drop_to_its_surface():
    found = _settled(30.0, _gauge(12, wall_mm=0.0))
    assert found.conductor_temperature_c == found.surface_temperature_c


@pytest.mark.parametrize("gauge", [36.0, 12.0, -3.0])
def test_runaway(gauge):
    found = _settled(1e4, _gauge(gauge))
    assert found.runaway
    assert not found.converged
    assert np.isnan(found.conductor_temperature_c)


def test_runaway_is_told_from_not_a_number():
    found = _settled(np.array([np.nan, 10.0, 1e4]), _gauge(12))
    assert_array_equal(found.runaway, [False, False, True])
    assert_array_equal(found.converged, [False, True, False])
    assert_array_equal(np.isnan(found.conductor_temperature_c), [True, False, True])
    assert found.conductor_temperature_c[1] == _settled(10.0, _gauge(12)).conductor_temperature_c


def test_ceiling_decides_between_equilibrium_and_runaway():
    wire = _gauge(12)
    current_a = heating.permissible_current_a(limit_c=180.0, wire=wire)
    below, above = _settled(current_a, wire, ceiling_c=np.array([179.9, 180.1])).runaway
    assert below
    assert not above


def test_ambient_beyond_the_limit():
    wire = _gauge(12, ambient_c=np.array([104.9, 105.0, 105.1, 300.0]))
    current_a = heating.permissible_current_a(limit_c=105.0, wire=wire)
    assert current_a[0] > 0.0
    assert_array_equal(current_a[1:], 0.0)
    assert_array_equal(_settled(0.0, wire, ceiling_c=105.0).runaway, [False, False, True, True])


def test_a_group_is_the_wire_alone_at_more_current():
    alone, grouped = _gauge(12), _gauge(12, grouping_factor=0.6)
    full_a = heating.permissible_current_a(limit_c=105.0, wire=alone)
    grouped_a = heating.permissible_current_a(limit_c=105.0, wire=grouped)
    assert_allclose(grouped_a, 0.6 * full_a, rtol=1e-14)
    assert_allclose(
        _settled(15.0, grouped).conductor_temperature_c,
        _settled(25.0, alone).conductor_temperature_c,
        rtol=1e-13,
    )


def test_height_costs_current():
    pressure_pa = np.array([101325.0, 80000.0, 47000.0])
    current_a = heating.permissible_current_a(
        limit_c=105.0, wire=_gauge(12, pressure_pa=pressure_pa)
    )
    assert np.all(np.diff(current_a) < 0.0)


def test_arrays_equal_loops():
    rows = 300
    random = np.random.default_rng(3)
    columns = {
        "ambient_c": random.uniform(-40, 120, rows),
        "grouping_factor": random.uniform(0.4, 1.0, rows),
    }
    gauge, share = random.integers(-3, 37, rows).astype(float), random.uniform(0, 1.5, rows)
    wire = _gauge(gauge, **columns)
    current_a = heating.permissible_current_a(limit_c=125.0, wire=wire) * share
    found = _settled(current_a, wire)
    for row in range(0, rows, 7):
        single = _gauge(gauge[row], **{name: column[row] for name, column in columns.items()})
        alone = _settled(current_a[row], single)
        assert np.ndim(alone.conductor_temperature_c) == 0
        assert_allclose(
            alone.conductor_temperature_c, found.conductor_temperature_c[row], rtol=1e-12
        )
        assert alone.runaway == found.runaway[row]


def test_blocks_keep_shape_and_order():
    rows = blocks.BLOCK_ROWS + 100
    current_a = np.linspace(0.0, 60.0, 2 * rows).reshape(2, rows)
    wire = _gauge(12, ambient_c=np.array([[20.0], [80.0]]))
    found = _settled(current_a, wire)
    assert found.conductor_temperature_c.shape == (2, rows)
    for row, column in ((0, 5), (0, rows - 1), (1, 0), (1, rows - 1)):
        alone = _settled(current_a[row, column], _gauge(12, ambient_c=(20.0, 80.0)[row]))
        assert_allclose(
            found.conductor_temperature_c[row, column], alone.conductor_temperature_c, rtol=1e-12
        )


def test_few_evaluations():
    random = np.random.default_rng(5)
    wire = _gauge(random.uniform(-3, 36, 5000), ambient_c=random.uniform(-40, 100, 5000))
    full_a = heating.permissible_current_a(limit_c=125.0, wire=wire)
    found = _settled(full_a * random.uniform(0, 1.3, 5000), wire)
    assert np.all(found.converged | found.runaway)
    assert found.iterations.max() <= 10


def test_no_wires_at_all_have_no_temperatures():
    none = np.empty(0)
    found = _settled(none, WIRE)
    assert found.conductor_temperature_c.shape == (0,)
    assert found.iterations.shape == (0,)
    assert heating.permissible_current_a(limit_c=none, wire=WIRE).shape == (0,)
