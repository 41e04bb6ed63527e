"""Common practice in vehicles: how hot it gets, and the smallest wire that lasts."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables

# What the node at 0 V is called where a circuit does not say.
GROUND = "ground"


@dataclass(frozen=True, slots=True)
class Zone:
    """A zone of the vehicle.

    Attributes
    ----------
    ambient_c : float
        Highest ambient to reckon with. [degC]
    citation : str
        Who says so.
    """

    ambient_c: float
    citation: str


@dataclass(frozen=True, slots=True)
class MinimumSize:
    """Smallest conductor of a standard for mechanical strength.

    Attributes
    ----------
    size : str
        As in requests.
    citation : str
        Who says so.
    """

    size: str
    citation: str


@cache
def zones() -> dict[str, Zone]:
    """Read the zones of the vehicle.

    Returns
    -------
    dict of str to Zone
        By name, as in requests.
    """
    return {
        row["zone"]: Zone(float(row["ambient_c"]), tables.citation("ambient", row["source"]))
        for row in tables.rows("ambient")
    }


@cache
def minimum_sizes() -> dict[str, MinimumSize]:
    """Read the smallest sizes for mechanical strength.

    Returns
    -------
    dict of str to MinimumSize
        By standard, one of `sizes.STANDARDS`.
    """
    return {
        row["standard"]: MinimumSize(row["size"], tables.citation("minimum_size", row["source"]))
        for row in tables.rows("minimum_size")
    }
