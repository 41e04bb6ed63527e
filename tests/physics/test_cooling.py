"""Heat given off by the surface of a wire: limits and derivatives."""

import dataclasses

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics import air, cooling

WIRE = cooling.Wire(
    resistance_20_ohm_per_m=5e-3,
    temperature_coefficient_per_k=3.93e-3,
    conductor_diameter_mm=2.3,
    outer_diameter_mm=3.5,
    insulation_w_per_m_k=0.2,
    ambient_c=40.0,
)


def _heat(rise_k, wire=WIRE):
    return rise_k * cooling.surface_cooling(rise_k=rise_k, wire=wire).w_per_m_k


@pytest.mark.parametrize("rise_k", [-60.0, -1.0, 0.5, 20.0, 90.0, 400.0])
@pytest.mark.parametrize("outer_mm", [0.4, 3.5, 20.0])
def test_slope_is_the_derivative(rise_k, outer_mm):
    wire = dataclasses.replace(WIRE, outer_diameter_mm=outer_mm, conductor_diameter_mm=0.2)
    step = 1e-4 * abs(rise_k)
    slope = (_heat(rise_k + step, wire) - _heat(rise_k - step, wire)) / (2 * step)
    found = cooling.surface_cooling(rise_k=rise_k, wire=wire).slope_w_per_m_k
    assert_allclose(found, slope, rtol=1e-7)


@pytest.mark.parametrize("emissivity", [0.02, 0.1, 0.9])
@pytest.mark.parametrize("ambient_c", [-60.0, 20.0, 125.0])
def test_heat_grows_faster_than_its_rise(emissivity, ambient_c):
    """Heat per kelvin grows: what makes the equilibrium below a ceiling the only one."""
    rise = np.linspace(0.0, 1100.0, 2001)[:, None]
    wire = dataclasses.replace(
        WIRE,
        emissivity=emissivity,
        ambient_c=ambient_c,
        outer_diameter_mm=np.geomspace(0.1, 30.0, 40),
    )
    found = cooling.surface_cooling(rise_k=rise, wire=wire)
    assert np.all(np.diff(found.w_per_m_k, axis=0) > 0.0)
    assert np.all(found.slope_w_per_m_k[1:] > found.w_per_m_k[1:])


def test_no_rise():
    found = cooling.surface_cooling(rise_k=0.0, wire=WIRE)
    conduction = 0.36 * np.pi * air.film(temperature_c=40.0).conductivity_w_per_m_k
    radiation = 4 * 0.9 * 5.670374419e-8 * 313.15**3 * np.pi * 3.5e-3
    assert_allclose(found.w_per_m_k, conduction + radiation, rtol=1e-12)
    assert_allclose(found.slope_w_per_m_k, found.w_per_m_k, rtol=1e-12)


def test_radiation_is_the_law_of_fourth_powers():
    found = cooling.radiation_w_per_m2_k(surface_c=120.0, ambient_c=20.0, emissivity=0.8)
    expected = 0.8 * 5.670374419e-8 * (393.15**4 - 293.15**4)
    assert_allclose(100.0 * found, expected, rtol=1e-12)


def test_insulation():
    assert dataclasses.replace(WIRE, outer_diameter_mm=2.3).insulation_k_m_per_w == 0.0
    # ln(e) / (2 pi k), e times the diameter.
    thick = dataclasses.replace(WIRE, outer_diameter_mm=2.3 * np.e)
    assert_allclose(thick.insulation_k_m_per_w, 1 / (0.4 * np.pi), rtol=1e-12)


def test_film_exponents_are_logarithmic_derivatives():
    def logs(temperature_c):
        film = air.film(temperature_c=temperature_c)
        expansion = 1.0 / (temperature_c + 273.15)
        buoyancy = expansion / (film.viscosity_m2_per_s * film.diffusivity_m2_per_s)
        return np.log([film.conductivity_w_per_m_k, buoyancy])

    film = air.film(temperature_c=80.0)
    step = np.log((80.01 + 273.15) / (79.99 + 273.15))
    found = (logs(80.01) - logs(79.99)) / step
    assert_allclose(found, [film.conductivity_exponent, film.buoyancy_exponent], rtol=1e-7)


def test_thin_air_cools_less():
    pressure_pa = air.pressure_at_altitude_pa(altitude_m=np.array([0.0, 1500.0, 6000.0]))
    heat = _heat(60.0, dataclasses.replace(WIRE, pressure_pa=pressure_pa))
    assert np.all(np.diff(heat) < 0.0)
    assert pressure_pa[0] == air.STANDARD_PRESSURE_PA
