"""Steady heat of wires against textbooks, standards and general-purpose libraries."""

import math

import numpy as np
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from numpy.testing import assert_allclose

from lastvolt_service.physics import air, conductors, cooling, heating
from lastvolt_service.tables import grouping, insulation, sizes

ZERO_CELSIUS_K = 273.15
OHM_MM2_PER_M = 1 / 58  # IEC 28 (1913), copper at 20 degC
COPPER_PER_K = 3.93e-3


# Y. A. Cengel, Heat Transfer: A Practical Approach, Example 9-1: pipe of 8 cm, 6 m long, 70 degC
# in air of 20 degC. Printed with four and three digits.
def test_cengel_pipe():
    conductivity, viscosity, prandtl = 0.02699, 1.749e-5, 0.7241
    rayleigh = cooling.rayleigh_number(
        rise_k=50.0,
        diameter_mm=80.0,
        expansion_per_k=1 / 318,
        viscosity_m2_per_s=viscosity,
        diffusivity_m2_per_s=viscosity / prandtl,
    )
    assert_allclose(rayleigh, 1.869e6, atol=0.0005e6)
    nusselt = cooling.nusselt_number(rayleigh=rayleigh, prandtl=prandtl)
    assert_allclose(nusselt, 17.40, atol=0.005)
    coefficient = conductivity / 0.08 * nusselt
    assert_allclose(coefficient, 5.869, atol=0.001)  # printed from the rounded Nusselt number
    assert_allclose(coefficient * math.pi * 0.08 * 6.0 * 50.0, 443.0, atol=0.5)


@pytest.mark.parametrize("prandtl", [0.6, 0.7, 0.72])
def test_nusselt_number_of_ht(prandtl):
    """ht.Nu_horizontal_cylinder_Churchill_Chu: the same correlation, written by others."""
    for rayleigh in (1e-2, 1.0, 50.0, 1e4, 1e9):
        expected = Nu_horizontal_cylinder_Churchill_Chu(Pr=prandtl, Gr=rayleigh / prandtl)
        found = cooling.nusselt_number(rayleigh=rayleigh, prandtl=prandtl)
        assert_allclose(found, expected, rtol=1e-12)


# fluids.ATMOSPHERE_1976: US Standard Atmosphere, 1976, whose formulas are those of ISO 2533.
# 0.8 % for conductivity: Sutherland's law stands for a formula with an exponential in it.
@pytest.mark.parametrize("temperature_c", [-60.0, -20.0, 20.0, 60.0, 100.0, 180.0, 250.0])
def test_air_of_fluids(temperature_c):
    kelvin = temperature_c + ZERO_CELSIUS_K
    for pressure_pa in (47181.0, 101325.0):
        film = air.film(temperature_c=temperature_c, pressure_pa=pressure_pa)
        expected = ATMOSPHERE_1976.thermal_conductivity(kelvin)
        assert_allclose(film.conductivity_w_per_m_k, expected, rtol=0.008)
        density = ATMOSPHERE_1976.density(kelvin, pressure_pa)
        expected = ATMOSPHERE_1976.viscosity(kelvin) / density
        assert_allclose(film.viscosity_m2_per_s, expected, rtol=2e-6)


# fluids.ATMOSPHERE_1976 takes geometric height; the difference is 0.1 % of 6,000 m.
@pytest.mark.parametrize("altitude_m", [0.0, 500.0, 1500.0, 3000.0, 6000.0])
def test_pressure_of_fluids(altitude_m):
    expected = ATMOSPHERE_1976(altitude_m).P
    assert_allclose(air.pressure_at_altitude_pa(altitude_m=altitude_m), expected, rtol=1e-3)


