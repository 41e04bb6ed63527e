"""Heat in time against scipy's solver of differential equations."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from lastvolt_service.physics import conductors, heating, transient
from lastvolt_service.physics.cooling import Wire, surface_cooling

COPPER_PER_K = 3.93e-3
CEILING_C = 500.0
# The range of the way is cut into straight pieces: 0.1 % of the change of temperature.
SHARE = 1e-3


def _wire(gauge, ambient_c, grouping_factor=1.0):
    diameter_mm = conductors.awg_diameter_mm(gauge=gauge)
    area_mm2 = conductors.circle_area_mm2(diameter_mm=diameter_mm)
    wire = Wire(
        resistance_20_ohm_per_m=0.01724 / area_mm2,
        temperature_coefficient_per_k=COPPER_PER_K,
        conductor_diameter_mm=1.15 * diameter_mm,
        outer_diameter_mm=1.15 * diameter_mm + 1.2,
        insulation_w_per_m_k=0.2,
        ambient_c=ambient_c,
        grouping_factor=grouping_factor,
    )
    return wire, 4.0 * area_mm2  # J/(m*K): copper and a little insulation


def _solved(wire, capacity, current_a, time_s, start_c):
    """Temperature by LSODA; the surface is found anew at each step by Brent's method."""
    resistance = wire.insulation_k_m_per_w

    def heat_off(conductor_c):
        rise = conductor_c - wire.ambient_c

        def excess(surface):
            given = surface_cooling(rise_k=surface, wire=wire).w_per_m_k
            return surface * (1.0 + resistance * given) - rise

        surface = brentq(excess, min(rise, 0.0) - 1e-6, max(rise, 0.0) + 1e-6, xtol=1e-12)
        return surface * surface_cooling(rise_k=surface, wire=wire).w_per_m_k

    def slope(_, state):
        ohm_per_m = wire.resistance_20_ohm_per_m * (1.0 + COPPER_PER_K * (state[0] - 20.0))
        off = wire.grouping_factor**2 * heat_off(state[0])
        return [(current_a**2 * ohm_per_m - off) / capacity]

    return solve_ivp(slope, (0, time_s), [start_c], method="LSODA", rtol=1e-7, atol=1e-7).y[0, -1]


@pytest.mark.parametrize(
    ("gauge", "ambient_c", "grouping_factor", "share_of_steady", "time_s", "start_c"),
    [
        (14, 20.0, 1.0, 1.0, 5.0, 20.0),
        (14, 60.0, 0.5, 0.9, 60.0, 60.0),
        (22, 85.0, 1.0, 1.4, 10.0, 85.0),  # settles above the limit of 125 degC
        (36, 20.0, 1.0, 1.0, 0.5, 20.0),
        (0, 20.0, 1.0, 3.0, 20.0, 20.0),  # would run away: a starter cable
        (-3, -40.0, 1.0, 1.0, 1000.0, -40.0),
        (4, 40.0, 1.0, 0.0, 100.0, 120.0),  # cooling without current
        (10, 40.0, 1.0, 0.5, 40.0, 120.0),  # cooling with current
        (10, 90.0, 1.0, 0.7, 30.0, -20.0),  # from a cold morning into a hot place
    ],
)
def test_temperature_after(gauge, ambient_c, grouping_factor, share_of_steady, time_s, start_c):
    wire, capacity = _wire(gauge, ambient_c, grouping_factor)
    current_a = share_of_steady * heating.permissible_current_a(limit_c=125.0, wire=wire)
    found = transient.temperature_after_c(
        current_a=current_a,
        on_time_s=time_s,
        start_c=start_c,
        ceiling_c=CEILING_C,
        wire=wire,
        heat_capacity_j_per_m_k=capacity,
    )
    expected = _solved(wire, capacity, current_a, time_s, start_c)
    assert abs(found - expected) <= SHARE * abs(expected - start_c)


def test_time_constant():
    """A small step decays as exp(-t / tau) about the steady state, by scipy."""
    wire, capacity = _wire(10, 40.0)
    current_a = heating.permissible_current_a(limit_c=105.0, wire=wire)
    steady = heating.conductor_temperature(current_a=current_a, wire=wire, ceiling_c=CEILING_C)
    tau = transient.time_constant_s(
        current_a=current_a,
        surface_c=steady.surface_temperature_c,
        wire=wire,
        heat_capacity_j_per_m_k=capacity,
    )
    left = _solved(wire, capacity, current_a, float(tau), 104.9) - 105.0
    assert_allclose(left, -0.1 * np.exp(-1.0), rtol=2e-3)  # 0.1 K is not quite an infinitesimal


@pytest.mark.parametrize(("on_time_s", "off_time_s"), [(2.0, 8.0), (10.0, 50.0), (60.0, 60.0)])
def test_duty_current(on_time_s, off_time_s):
    """Driven by scipy until the cycle repeats, the peak is the limit."""
    wire, capacity = _wire(12, 60.0)
    current_a = transient.duty_current_a(
        limit_c=125.0,
        on_time_s=on_time_s,
        off_time_s=off_time_s,
        wire=wire,
        heat_capacity_j_per_m_k=capacity,
    )
    peak, before = 110.0, 0.0
    while abs(peak - before) > 1e-4:
        before = peak
        valley = _solved(wire, capacity, 0.0, off_time_s, peak)
        peak = _solved(wire, capacity, current_a, on_time_s, valley)
    assert abs(peak - 125.0) <= SHARE * (125.0 - 60.0)
