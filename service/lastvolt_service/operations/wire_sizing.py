"""The smallest wire that does the whole job, and why each smaller one does not."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, ConflictingFields, NotCovered
from lastvolt_service.operations.fuse_selection import Window, fuse_window, window_checks
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    Check,
    Result,
    at_least,
    at_most,
    merge,
    show,
)
from lastvolt_service.operations.thermal import (
    HeatedWire,
    Permissible,
    ambient_of,
    heated_wire,
    permissible,
    physics_wire,
)
from lastvolt_service.operations.voltage_drop import drop_limit, nominal_voltage
from lastvolt_service.operations.wire_heating import current_check, temperature_check
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.tables.limits import GROUND_RETURN_OHM, Limit, ground_return_citation
from lastvolt_service.tables.practice import minimum_sizes
from lastvolt_service.tables.sizes import trade_sizes

WHOLE_SUPPLY = "the whole supply: a path cannot drop more"


@dataclass(frozen=True, slots=True)
class Candidate:
    """One size that was tried."""

    size: Annotated[str, "the size"]
    area_mm2: Annotated[float, "section of metal"]
    drop_v: Annotated[
        float | None, "voltage lost on the whole loop; null where the wire heats up without end"
    ]
    conductor_temperature_c: Annotated[float | None, "steady, likewise"]
    permissible_current_a: Annotated[float, "steady current, the lower of model and table"]
    fuse_rating_a: Annotated[float | None, "fuse that fits; null where none does"]
    failing: Annotated[tuple[str, ...], "names of the checks that it fails"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSizing(Result):
    """Answer of ``wire-sizing``."""

    size: Annotated[str | None, "smallest size that passes all; null where none does"]
    standard: Annotated[str, "standard of the sizes"]
    area_mm2: Annotated[float | None, "section of that size"]
    loop_length_m: Annotated[float, "length of wire that the drop is reckoned over, out and back"]
    body_resistance_ohm: Annotated[float, "of the return through the body; 0 with a return wire"]
    drop_v: Annotated[float | None, "voltage lost on the whole loop"]
    limit_drop_v: Annotated[float, "limit of it"]
    load_voltage_v: Annotated[float | None, "voltage that reaches the load"]
    conductor_temperature_c: Annotated[float | None, "steady temperature of the conductor"]
    permissible_current_a: Annotated[float | None, "steady current that the size may carry"]
    fuse_rating_a: Annotated[float | None, "fuse that carries the load and protects the size"]
    fuse_family: Annotated[str | None, "family of that fuse"]
    ambient_c: Annotated[float, "ambient that was reckoned with"]
    candidates: Annotated[
        tuple[Candidate, ...], "the sizes from the smallest up to the one that passes"
    ]


@dataclass(frozen=True, slots=True)
class _Duty:
    """What is asked of any size."""

    supply_v: float
    load_current_a: float
    loop_length_m: float
    body_ohm: float
    limit: Limit
    inrush_a: float | None
    inrush_time_s: float
    fuse_ambient_c: float
    fuse_family: str | None
    minimum: HeatedWire


@dataclass(frozen=True, slots=True)
class _Tried:
    """One size with all that was found of it."""

    wire: HeatedWire
    may: Permissible
    hot_c: float | None
    drop_v: float | None
    window: Window
    checks: tuple[Check, ...]

    @property
    def failing(self) -> tuple[str, ...]:
        return tuple(check.name for check in self.checks if check.verdict == "fail")


def wire_sizing(
    *,
    supply_v: float,
    load_current_a: float,
    length_m: float,
    return_path: str,
    standard: str,
    circuit: str,
    material: str,
    construction: str,
    grouped_conductors: int,
    altitude_m: float,
    inrush_time_s: float,
    nominal_v: int | None = None,
    body_resistance_ohm: float | None = None,
    ambient_c: float | None = None,
    zone: str | None = None,
    insulation: str | None = None,
    insulation_limit_c: float | None = None,
    outer_diameter_mm: float | None = None,
    limit_drop_v: float | None = None,
    limit_drop_percent: float | None = None,
    inrush_current_a: float | None = None,
    fuse_ambient_c: float | None = None,
    fuse_family: str | None = None,
) -> WireSizing:
    """Smallest size that passes drop, heat, fuse and strength, and why each smaller one fails.

    `length_m` is one way. With a return wire of the same size the loop is twice that; through
    the body it is once, with the body's own resistance added. The drop is that of the wire at the
    temperature its load heats it to, where it lies; contacts are not in it.

    Returns
    -------
    WireSizing

    Raises
    ------
    NotCovered
        If the tables do not know the metal in any size, or the ambient is beyond what is known
        of fuses.
    ConflictingFields
        If the outer diameter leaves no room for the mechanical minimum.
    """
    ambient, ambient_basis = ambient_of(ambient_c, zone)
    common = {
        "ambient_c": ambient,
        "standard": standard,
        "material": material,
        "construction": construction,
        "insulation_kind": insulation,
        "insulation_limit_c": insulation_limit_c,
        "grouped_conductors": grouped_conductors,
        "altitude_m": altitude_m,
        "outer_diameter_mm": outer_diameter_mm,
    }
    wires = _candidates(standard, common)
    minimum = minimum_sizes()[standard]
    by_body = return_path == "body"
    body_ohm = (GROUND_RETURN_OHM if body_resistance_ohm is None else body_resistance_ohm) * by_body
    duty = _Duty(
        supply_v,
        load_current_a,
        length_m if by_body else 2 * length_m,
        body_ohm,
        _limit(supply_v, nominal_v, circuit, limit_drop_v, limit_drop_percent),
        inrush_current_a,
        inrush_time_s,
        ambient if fuse_ambient_c is None else fuse_ambient_c,
        fuse_family,
        heated_wire(size=minimum.size, **common),
    )
    tried = _try_until_one_passes(wires, duty, minimum.citation)
    last = tried[-1]
    ok = not last.failing
    body_basis = (ground_return_citation(),) if by_body and body_resistance_ohm is None else ()
    return WireSizing(
        size=last.wire.conductor.size if ok else None,
        standard=standard,
        area_mm2=last.wire.conductor.area_mm2 if ok else None,
        loop_length_m=duty.loop_length_m,
        body_resistance_ohm=body_ohm,
        drop_v=last.drop_v if ok else None,
        limit_drop_v=duty.limit.limit_v,
        load_voltage_v=supply_v - last.drop_v if ok and last.drop_v is not None else None,
        conductor_temperature_c=last.hot_c if ok else None,
        permissible_current_a=last.may.current_a if ok else None,
        fuse_rating_a=last.window.rating_a if ok else None,
        fuse_family=last.window.family if ok else None,
        ambient_c=ambient,
        candidates=tuple(_candidate(item) for item in tried),
        checks=last.checks,
        basis=merge(
            last.wire.basis,
            ambient_basis,
            body_basis,
            (duty.limit.citation,),
            (last.may.citation,),
            last.window.citations,
            (minimum.citation,),
        ),
        cautions=(FUSE_NEAR_SOURCE, SHORT_CIRCUIT, DEFERENCE),
    )


def _limit(
    supply_v: float,
    nominal_v: int | None,
    circuit: str,
    drop_v: float | None,
    percent: float | None,
) -> Limit:
    nominal = nominal_v or nominal_voltage(supply_v)
    limit = drop_limit(supply_v, nominal, circuit, drop_v, percent)
    return limit if limit.limit_v <= supply_v else Limit(supply_v, WHOLE_SUPPLY)


def _candidates(standard: str, common: dict[str, object]) -> tuple[HeatedWire, ...]:
    found = []
    for size in trade_sizes(standard):
        try:
            found.append(heated_wire(size=size, **common))
        except (NotCovered, ConflictingFields) as error:  # or too thick for the outer diameter
            refused: CalculationError = error
    if not found:
        raise refused
    return tuple(found)


def _try_until_one_passes(
    wires: Sequence[HeatedWire], duty: _Duty, minimum_citation: str
) -> list[_Tried]:
    # Heat and resistance of all sizes in one go: the arrays cost no more than one size does.
    physics = physics_wire(wires)
    hot = conductor_temperature(
        current_a=duty.load_current_a,
        wire=physics,
        ceiling_c=np.array([wire.ceiling_c for wire in wires]),
    )
    temperatures = np.asarray(hot.conductor_temperature_c)
    drops = _drops(
        physics.resistance_20_ohm_per_m, physics.temperature_coefficient_per_k, temperatures, duty
    )
    tried = []
    for wire, may, hot_c, drop in zip(
        wires, permissible(wires, physics), temperatures.tolist(), drops.tolist(), strict=True
    ):
        steady = np.isfinite(hot_c)
        tried.append(
            _try(
                wire,
                may,
                hot_c if steady else None,
                drop if steady else None,
                duty,
                minimum_citation,
            )
        )
        if not tried[-1].failing:
            break
    return tried


def _drops(
    ohm_per_m: object, coefficient: object, temperature_c: NDArray[np.float64], duty: _Duty
) -> NDArray[np.float64]:
    ratio = resistance_ratio(
        temperature_c=temperature_c, temperature_coefficient_per_k=np.asarray(coefficient)
    )
    loop = np.asarray(ohm_per_m) * ratio * duty.loop_length_m
    return np.asarray(duty.load_current_a * (loop + duty.body_ohm))


def _try(
    wire: HeatedWire,
    may: Permissible,
    hot_c: float | None,
    drop: float | None,
    duty: _Duty,
    minimum_citation: str,
) -> _Tried:
    window = fuse_window(
        load_current_a=duty.load_current_a,
        inrush_current_a=duty.inrush_a or 0.0,
        inrush_time_s=duty.inrush_time_s,
        permissible_current_a=may.current_a,
        fuse_ambient_c=duty.fuse_ambient_c,
        family=duty.fuse_family,
    )
    limit_c = 0.0 if wire.limit_c is None else wire.limit_c  # the schema asks for one
    checks = (
        _strength_check(wire, duty.minimum, minimum_citation),
        *((_drop_check(drop, duty.limit),) if drop is not None else ()),
        temperature_check(hot_c, limit_c, wire),
        current_check(duty.load_current_a, may),
        *window_checks(window, may.current_a, may.citation, duty.inrush_a),
    )
    return _Tried(wire, may, hot_c, drop, window, checks)


def _strength_check(wire: HeatedWire, minimum: HeatedWire, citation: str) -> Check:
    size, least = wire.conductor.size, minimum.conductor.size
    return at_least(
        "mechanical minimum",
        wire.conductor.area_mm2,
        minimum.conductor.area_mm2,
        "mm2",
        citation,
        {
            "pass": f"{size} is strong enough to be pulled and crimped.",
            "fail": f"{size} is thinner than {least}, the least that lasts in a vehicle.",
        },
        scale=0.0,  # sizes are steps: the least one is meant to be used
    )


def _drop_check(drop: float, limit: Limit) -> Check:
    return at_most(
        "drop of the loop",
        drop,
        limit.limit_v,
        "V",
        limit.citation,
        {
            "pass": f"The loop drops {show(drop, 'V')} of the {show(limit.limit_v, 'V')} allowed.",
            "fail": f"The loop drops {show(drop, 'V')}, more than {show(limit.limit_v, 'V')}: "
            "take a larger size or a shorter way.",
        },
    )


def _candidate(tried: _Tried) -> Candidate:
    return Candidate(
        size=tried.wire.conductor.size,
        area_mm2=tried.wire.conductor.area_mm2,
        drop_v=tried.drop_v,
        conductor_temperature_c=tried.hot_c,
        permissible_current_a=tried.may.current_a,
        fuse_rating_a=tried.window.rating_a,
        failing=tried.failing,
    )