@pytest.mark.parametrize("diameter_mm", [0.3, 2.0, 20.0])
@pytest.mark.parametrize("rise_k", [5.0, 60.0, 150.0])
def test_convection_of_ht_and_fluids(diameter_mm, rise_k):
    """Convection alone, with air of fluids and the correlation of ht: 1 % for the properties."""
    ambient_c = 30.0
    found = cooling.surface_cooling(
        rise_k=rise_k, wire=_wire(1.0, diameter_mm, diameter_mm, ambient_c, emissivity=0.0)
    )
    kelvin = ambient_c + 0.5 * rise_k + ZERO_CELSIUS_K
    conductivity = ATMOSPHERE_1976.thermal_conductivity(kelvin)
    viscosity = ATMOSPHERE_1976.viscosity(kelvin)
    kinematic = viscosity / ATMOSPHERE_1976.density(kelvin, 101325.0)
    grashof = 9.80665 / kelvin * rise_k * (diameter_mm / 1000) ** 3 / kinematic**2
    prandtl = 1007.0 * viscosity / conductivity
    nusselt = Nu_horizontal_cylinder_Churchill_Chu(Pr=prandtl, Gr=grashof)
    # Heat per metre and kelvin: pi D h = pi k Nu.
    assert_allclose(found.w_per_m_k, math.pi * conductivity * nusselt, rtol=0.01)


# IEEE Std 738 Annex B, conductor Drake (28.12 mm, emissivity 0.5, air of 40 degC), as an open
# line-rating library quotes it: at 1000 A it settles at 100.7 degC with 83.061 W/m to the wind and
# 13.738 W/m from the sun. 0.05 K of temperature is 0.06 % of the current.
def test_ieee_738_closure():
    ohm_25, ohm_75 = 7.284e-5, 8.689e-5
    per_k = (ohm_75 - ohm_25) / 50.0
    ohm_20 = ohm_25 - 5.0 * per_k
    ohm = ohm_20 * conductors.resistance_ratio(
        temperature_c=100.7, temperature_coefficient_per_k=per_k / ohm_20
    )
    coefficient = cooling.radiation_w_per_m2_k(surface_c=100.7, ambient_c=40.0, emissivity=0.5)
    radiated = math.pi * 0.02812 * coefficient * 60.7
    assert_allclose(math.sqrt((83.061 + radiated - 13.738) / ohm), 1000.0, rtol=6e-4)


# NFPA 70, National Electrical Code, Table 310.15(B)(2)(b): ambient correction on a base of
# 40 degC, two digits printed.
NEC_FACTORS = {
    75: {45: 0.93, 50: 0.85, 55: 0.76, 60: 0.65, 65: 0.53, 70: 0.38},
    90: {45: 0.95, 50: 0.89, 55: 0.84, 60: 0.77, 65: 0.71, 70: 0.63, 75: 0.55, 80: 0.45},
    150: {50: 0.95, 60: 0.90, 70: 0.85, 80: 0.80, 90: 0.74, 100: 0.67, 110: 0.60, 120: 0.52}
    | {130: 0.43, 140: 0.30},
    200: {100: 0.79, 120: 0.71, 140: 0.61, 160: 0.50, 180: 0.35},
    250: {100: 0.85, 140: 0.72, 180: 0.58},
}


@pytest.mark.parametrize("limit_c", NEC_FACTORS)
def test_ambient_factors_of_the_nec(limit_c):
    ambient_c = np.array(list(NEC_FACTORS[limit_c]), dtype=float)
    found = heating.ambient_factor(limit_c=limit_c, ambient_c=ambient_c, reference_ambient_c=40.0)
    assert_allclose(found, list(NEC_FACTORS[limit_c].values()), atol=0.0051)


# 33 CFR 183.425 Table 5: 0.85 inside engine spaces (50 degC) for 105 degC insulation, on 30 degC.
# Two digits printed, and rounded down: 0.01.
@pytest.mark.parametrize("gauge", [18, 12, 6, 0, -3])
def test_engine_space_factor(gauge):
    hot, cool = (
        heating.permissible_current_a(limit_c=105.0, wire=_awg_wire(gauge, "GXL", ambient_c))
        for ambient_c in (50.0, 30.0)
    )
    assert_allclose(hot / cool, 0.85, atol=0.01)
    rule = heating.ambient_factor(limit_c=105.0, ambient_c=50.0, reference_ambient_c=30.0)
    assert_allclose(rule, 0.85, atol=0.01)


