"""Conductor metals."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables

LAY_FACTOR_STRANDED = 1.02
LAY_BASIS = "2 % for the lay of strands: NEC Chapter 9 Table 8 shows 1.8 to 2.5 % over solid"


@dataclass(frozen=True, slots=True)
class Material:
    """A conductor metal.

    Attributes
    ----------
    name : str
        As in requests.
    resistivity_ohm_mm2_per_m : float
        At 20 degC. [ohm*mm2/m]
    temperature_coefficient_per_k : float
        Of the resistance at 20 degC. [1/K]
    citation : str
        Where the values come from.
    """

    name: str
    resistivity_ohm_mm2_per_m: float
    temperature_coefficient_per_k: float
    citation: str


@cache
def _materials() -> dict[str, Material]:
    plain = {
        row["material"]: Material(
            row["material"],
            float(row["resistivity_ohm_mm2_per_m"]),
            float(row["temperature_coefficient_per_k"]),
            tables.citation("materials", row["source"]),
        )
        for row in tables.rows("materials")
    }
    copper = plain["copper"]
    # Tin is a coat on copper: its resistance comes from the published columns of each standard.
    tinned = Material(
        "tinned_copper",
        copper.resistivity_ohm_mm2_per_m,
        copper.temperature_coefficient_per_k,
        copper.citation,
    )
    return {**plain, tinned.name: tinned}


def material(name: str) -> Material:
    """Look up a conductor metal.

    Parameters
    ----------
    name : str
        One of `material_names`.
    """
    return _materials()[name]


def material_names() -> tuple[str, ...]:
    """List the conductor metals that requests may name."""
    return tuple(_materials())
