"""Fuse-links of road vehicles: ratings, operating times, and the practice of choosing them."""

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lastvolt_service import tables
from lastvolt_service.errors import NotCovered
from lastvolt_service.rows import optional
from lastvolt_service.tables.curves import Curve, curve

CONTINUOUS_SHARE = 0.75  # of the rating, at REFERENCE_AMBIENT_C
REFERENCE_AMBIENT_C = 25.0
SHORT_TIME_S = 5.0  # so long a short-time limit of an insulation counts, and a short may last


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


@dataclass(frozen=True, slots=True)
class Family:
    """What a family of fuse-links is good for.

    Attributes
    ----------
    timed_from_a : float
        Least rating that its operating times are for; infinite where none are known. [A]
    holder_a : float
        Usual rating of its holders; infinite where they are made for each rating. [A]
    breaking_capacity_a, rated_v : float
        Largest short circuit that it interrupts, and the highest voltage. [A], [V]
    citation, holder_citation : str
        Where they come from.
    """

    timed_from_a: float
    holder_a: float
    breaking_capacity_a: float
    rated_v: float
    citation: str
    holder_citation: str


@cache
def families() -> dict[str, Family]:
    """Read the families by name."""
    found = {}
    for row in tables.rows("fuse_families"):
        by_rating = tables.citation("fuse_families", row["holder_source"] or row["source"])
        found[row["family"]] = Family(
            float(row["timed_from_a"] or 0.0) if gates(row["family"]) else math.inf,
            float(row["holder_a"] or math.inf),
            float(row["breaking_capacity_a"]),
            float(row["rated_v"]),
            tables.citation("fuse_families", row["source"]),
            by_rating,
        )
    return found


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
def ratings_a(family: str) -> frozenset[float]:
    """Ratings that a family comes in. [A]."""
    return frozenset(each.rating_a for each in fuses(family))


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
def melting_multiple_square_s(family: str) -> float:
    """Least melting integral of all gates, over the rating's square; NaN where none are known. [s].

    Shorter pulses than those of the gates need no less: no heat has left the fuse.
    """
    found = [gate.rating_multiple**2 * gate.shortest_s for gate in gates(family)]
    return optional(min(found, default=None))


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """Longest time in which a family opens: from its first must-open gate up.

    Attributes
    ----------
    opening_multiple : float
        Of its rating, at which it is sure to open; below it may never.
    short_multiple : float
        Of its rating, from which it opens within `SHORT_TIME_S`.
    multiples, longest_s : ndarray
        Points close enough together to be held against a wire one by one. [1], [s]
    citation : str
        Where the gates come from.
    """

    opening_multiple: float
    short_multiple: float
    multiples: NDArray[np.float64]
    longest_s: NDArray[np.float64]
    citation: str


_BETWEEN_GATES = 6
_ABOVE_LAST = (1.5, 2.5, 5.0, 20.0)  # times its multiple: soon no heat leaves the wire


@cache
def band(family: str) -> Band | None:
    """Longest operating times of a family; None where none are known."""
    opening = [gate for gate in gates(family) if math.isfinite(gate.longest_s)]
    if not opening:
        return None
    logs = np.log([[gate.rating_multiple, gate.longest_s] for gate in opening])
    # The longest times fall with the multiple, and so can be read the other way round.
    short = float(np.exp(np.interp(math.log(SHORT_TIME_S), logs[::-1, 1], logs[::-1, 0])))
    between = [
        np.geomspace(low.rating_multiple, high.rating_multiple, _BETWEEN_GATES, endpoint=False)
        for low, high in pairwise(opening)
    ]
    last = opening[-1].rating_multiple * np.array([1.0, *_ABOVE_LAST])
    just_longer = short * (1.0 - 1e-9)  # than `SHORT_TIME_S`
    multiples = np.unique(np.concatenate([*between, last, [short, just_longer]]))
    return Band(
        opening[0].rating_multiple,
        short,
        multiples,
        longest_s(family, multiples),
        opening[0].citation,
    )


@cache
def opening_multiple(family: str) -> float:
    """Multiple at which a family is sure to open; of unknown times, that of the slowest known."""
    known = band(family)
    if known is not None:
        return known.opening_multiple
    others = filter(None, map(band, fuse_families()))
    return max(each.opening_multiple for each in others)


def longest_s(family: str, multiple: NDArray[np.float64]) -> NDArray[np.float64]:
    """Read the longest time in which a family opens, at multiples of its rating. [s].

    Straight between gates on logarithmic scales. Below the first must-open gate it may never open;
    above the last no more melting integral passes than there.
    """
    opening = [gate for gate in gates(family) if math.isfinite(gate.longest_s)]
    logs = np.log([[gate.rating_multiple, gate.longest_s] for gate in opening])
    time_s = np.exp(np.interp(np.log(multiple), logs[:, 0], logs[:, 1]))
    first, last = opening[0], opening[-1]
    beyond = last.longest_s * (last.rating_multiple / multiple) ** 2
    time_s = np.where(multiple > last.rating_multiple, beyond, time_s)
    never: NDArray[np.float64] = np.where(multiple < first.rating_multiple, math.inf, time_s)
    return never


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


def hottest_c() -> float:
    """Give the ambient up to which it is known what fuses carry. [degC]."""
    return ambient_curve().x[-1]


def beyond_ambient() -> str:
    """Say how far the shift with ambient is known."""
    lowest_c = ambient_curve().x[0]
    return (
        f"What fuses carry is known from {lowest_c:g} to {hottest_c():g} degC around them: give "
        "fuse_ambient_c within that, where the fuse is."
    )


def continuous_citation() -> str:
    """Cite the share of its rating that a fuse carries for ever."""
    return tables.citation("fuses", "continuous")


def near_source_citation() -> str:
    """Cite how near to the source a fuse belongs."""
    return tables.citation("fuses", "near_source")


def ambient_citation() -> str:
    """Cite the shift of fuses with ambient."""
    return ambient_curve().citation
