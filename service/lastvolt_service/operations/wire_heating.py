"""How hot a wire gets, and how much it may carry."""

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    Check,
    Result,
    at_most,
    merge,
    show,
)
from lastvolt_service.operations.thermal import (
    HeatedWire,
    Permissible,
    ambient_of,
    heat_capacities,
    heated_wire,
    permissible,
    physics_wire,
)
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.fusing import adiabatic_a2s
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.transient import (
    duty_current_a,
    temperature_after_c,
    time_constant_s,
)
from lastvolt_service.tables.metals import metal

SHORT_DUTY = (
    "The short duty holds only as long as nothing sticks: a contact that stays closed heats the "
    "wire to its steady state, for which no current above permissible_current_a is safe."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WireHeating(Result):
    """Answer of ``wire-heating``."""

    ambient_c: Annotated[float, "ambient that was reckoned with"]
    insulation_limit_c: Annotated[float, "temperature that the conductor may have"]
    conductor_temperature_c: Annotated[
        float | None,
        "steady temperature at the current; null where the wire heats up without end",
    ]
    surface_temperature_c: Annotated[float | None, "of the insulation, likewise"]
    permissible_current_a: Annotated[float, "steady current, the lower of model and table"]
    permissible_model_a: Annotated[float, "the same by the heat balance"]
    permissible_table_a: Annotated[
        float | None, "the same by a published table; null where none covers the case"
    ]
    permissible_basis: Annotated[str, "which of both is the lower one"]
    time_constant_s: Annotated[
        float | None, "of the rise about the steady state; null where there is none"
    ]
    temperature_after_on_time_c: Annotated[
        float | None,
        "conductor after on_time_s from ambient; null without on_time_s, or where the insulation "
        "is gone before",
    ]
    duty_current_a: Annotated[
        float | None, "current permissible for on_time_s and off_time_s; null without on_time_s"
    ]
    short_circuit_a2s: Annotated[
        float | None,
        "let-through that takes the conductor from the insulation limit to its short-circuit "
        "temperature; null where that is not known",
    ]


def wire_heating(
    *,
    size: str,
    current_a: float,
    material: str,
    construction: str,
    grouped_conductors: int,
    altitude_m: float,
    standard: str | None = None,
    ambient_c: float | None = None,
    zone: str | None = None,
    insulation: str | None = None,
    insulation_limit_c: float | None = None,
    outer_diameter_mm: float | None = None,
    on_time_s: float | None = None,
    off_time_s: float | None = None,
) -> WireHeating:
    """Temperature of a wire at a current, and the current that its insulation permits.

    A heat balance per metre of a horizontal wire in still air: natural convection, radiation and
    the insulation's resistance, with published factors for grouped conductors. Where a published
    table covers size, insulation and ambient, the lower of model and table counts. With
    `on_time_s` the wire carries its current for a time only, once or, with `off_time_s`, over
    and over.

    Returns
    -------
    WireHeating

    Raises
    ------
    UnknownSize, NotCovered
        If the tables do not know the wire.
    ConflictingFields
        If the insulation does not fit round the conductor.
    """
    ambient, ambient_basis = ambient_of(ambient_c, zone)
    wire = heated_wire(
        size=size,
        ambient_c=ambient,
        standard=standard,
        material=material,
        construction=construction,
        insulation_kind=insulation,
        insulation_limit_c=insulation_limit_c,
        grouped_conductors=grouped_conductors,
        altitude_m=altitude_m,
        outer_diameter_mm=outer_diameter_mm,
    )
    limit = wire.limit_c if wire.limit_c is not None else 0.0  # the schema asks for one
    physics = physics_wire([wire])
    may = permissible([wire], physics)[0]
    steady = conductor_temperature(current_a=current_a, wire=physics, ceiling_c=wire.ceiling_c)
    hot = _number(steady.conductor_temperature_c)
    capacity = heat_capacities([wire])
    after, duty = _duty(wire, physics, capacity, current_a, limit, on_time_s, off_time_s)
    settle = time_constant_s(
        current_a=current_a,
        ceiling_c=wire.ceiling_c,
        wire=physics,
        heat_capacity_j_per_m_k=capacity,
    )
    checks: tuple[Check, ...] = (
        temperature_check(hot, limit, wire),
        current_check(current_a, may),
    )
    if duty is not None and on_time_s is not None:
        checks = (_duty_check(current_a, duty, on_time_s),)
    return WireHeating(
        ambient_c=ambient,
        insulation_limit_c=limit,
        conductor_temperature_c=hot,
        surface_temperature_c=_number(steady.surface_temperature_c),
        permissible_current_a=may.current_a,
        permissible_model_a=may.model_a,
        permissible_table_a=may.table_a,
        permissible_basis=may.citation,
        time_constant_s=_number(settle),
        temperature_after_on_time_c=after,
        duty_current_a=duty,
        short_circuit_a2s=_short_circuit(wire, limit),
        checks=checks,
        basis=merge(wire.basis, ambient_basis, (may.citation,)),
        cautions=(HOT_SURFACE, *((SHORT_DUTY,) if duty is not None else ()), DEFERENCE),
    )


def _number(value: object) -> float | None:
    """The one number of a one-row array, or None where physics found none."""
    number = float(np.ravel(np.asarray(value, dtype=np.float64))[0])
    return number if math.isfinite(number) else None


def _duty(
    wire: HeatedWire,
    physics: Wire,
    capacity: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    current_a: float,
    limit_c: float,
    on_time_s: float | None,
    off_time_s: float | None,
) -> tuple[float | None, float | None]:
    if on_time_s is None:
        return None, None
    after = temperature_after_c(
        current_a=current_a,
        on_time_s=on_time_s,
        start_c=wire.ambient_c,
        ceiling_c=wire.ceiling_c,
        wire=physics,
        heat_capacity_j_per_m_k=capacity,
    )
    duty = duty_current_a(
        limit_c=limit_c,
        on_time_s=on_time_s,
        wire=physics,
        heat_capacity_j_per_m_k=capacity,
        off_time_s=math.inf if off_time_s is None else off_time_s,
    )
    return _number(after), _number(duty)


def _short_circuit(wire: HeatedWire, limit_c: float) -> float | None:
    end_c = wire.insulation.short_circuit_c
    if end_c is None or end_c <= limit_c:
        return None
    # Metal alone: in the time that this law is good for, the insulation takes up nothing.
    metal_only = wire.conductor.area_mm2 * 1e-6 * metal(wire.material).heat_capacity_j_per_m3_k
    return float(
        adiabatic_a2s(
            start_c=limit_c,
            end_c=end_c,
            heat_capacity_j_per_m_k=metal_only,
            resistance_20_ohm_per_m=wire.conductor.resistance_20_ohm_per_m,
            temperature_coefficient_per_k=wire.conductor.temperature_coefficient_per_k,
        )
    )


def temperature_check(hot_c: float | None, limit_c: float, wire: HeatedWire) -> Check:
    """Judge the steady temperature of a conductor.

    Parameters
    ----------
    hot_c : float or None
        The temperature; None where the wire heats up without end. [degC]
    limit_c : float
        What its insulation bears. [degC]
    wire : HeatedWire
        The wire.

    Returns
    -------
    Check
    """
    name = "conductor temperature"
    basis = wire.insulation.citation
    if hot_c is None:
        return Check(
            name,
            "fail",
            None,
            limit_c,
            "degC",
            None,
            basis,
            f"The wire finds no steady temperature below {show(wire.ceiling_c, 'degC')}: it heats "
            "up without end. Take a larger size or less current.",
        )
    # A temperature has no natural zero: what is small is judged by the rise that the limit leaves.
    return at_most(
        name,
        hot_c,
        limit_c,
        "degC",
        basis,
        {
            "pass": f"The conductor reaches {show(hot_c, 'degC')}; its insulation bears "
            f"{show(limit_c, 'degC')}.",
            "fail": f"The conductor reaches {show(hot_c, 'degC')} and its insulation bears "
            f"{show(limit_c, 'degC')}: take a larger size, better insulation, a cooler place or "
            "fewer wires in the loom.",
        },
        scale=limit_c - wire.ambient_c,
    )


def current_check(current_a: float, may: Permissible) -> Check:
    """Judge a steady current.

    Parameters
    ----------
    current_a : float
        The current. [A]
    may : Permissible
        What the wire may carry.

    Returns
    -------
    Check
    """
    return at_most(
        "permissible current",
        current_a,
        may.current_a,
        "A",
        may.citation,
        {
            "pass": f"The wire may carry {show(may.current_a, 'A')} for ever and carries "
            f"{show(current_a, 'A')}.",
            "fail": f"The wire may carry {show(may.current_a, 'A')} for ever and is asked for "
            f"{show(current_a, 'A')}: take a larger size.",
        },
    )


def _duty_check(current_a: float, duty_a: float, on_time_s: float) -> Check:
    return at_most(
        "current for the duty",
        current_a,
        duty_a,
        "A",
        "heat balance in time with the heat capacity of metal and insulation",
        {
            "pass": f"For {show(on_time_s, 's')} the wire may carry {show(duty_a, 'A')} and "
            f"carries {show(current_a, 'A')}.",
            "fail": f"For {show(on_time_s, 's')} the wire may carry {show(duty_a, 'A')} and is "
            f"asked for {show(current_a, 'A')}: shorten the time, lengthen the rest, or take a "
            "larger size.",
        },
    )
