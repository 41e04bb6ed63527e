"""Fuse-links of road vehicles: ratings, operating times, and the practice of choosing them."""

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from lastvolt_service import tables
from lastvolt_service.errors import NotCovered
from lastvolt_service.rows import Numbers, pick

CONTINUOUS_SHARE = 0.75  # of the rating, at REFERENCE_AMBIENT_C
REFERENCE_AMBIENT_C = 25.0


@dataclass(frozen=True, slots=True)
class Fuse:
    """A standard fuse-link.

    Attributes
    ----------
    family : str
        As in requests.
    rating_a : float
        Rated current. [A]
    colour : str
        Empty where none is known.
    citation : str
        Where it comes from.
    """

    family: str
    rating_a: float
    colour: str
    citation: str


@dataclass(frozen=True, slots=True)
class Gate:
    """Time within which a fuse-link opens.

    Attributes
    ----------
    rating_multiple : float
        Current over the rating.
    shortest_s : float
        It does not open before. [s]
    longest_s : float
        It has opened by then; infinite where it need not open. [s]
    citation : str
        Where it comes from.
    """

    rating_multiple: float
    shortest_s: float
    longest_s: float
    citation: str


@cache
def _fuses() -> dict[str, tuple[Fuse, ...]]:
    found: dict[str, tuple[Fuse, ...]] = {}
    for row in tables.rows("fuses"):
        family = row["family"]
        fuse = Fuse(
            family,
            float(row["rating_a"]),
            row["colour"],
            tables.citation("fuses", row["source"]),
        )
        found[family] = (*found.get(family, ()), fuse)
    return found


def fuse_families() -> tuple[str, ...]:
    """List the families of fuse-links that requests may name.

    Returns
    -------
    tuple of str
    """
    return tuple(_fuses())


def fuses(family: str) -> tuple[Fuse, ...]:
    """List the fuse-links of a family.

    Parameters
    ----------
    family : str
        One of `fuse_families`.

    Returns
    -------
    tuple of Fuse
        Lowest rating first.
    """
    return _fuses()[family]


@cache
def gates(family: str) -> tuple[Gate, ...]:
    """List the operating times of a family.

    Parameters
    ----------
    family : str
        One of `fuse_families`.

    Returns
    -------
    tuple of Gate
        Lowest current first; empty where none are known.
    """
    return tuple(
        Gate(
            float(row["rating_multiple"]),
            float(row["shortest_s"]),
            float(row["longest_s"] or math.inf),
            tables.citation("fuse_gates", row["source"]),
        )
        for row in tables.rows("fuse_gates")
        if row["family"] == family
    )


def ambient_factor(ambient_c: float) -> float:
    """Current that opens a fuse at an ambient, over that at 25 degC.

    Parameters
    ----------
    ambient_c : float
        Ambient of the fuse. [degC]

    Returns
    -------
    float
        Straight lines between the points of the table.

    Raises
    ------
    NotCovered
        If the ambient lies beyond the points.
    """
    found = float(ambient_factors(ambient_c))
    if math.isnan(found):
        raise NotCovered(beyond_ambient(), ("ambient_c",))
    return found


def ambient_factors(ambient_c: Numbers) -> Numbers:
    """As `ambient_factor`, for one fuse or many.

    Parameters
    ----------
    ambient_c : float or ndarray
        Ambient of the fuse. [degC]

    Returns
    -------
    float or ndarray
        NaN beyond the points.
    """
    found: Numbers = math.nan
    for (cold_c, cold), (hot_c, hot) in reversed(tuple(pairwise(_ambient_points()))):
        within = (cold_c <= ambient_c) & (ambient_c <= hot_c)
        line = cold + (hot - cold) * (ambient_c - cold_c) / (hot_c - cold_c)
        found = pick(within, line, found)
    return found


def beyond_ambient() -> str:
    """Say how far the shift with ambient is known.

    Returns
    -------
    str
    """
    ends = [point[0] for point in _ambient_points()]
    return f"The shift of fuses with ambient is known from {ends[0]:g} to {ends[-1]:g} degC."


@cache
def _ambient_points() -> tuple[tuple[float, float], ...]:
    return tuple(
        (float(row["ambient_c"]), float(row["factor"])) for row in tables.rows("fuse_ambient")
    )


def continuous_citation() -> str:
    """Cite the share of its rating that a fuse carries for ever.

    Returns
    -------
    str
    """
    return tables.citation("fuses", "continuous")


def near_source_citation() -> str:
    """Cite how near to the source a fuse belongs.

    Returns
    -------
    str
    """
    return tables.citation("fuses", "near_source")


def ambient_citation() -> str:
    """Cite the shift of fuses with ambient.

    Returns
    -------
    str
    """
    return tables.citation("fuse_ambient", "practice")
