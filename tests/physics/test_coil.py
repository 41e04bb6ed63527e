"""Relay coils: self-heating against its own equation, switch-off against integration."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.integrate import solve_ivp

from lastvolt_service.physics.coil import (
    heated_share,
    release_time_constants,
    self_heating_rise,
    switch_off_peak,
    voltage_at_rise,
)

COPPER_PER_K = 0.00393
# Below this a double has fewer digits the smaller it is, and so has the square of a tiny voltage.
SMALLEST = np.finfo(float).tiny
VOLTAGES_V = st.floats(0, 60)
RESISTANCES_OHM = st.floats(0.1, 1e4)
AMBIENTS_C = st.floats(-60, 200)
COOLINGS_K_PER_W = st.floats(1e-3, 1e3)


def rise_k(coil_v, resistance_ohm=90.0, ambient_c=20.0, k_per_w=32.0, per_k=COPPER_PER_K):
    return self_heating_rise(
        coil_v=coil_v,
        resistance_ohm=resistance_ohm,
        ambient_c=ambient_c,
        thermal_resistance_k_per_w=k_per_w,
        temperature_coefficient_per_k=per_k,
    )


def test_no_voltage_no_rise():
    assert rise_k(0.0) == 0


def test_without_a_coefficient_power_stays():
    assert_allclose(rise_k(12.0, per_k=0.0), 32.0 * 144 / 90, rtol=1e-15)


@given(VOLTAGES_V, RESISTANCES_OHM, AMBIENTS_C, COOLINGS_K_PER_W)
@example(1e-158, 90.0, 20.0, 32.0)
def test_rise_balances_power(coil_v, resistance_ohm, ambient_c, k_per_w):
    """The rise is the thermal resistance times the power of the coil as warm as it makes it."""
    rise = rise_k(coil_v, resistance_ohm, ambient_c, k_per_w)
    hot, known = (1 + COPPER_PER_K * (at_c - 20) for at_c in (ambient_c + rise, ambient_c))
    power_w = coil_v**2 / (resistance_ohm * hot / known)
    assert_allclose(rise, k_per_w * power_w, rtol=1e-12, atol=SMALLEST)


@given(VOLTAGES_V, VOLTAGES_V, RESISTANCES_OHM, AMBIENTS_C)
def test_more_voltage_never_cools(one_v, other_v, resistance_ohm, ambient_c):
    low, high = rise_k(np.array(sorted((one_v, other_v))), resistance_ohm, ambient_c)
    assert low <= high


@given(st.floats(0.1, 60), RESISTANCES_OHM, AMBIENTS_C, COOLINGS_K_PER_W)
def test_voltage_and_rise_are_inverse(coil_v, resistance_ohm, ambient_c, k_per_w):
    found_v = voltage_at_rise(
        rise_k=rise_k(coil_v, resistance_ohm, ambient_c, k_per_w),
        resistance_ohm=resistance_ohm,
        ambient_c=ambient_c,
        thermal_resistance_k_per_w=k_per_w,
        temperature_coefficient_per_k=COPPER_PER_K,
    )
    assert_allclose(found_v, coil_v, rtol=1e-12)


def test_no_voltage_keeps_a_coil_below_its_ambient():
    found_v = voltage_at_rise(
        rise_k=np.array([-1.0, 0.0]),
        resistance_ohm=90.0,
        ambient_c=160.0,
        thermal_resistance_k_per_w=32.0,
        temperature_coefficient_per_k=COPPER_PER_K,
    )
    assert found_v.tolist() == [0, 0]


def test_peak_of_each_suppressor():
    """By hand, 12 V on 120 ohm, 0.1 A: 680 ohm make 68 V of it; diode and zener add their own."""
    clamps = {"clamp_v": np.array([0.0, 0.7, 24.0]), "clamp_resistance_ohm": np.array([680, 0, 0])}
    peak_v = switch_off_peak(supply_v=12.0, resistance_ohm=120.0, **clamps)
    assert_allclose(peak_v, [80.0, 12.7, 36.0], rtol=1e-15)


@pytest.mark.parametrize(
    ("clamp_v", "clamp_ohm"), [(0.0, 0.0), (0.0, 680.0), (0.7, 0.0), (24.0, 0.0), (5.0, 50.0)]
)
def test_release_against_integration(clamp_v, clamp_ohm):
    """scipy.integrate.solve_ivp on L di/dt = -(R + R_s) i - V_c with L = 1 H."""
    supply_v, drop_out_v, coil_ohm = 14.0, 1.2, 90.0

    def released(_time_s, current_a):
        return current_a[0] - drop_out_v / coil_ohm

    released.terminal = True
    fall = solve_ivp(
        lambda _time_s, current_a: -(coil_ohm + clamp_ohm) * current_a - clamp_v,
        (0, 1),
        [supply_v / coil_ohm],
        events=released,
        rtol=1e-9,
        atol=1e-12,
    )
    found = release_time_constants(
        supply_v=supply_v,
        drop_out_v=drop_out_v,
        resistance_ohm=coil_ohm,
        clamp_v=clamp_v,
        clamp_resistance_ohm=clamp_ohm,
    )
    assert_allclose(found, fall.t_events[0][0] * coil_ohm, rtol=1e-6)


def test_coil_below_drop_out_has_released():
    found = release_time_constants(
        supply_v=np.array([1.0, 1.2]),
        drop_out_v=1.2,
        resistance_ohm=90.0,
        clamp_v=0.7,
        clamp_resistance_ohm=0.0,
    )
    assert found.tolist() == [0, 0]


@given(st.floats(2, 60), st.floats(0, 100), st.floats(0, 100), st.floats(0, 1e3))
def test_more_clamp_releases_sooner(supply_v, one_v, other_v, clamp_ohm):
    slow, fast = release_time_constants(
        supply_v=supply_v,
        drop_out_v=1.2,
        resistance_ohm=90.0,
        clamp_v=np.array(sorted((one_v, other_v))),
        clamp_resistance_ohm=clamp_ohm,
    )
    assert slow >= fast - 1e-15


@pytest.mark.parametrize("first_rise_k", [1.0, 50.0, 250.0, 800.0])
def test_warming_in_time_is_never_below_its_own_equation(first_rise_k):
    """One heat capacity, heated by the power of a coil whose resistance grows, integrated."""
    ambient_c, time_constant_s = 20.0, 60.0
    ohm, k_per_w = 90.0, 32.0
    coil_v = np.sqrt(first_rise_k / k_per_w * ohm)
    times_s = np.array([0.6, 10.0, 60.0, 120.0, 1200.0])

    def warming(_, rise):
        hot = 1 + COPPER_PER_K * rise
        return (first_rise_k / hot - rise) / time_constant_s

    true_k = solve_ivp(warming, (0, times_s[-1]), [0.0], t_eval=times_s, rtol=1e-10, atol=1e-12).y[
        0
    ]
    found_k = self_heating_rise(
        coil_v=coil_v,
        resistance_ohm=ohm,
        ambient_c=ambient_c,
        thermal_resistance_k_per_w=k_per_w,
        temperature_coefficient_per_k=COPPER_PER_K,
        share=heated_share(duration_s=times_s, time_constant_s=time_constant_s),
    )
    assert (found_k >= true_k * (1 - 1e-8)).all()
    # No warmer than the docstring says, right at either end.
    assert (found_k <= 1.34 * true_k).all()
    assert_allclose(found_k[-1], true_k[-1], rtol=1e-6)
    assert found_k[0] <= 1.02 * true_k[0]


@given(st.floats(0.1, 60), st.floats(1e-4, 1.0))
def test_voltage_and_rise_are_inverse_in_any_time(coil_v, share):
    fixed = {
        "resistance_ohm": 90.0,
        "ambient_c": 20.0,
        "thermal_resistance_k_per_w": 32.0,
        "temperature_coefficient_per_k": COPPER_PER_K,
        "share": share,
    }
    rise = self_heating_rise(coil_v=coil_v, **fixed)
    assert_allclose(voltage_at_rise(rise_k=rise, **fixed), coil_v, rtol=1e-12)
