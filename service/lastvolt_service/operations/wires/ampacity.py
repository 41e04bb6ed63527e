"""Steady currents that wires may carry: the lower of the heat balance and a published table."""

from dataclasses import dataclass, replace

import numpy as np

from lastvolt_service.laws import named, solved
from lastvolt_service.operations.judging import FAIL, Judged, stays_within
from lastvolt_service.operations.wires.heated_wire import MODEL_BASIS, HeatedWire
from lastvolt_service.operations.wires.published_current import PublishedCurrent, published_current
from lastvolt_service.physics import air, transient
from lastvolt_service.physics.cooling import Wire, surface_cooling
from lastvolt_service.physics.heating import permissible_current_a
from lastvolt_service.rows import Flags, Numbers, given, pick, plain
from lastvolt_service.tables.ampacity import AMBIENT_C

# Rise of the surface at which a duty is taken to give off its heat: of insulation of 105 degC, the
# middle of the table's columns, in its air.
USUAL_RISE_K = 75.0
BY_MODEL, BY_TABLE = "model", "table"
NOTHING_LEFT = "nothing_left"


@dataclass(frozen=True, slots=True)
class Permissible:
    """Steady currents that wires may carry.

    Attributes
    ----------
    model_a : float or ndarray
        By the heat balance. [A]
    published : PublishedCurrent
        By the published table. [A]
    current_a : float or ndarray
        The lower of both. [A]
    by_table : bool or ndarray of bool
        Whether that is the table's.
    wire : HeatedWire
        The wires.
    """

    model_a: Numbers
    published: PublishedCurrent
    current_a: Numbers
    by_table: Flags
    wire: HeatedWire

    @property
    def table_a(self) -> Numbers:
        """By the published table. [A]."""
        return self.published.current_a

    def citation(self, row: int = 0) -> str:
        """Say who permits what one of the wires may carry."""
        return self.published.citation(row) if np.ravel(self.by_table)[row] else MODEL_BASIS

    @property
    def basis(self) -> tuple[str, ...]:
        """Cite whoever permits what any of the wires may carry."""
        if not isinstance(self.by_table, np.ndarray):
            return (self.citation(),)
        return self.published.citations(self.by_table)


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
    table = published_current(wire)
    table_a = named(
        "permissible_table_a", table.current_a, "the published current, carried over to the wire"
    )
    by_table = table_a < model_a
    current_a = pick(by_table, table_a, model_a)
    return Permissible(model_a, table._replace(current_a=table_a), current_a, by_table, wire)


def duty_current(wire: HeatedWire, may: Permissible, on_s: Numbers, off_s: Numbers) -> Numbers:
    """Currents that wires may carry for a time, once or over and over.

    The lower of the course of heat in time, and of the published current with what the classic law
    of duty adds to it: so that a long time permits no more than no end of it.

    Parameters
    ----------
    wire, may
        The wires, and what they may carry steadily.
    on_s, off_s : float or ndarray
        How long the current flows, and the rest before the next; infinite for a single load. [s]
    """
    physics = wire.physics
    by_heat_a = plain(
        transient.duty_current_a(
            limit_c=wire.limit_c, on_time_s=on_s, off_time_s=off_s, wire=physics
        )
    )
    by_table_a = table_current(wire, may.table_a, on_s, off_s)
    found: Numbers = pick(by_table_a < by_heat_a, by_table_a, by_heat_a)
    return found


def table_current(wire: HeatedWire, table_a: Numbers, on_s: Numbers, off_s: Numbers) -> Numbers:
    """What the published current of wires comes to for a time, once or over and over. [A]."""
    physics = wire.physics
    # Of the table's own conditions: the multiple is the same in whatever heat and air.
    usual = replace(physics, ambient_c=AMBIENT_C, pressure_pa=air.STANDARD_PRESSURE_PA)
    settles_s = transient.settling_time_s(
        current_a=0.0,
        cooling_slope_w_per_m_k=surface_cooling(rise_k=USUAL_RISE_K, wire=usual).w_per_m_k,
        conductor_diameter_mm=physics.conductor_diameter_mm,
        outer_diameter_mm=physics.outer_diameter_mm,
        insulation_k_m_per_w=physics.insulation_k_m_per_w,
        grouping_factor=1.0,
        resistance_20_ohm_per_m=physics.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=physics.temperature_coefficient_per_k,
        metal_j_per_m_k=physics.metal_j_per_m_k,
        insulation_j_per_m_k=physics.insulation_j_per_m_k,
    )
    multiple = transient.duty_multiple(on_time_s=on_s, off_time_s=off_s, time_constant_s=settles_s)
    found: Numbers = table_a * plain(multiple)
    return found


def nothing_left(limit_c: Numbers, ambient_c: Numbers) -> str | None:
    """Say of one wire that the air alone is as hot as its insulation may become."""
    none_left = limit_c <= ambient_c
    return NOTHING_LEFT if not isinstance(none_left, np.ndarray) and none_left else None


def judge_temperature(hot_c: Numbers, limit_c: Numbers, ambient_c: Numbers) -> Judged:
    """Judge steady temperatures of conductors; one that heats up without end, NaN, fails."""
    # A temperature has no natural zero: what is small is judged by the rise that the limit leaves.
    judged = stays_within(hot_c, limit_c, limit_c - ambient_c)
    return judged._replace(verdict=pick(given(hot_c), judged.verdict, FAIL))
