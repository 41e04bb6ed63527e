"""Published columns over others, to be read between their points."""

from dataclasses import dataclass

from lastvolt_service import tables


@dataclass(frozen=True, slots=True)
class Curve:
    """A published column over another.

    Attributes
    ----------
    x, y : tuple of float
        Points, `x` rising.
    citation : str
        Where they come from.
    """

    x: tuple[float, ...]
    y: tuple[float, ...]
    citation: str


def curve(table: str, x: str, y: str) -> Curve:
    """Read a table of one source as a curve."""
    (source,) = tables.sources(table)
    rows = tables.rows(table)
    return Curve(
        tuple(float(row[x]) for row in rows),
        tuple(float(row[y]) for row in rows),
        tables.citation(table, source),
    )
