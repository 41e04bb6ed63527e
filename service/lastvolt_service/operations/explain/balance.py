"""Steps that verify a steady temperature by the heat balance of a wire."""

import math
from typing import Any

from lastvolt_service.operations.explain.conductors import LINEAR, conductor_steps
from lastvolt_service.operations.explain.steps import JOULE, Steps
from lastvolt_service.operations.thermal import MODEL_BASIS, HeatedWire, laid
from lastvolt_service.physics import air
from lastvolt_service.physics import cooling as physics
from lastvolt_service.physics.constants import (
    STANDARD_GRAVITY_M_PER_S2,
    STEFAN_BOLTZMANN_W_PER_M2_K4,
    ZERO_CELSIUS_K,
)
from lastvolt_service.tables.insulation import STRANDED_DIAMETER_RATIO

CHURCHILL = "Churchill and Chu 1975, natural convection round a horizontal cylinder"
FOURIER = "Fourier's law in a hollow cylinder"
RADIATION = "Stefan-Boltzmann law"
AIR = "model of dry air: Sutherland's law, ideal gas (ISO 2533; White, Viscous Fluid Flow)"
BALANCE = "heat balance: in the steady state nothing is left over"
GEOMETRY = "geometry"
CODATA = "CODATA recommended values 2022"


def insulated_steps(steps: Steps, wire: HeatedWire, prefix: str) -> None:
    """Take the steps to what a wire is in the heat balance: conductor, insulation, air.

    Parameters
    ----------
    steps : Steps
        Where to.
    wire : HeatedWire
        The wire.
    prefix : str
        Before each symbol.
    """
    p, body = prefix, laid([wire]).physics
    conductor_steps(steps, wire.conductor, wire.material, wire.construction, p)
    steps.given(f"{p}ambient_c", wire.ambient_c, "temperature around the wire")
    steps.pi()
    stranded = wire.construction == "stranded"
    ratio = STRANDED_DIAMETER_RATIO if stranded else 1.0
    steps.published(
        f"{p}strand_ratio",
        ratio,
        "diameter over the strands, over that of solid metal",
        "geometry of 19 strands in two layers" if stranded else "solid wire",
    )
    steps.computed(
        f"{p}conductor_diameter_mm",
        f"{p}strand_ratio * sqrt(4 * {p}area_mm2 / pi)",
        wire.dimensions.conductor_diameter_mm,
        "over the strands",
        GEOMETRY,
    )
    for symbol, value, meaning, source in (
        (
            f"{p}outer_diameter_mm",
            wire.dimensions.outer_diameter_mm,
            "over the insulation",
            wire.dimensions.citation,
        ),
        (
            f"{p}insulation_w_per_m_k",
            wire.insulation.conductivity_w_per_m_k,
            "conductivity of the insulation",
            wire.insulation.material_citation,
        ),
        (
            f"{p}grouping_factor",
            wire.grouping.factor,
            "permissible current in the loom over that of the wire alone",
            wire.grouping.citation,
        ),
        (f"{p}emissivity", one(body.emissivity), "of the surface", MODEL_BASIS),
        (f"{p}pressure_pa", one(body.pressure_pa), "of the air at its altitude", "ISO 2533"),
    ):
        steps.published(symbol, value, meaning, source)
    steps.computed(
        f"{p}insulation_k_m_per_w",
        f"ln({p}outer_diameter_mm / {p}conductor_diameter_mm) / (2 * pi * {p}insulation_w_per_m_k)",
        one(physics.insulation_k_m_per_w(body)),
        "thermal resistance of the insulation",
        FOURIER,
    )


def one(value: Any) -> float:
    """Read a number, or that of the one row there is.

    Parameters
    ----------
    value : float or ndarray
        As physics gives it.

    Returns
    -------
    float
    """
    return float(value[0] if getattr(value, "ndim", 0) else value)


