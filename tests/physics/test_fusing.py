"""Heat without cooling: inverse, scaling and limits."""

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics import fusing

WIRE = {
    "heat_capacity_j_per_m_k": 11.4,
    "resistance_20_ohm_per_m": 5.3e-3,
    "temperature_coefficient_per_k": 3.93e-3,
}


@pytest.mark.parametrize("end_c", [20.0, 160.0, 1083.0])
def test_temperature_is_the_inverse_of_the_integral(end_c):
    integral = fusing.adiabatic_a2s(start_c=85.0, end_c=end_c, **WIRE)
    found = fusing.adiabatic_temperature_c(start_c=85.0, integral_a2s=integral, **WIRE)
    assert_allclose(found, end_c, rtol=1e-12)


def test_small_heat_is_capacity_times_rise():
    """C dT = I**2 r dt at 20 degC, where the resistance is r20."""
    integral = fusing.adiabatic_a2s(start_c=20.0, end_c=20.01, **WIRE)
    assert_allclose(integral * 5.3e-3, 11.4 * 0.01, rtol=1e-4)


def test_nothing_and_too_much():
    found = fusing.adiabatic_temperature_c(start_c=20.0, integral_a2s=np.array([0.0, 1e12]), **WIRE)
    assert_allclose(found, [20.0, np.inf])


def test_pieces_add_up():
    whole = fusing.adiabatic_a2s(start_c=20.0, end_c=160.0, **WIRE)
    first, second = fusing.adiabatic_a2s(
        start_c=np.array([20.0, 70.0]), end_c=np.array([70.0, 160.0]), **WIRE
    )
    assert_allclose(first + second, whole, rtol=1e-12)


def test_sizes_scale():
    small, large = fusing.onderdonk_a2s(area_mm2=np.array([1.0, 2.0]), ambient_c=25.0)
    assert_allclose(large / small, 4.0)
    assert fusing.onderdonk_a2s(area_mm2=1.0, ambient_c=1083.0) == 0.0
    thin, thick = fusing.preece_current_a(diameter_mm=np.array([1.0, 4.0]))
    assert_allclose(thick / thin, 8.0)
