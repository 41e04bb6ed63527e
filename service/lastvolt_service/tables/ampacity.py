"""Published permissible currents."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables
from lastvolt_service.tables.sizes import gauge_number

AMBIENT_C = 30.0  # of the table
ENGINE_SPACE_AMBIENT_C = 50.0  # where its engine-space factor is taken


@dataclass(frozen=True, slots=True)
class Ampacity:
    """A published permissible current.

    Attributes
    ----------
    current_a : float
        Permissible current. [A]
    citation : str
        Where it comes from.
    """

    current_a: float
    citation: str


@cache
def _currents() -> dict[tuple[int, float], float]:
    return {
        (gauge_number(row["gauge"]), float(column.split("_")[1])): float(value)
        for row in tables.rows("ampacity")
        for column, value in row.items()
        if column.startswith("limit_")
    }


@cache
def _engine_space() -> dict[float, tuple[float, str]]:
    return {
        float(row["limit_c"]): (
            float(row["factor"]),
            tables.citation("engine_space", row["source"]),
        )
        for row in tables.rows("engine_space")
    }


def ratings_c() -> tuple[float, ...]:
    """List the temperature ratings of insulation that the table covers.

    Returns
    -------
    tuple of float
        In degC, lowest first.
    """
    return tuple(_engine_space())


def ampacity(*, gauge: int, limit_c: float, ambient_c: float) -> Ampacity | None:
    """Look up the published current of a single stranded copper conductor of AWG size.

    Parameters
    ----------
    gauge : int
        Gauge number, -1 for 2/0 and so on.
    limit_c : float
        Temperature rating of the insulation: one of `ratings_c`. [degC]
    ambient_c : float
        Ambient. [degC]

    Returns
    -------
    Ampacity or None
        The table's value up to its ambient of 30 degC; with the factor of engine spaces above
        that and up to their 50 degC. None beyond, and where the table has no such row or column:
        nothing is interpolated.
    """
    current_a = _currents().get((gauge, limit_c))
    if current_a is None or ambient_c > ENGINE_SPACE_AMBIENT_C:
        return None
    table = tables.citation("ampacity", "cfr")
    if ambient_c <= AMBIENT_C:
        return Ampacity(current_a, table)
    factor, citation = _engine_space()[limit_c]
    return Ampacity(factor * current_a, f"{table}; {citation}")
