"""How a horizontal wire in still air gives off heat: natural convection, radiation, insulation."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from lastvolt_service.physics import Real, air
from lastvolt_service.physics.constants import (
    STANDARD_GRAVITY_M_PER_S2,
    STEFAN_BOLTZMANN_W_PER_M2_K4,
    ZERO_CELSIUS_K,
)


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
        Of the surface: about 0.9 for insulation of any colour, common practice.
    grouping_factor : float or ndarray
        Permissible current in the group over that of the wire alone: a wire of a group at a
        current is as hot as the same wire alone at that current over this factor.
    """

    resistance_20_ohm_per_m: Real
    temperature_coefficient_per_k: Real
    conductor_diameter_mm: Real
    outer_diameter_mm: Real
    insulation_w_per_m_k: Real
    ambient_c: Real
    pressure_pa: Real = air.STANDARD_PRESSURE_PA
    emissivity: Real = 0.9
    grouping_factor: Real = 1.0


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

    Notes
    -----
    ``Ra = g * beta * dT * D**3 / (nu * a)``.
    """
    buoyancy = STANDARD_GRAVITY_M_PER_S2 * 1e-9 * diameter_mm**3 * expansion_per_k * np.abs(rise_k)
    return buoyancy / (viscosity_m2_per_s * diffusivity_m2_per_s)


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
    ``Nu = (0.60 + 0.387 Ra**(1/6) / (1 + (0.559 / Pr)**(9/16))**(8/27))**2`` for Ra up to 1e12.
    Wires have Ra from 1 to 1e4, where measurements scatter about the line by 10 to 20 %.

    References
    ----------
    S. W. Churchill, H. H. S. Chu, Correlating equations for laminar and turbulent free
    convection from a horizontal cylinder, Int. J. Heat Mass Transfer 18 (1975) 1049-1053.
    """
    factor = 0.387 / (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return (0.60 + factor * rayleigh ** (1 / 6)) ** 2


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
    ``h = eps * sigma * (Ts**4 - Ta**4) / (Ts - Ta)`` with absolute temperatures, written without
    the difference, so that it holds at ``Ts = Ta`` too.
    """
    surface_k = surface_c + ZERO_CELSIUS_K
    ambient_k = ambient_c + ZERO_CELSIUS_K
    squares = surface_k * surface_k + ambient_k * ambient_k
    return emissivity * STEFAN_BOLTZMANN_W_PER_M2_K4 * squares * (surface_k + ambient_k)


def insulation_k_m_per_w(wire: Wire) -> Real:
    """Thermal resistance of the insulation.

    Parameters
    ----------
    wire : Wire
        The wire.

    Returns
    -------
    resistance_k_m_per_w : float or ndarray
        Between conductor and surface; 0 for a bare wire. [K*m/W]

    Notes
    -----
    ``ln(D / d) / (2 pi k)``, the hollow cylinder.
    """
    walls = np.log(wire.outer_diameter_mm / wire.conductor_diameter_mm)
    return walls / (2 * np.pi * wire.insulation_w_per_m_k)


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
    diameter_m = wire.outer_diameter_mm * 1e-3
    half_rise = 0.5 * rise_k
    film = air.film(temperature_c=wire.ambient_c + half_rise, pressure_pa=wire.pressure_pa)
    expansion = 1.0 / (wire.ambient_c + half_rise + ZERO_CELSIUS_K)
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
    convection = nusselt * film.conductivity_w_per_m_k / diameter_m
    radiation = radiation_w_per_m2_k(
        surface_c=surface_c, ambient_c=wire.ambient_c, emissivity=wire.emissivity
    )
    # d ln T_film / d ln rise, and d ln Nu / d ln Ra of (0.6 + c Ra**(1/6))**2.
    share = half_rise * expansion
    growth = (1.0 - 0.60 / nusselt**0.5) / 3.0
    convection_slope = convection * (
        1.0 + film.conductivity_exponent * share + growth * (1.0 + film.buoyancy_exponent * share)
    )
    surface_k = surface_c + ZERO_CELSIUS_K
    radiation_slope = (
        4.0 * STEFAN_BOLTZMANN_W_PER_M2_K4 * wire.emissivity * surface_k * surface_k * surface_k
    )
    perimeter_m = np.pi * diameter_m
    return Cooling(
        perimeter_m * (convection + radiation),
        perimeter_m * (convection_slope + radiation_slope),
    )
