"""Constants of nature, each with symbol, unit, meaning and source."""

# mu_0 [N/A2], magnetic constant: CODATA recommended values 2022.
MAGNETIC_CONSTANT_N_PER_A2 = 1.25663706127e-6
# sigma [W/(m2*K4)], Stefan-Boltzmann constant: CODATA recommended values 2022, exact in the SI.
STEFAN_BOLTZMANN_W_PER_M2_K4 = 5.670374419e-8
# g_n [m/s2], standard acceleration of gravity: ISO 80000-3, exact by definition.
STANDARD_GRAVITY_M_PER_S2 = 9.80665
# T_0 [K], 0 degC: exact by definition of the Celsius temperature.
ZERO_CELSIUS_K = 273.15
