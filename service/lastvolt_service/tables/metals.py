"""Heat of conductor metals."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables


@dataclass(frozen=True, slots=True)
class Metal:
    """What a conductor metal does when it heats up.

    Attributes
    ----------
    heat_capacity_j_per_m3_k : float
        At 20 degC, which is the low end. [J/(m3*K)]
    melting_c : float
        Where it melts. [degC]
    citation : str
        Where the values come from.
    """

    heat_capacity_j_per_m3_k: float
    melting_c: float
    citation: str


@cache
def _metals() -> dict[str, Metal]:
    plain = {
        row["material"]: Metal(
            float(row["heat_capacity_j_per_m3_k"]),
            float(row["melting_c"]),
            tables.citation("metals", row["source"]),
        )
        for row in tables.rows("metals")
    }
    return {**plain, "tinned_copper": plain["copper"]}


def metal(name: str) -> Metal:
    """Look up the heat of a conductor metal.

    Parameters
    ----------
    name : str
        One of `materials.material_names`.
    """
    return _metals()[name]
