"""Steady currents that wires may carry: the lower of the heat balance and a published table."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from lastvolt_service.laws import is_recording, named, published, solved
from lastvolt_service.operations.judging import FAIL, Judged, stays_within
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.wires.heated_wire import MODEL_BASIS, HeatedWire
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.heating import permissible_current_a
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, given, pick, plain, some
from lastvolt_service.tables.ampacity import (
    AMBIENT_C,
    ENGINE_SPACE_AMBIENT_C,
    Ampacity,
    ampacity,
    ratings_c,
)
from lastvolt_service.tables.sizes import split

BY_MODEL, BY_TABLE = "model", "table"


@dataclass(frozen=True, slots=True)
class Permissible:
    """Steady currents that wires may carry.

    Attributes
    ----------
    model_a : float or ndarray
        By the heat balance. [A]
    table_a : float or ndarray
        By a table that covers size, insulation and ambient, with the grouping factor; NaN where
        there is none. [A]
    current_a : float or ndarray
        The lower of both. [A]
    by_table : bool or ndarray of bool
        Whether that is the table's.
    wire : HeatedWire
        The wires.
    """

    model_a: Numbers
    table_a: Numbers
    current_a: Numbers
    by_table: Flags
    wire: HeatedWire

    def citation(self, row: int = 0) -> str:
        """Say who permits what one of the wires may carry."""
        if not np.ravel(self.by_table)[row]:
            return MODEL_BASIS
        index = self.wire.known.index
        known = self.wire.known.items[index if isinstance(index, int) else index[row]]
        limit_c, ambient_c = (
            float(np.ravel(value)[row] if np.ndim(value) else value)
            for value in (self.wire.limit_c, self.wire.ambient_c)
        )
        table = None if known is None else _published(known, limit_c, ambient_c)
        return MODEL_BASIS if table is None else table.citation

    @property
    def basis(self) -> tuple[str, ...]:
        """Cite whoever permits what any of the wires may carry."""
        if isinstance(self.wire.known.index, int) and not isinstance(self.by_table, np.ndarray):
            return (self.citation(),)
        if not some(self.by_table):
            return ()
        return merge(
            self.wire.known.basis(
                lambda known: (
                    table.citation
                    for ambient_c in (AMBIENT_C, ENGINE_SPACE_AMBIENT_C)
                    for rating_c in ratings_c()
                    if (table := _published(known, rating_c, ambient_c))
                )
            )
        )


def permissible(wire: HeatedWire, physics: Wire | None = None) -> Permissible:
    """Find the steady currents that wires may carry; 0 where the ambient is at the limit.

    Parameters
    ----------
    wire : HeatedWire
        One or many, each with a limit.
    physics : Wire, optional
        Its `HeatedWire.physics`, which is not made twice.
    """
    limit_c = pick(given(wire.limit_c), wire.limit_c, 0.0)
    model_a = solved(
        "permissible_model_a",
        plain(permissible_current_a(limit_c=limit_c, wire=physics or wire.physics)),
        "current that heats the wire to its limit",
        MODEL_BASIS,
    )
    table_a = named(
        "permissible_table_a",
        _published_a(wire) * wire.grouping_factor,
        "the published current in the loom",
    )
    by_table = table_a < model_a
    current_a = pick(by_table, table_a, model_a)
    return Permissible(model_a, table_a, current_a, by_table, wire)


def _published_a(wire: HeatedWire) -> Numbers:
    """Published currents, of the tables' own ratings and ambients only; else NaN. [A]."""
    table_a: Numbers = NOT_GIVEN
    above_c = -np.inf
    for highest_c in (AMBIENT_C, ENGINE_SPACE_AMBIENT_C):
        is_near = (wire.ambient_c > above_c) & (wire.ambient_c <= highest_c)
        for rating_c in ratings_c():
            here = is_near & (wire.limit_c == rating_c)
            if some(here):
                found = wire.known.numbers(_at(rating_c, highest_c))
                table_a = pick(here, found, table_a)
        above_c = highest_c
    if is_recording() and given(table_a):
        table = _published(wire.one, float(wire.limit_c), float(wire.ambient_c))
        source = MODEL_BASIS if table is None else table.citation
        table_a = published("published_a", table_a, "published current of a single wire", source)
    return table_a


def _at(limit_c: float, ambient_c: float) -> Callable[[InsulatedWire], float | None]:
    def current(known: InsulatedWire) -> float | None:
        table = _published(known, limit_c, ambient_c)
        return None if table is None else table.current_a

    return current


def _published(known: InsulatedWire, limit_c: float, ambient_c: float) -> Ampacity | None:
    """Look the published current of a wire up; None where no table covers it."""
    metal = known.conductor
    is_plain = known.material in {"copper", "tinned_copper"} and known.construction == "stranded"
    if metal.standard != "AWG" or not is_plain:
        return None
    return ampacity(gauge=int(split(metal.size)[1]), limit_c=limit_c, ambient_c=ambient_c)


def judge_temperature(hot_c: Numbers, limit_c: Numbers, ambient_c: Numbers) -> Judged:
    """Judge steady temperatures of conductors; one that heats up without end, NaN, fails."""
    # A temperature has no natural zero: what is small is judged by the rise that the limit leaves.
    judged = stays_within(hot_c, limit_c, limit_c - ambient_c)
    return judged._replace(verdict=pick(given(hot_c), judged.verdict, FAIL))
