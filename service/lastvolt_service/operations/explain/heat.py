"""Steps through the heat balance of a wire."""

import math
from collections.abc import Mapping
from typing import Any

from lastvolt_service.operations.explain.conductors import LINEAR, conductor_steps
from lastvolt_service.operations.explain.steps import GIVEN, JOULE, Steps
from lastvolt_service.operations.permissible import published
from lastvolt_service.operations.thermal import MODEL_BASIS, HeatedWire, ambient_of, laid
from lastvolt_service.operations.thermal import heated_wire as look_up
from lastvolt_service.operations.wire_heating import WireHeating
from lastvolt_service.physics import air
from lastvolt_service.physics import cooling as physics
from lastvolt_service.physics.constants import (
    STANDARD_GRAVITY_M_PER_S2,
    STEFAN_BOLTZMANN_W_PER_M2_K4,
    ZERO_CELSIUS_K,
)
from lastvolt_service.tables.insulation import STRANDED_DIAMETER_RATIO
from lastvolt_service.tables.metals import metal

CHURCHILL = "Churchill and Chu 1975, natural convection round a horizontal cylinder"
FOURIER = "Fourier's law in a hollow cylinder"
RADIATION = "Stefan-Boltzmann law"
AIR = "model of dry air: Sutherland's law, ideal gas (ISO 2533; White, Viscous Fluid Flow)"
BALANCE = "heat balance: in the steady state nothing is left over"
GEOMETRY = "geometry"
CODATA = "CODATA recommended values 2022"
WORMER = "IEC 60853-2: Van Wormer's share of the insulation that follows the conductor"
ADIABATIC = "IEC 60949, adiabatic law"
IN_TIME = "heat balance in time, integrated step by step"
COMMON = ("size", "standard", "material", "construction", "grouped_conductors", "altitude_m")


def wire_of(arguments: Mapping[str, Any], size: str | None = None) -> HeatedWire:
    """Look up the wire of a request about heat.

    Parameters
    ----------
    arguments : mapping
        Of an operation.
    size : str, optional
        In place of that of the request.

    Returns
    -------
    HeatedWire
    """
    ambient, _ = ambient_of(arguments.get("ambient_c"), arguments.get("zone"))
    fields = {name: arguments.get(name) for name in COMMON}
    return look_up(
        **{**fields, "size": size or arguments["size"]},
        ambient_c=ambient,
        insulation_kind=arguments.get("insulation"),
        insulation_limit_c=arguments.get("insulation_limit_c"),
        outer_diameter_mm=arguments.get("outer_diameter_mm"),
    )


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
    ambient_steps(steps, wire, p)
    steps.pi()
    stranded = wire.construction == "stranded"
    ratio = STRANDED_DIAMETER_RATIO if stranded else 1.0
    steps.published(
        "strand_ratio",
        ratio,
        "diameter over the strands, over that of solid metal",
        "geometry of 19 strands in two layers" if stranded else "solid wire",
    )
    steps.computed(
        f"{p}conductor_diameter_mm",
        f"strand_ratio * sqrt(4 * {p}area_mm2 / pi)",
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
        (f"{p}emissivity", _one(body.emissivity), "of the surface", MODEL_BASIS),
        (f"{p}pressure_pa", _one(body.pressure_pa), "of the air at its altitude", "ISO 2533"),
    ):
        steps.published(symbol, value, meaning, source)
    steps.computed(
        f"{p}insulation_k_m_per_w",
        f"ln({p}outer_diameter_mm / {p}conductor_diameter_mm) / (2 * pi * {p}insulation_w_per_m_k)",
        _one(physics.insulation_k_m_per_w(body)),
        "thermal resistance of the insulation",
        FOURIER,
    )


def ambient_steps(steps: Steps, wire: HeatedWire, prefix: str) -> None:
    """Take the ambient of a wire, unless it is there already."""
    steps.given(f"{prefix}ambient_c", wire.ambient_c, "temperature around the wire")


