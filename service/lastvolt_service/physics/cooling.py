"""How a horizontal wire in still air gives off heat: natural convection, radiation, insulation."""

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from lastvolt_service.laws import law, named
from lastvolt_service.physics import Real, air
from lastvolt_service.physics.constants import (
    GRAVITY,
    PI,
    STANDARD_GRAVITY_M_PER_S2,
    STEFAN_BOLTZMANN,
    STEFAN_BOLTZMANN_W_PER_M2_K4,
    ZERO_CELSIUS,
    ZERO_CELSIUS_K,
)
from lastvolt_service.rows import magnitude, plain

CHURCHILL = "Churchill and Chu 1975, natural convection round a horizontal cylinder"
# Of insulation of any colour, common practice.
EMISSIVITY = 0.9
STILL_AIR = "natural convection and radiation of a horizontal wire in still air"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A round wire and the still air that it lies in; fields broadcast against each other.

    Attributes
    ----------
    resistance_20_ohm_per_m : float or ndarray
        Resistance of the conductor at 20 degC; above zero. [ohm/m]
    temperature_coefficient_per_k : float or ndarray
        Of that resistance, at 20 degC. [1/K]
    conductor_diameter_mm : float or ndarray
        Over the strands. [mm]
    outer_diameter_mm : float or ndarray
        Over the insulation; that of the conductor for a bare wire. [mm]
    insulation_w_per_m_k : float or ndarray
        Thermal conductivity of the insulation. [W/(m*K)]
    ambient_c : float or ndarray
        Temperature of the air and of what the wire sees. [degC]
    pressure_pa : float or ndarray
        Of the air. [Pa]
    emissivity : float or ndarray
        Of the surface.
    grouping_factor : float or ndarray
        Permissible current in the group over that of the wire alone: a wire of a group at a
        current is as hot as the same wire alone at that current over this factor.
    metal_j_per_m_k, insulation_j_per_m_k : float or ndarray
        Heat capacities of metal and insulation; only heat in time asks for them. [J/(m*K)]
    """

    resistance_20_ohm_per_m: Real
    temperature_coefficient_per_k: Real
    conductor_diameter_mm: Real
    outer_diameter_mm: Real
    insulation_w_per_m_k: Real
    ambient_c: Real
    pressure_pa: Real = air.STANDARD_PRESSURE_PA
    emissivity: Real = EMISSIVITY
    grouping_factor: Real = 1.0
    metal_j_per_m_k: Real = math.nan
    insulation_j_per_m_k: Real = math.nan

    @property
    def insulation_k_m_per_w(self) -> Real:
        """Thermal resistance of the insulation. [K*m/W]."""
        return insulation_k_m_per_w(
            conductor_diameter_mm=self.conductor_diameter_mm,
            outer_diameter_mm=self.outer_diameter_mm,
            insulation_w_per_m_k=self.insulation_w_per_m_k,
        )

    def surface_rise_k(self, surface_c: Real) -> Real:
        """Surface above ambient. [K]."""
        return named("surface_rise_k", surface_c - self.ambient_c, "of the surface above ambient")


class Cooling(NamedTuple):
    """Heat that the surface of a wire gives off.

    Attributes
    ----------
    w_per_m_k : float or ndarray
        Heat per length over the rise of the surface above ambient. [W/(m*K)]
    slope_w_per_m_k : float or ndarray
        Derivative of the heat per length by the rise. [W/(m*K)]
    """

    w_per_m_k: Real
    slope_w_per_m_k: Real


@law(
    "rayleigh = gravity * sqrt(rise_k ** 2) * (diameter_mm / 1000) ** 3 * expansion_per_k"
    " / (viscosity_m2_per_s * diffusivity_m2_per_s)"
    "  # Rayleigh number: buoyancy against friction",
    source=CHURCHILL,
    constants=(GRAVITY,),
)
def rayleigh_number(
    *,
    rise_k: Real,
    diameter_mm: Real,
    expansion_per_k: Real,
    viscosity_m2_per_s: Real,
    diffusivity_m2_per_s: Real,
) -> Real:
    """Rayleigh number of a horizontal cylinder.

    Parameters
    ----------
    rise_k : float or ndarray
        Surface above ambient; the sign does not matter. [K]
    diameter_mm : float or ndarray
        Of the surface. [mm]
    expansion_per_k : float or ndarray
        Thermal expansion of the fluid, 1/T for a gas. [1/K]
    viscosity_m2_per_s : float or ndarray
        Kinematic viscosity at film temperature. [m2/s]
    diffusivity_m2_per_s : float or ndarray
        Thermal diffusivity at film temperature. [m2/s]

    Returns
    -------
    rayleigh : float or ndarray
        Broadcast shape.
    """
    buoyancy = (
        STANDARD_GRAVITY_M_PER_S2 * 1e-9 * diameter_mm**3 * expansion_per_k * magnitude(rise_k)
    )
    rayleigh: Real = buoyancy / (viscosity_m2_per_s * diffusivity_m2_per_s)
    return rayleigh


@law(
    "nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6)"
    " / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2"
    "  # Nusselt number: how much better than by conduction",
    source=CHURCHILL,
)
def nusselt_number(*, rayleigh: Real, prandtl: Real = air.PRANDTL) -> Real:
    """Mean Nusselt number of natural convection around a long horizontal cylinder.

    Parameters
    ----------
    rayleigh : float or ndarray
        On the diameter, with properties at film temperature.
    prandtl : float or ndarray
        Of the fluid.

    Returns
    -------
    nusselt : float or ndarray
        On the diameter, broadcast shape.

    Notes
    -----
    For Ra up to 1e12. Wires have Ra from 1 to 1e4, where measurements scatter about the line by 10
    to 20 %.

    References
    ----------
    S. W. Churchill, H. H. S. Chu, Correlating equations for laminar and turbulent free
    convection from a horizontal cylinder, Int. J. Heat Mass Transfer 18 (1975) 1049-1053.
    """
    factor = 0.387 / (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return (0.60 + factor * rayleigh ** (1 / 6)) ** 2


@law(
    "radiation_w_per_m2_k = emissivity * stefan_boltzmann"
    " * ((surface_c + zero_celsius_k) ** 2 + (ambient_c + zero_celsius_k) ** 2)"
    " * (surface_c + ambient_c + 2 * zero_celsius_k)"
    "  # heat transfer by radiation",
    source="Stefan-Boltzmann law",
    constants=(STEFAN_BOLTZMANN, ZERO_CELSIUS),
)
def radiation_w_per_m2_k(*, surface_c: Real, ambient_c: Real, emissivity: Real) -> Real:
    """Heat transfer coefficient of radiation into wide surroundings.

    Parameters
    ----------
    surface_c : float or ndarray
        Temperature of the surface. [degC]
    ambient_c : float or ndarray
        Temperature of the surroundings. [degC]
    emissivity : float or ndarray
        Of the surface.

    Returns
    -------
    coefficient_w_per_m2_k : float or ndarray
        Broadcast shape. [W/(m2*K)]

    Notes
    -----
    Written without the difference of the temperatures, so that it holds where they are equal, too.
    """
    surface_k = surface_c + ZERO_CELSIUS_K
    ambient_k = ambient_c + ZERO_CELSIUS_K
    squares = surface_k * surface_k + ambient_k * ambient_k
    return emissivity * STEFAN_BOLTZMANN_W_PER_M2_K4 * squares * (surface_k + ambient_k)


@law(
    "radiation_slope_w_per_m2_k = 4 * emissivity * stefan_boltzmann"
    " * (surface_c + zero_celsius_k) ** 3"
    "  # further heat by radiation per kelvin: derivative",
    source="Stefan-Boltzmann law",
    constants=(STEFAN_BOLTZMANN, ZERO_CELSIUS),
)
def radiation_slope_w_per_m2_k(*, surface_c: Real, emissivity: Real) -> Real:
    """Derivative of the heat of radiation by the temperature of the surface.

    Parameters
    ----------
    surface_c : float or ndarray
        Temperature of the surface. [degC]
    emissivity : float or ndarray
        Of the surface.

    Returns
    -------
    slope_w_per_m2_k : float or ndarray
        Broadcast shape. [W/(m2*K)]
    """
    surface_k = surface_c + ZERO_CELSIUS_K
    slope: Real = (
        4.0 * STEFAN_BOLTZMANN_W_PER_M2_K4 * emissivity * surface_k * surface_k * surface_k
    )
    return slope


@law(
    "insulation_k_m_per_w = ln(outer_diameter_mm / conductor_diameter_mm)"
    " / (2 * pi * insulation_w_per_m_k)"
    "  # thermal resistance of the insulation",
    source="Fourier's law in a hollow cylinder",
    constants=(PI,),
)
def insulation_k_m_per_w(
    *, conductor_diameter_mm: Real, outer_diameter_mm: Real, insulation_w_per_m_k: Real
) -> Real:
    """Thermal resistance of insulation, the hollow cylinder.

    Parameters
    ----------
    conductor_diameter_mm : float or ndarray
        Over the strands. [mm]
    outer_diameter_mm : float or ndarray
        Over the insulation; that of the conductor for a bare wire. [mm]
    insulation_w_per_m_k : float or ndarray
        Thermal conductivity. [W/(m*K)]

    Returns
    -------
    resistance_k_m_per_w : float or ndarray
        Between conductor and surface; 0 for a bare wire. [K*m/W]
    """
    walls: Real = plain(np.log(outer_diameter_mm / conductor_diameter_mm))
    return walls / (2 * math.pi * insulation_w_per_m_k)


def surface_cooling(*, rise_k: Real, wire: Wire) -> Cooling:
    """Heat that the surface of a single wire gives off per kelvin of its rise.

    Parameters
    ----------
    rise_k : float or ndarray
        Surface above ambient. [K]
    wire : Wire
        The wire; its `grouping_factor` has no part in this.

    Returns
    -------
    Cooling
        Broadcast shape.

    Notes
    -----
    Natural convection by `nusselt_number` with the properties of air at film temperature, and
    radiation. The derivative is exact but for the constant Prandtl number.
    """
    diameter_m = wire.outer_diameter_mm / 1e3
    half_rise = 0.5 * rise_k
    film_c = named("film_c", wire.ambient_c + half_rise, "mean temperature of the air round it")
    film = air.film(temperature_c=film_c, pressure_pa=wire.pressure_pa)
    expansion = 1.0 / (film_c + ZERO_CELSIUS_K)
    nusselt = nusselt_number(
        rayleigh=rayleigh_number(
            rise_k=rise_k,
            diameter_mm=wire.outer_diameter_mm,
            expansion_per_k=expansion,
            viscosity_m2_per_s=film.viscosity_m2_per_s,
            diffusivity_m2_per_s=film.diffusivity_m2_per_s,
        )
    )
    surface_c = wire.ambient_c + rise_k
    convection = named(
        "convection_w_per_m2_k",
        nusselt * film.conductivity_w_per_m_k / diameter_m,
        "heat transfer by convection",
        CHURCHILL,
    )
    radiation = radiation_w_per_m2_k(
        surface_c=surface_c, ambient_c=wire.ambient_c, emissivity=wire.emissivity
    )
    # d ln T_film / d ln rise, and d ln Nu / d ln Ra of (0.6 + c Ra**(1/6))**2.
    share = half_rise * expansion
    growth = (1.0 - 0.60 / nusselt**0.5) / 3.0
    convection_slope = named(
        "convection_slope_w_per_m2_k",
        convection
        * (
            1.0
            + film.conductivity_exponent * share
            + growth * (1.0 + film.buoyancy_exponent * share)
        ),
        "further heat by convection per kelvin: derivative",
        CHURCHILL,
    )
    radiation_slope = radiation_slope_w_per_m2_k(surface_c=surface_c, emissivity=wire.emissivity)
    perimeter_m = math.pi * diameter_m
    return Cooling(
        perimeter_m * (convection + radiation),
        named(
            "cooling_slope_w_per_m_k",
            perimeter_m * (convection_slope + radiation_slope),
            "further heat given off per kelvin of the surface: derivative",
            STILL_AIR,
        ),
    )
