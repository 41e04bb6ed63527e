"""How hot a wire gets, and how much it may carry."""

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from lastvolt_service.operations.laid import Laid, permissible_currents
from lastvolt_service.operations.permissible import (
    Permissible,
    published,
    published_column,
    put_into_words,
)
from lastvolt_service.operations.results import (
    DEFERENCE,
    HOT_SURFACE,
    Check,
    Result,
    merge,
    show,
    spoken,
)
from lastvolt_service.operations.solved import (
    FAIL,
    NOT_ASKED,
    Judged,
    Solved,
    asked_if,
    stays_within,
)
from lastvolt_service.operations.thermal import HeatedWire, ambient_of, heated_wire, laid
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.transient import (
    duty_current_a,
    temperature_after_c,
    time_constant_s,
)
from lastvolt_service.rows import (
    NOT_GIVEN,
    Numbers,
    given,
    number,
    one_row,
    optional,
    pick,
    some,
)

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
    table = published(wire)
    solved = solve(
        wires=laid([wire]),
        published_a=published_column([table]),
        current_a=current_a,
        on_time_s=optional(on_time_s),
        off_time_s=optional(off_time_s),
    ).row(0)
    (may,) = put_into_words(solved.aside, [table])
    found = one_row(solved.columns)
    temperature, current, duty = solved.checks.values()
    by_duty = duty.verdict != NOT_ASKED
    return WireHeating(
        ambient_c=ambient,
        permissible_basis=may.citation,
        **found,
        checks=(_duty_check(duty, on_time_s or 0.0),)
        if by_duty
        else (spoken_temperature(temperature, wire), spoken_current(current, may.citation)),
        basis=merge(wire.basis, ambient_basis, (may.citation,)),
        cautions=cautions(by_duty=by_duty),
    )


def cautions(*, by_duty: bool) -> tuple[str, ...]:
    """Say what can hurt someone here.

    Parameters
    ----------
    by_duty : bool
        Whether a wire is judged by a short duty.

    Returns
    -------
    tuple of str
    """
    return (HOT_SURFACE, *((SHORT_DUTY,) if by_duty else ()), DEFERENCE)


def solve(
    *,
    wires: Laid,
    published_a: Numbers,
    current_a: Numbers,
    on_time_s: Numbers,
    off_time_s: Numbers,
) -> Solved:
    """Work out many wires; parameters as in requests, NaN where not given.

    Parameters
    ----------
    wires : Laid
        The wires, each with a limit.
    published_a : ndarray
        By a table that covers them, alone; NaN where there is none. [A]

    Returns
    -------
    Solved
    """
    wire, ceiling_c, limit_c = wires.physics, wires.ceiling_c, wires.limit_c
    may = permissible_currents(wires, wire, published_a)
    steady = conductor_temperature(current_a=current_a, wire=wire, ceiling_c=ceiling_c)
    hot = steady.conductor_temperature_c
    capacity = wires.heat_capacity_j_per_m_k
    settle = time_constant_s(
        current_a=current_a, ceiling_c=ceiling_c, wire=wire, heat_capacity_j_per_m_k=capacity
    )
    after: Numbers = NOT_GIVEN
    duty: Numbers = NOT_GIVEN
    if some(given(on_time_s)):
        after = temperature_after_c(
            current_a=current_a,
            on_time_s=on_time_s,
            start_c=wires.ambient_c,
            ceiling_c=ceiling_c,
            wire=wire,
            heat_capacity_j_per_m_k=capacity,
        )
        permitted = duty_current_a(
            limit_c=limit_c,
            on_time_s=on_time_s,
            wire=wire,
            heat_capacity_j_per_m_k=capacity,
            off_time_s=pick(given(off_time_s), off_time_s, math.inf),
        )
        duty = pick(given(on_time_s), permitted, NOT_GIVEN)
    by_duty = given(duty)
    steadily = by_duty < True
    return Solved(
        {
            "insulation_limit_c": limit_c,
            "conductor_temperature_c": hot,
            "surface_temperature_c": steady.surface_temperature_c,
            "permissible_current_a": may["current_a"],
            "permissible_model_a": may["model_a"],
            "permissible_table_a": may["table_a"],
            "time_constant_s": pick(np.isfinite(settle), settle, NOT_GIVEN),
            "temperature_after_on_time_c": after,
            "duty_current_a": duty,
            "short_circuit_a2s": wires.short_circuit_a2s,
        },
        {
            "conductor temperature": asked_if(
                steadily, judge_temperature(hot, limit_c, wires.ambient_c)
            ),
            "permissible current": asked_if(steadily, stays_within(current_a, may["current_a"])),
            "current for the duty": asked_if(by_duty, stays_within(current_a, duty)),
        },
        aside=may,
    )


