"""Temperatures of the wires of a path, given or settled together with the current."""

from collections.abc import Sequence
from dataclasses import fields
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import NoOperatingPoint
from lastvolt_service.laws import solved
from lastvolt_service.operations.judging import Fault
from lastvolt_service.operations.wires.at_rest import most_resists
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.operations.wires.path_parts import PathPart, in_series
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.warm_path import WarmPath, warm_path
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, negate, pick

SOLVED_C = "heat balance, solved together with the current of the path"


class Fed(Protocol):
    """A supply and the one value that the load keeps, the others NaN."""

    supply_v: Numbers
    load_current_a: Numbers
    load_resistance_ohm: Numbers
    load_power_w: Numbers
    duration_s: Numbers


def temperatures(parts: Sequence[PathPart], asked: Fed) -> tuple[list[Numbers], tuple[Fault, ...]]:
    """Find the temperature of each part that is a wire, and the rows that have no answer.

    Where a wire heats up without end, it is marked, and no wire of its path has a temperature.
    """
    given_c = [NOT_GIVEN if part.metal is None else part.given_c for part in parts]
    heated = [(part, part.wire) for part in parts if part.wire is not None]
    if not heated:
        return given_c, ()
    cold = (pick(part.is_heated, 0.0, part.ohm(c)) for part, c in zip(parts, given_c, strict=True))
    loads = (asked.load_current_a, asked.load_resistance_ohm, asked.load_power_w)
    others = (asked.supply_v, in_series(cold), *loads, asked.duration_s)
    where, found = _warm(heated, others)
    for column, (part, _) in enumerate(heated):
        warm_c = _laid_out(found.temperature_c[:, column], where)
        warm_c = solved(
            f"{part.column}_temperature_c", warm_c, f"temperature of {part.segment.name}", SOLVED_C
        )
        given_c[part.place] = pick(part.is_heated, warm_c, given_c[part.place])
        part.runs_away = part.is_heated & _laid_out(found.runaway[:, column], where)
    exhausted = Fault(
        _laid_out(found.exhausted, where),
        NoOperatingPoint,
        ("load_power_w",),
        _is_exhausted,
        (
            *(part.segment.name for part in parts),
            *(part.ohm(c) for part, c in zip(parts, at_work(parts, given_c), strict=True)),
        ),
    )
    return given_c, (exhausted,)


def at_work(parts: Sequence[PathPart], hot_c: Sequence[Numbers]) -> list[Numbers]:
    """Temperatures to reckon with: of a path with a wire that comes to no rest, those of cold ones.

    [degC].
    """
    return [
        pick(part.is_heated & negate(given(each)), part.segment.ambient_c, each)
        for part, each in zip(parts, hot_c, strict=True)
    ]


def _is_exhausted(*cold_parts: Any) -> str:
    _, begin = most_resists(*cold_parts)
    return (
        "No operating point exists: the path, warm from its current, cannot feed the load." + begin
    )


Rows = NDArray[np.bool_] | None


def _warm(
    heated: Sequence[tuple[PathPart, HeatedWire]], others: tuple[Numbers, ...]
) -> tuple[Rows, WarmPath]:
    """Settle the rows that have a heated wire; None for the one row of a single request."""
    names = [field.name for field in fields(Wire)]
    table: list[list[Any]] = []
    for part, laid in heated:
        wire = laid.physics
        table.append([part.segment.length_m, laid.ceiling_c, *(getattr(wire, n) for n in names)])
    flags = [part.is_heated for part, _ in heated]
    values = [*others, *flags, *(value for row in table for value in row)]
    shape = np.broadcast_shapes(*map(np.shape, values))
    where = None
    if shape:
        where = np.zeros(shape, dtype=bool)
        for each in flags:
            where |= each

    def taken(value: Any) -> Any:
        if where is None:
            return np.array([float(value)])
        return np.broadcast_to(value, shape)[where]

    length, ceiling, *wires = (
        np.stack([taken(row[place]) for row in table], axis=1) for place in range(len(table[0]))
    )
    supply_v, other_ohm, load_a, load_ohm, load_w, on_s = map(taken, others)
    found = warm_path(
        supply_v=supply_v,
        other_ohm=other_ohm,
        length_m=length,
        wire=Wire(**dict(zip(names, wires, strict=True))),
        ceiling_c=ceiling,
        load_current_a=load_a,
        load_resistance_ohm=load_ohm,
        load_power_w=load_w,
        on_time_s=on_s,
    )
    return where, found


def _laid_out(found: NDArray[Any], where: Rows) -> Any:
    """Put what was found of some rows where they are."""
    if where is None:
        return found[0].item()
    whole = np.full(where.shape, False if found.dtype == bool else np.nan)
    whole[where] = found
    return whole
