"""The published table of permissible currents, carried over to any wire in any air.

The table speaks for single stranded copper wires of AWG size, seven ratings of insulation, and air
of 30 and 50 degC. What it says is carried over so that nothing worse is ever allowed more:

- by section: any wire counts as stranded copper of its resistance, and between two sizes the line
  is straight in the logarithms. Below the smallest size the current falls with the 3/4 power of the
  section, above the largest it grows with the square root: heat balances lie between these two;
- by rating: the next lower column; below the lowest one as if the air were hotter by what lacks;
- by ambient: the square root of the rise that is left, and from 50 degC on the printed factor where
  that is lower. Air colder than 30 degC allows no more.
"""

from functools import cache
from typing import Any, NamedTuple

import numpy as np

from lastvolt_service.laws import finer, named, published
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.physics.conductors import awg_diameter_mm, circle_area_mm2
from lastvolt_service.physics.heating import ambient_factor
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, pick, plain, some
from lastvolt_service.tables import Unproven, materials
from lastvolt_service.tables.ampacity import (
    AMBIENT_C,
    ENGINE_SPACE_AMBIENT_C,
    Column,
    columns,
)
from lastvolt_service.tables.curves import Curve

OF_AMBIENT = "NFPA 70, National Electrical Code, 310.15(B): square root of the rise that is left"
CARRIED_ON = Unproven(
    "common practice: beyond the sizes of the published table its current is carried on, below as "
    "the 3/4 power of the section, above as the square root, no source"
)
_BELOW, _ABOVE = 0.75, 0.5


class PublishedCurrent(NamedTuple):
    """What the table permits wires to carry.

    Attributes
    ----------
    current_a : float or ndarray
        In their looms; NaN where they have no limit. [A]
    place : int or ndarray of int
        Of the column that is read.
    is_factored, is_beyond : bool or ndarray of bool
        Whether the printed factor of engine spaces lowers it, and whether the table has no size
        as small, or as large.
    """

    current_a: Numbers
    place: Any
    is_factored: Flags
    is_beyond: Flags

    def citation(self, row: int = 0) -> str:
        """Say where the current of a row comes from."""
        place, factored, beyond = (np.ravel(each) for each in self[1:])
        at = [each[row if len(each) > 1 else 0] for each in (place, factored, beyond)]
        return _citation(int(at[0]), bool(at[1]), bool(at[2]))

    def citations(self, where: Flags) -> tuple[str, ...]:
        """Say where the currents of some rows come from."""
        each = np.broadcast_arrays(*self[1:], where)
        places, factored, beyond = (one[each[-1]] for one in each[:-1])
        kinds = np.unique(4 * places + 2 * factored + beyond)
        return tuple(_citation(int(k) // 4, bool(k & 2), bool(k & 1)) for k in kinds)


@cache
def _citation(place: int, is_factored: bool, is_beyond: bool) -> str:
    column = columns()[place]
    parts = [
        f"{column.citation}, carried over by section of copper, rating and ambient",
        *((column.factor_citation,) if is_factored else ()),
        *((CARRIED_ON,) if is_beyond else ()),
    ]
    text = "; ".join(parts)
    return Unproven(text) if any(isinstance(each, Unproven) for each in parts) else text


def published_current(wire: HeatedWire) -> PublishedCurrent:
    """Find what the table permits wires to carry; NaN where they have no limit."""
    section_mm2 = _copper_mm2(wire)
    sections = _curve(columns()[0]).x
    smallest_mm2, largest_mm2 = sections[0], sections[-1]
    lowest_c = columns()[0].rating_c
    too_small, too_large = section_mm2 < smallest_mm2, section_mm2 > largest_mm2
    inside_mm2 = pick(too_small, smallest_mm2, pick(too_large, largest_mm2, section_mm2))
    ambient_c = pick(wire.ambient_c < AMBIENT_C, AMBIENT_C, wire.ambient_c)
    lacks_k = pick(wire.limit_c < lowest_c, lowest_c - wire.limit_c, 0.0)
    ambient_c = named("table_ambient_c", ambient_c + lacks_k, "ambient that the table is read at")
    limit_c = pick(wire.limit_c < lowest_c, lowest_c, wire.limit_c)
    by_law = plain(
        ambient_factor(limit_c=limit_c, ambient_c=ambient_c, reference_ambient_c=AMBIENT_C)
    )
    by_law = named("ambient_factor", by_law, "on the published current, for its ambient")
    is_hot = ambient_c >= ENGINE_SPACE_AMBIENT_C
    current_a, printed, place = NOT_GIVEN, NOT_GIVEN, 0
    for number, column in enumerate(columns()):
        here = limit_c >= column.rating_c
        # Of one wire, the column that counts and no other: its steps are told.
        if some(here) and (isinstance(here, np.ndarray) or column is _column(limit_c)):
            line_a = read_off(
                _curve(column),
                inside_mm2,
                "published_a",
                "published current of a single wire in air of 30 degC",
                along="mm2",
                logarithmic=True,
            )
            # At a size of the table its own number, to the last digit.
            single_a = finer(plain(np.round(line_a, 9)), line_a)
            factor = published(
                "printed_factor",
                column.engine_space_factor,
                "of engine spaces",
                column.factor_citation,
            )
            current_a, printed = pick(here, single_a, current_a), pick(here, factor, printed)
            place = pick(here, number, place)
    is_beyond = too_small | too_large
    if some(is_beyond):
        share = (section_mm2 / inside_mm2) ** pick(too_small, _BELOW, _ABOVE)
        current_a = named("carried_on_a", current_a * share, "carried on beyond the table's sizes")
    is_factored = is_hot & (printed < by_law)
    factor = pick(is_factored, printed, by_law)
    current_a = current_a * factor * wire.grouping_factor
    return PublishedCurrent(current_a, place, is_factored, is_beyond)


def _copper_mm2(wire: HeatedWire) -> Numbers:
    """Section that the table is read at: of stranded copper of the same resistance. [mm2]."""
    copper = materials.material("copper")
    resistivity = published(
        "copper_resistivity_ohm_mm2_per_m",
        copper.resistivity_ohm_mm2_per_m,
        "resistivity of copper at 20 degC",
        copper.citation,
    )
    lay = published(
        "lay_factor",
        materials.LAY_FACTOR_STRANDED,
        "length of a strand over that of the wire",
        materials.LAY_BASIS,
    )
    as_stranded_mm2 = named(
        "as_copper_mm2",
        resistivity * lay / wire.resistance_20_ohm_per_m,
        "section of stranded copper of the same resistance",
    )
    found: Numbers = pick(wire.area_mm2 < as_stranded_mm2, wire.area_mm2, as_stranded_mm2)
    return found


def _column(limit_c: float) -> Column:
    """The next lower column of a limit."""
    return max((each for each in columns() if each.rating_c <= limit_c), key=_rating)


def _rating(column: Column) -> float:
    return column.rating_c


@cache
def _curve(column: Column) -> Curve:
    """The currents of a column over the sections of its sizes."""
    sections = (
        float(circle_area_mm2(diameter_mm=awg_diameter_mm(gauge=float(gauge))))
        for gauge in column.gauges
    )
    return Curve(tuple(sections), column.currents_a, column.citation)
