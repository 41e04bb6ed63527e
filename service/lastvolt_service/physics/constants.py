"""Constants of nature, each with symbol, unit, meaning and source."""

import math

from lastvolt_service.laws import Constant

# mu_0 [N/A2], magnetic constant: CODATA recommended values 2022.
MAGNETIC_CONSTANT_N_PER_A2 = 1.25663706127e-6
# sigma [W/(m2*K4)], Stefan-Boltzmann constant: CODATA recommended values 2022, exact in the SI.
STEFAN_BOLTZMANN_W_PER_M2_K4 = 5.670374419e-8
# g_n [m/s2], standard acceleration of gravity: ISO 80000-3, exact by definition.
STANDARD_GRAVITY_M_PER_S2 = 9.80665
# T_0 [K], 0 degC: exact by definition of the Celsius temperature.
ZERO_CELSIUS_K = 273.15

# The same as laws name them.
STEFAN_BOLTZMANN = Constant(
    "stefan_boltzmann",
    STEFAN_BOLTZMANN_W_PER_M2_K4,
    "W/(m2*K4)",
    "Stefan-Boltzmann constant",
    "CODATA recommended values 2022",
)
GRAVITY = Constant(
    "gravity", STANDARD_GRAVITY_M_PER_S2, "m/s2", "acceleration of gravity", "ISO 80000-3"
)
ZERO_CELSIUS = Constant("zero_celsius_k", ZERO_CELSIUS_K, "K", "0 degC", "definition of degC")
PI = Constant("pi", math.pi, "1", "circumference of a circle over its diameter", "geometry")