def judge_temperature(hot_c: Numbers, limit_c: Numbers, ambient_c: Numbers) -> Judged:
    """Judge steady temperatures of conductors.

    Parameters
    ----------
    hot_c : float or ndarray
        The temperature; NaN where a wire heats up without end. [degC]
    limit_c, ambient_c : float or ndarray
        What the insulation bears, and what is around it. [degC]

    Returns
    -------
    Judged
    """
    # A temperature has no natural zero: what is small is judged by the rise that the limit leaves.
    judged = stays_within(hot_c, limit_c, limit_c - ambient_c)
    return judged._replace(verdict=pick(given(hot_c), judged.verdict, FAIL))


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
    return spoken_temperature(judge_temperature(optional(hot_c), limit_c, wire.ambient_c), wire)


def spoken_temperature(judged: Judged, wire: HeatedWire) -> Check:
    """Put the check of a conductor's temperature into words.

    Parameters
    ----------
    judged : Judged
        How it came out.
    wire : HeatedWire
        The wire.

    Returns
    -------
    Check
    """
    name, basis = "conductor temperature", wire.insulation.citation
    limit = show(judged.limit, "degC")
    if number(judged.value) is None:
        return Check(
            name,
            "fail",
            None,
            number(judged.limit),
            "degC",
            None,
            basis,
            f"The wire finds no steady temperature below {show(wire.ceiling_c, 'degC')}: it heats "
            "up without end. Take a larger size or less current.",
        )
    hot = show(judged.value, "degC")
    return spoken(
        name,
        judged,
        "degC",
        basis,
        {
            "pass": f"The conductor reaches {hot}; its insulation bears {limit}.",
            "fail": f"The conductor reaches {hot} and its insulation bears {limit}: take a larger "
            "size, better insulation, a cooler place or fewer wires in the loom.",
        },
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
    return spoken_current(stays_within(current_a, may.current_a), may.citation)


def spoken_current(judged: Judged, citation: str) -> Check:
    """Put the check of a steady current into words.

    Parameters
    ----------
    judged : Judged
        How it came out.
    citation : str
        Who permits what is permitted.

    Returns
    -------
    Check
    """
    carries, may = show(judged.value, "A"), show(judged.limit, "A")
    return spoken(
        "permissible current",
        judged,
        "A",
        citation,
        {
            "pass": f"The wire may carry {may} for ever and carries {carries}.",
            "fail": f"The wire may carry {may} for ever and is asked for {carries}: take a larger "
            "size.",
        },
    )


def _duty_check(judged: Judged, on_time_s: float) -> Check:
    carries, may = show(judged.value, "A"), show(judged.limit, "A")
    time = show(on_time_s, "s")
    return spoken(
        "current for the duty",
        judged,
        "A",
        "heat balance in time with the heat capacity of metal and insulation",
        {
            "pass": f"For {time} the wire may carry {may} and carries {carries}.",
            "fail": f"For {time} the wire may carry {may} and is asked for {carries}: shorten the "
            "time, lengthen the rest, or take a larger size.",
        },
    )
