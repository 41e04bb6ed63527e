"""Insulation: what temperature it bears, how thick it is, and how heat gets through."""

import math
from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables
from lastvolt_service.errors import NotCovered

# Diameter over the strands, over that of a solid rod of the same metal: 19 strands in two layers.
# A rope of 7 has 1.134, finer ones reach 1.15.
STRANDED_DIAMETER_RATIO = 5.0 / math.sqrt(19.0)


@dataclass(frozen=True, slots=True)
class Insulation:
    """A kind of insulated wire.

    Attributes
    ----------
    kind : str
        As in requests.
    limit_c : float
        Temperature that the conductor may have. [degC]
    wall : str
        Row group of the wall thicknesses.
    conductivity_w_per_m_k : float
        Of the material. [W/(m*K)]
    heat_capacity_j_per_m3_k : float
        Of the material. [J/(m3*K)]
    short_circuit_c : float or None
        Temperature that a short circuit may leave behind; None where no publication says. [degC]
    citation, material_citation : str
        Where the limit, and where the properties of the material come from.
    """

    kind: str
    limit_c: float
    wall: str
    conductivity_w_per_m_k: float
    heat_capacity_j_per_m3_k: float
    short_circuit_c: float | None
    citation: str
    material_citation: str


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Diameters of an insulated wire.

    Attributes
    ----------
    conductor_diameter_mm : float
        Over the strands. [mm]
    outer_diameter_mm : float
        Over the insulation. [mm]
    citation : str
        Where the outer diameter or the wall comes from.
    """

    conductor_diameter_mm: float
    outer_diameter_mm: float
    citation: str


@dataclass(frozen=True, slots=True)
class _Published:
    value_mm: float
    citation: str


@cache
def _kinds() -> dict[str, Insulation]:
    materials = {row["material"]: row for row in tables.rows("insulation_materials")}
    found = {}
    for row in tables.rows("insulation"):
        stuff = materials[row["material"]]
        short_circuit = stuff["short_circuit_c"]
        found[row["kind"]] = Insulation(
            row["kind"],
            float(row["limit_c"]),
            row["wall"],
            1.0 / float(stuff["resistivity_k_m_per_w"]),
            float(stuff["heat_capacity_j_per_m3_k"]),
            float(short_circuit) if short_circuit else None,
            tables.citation("insulation", row["source"]),
            tables.citation("insulation_materials", stuff["source"]),
        )
    return found


@cache
def _outer_diameters() -> dict[tuple[str, str], _Published]:
    return {
        (row["wall"], row["size"]): _Published(
            float(row["outer_diameter_mm"]), tables.citation("outer_diameters", row["source"])
        )
        for row in tables.rows("outer_diameters")
    }


@cache
def _walls() -> dict[str, tuple[tuple[float, _Published], ...]]:
    found: dict[str, tuple[tuple[float, _Published], ...]] = {}
    for row in tables.rows("walls"):
        wall = _Published(float(row["wall_mm"]), tables.citation("walls", row["source"]))
        found[row["wall"]] = (*found.get(row["wall"], ()), (float(row["largest_area_mm2"]), wall))
    return found


def insulation_kinds() -> tuple[str, ...]:
    """List the kinds of insulation that requests may name."""
    return tuple(_kinds())


def insulation(kind: str) -> Insulation:
    """Look up a kind of insulation.

    Parameters
    ----------
    kind : str
        One of `insulation_kinds`.
    """
    return _kinds()[kind]


def dimensions(
    *, kind: str, size: str, area_mm2: float, construction: str = "stranded"
) -> Dimensions:
    """Find the diameters of an insulated wire.

    Parameters
    ----------
    kind : str
        One of `insulation_kinds`.
    size : str
        As in requests, for example ``"2.5 mm2"``.
    area_mm2 : float
        Section of its metal. [mm2]
    construction : str
        ``"stranded"`` or ``"solid"``.

    Returns
    -------
    Dimensions
        With the published outer diameter where there is one for the size, else with the usual
        wall, and the citation says which.

    Raises
    ------
    NotCovered
        If the conductor is larger than any wall is known for.
    """
    ratio = STRANDED_DIAMETER_RATIO if construction == "stranded" else 1.0
    conductor_mm = ratio * math.sqrt(4.0 * area_mm2 / math.pi)
    wall = insulation(kind).wall
    published = _outer_diameters().get((wall, size))
    if published is None and size.endswith(" AWG") and construction == "stranded":
        # The trade sells cable of an SAE number under the AWG of it, which has more copper.
        published = _outer_diameters().get((wall, size.replace("AWG", "SAE")))
    if published is not None:
        return Dimensions(conductor_mm, published.value_mm, published.citation)
    usual = next((item for largest, item in _walls()[wall] if area_mm2 <= largest), None)
    if usual is None:
        raise NotCovered(f"No wall thickness is known for {kind} of {area_mm2:g} mm2.", ("size",))
    return Dimensions(conductor_mm, conductor_mm + 2.0 * usual.value_mm, usual.citation)