def _one(value: Any) -> float:
    """A number, or that of the one row there is."""
    try:
        return float(value)
    except TypeError:
        return float(value[0])


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
    surface = hot - heat_in * _one(physics.insulation_k_m_per_w(body))
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
    radiation = _one(
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
    heat_out = rise * _one(physics.surface_cooling(rise_k=rise, wire=body).w_per_m_k)
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
        steps.published(f"{q}{name}", _one(value), f"{meaning} and pressure_pa", AIR)


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
        _one(rayleigh),
        "Rayleigh number: buoyancy against friction",
        CHURCHILL,
    )
    nusselt = _one(physics.nusselt_number(rayleigh=rayleigh))
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
        nusselt * steps.value(f"{q}air_w_per_m_k") / (_one(body.outer_diameter_mm) * 1e-3),
        "heat transfer by convection",
        CHURCHILL,
    )


def permissible_steps(
    steps: Steps, wire: HeatedWire, prefix: str, model_a: float, permissible_a: float
) -> None:
    """Take the steps to the steady current that a wire may carry.

    Parameters
    ----------
    steps : Steps
        Where to; those of `insulated_steps` are there.
    wire : HeatedWire
        The wire, with a limit.
    prefix : str
        Of its symbols.
    model_a, permissible_a : float
        By the heat balance, and the lower of it and a table. [A]
    """
    p, limit = prefix, wire.limit_c or 0.0
    own = wire.insulation.citation if limit == wire.insulation.limit_c else GIVEN
    steps.published(f"{p}insulation_limit_c", limit, "temperature that the conductor may have", own)
    model = steps.solved(
        f"{p}permissible_model_a", model_a, "current that heats the wire to its limit", MODEL_BASIS
    )
    if limit > wire.ambient_c:
        balance_steps(steps, wire, p, model, f"{p}insulation_limit_c", "limit_")
    table = published(wire)
    goal, meaning = f"{p}permissible_current_a", "steady current that the wire may carry"
    if table is None:
        only = f"{meaning}: no table covers it"
        steps.computed(goal, model, permissible_a, only, MODEL_BASIS)
        return
    steps.published(
        f"{p}published_a", table.current_a, "published current of a single wire", table.citation
    )
    steps.computed(
        f"{p}permissible_table_a",
        f"{p}published_a * {p}grouping_factor",
        table.current_a * wire.grouping.factor,
        "the same in the loom",
        wire.grouping.citation,
    )
    formula = f"min({model}, {p}permissible_table_a)"
    steps.computed(goal, formula, permissible_a, f"{meaning}: the lower one", "the safer of both")


def explain_heating(arguments: Mapping[str, Any], answer: WireHeating, steps: Steps) -> None:
    """Explain ``wire-heating``."""
    wire = wire_of(arguments)
    zone_steps(steps, arguments)
    insulated_steps(steps, wire, "")
    steps.given("current_a", arguments["current_a"], "current in the wire")
    if answer.conductor_temperature_c is not None:
        steps.solved(
            "conductor_temperature_c",
            answer.conductor_temperature_c,
            "steady temperature of the conductor",
            MODEL_BASIS,
        )
        balance_steps(steps, wire, "", "current_a", "conductor_temperature_c", "")
    permissible_steps(steps, wire, "", answer.permissible_model_a, answer.permissible_current_a)
    _in_time(steps, wire, answer)
    if answer.duty_current_a is not None:
        steps.given("on_time_s", arguments["on_time_s"], "how long the current flows")
        if arguments.get("off_time_s") is not None:
            steps.given("off_time_s", arguments["off_time_s"], "rest before it flows again")
        meaning = "current permissible for these times"
        steps.solved("duty_current_a", answer.duty_current_a, meaning, IN_TIME)
    if answer.temperature_after_on_time_c is not None:
        meaning = "conductor after on_time_s, from ambient"
        after = answer.temperature_after_on_time_c
        steps.solved("temperature_after_on_time_c", after, meaning, IN_TIME)


