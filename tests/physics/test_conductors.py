"""Resistance of conductors: limits and directions."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.physics.conductors import (
    awg_diameter_mm,
    circle_area_mm2,
    resistance_change,
    resistance_per_length,
    resistance_ratio,
    temperature_at_ratio,
)

TEMPERATURES_C = st.floats(-60, 400)
COEFFICIENTS_PER_K = st.floats(1e-5, 0.006)


def test_ratio_is_one_at_20_degc():
    assert resistance_ratio(temperature_c=20.0, temperature_coefficient_per_k=0.00393) == 1


def test_no_coefficient_no_change():
    found = resistance_change(
        temperature_c=np.array([-60.0, 400.0]),
        reference_temperature_c=85.0,
        temperature_coefficient_per_k=0.0,
    )
    assert_allclose(found, 1.0, rtol=0)


@given(TEMPERATURES_C, TEMPERATURES_C, COEFFICIENTS_PER_K)
def test_hotter_never_lowers_resistance(one_c, other_c, per_k):
    cold_c, hot_c = sorted((one_c, other_c))
    ratio = resistance_ratio(
        temperature_c=np.array([cold_c, hot_c]), temperature_coefficient_per_k=per_k
    )
    assert 0 < ratio[0] <= ratio[1]
    change = resistance_change(
        temperature_c=hot_c, reference_temperature_c=cold_c, temperature_coefficient_per_k=per_k
    )
    assert change >= 1


@given(TEMPERATURES_C, COEFFICIENTS_PER_K)
def test_ratio_and_temperature_are_inverse(temperature_c, per_k):
    ratio = resistance_ratio(temperature_c=temperature_c, temperature_coefficient_per_k=per_k)
    found_c = temperature_at_ratio(ratio=ratio, temperature_coefficient_per_k=per_k)
    # The ratio carries 2e-16 of itself, and the coefficient divides that.
    assert_allclose(found_c, temperature_c, rtol=1e-12, atol=1e-15 / per_k)


@given(TEMPERATURES_C, TEMPERATURES_C, TEMPERATURES_C, COEFFICIENTS_PER_K)
def test_changes_chain(first_c, second_c, third_c, per_k):
    def change(to_c, from_c):
        return resistance_change(
            temperature_c=to_c, reference_temperature_c=from_c, temperature_coefficient_per_k=per_k
        )

    assert_allclose(
        change(third_c, second_c) * change(second_c, first_c), change(third_c, first_c), rtol=1e-13
    )


@given(st.floats(-3, 40), st.floats(-3, 40))
def test_higher_gauge_is_thinner(one, other):
    low, high = sorted((one, other))
    assert awg_diameter_mm(gauge=low) >= awg_diameter_mm(gauge=high)


def test_twice_the_area_half_the_resistance():
    thin, thick = resistance_per_length(
        resistivity_ohm_mm2_per_m=1 / 58, area_mm2=np.array([2.5, 5.0])
    )
    assert_allclose(thin, 2 * thick, rtol=1e-15)


def test_area_of_a_circle():
    assert_allclose(circle_area_mm2(diameter_mm=2.0), np.pi, rtol=1e-15)
    assert circle_area_mm2(diameter_mm=0.0) == 0
