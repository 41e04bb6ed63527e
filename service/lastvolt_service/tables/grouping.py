"""Bundles: how much less each of several loaded conductors may carry."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables


@dataclass(frozen=True, slots=True)
class Grouping:
    """Factor on the permissible current in a bundle.

    Attributes
    ----------
    factor : float
        Permissible current of each conductor over that of one alone.
    citation : str
        Who says so.
    """

    factor: float
    citation: str


ALONE = Grouping(1.0, "a single loaded conductor: no factor")


@cache
def published(conductors: int) -> tuple[Grouping, ...]:
    """List all published factors for a number of loaded conductors.

    Parameters
    ----------
    conductors : int
        Loaded conductors in the bundle, at least 1.

    Returns
    -------
    tuple of Grouping
        They disagree; empty where no publication covers the number.
    """
    return tuple(
        Grouping(float(row["factor"]), tables.citation("grouping", row["source"]))
        for row in tables.rows("grouping")
        if int(row["fewest_conductors"]) <= conductors
        and conductors <= int(row["most_conductors"] or conductors)
    )


@cache
def grouping(conductors: int) -> Grouping:
    """Choose the factor for a number of loaded conductors.

    Parameters
    ----------
    conductors : int
        Loaded conductors in the bundle, at least 1.

    Returns
    -------
    Grouping
        The lowest published one, named as disputed where others are higher; `ALONE` for a single
        conductor.
    """
    found = sorted(published(conductors), key=lambda item: item.factor)
    if not found:
        return ALONE
    least, *others = found
    more = "".join(f"; disputed: {each.factor:.2f} by {each.citation}" for each in others)
    return Grouping(least.factor, least.citation + more)
