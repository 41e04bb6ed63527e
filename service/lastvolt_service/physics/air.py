"""Dry air around a wire: pressure by altitude, and the properties that natural convection needs."""

from typing import NamedTuple

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.constants import ZERO_CELSIUS, ZERO_CELSIUS_K

# p_n [Pa], T_n [K], lapse [K/m]: the standard atmosphere at sea level, ISO 2533.
STANDARD_PRESSURE_PA = 101325.0
_STANDARD_TEMPERATURE_K = 288.15
_LAPSE_K_PER_M = 0.0065
# g_n / (R * lapse) [1], the exponent of the barometric formula, ISO 2533.
_BAROMETRIC_EXPONENT = 5.25588
# R [J/(kg*K)], specific gas constant of dry air, ISO 2533.
_GAS_CONSTANT = 287.05287
# c_p [J/(kg*K)] of air from -20 to 120 degC within 0.5 %.
_HEAT_CAPACITY = 1007.0
# mu = C T**1.5 / (T + S), C in kg/(m*s*K**0.5) and S in K: Sutherland's law as in ISO 2533.
_VISCOSITY, _VISCOSITY_SUTHERLAND_K = 1.458e-6, 110.4
# k = C T**1.5 / (T + S): the same law for conductivity, 0.0241 W/(m*K) at 273 K and S = 194 K.
_CONDUCTIVITY_SUTHERLAND_K = 194.0
_CONDUCTIVITY = 0.0241 * (273.0 + _CONDUCTIVITY_SUTHERLAND_K) / 273.0**1.5

# Pr of air [1], 0.67 to 0.74 from -60 to 250 degC. For correlations that feel Pr weakly: over that
# range the Nusselt number of Churchill and Chu moves by 0.3 %.
PRANDTL = 0.70


class Film(NamedTuple):
    """Air at the mean temperature between a surface and the surroundings.

    Attributes
    ----------
    conductivity_w_per_m_k : float or ndarray
        Thermal conductivity. [W/(m*K)]
    viscosity_m2_per_s : float or ndarray
        Kinematic viscosity. [m2/s]
    diffusivity_m2_per_s : float or ndarray
        Thermal diffusivity. [m2/s]
    conductivity_exponent : float or ndarray
        ``d ln k / d ln T``, T absolute.
    buoyancy_exponent : float or ndarray
        ``d ln(beta / (nu a)) / d ln T``: how the Rayleigh number falls as the film gets hotter.
    """

    conductivity_w_per_m_k: Real
    viscosity_m2_per_s: Real
    diffusivity_m2_per_s: Real
    conductivity_exponent: Real
    buoyancy_exponent: Real


@law(
    "pressure_pa = 101325 * (1 - 0.0065 * altitude_m / 288.15) ** 5.25588"
    "  # of the standard atmosphere at that height",
    source="ISO 2533, Standard atmosphere",
)
def pressure_at_altitude_pa(*, altitude_m: Real) -> Real:
    """Pressure of the standard atmosphere.

    Parameters
    ----------
    altitude_m : float or ndarray
        Height above sea level, up to 11,000. [m]

    Returns
    -------
    pressure_pa : float or ndarray
        Pressure, shape of `altitude_m`. [Pa]

    Notes
    -----
    The height is taken as geopotential, which differs from the geometric height by 0.1 % at
    6,000 m.

    References
    ----------
    ISO 2533, Standard atmosphere.
    """
    return (
        STANDARD_PRESSURE_PA
        * (1.0 - _LAPSE_K_PER_M / _STANDARD_TEMPERATURE_K * altitude_m) ** _BAROMETRIC_EXPONENT
    )


@law(
    """
    film_k = temperature_c + zero_celsius_k  # absolute temperature of the air at the surface
    air_w_per_m_k = 0.0241 * (273 + 194) / 273 ** 1.5 * film_k ** 1.5 / (film_k + 194)
        # conductivity of the air
    viscosity_m2_per_s = 0.000001458 * film_k ** 2.5 / (film_k + 110.4) * 287.05287 / pressure_pa
        # kinematic viscosity of the air
    diffusivity_m2_per_s = air_w_per_m_k * 287.05287 * film_k / (pressure_pa * 1007)
        # thermal diffusivity of the air
    conductivity_exponent = 1.5 - film_k / (film_k + 194)
        # growth of the conductivity with absolute temperature, as a power
    buoyancy_exponent = film_k / (film_k + 110.4) + film_k / (film_k + 194) - 6
        # growth of the Rayleigh number with absolute temperature, as a power
    """,
    source="Sutherland's law as in ISO 2533 and White, Viscous Fluid Flow; ideal gas",
    results=5,
    constants=(ZERO_CELSIUS,),
)
def film(*, temperature_c: Real, pressure_pa: Real = STANDARD_PRESSURE_PA) -> Film:
    """Properties of dry air.

    Parameters
    ----------
    temperature_c : float or ndarray
        Film temperature: the mean of surface and surroundings. [degC]
    pressure_pa : float or ndarray
        Pressure. [Pa]

    Returns
    -------
    Film
        Broadcast shape.

    Notes
    -----
    Sutherland's law for viscosity and conductivity, the ideal gas for density, and a constant
    heat capacity. From -60 to 250 degC the viscosity is that of the standard atmosphere, and the
    conductivity keeps within 0.8 % of it.

    References
    ----------
    .. [1] ISO 2533, Standard atmosphere.
    .. [2] F. M. White, Viscous Fluid Flow, Sutherland's law for thermal conductivity.
    """
    kelvin = temperature_c + ZERO_CELSIUS_K
    root = kelvin**0.5
    viscous = kelvin / (kelvin + _VISCOSITY_SUTHERLAND_K)
    conductive = kelvin / (kelvin + _CONDUCTIVITY_SUTHERLAND_K)
    volume = _GAS_CONSTANT / pressure_pa * kelvin  # m3/kg
    conductivity = _CONDUCTIVITY * root * conductive
    return Film(
        conductivity_w_per_m_k=conductivity,
        viscosity_m2_per_s=_VISCOSITY * root * viscous * volume,
        diffusivity_m2_per_s=conductivity * volume / _HEAT_CAPACITY,
        conductivity_exponent=1.5 - conductive,
        buoyancy_exponent=viscous + conductive - 6.0,
    )
