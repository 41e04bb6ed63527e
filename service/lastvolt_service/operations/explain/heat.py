"""Steps to the heat of a wire, and to the current that it may carry."""

import math
from collections.abc import Mapping
from typing import Any

from lastvolt_service.operations.explain.balance import (
    FOURIER,
    GEOMETRY,
    balance_steps,
    insulated_steps,
    one,
)
from lastvolt_service.operations.permissible import published
from lastvolt_service.operations.steps import GIVEN, Steps
from lastvolt_service.operations.thermal import MODEL_BASIS, HeatedWire, ambient_of, laid
from lastvolt_service.operations.thermal import heated_wire as look_up
from lastvolt_service.operations.wire_heating import WireHeating
from lastvolt_service.physics import cooling as physics
from lastvolt_service.tables.metals import metal

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
        one(side.heat_capacity_j_per_m_k),
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


def _time_constant(steps: Steps, body: physics.Wire, wire: HeatedWire, answer: WireHeating) -> None:
    rise = (answer.surface_temperature_c or 0.0) - wire.ambient_c
    slope = one(physics.surface_cooling(rise_k=rise, wire=body).slope_w_per_m_k)
    steps.published(
        "cooling_slope_w_per_m_k",
        slope,
        "further heat given off per kelvin of the surface: derivative of heat_out_w_per_m",
        MODEL_BASIS,
    )
    conductance = slope / (1.0 + one(physics.insulation_k_m_per_w(body)) * slope)
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