def zone_steps(steps: Steps, arguments: Mapping[str, Any]) -> None:
    """Take the ambient of a request, given or that of its zone."""
    ambient, basis = ambient_of(arguments.get("ambient_c"), arguments.get("zone"))
    if basis:
        steps.published("ambient_c", ambient, f"ambient in {arguments['zone']}", basis[0])
    else:
        steps.given("ambient_c", ambient, "temperature around the wire")


def _in_time(steps: Steps, wire: HeatedWire, answer: WireHeating) -> None:
    side = laid([wire])
    d, outer = "conductor_diameter_mm", "outer_diameter_mm"
    stuff = metal(wire.material)
    for symbol, value, source in (
        ("metal_j_per_m3_k", stuff.heat_capacity_j_per_m3_k, stuff.citation),
        (
            "insulation_j_per_m3_k",
            wire.insulation.heat_capacity_j_per_m3_k,
            wire.insulation.material_citation,
        ),
    ):
        steps.published(symbol, value, f"heat capacity of the {symbol.partition('_')[0]}", source)
    ratio = max(wire.dimensions.outer_diameter_mm / wire.dimensions.conductor_diameter_mm, 1 + 1e-6)
    steps.computed("diameter_ratio", f"max({outer} / {d}, 1.000001)", ratio, "D over d", GEOMETRY)
    share = 0.5 / math.log(ratio) - 1.0 / (ratio * ratio - 1.0)
    formula = "1 / (2 * ln(diameter_ratio)) - 1 / (diameter_ratio ** 2 - 1)"
    steps.computed("insulation_share", formula, share, "share that follows the conductor", WORMER)
    steps.computed(
        "heat_capacity_j_per_m_k",
        "(metal_j_per_m3_k * area_mm2 + insulation_j_per_m3_k * insulation_share * pi / 4 * "
        f"({outer} ** 2 - {d} ** 2)) / 1000000",
        _one(side.heat_capacity_j_per_m_k),
        "of metal and insulation",
        WORMER,
    )
    if answer.time_constant_s is not None and answer.surface_temperature_c is not None:
        _time_constant(steps, side.physics, wire, answer)
    if answer.short_circuit_a2s is not None and wire.insulation.short_circuit_c is not None:
        steps.published(
            "short_circuit_c",
            wire.insulation.short_circuit_c,
            "temperature that a short circuit may leave behind",
            wire.insulation.material_citation,
        )
        alpha = "temperature_coefficient_per_k"
        steps.computed(
            "short_circuit_a2s",
            f"metal_j_per_m3_k * area_mm2 / 1000000 / ({alpha} * resistance_20_ohm_per_m) * "
            f"ln((1 + {alpha} * (short_circuit_c - 20)) / "
            f"(1 + {alpha} * (insulation_limit_c - 20)))",
            answer.short_circuit_a2s,
            "let-through from the limit to there, metal alone",
            ADIABATIC,
        )


def _time_constant(
    steps: Steps, body: physics.Wire, wire: HeatedWire, answer: WireHeating
) -> None:
    rise = (answer.surface_temperature_c or 0.0) - wire.ambient_c
    slope = _one(physics.surface_cooling(rise_k=rise, wire=body).slope_w_per_m_k)
    steps.published(
        "cooling_slope_w_per_m_k",
        slope,
        "further heat given off per kelvin of the surface: derivative of heat_out_w_per_m",
        MODEL_BASIS,
    )
    conductance = slope / (1.0 + _one(physics.insulation_k_m_per_w(body)) * slope)
    steps.computed(
        "conductance_w_per_m_k",
        "cooling_slope_w_per_m_k / (1 + insulation_k_m_per_w * cooling_slope_w_per_m_k)",
        conductance,
        "the same per kelvin of the conductor",
        FOURIER,
    )
    steps.computed(
        "time_constant_s",
        "heat_capacity_j_per_m_k / (grouping_factor ** 2 * conductance_w_per_m_k - "
        "current_a ** 2 * resistance_20_ohm_per_m * temperature_coefficient_per_k)",
        answer.time_constant_s or 0.0,
        "of the rise about the steady state: cooling less what a hotter conductor adds",
        "heat balance, linear about the steady state",
    )