def balance_steps(
    steps: Steps, wire: HeatedWire, prefix: str, current: str, conductor: str, state: str
) -> None:
    """Verify a steady temperature: what the current makes is what the surface gives off.

    Parameters
    ----------
    steps : Steps
        Where to; those of `insulated_steps` are there.
    wire : HeatedWire
        The wire.
    prefix : str
        Of its symbols.
    current, conductor : str
        Symbols of the current and of the temperature of the conductor.
    state : str
        After the prefix, before each symbol of this balance.
    """
    p, q = prefix, f"{prefix}{state}"
    body = laid([wire]).physics
    hot, amps = steps.value(conductor), steps.value(current)
    coefficient = wire.conductor.temperature_coefficient_per_k
    warm = wire.conductor.resistance_20_ohm_per_m * (1.0 + coefficient * (hot - 20.0))
    heat_in = (amps / wire.grouping.factor) ** 2 * warm
    surface = hot - heat_in * one(physics.insulation_k_m_per_w(body))
    if not (math.isfinite(surface) and surface > -ZERO_CELSIUS_K):
        return
    steps.computed(
        f"{q}heat_in_w_per_m",
        f"({current} / {p}grouping_factor) ** 2 * {p}resistance_20_ohm_per_m * "
        f"(1 + {p}temperature_coefficient_per_k * ({conductor} - 20))",
        heat_in,
        "heat made in each metre; in a loom as if alone with a larger current",
        f"{JOULE}; {LINEAR}",
    )
    steps.computed(
        f"{q}surface_temperature_c",
        f"{conductor} - {q}heat_in_w_per_m * {p}insulation_k_m_per_w",
        surface,
        "of the insulation, colder than the conductor by what drives the heat through it",
        FOURIER,
    )
    rise = surface - wire.ambient_c
    steps.computed(
        f"{q}surface_rise_k",
        f"{q}surface_temperature_c - {p}ambient_c",
        rise,
        "of the surface above ambient",
        BALANCE,
    )
    _film(steps, body, p, q, wire.ambient_c, rise)
    _convection(steps, body, p, q, wire.ambient_c, rise)
    radiation = one(
        physics.radiation_w_per_m2_k(
            surface_c=surface, ambient_c=wire.ambient_c, emissivity=body.emissivity
        )
    )
    steps.published("zero_celsius_k", ZERO_CELSIUS_K, "0 degC", "definition of degC")
    steps.published(
        "stefan_boltzmann",
        STEFAN_BOLTZMANN_W_PER_M2_K4,
        "Stefan-Boltzmann constant",
        CODATA,
        unit="W/(m2*K4)",
    )
    steps.computed(
        f"{q}radiation_w_per_m2_k",
        f"{p}emissivity * stefan_boltzmann * (({q}surface_temperature_c + zero_celsius_k) ** 2 + "
        f"({p}ambient_c + zero_celsius_k) ** 2) * ({q}surface_temperature_c + {p}ambient_c + "
        "2 * zero_celsius_k)",
        radiation,
        "heat transfer by radiation",
        RADIATION,
    )
    heat_out = rise * one(physics.surface_cooling(rise_k=rise, wire=body).w_per_m_k)
    steps.computed(
        f"{q}heat_out_w_per_m",
        f"pi * {p}outer_diameter_mm / 1000 * ({q}convection_w_per_m2_k + "
        f"{q}radiation_w_per_m2_k) * {q}surface_rise_k",
        heat_out,
        "heat that the surface of each metre gives off",
        MODEL_BASIS,
    )
    steps.computed(
        f"{q}heat_left_w_per_m",
        f"{q}heat_in_w_per_m - {q}heat_out_w_per_m",
        heat_in - heat_out,
        "left over: nothing, but for rounding",
        BALANCE,
    )


def _film(
    steps: Steps, body: physics.Wire, p: str, q: str, ambient_c: float, rise_k: float
) -> None:
    film_c = ambient_c + 0.5 * rise_k
    steps.computed(
        f"{q}film_c",
        f"{p}ambient_c + {q}surface_rise_k / 2",
        film_c,
        "mean temperature of the air at the surface",
        AIR,
    )
    film = air.film(temperature_c=film_c, pressure_pa=body.pressure_pa)
    for name, value, meaning in (
        ("air_w_per_m_k", film.conductivity_w_per_m_k, "conductivity of air at film_c"),
        ("viscosity_m2_per_s", film.viscosity_m2_per_s, "kinematic viscosity of air at film_c"),
        ("diffusivity_m2_per_s", film.diffusivity_m2_per_s, "diffusivity of air at film_c"),
    ):
        steps.published(f"{q}{name}", one(value), f"{meaning} and pressure_pa", AIR)


def _convection(
    steps: Steps, body: physics.Wire, p: str, q: str, ambient_c: float, rise_k: float
) -> None:
    film_k = ambient_c + 0.5 * rise_k + ZERO_CELSIUS_K
    steps.published("zero_celsius_k", ZERO_CELSIUS_K, "0 degC", "definition of degC")
    steps.published(
        "gravity", STANDARD_GRAVITY_M_PER_S2, "acceleration of gravity", "ISO 80000-3", unit="m/s2"
    )
    steps.published("prandtl", air.PRANDTL, "Prandtl number of air", AIR)
    rayleigh = physics.rayleigh_number(
        rise_k=rise_k,
        diameter_mm=body.outer_diameter_mm,
        expansion_per_k=1.0 / film_k,
        viscosity_m2_per_s=steps.value(f"{q}viscosity_m2_per_s"),
        diffusivity_m2_per_s=steps.value(f"{q}diffusivity_m2_per_s"),
    )
    steps.computed(
        f"{q}rayleigh",
        f"gravity * sqrt({q}surface_rise_k ** 2) * ({p}outer_diameter_mm / 1000) ** 3 / "
        f"(({q}film_c + zero_celsius_k) * {q}viscosity_m2_per_s * {q}diffusivity_m2_per_s)",
        one(rayleigh),
        "Rayleigh number: buoyancy against friction",
        CHURCHILL,
    )
    nusselt = one(physics.nusselt_number(rayleigh=rayleigh))
    steps.computed(
        f"{q}nusselt",
        f"(0.60 + 0.387 * {q}rayleigh ** (1 / 6) / "
        "(1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2",
        nusselt,
        "Nusselt number: how much better than by conduction",
        CHURCHILL,
    )
    steps.computed(
        f"{q}convection_w_per_m2_k",
        f"{q}nusselt * {q}air_w_per_m_k / ({p}outer_diameter_mm / 1000)",
        nusselt * steps.value(f"{q}air_w_per_m_k") / (one(body.outer_diameter_mm) * 1e-3),
        "heat transfer by convection",
        CHURCHILL,
    )
