"""Short circuits and melting against published formulas and tables."""

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics import conductors, fusing
from lastvolt_service.tables import metals

MM_PER_INCH = 25.4


# Insulated-cable practice for copper, (I/A)**2 t = 0.0297 log10((T2 + 234) / (T1 + 234)) with A in
# circular mils. 1 % covers the three digits of 0.0297, 234 in place of 234.5, and the heat capacity
# of copper at 20 degC in place of a mean over the short circuit.
@pytest.mark.parametrize(("start_c", "end_c"), [(75.0, 150.0), (90.0, 250.0), (20.0, 160.0)])
def test_short_circuit_of_copper(start_c, end_c):
    cmil = 4107.0
    area_mm2 = cmil * conductors.MM2_PER_CIRCULAR_MIL
    found = fusing.adiabatic_a2s(
        start_c=start_c,
        end_c=end_c,
        heat_capacity_j_per_m_k=1e-6 * area_mm2 * metals.metal("copper").heat_capacity_j_per_m3_k,
        resistance_20_ohm_per_m=1 / 58 / area_mm2,
        temperature_coefficient_per_k=3.93e-3,
    )
    printed = 0.0297 * math.log10((end_c + 234.0) / (start_c + 234.0)) * cmil**2
    assert_allclose(found, printed, rtol=0.01)


# Onderdonk's formula at 25 degC: 14 AWG at 400 A melts in 2.26 s, three digits printed.
def test_onderdonk():
    area_mm2 = conductors.circle_area_mm2(diameter_mm=conductors.awg_diameter_mm(gauge=14))
    found = fusing.onderdonk_a2s(area_mm2=area_mm2, ambient_c=25.0) / 400.0**2
    assert_allclose(found, 2.26, atol=0.005)


# Onderdonk's 1/33 beside 0.0297 of the short-circuit formula: the same law, 1 % apart in current.
def test_onderdonk_is_adiabatic():
    found = fusing.onderdonk_a2s(area_mm2=conductors.MM2_PER_CIRCULAR_MIL, ambient_c=25.0)
    printed = 0.0297 * math.log10((1083.0 + 234.0) / (25.0 + 234.0))
    assert_allclose(math.sqrt(found / printed), 1.01, atol=0.005)


# Preece's table for copper, as handbooks reprint it: diameters in inches, four decimals, that melt
# at a current. The current must lie between those of the ends of the printed digit.
PREECE_IN = {10: 0.0098, 20: 0.0156, 30: 0.0205, 50: 0.0288, 100: 0.0457, 200: 0.0725, 300: 0.0950}


@pytest.mark.parametrize(("current_a", "diameter_in"), PREECE_IN.items())
def test_preece(current_a, diameter_in):
    ends = MM_PER_INCH * (diameter_in + np.array([-5e-5, 5e-5]))
    low, high = fusing.preece_current_a(diameter_mm=ends)
    assert low <= current_a <= high
