"""Fuse-links of road vehicles: ratings, operating times, and the practice of choosing them."""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from lastvolt_service import tables
from lastvolt_service.errors import NotCovered
from lastvolt_service.tables.curves import Curve, curve

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
    """List the families of fuse-links that requests may name."""
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


@cache
def carried_curve(family: str) -> Curve | None:
    """Multiple of its rating that a family is sure to carry, over the time; None if not known."""
    slowest_last = gates(family)[::-1]
    if not slowest_last:
        return None
    return Curve(
        tuple(gate.shortest_s for gate in slowest_last),
        tuple(gate.rating_multiple for gate in slowest_last),
        slowest_last[0].citation,
    )


@cache
def ambient_curve() -> Curve:
    """Current that opens a fuse at an ambient, over that at 25 degC."""
    return curve("fuse_ambient", "ambient_c", "factor")


def ambient_factor(ambient_c: float) -> float:
    """Read `ambient_curve` for one fuse. [degC].

    Raises
    ------
    NotCovered
        If the ambient lies beyond the points.
    """
    known = ambient_curve()
    found = float(np.interp(ambient_c, known.x, known.y, left=math.nan, right=math.nan))
    if math.isnan(found):
        raise NotCovered(beyond_ambient(), ("ambient_c",))
    return found


def beyond_ambient() -> str:
    """Say how far the shift with ambient is known."""
    lowest_c, *_, highest_c = ambient_curve().x
    return f"The shift of fuses with ambient is known from {lowest_c:g} to {highest_c:g} degC."


def continuous_citation() -> str:
    """Cite the share of its rating that a fuse carries for ever."""
    return tables.citation("fuses", "continuous")


def near_source_citation() -> str:
    """Cite how near to the source a fuse belongs."""
    return tables.citation("fuses", "near_source")


def ambient_citation() -> str:
    """Cite the shift of fuses with ambient."""
    return ambient_curve().citation
