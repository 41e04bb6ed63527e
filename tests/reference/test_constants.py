"""Constants of nature against scipy.constants, which carries the CODATA recommended values."""

import scipy.constants
from numpy.testing import assert_allclose

from lastvolt_service.physics import constants


def test_magnetic_constant():
    # From the adjustment of 2018 to that of 2022, mu_0 moved by 8e-10 of itself.
    assert_allclose(constants.MAGNETIC_CONSTANT_N_PER_A2, scipy.constants.mu_0, rtol=1e-9)


def test_exact_constants():
    # Stefan-Boltzmann follows exactly from defined constants; ten digits are written out.
    sigma = constants.STEFAN_BOLTZMANN_W_PER_M2_K4
    assert_allclose(sigma, scipy.constants.Stefan_Boltzmann, rtol=1e-9)
    assert scipy.constants.g == constants.STANDARD_GRAVITY_M_PER_S2
    assert scipy.constants.zero_Celsius == constants.ZERO_CELSIUS_K
