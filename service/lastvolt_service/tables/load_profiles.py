"""What loads take over time, by kind."""

from dataclasses import dataclass
from functools import cache

from lastvolt_service import tables
from lastvolt_service.rows import optional


@dataclass(frozen=True, slots=True)
class LoadProfile:
    """What a kind of load takes; NaN for what it has not.

    Attributes
    ----------
    first_multiple : float
        First current over that of the load.
    decay_s, first_time_s : float
        Time constant with which the first current decays, or how long it flows. [s]
    on_time_s, off_time_s : float
        How long it is on, and the rest; NaN for one that may be on without end. [s]
    citation : str
        Where it comes from.
    """

    first_multiple: float
    decay_s: float
    first_time_s: float
    on_time_s: float
    off_time_s: float
    citation: str


@cache
def load_profiles() -> dict[str, LoadProfile]:
    """Read the profiles by kind of load."""

    def time_s(text: str) -> float:
        return optional(float(text) if text else None)

    return {
        row["load_profile"]: LoadProfile(
            float(row["first_multiple"]),
            time_s(row["decay_s"]),
            time_s(row["first_time_s"]),
            time_s(row["on_time_s"]),
            time_s(row["off_time_s"]),
            tables.citation("load_profiles", row["source"]),
        )
        for row in tables.rows("load_profiles")
    }