# FAA AC 43.13-1B Change 1, chapter 11, Example No. 2: 14 AWG, 200 degC wire, ambient 50 degC, 47 A
# in free air, read off a curve. Resistance and area: Table 11-9. 10 %: the scatter of measurements
# about the correlation for thin wires; the wall is not given.
@pytest.mark.parametrize("wall_mm", [0.2, 0.3, 0.4])
def test_free_air_current_of_ac_43_13(wall_mm):
    area_mm2 = 3831 * conductors.MM2_PER_CIRCULAR_MIL
    diameter_mm = insulation.STRANDED_DIAMETER_RATIO * math.sqrt(4 / math.pi * area_mm2)
    wire = _wire(3.06 / 304.8, diameter_mm, diameter_mm + 2 * wall_mm, 50.0)
    assert_allclose(heating.permissible_current_a(limit_c=200.0, wire=wire), 47.0, rtol=0.10)


# 33 CFR 183.425 Table 5, column of 105 degC, ambient 30 degC. The table is rounded down for
# practice, so the balance must lie above it, and not by more than a quarter.
CFR_105_A = {18: 20, 16: 25, 14: 35, 12: 45, 10: 60, 8: 80, 6: 120, 4: 160, 3: 180, 2: 210, 1: 245}
CFR_105_A |= {0: 285, -1: 330, -2: 385, -3: 445}  # 1/0 to 4/0


@pytest.mark.parametrize(("gauge", "table_a"), CFR_105_A.items())
def test_currents_of_33_cfr(gauge, table_a):
    kind = "GXL" if gauge >= 8 else "SGX"
    found = heating.permissible_current_a(limit_c=105.0, wire=_awg_wire(gauge, kind, 30.0))
    assert 1.00 <= found / table_a <= 1.25


# ABYC E-11, bundles: 3 conductors 0.70, 4 to 6 0.60, 7 to 24 0.50, 25 and more 0.40.
# MIL-W-5088B as an instrument manual reprints it: 2 conductors 94 %, 3 89 %, 4 83 %, 5 76 %.
@pytest.mark.parametrize(
    ("conductors_in_bundle", "abyc", "mil"),
    [
        (2, None, 0.94),
        (3, 0.70, 0.89),
        (4, 0.60, 0.83),
        (5, 0.60, 0.76),
        (6, 0.60, None),
        (7, 0.50, None),
        (24, 0.50, None),
        (25, 0.40, None),
        (60, 0.40, None),
    ],
)
def test_grouping_factors(conductors_in_bundle, abyc, mil):
    said = {"ABYC E-11": abyc, "MIL-W-5088B": mil}
    published = {
        item.citation.split(",")[0]: item.factor
        for item in grouping.published(conductors_in_bundle)
    }
    assert published == {source: factor for source, factor in said.items() if factor}
    factor = grouping.grouping(conductors_in_bundle).factor
    assert factor == min(published.values())
    alone, grouped = (
        heating.permissible_current_a(
            limit_c=105.0, wire=_awg_wire(12, "GXL", 30.0, grouping_factor=share)
        )
        for share in (1.0, factor)
    )
    assert_allclose(grouped / alone, factor, rtol=1e-9)


def _wire(ohm_per_m, conductor_mm, outer_mm, ambient_c, **other):
    return cooling.Wire(
        resistance_20_ohm_per_m=ohm_per_m,
        temperature_coefficient_per_k=COPPER_PER_K,
        conductor_diameter_mm=conductor_mm,
        outer_diameter_mm=outer_mm,
        insulation_w_per_m_k=0.2,  # 5 K*m/W, the poorer of the usual materials
        ambient_c=ambient_c,
        **other,
    )


def _awg_wire(gauge, kind, ambient_c, **other):
    diameter_mm = conductors.awg_diameter_mm(gauge=gauge)
    area_mm2 = conductors.circle_area_mm2(diameter_mm=diameter_mm)
    size = f"{sizes.gauge_name(gauge)} AWG"
    mm = insulation.dimensions(kind=kind, size=size, area_mm2=area_mm2)
    ohm_per_m = 1.02 * OHM_MM2_PER_M / area_mm2
    return _wire(ohm_per_m, mm.conductor_diameter_mm, mm.outer_diameter_mm, ambient_c, **other)
