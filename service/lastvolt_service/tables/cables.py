"""Published limits of single cables."""

from functools import cache

from lastvolt_service import tables
from lastvolt_service.tables.limits import Limit


@cache
def cable_limits() -> dict[int, Limit]:
    """Read the drop limits of one cable of a starter motor's circuit.

    Returns
    -------
    dict of int to Limit
        By nominal voltage. [V]
    """
    return {
        int(row["nominal_v"]): Limit(
            float(row["limit_v"]), tables.citation("cable_limits", row["source"])
        )
        for row in tables.rows("cable_limits")
    }
