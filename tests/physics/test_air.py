"""Air: its heat capacity against that of a gas of rigid molecules of two atoms."""

import numpy as np
from numpy.testing import assert_allclose

from lastvolt_service.physics.air import STANDARD_PRESSURE_PA, film

GAS_CONSTANT = 8.314462618 / 0.0289647  # J/(kg*K): the molar one of the SI over the mass of dry air


def test_heat_capacity_is_that_of_two_atoms():
    """c_p is 7/2 R; vibration and the rarer gases add less than 0.7 % up to 100 degC."""
    temperature_c = np.linspace(-20, 100, 7)
    air = film(temperature_c=temperature_c)
    density = STANDARD_PRESSURE_PA / (GAS_CONSTANT * (temperature_c + 273.15))
    found = air.conductivity_w_per_m_k / (density * air.diffusivity_m2_per_s)
    assert_allclose(found, 3.5 * GAS_CONSTANT, rtol=0.007)
