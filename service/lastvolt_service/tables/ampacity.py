"""Published permissible currents."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables
from lastvolt_service.tables.sizes import gauge_number

AMBIENT_C = 30.0  # of the table
ENGINE_SPACE_AMBIENT_C = 50.0  # where its engine-space factor is taken


@dataclass(frozen=True, slots=True)
class Column:
    """The published currents of single stranded copper conductors with one rating of insulation.

    Attributes
    ----------
    rating_c : float
        Temperature that the insulation bears. [degC]
    gauges : tuple of int
        Gauge numbers, -1 for 2/0, the smallest size first.
    currents_a : tuple of float
        Permissible current of each in air of `AMBIENT_C`. [A]
    engine_space_factor : float
        On these currents where the ambient is `ENGINE_SPACE_AMBIENT_C`.
    citation, factor_citation : str
        Where both come from.
    """

    rating_c: float
    gauges: tuple[int, ...]
    currents_a: tuple[float, ...]
    engine_space_factor: float
    citation: str
    factor_citation: str


@cache
def columns() -> tuple[Column, ...]:
    """Read the columns of the table, the lowest rating first."""
    return tuple(
        Column(
            float(row["limit_c"]),
            tuple(gauge_number(each["gauge"]) for each in tables.rows("ampacity")),
            tuple(float(each[f"limit_{row['limit_c']}_a"]) for each in tables.rows("ampacity")),
            float(row["factor"]),
            tables.citation("ampacity", "cfr"),
            tables.citation("engine_space", row["source"]),
        )
        for row in tables.rows("engine_space")
    )
