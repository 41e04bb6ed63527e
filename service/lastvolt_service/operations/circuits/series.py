"""Loads in series: what one of them takes is not lost on the way to the others."""

import math
from typing import Literal, NamedTuple

from lastvolt_service.operations.circuits.load_way import NOTHING_A, Currents
from lastvolt_service.operations.circuits.model import Part

# Of a load's current, that runs through what is in series with it.
ALIKE_SHARE = 0.8
# Of all the voltage of a row, that stands across one which has burnt open; and of what it needs,
# across one that is shorted. Common practice.
OPEN_SHARE, SHORTED_SHARE = 0.8, 0.2
OPEN_MULTIPLE = 1.5  # of what it needs


class Fed(NamedTuple):
    """A load, the voltage across it, and whether it needs more. [V]."""

    part: Part
    across_v: float
    lacks: bool

    @classmethod
    def of(cls, part: Part, across_v: float) -> "Fed":
        """Hold a load against what it needs."""
        return cls(part, across_v, part.needed_v is not None and across_v < part.needed_v)


def beside(currents: Currents, load: Part) -> list[Fed]:
    """The other loads that the current of a load runs through, before it and after it."""
    through = currents.through(load, least_a=max(ALIKE_SHARE * currents.of[load].amps, NOTHING_A))
    return [Fed.of(each.part, each.across_v) for each in through if each.part.is_load]


def at_fault(row: list[Fed]) -> tuple[Fed, Literal["open", "shorted", "either"]] | None:
    """The one of some loads in series that keeps others from their voltage, and how.

    Of two alone nobody knows whether the one takes too much or the other too little.
    """
    most = max(row, key=lambda each: each.across_v)
    made_for_v = most.part.needed_v or math.inf
    if most.across_v >= OPEN_SHARE * sum(each.across_v for each in row):
        # One that is made for all of it, as a tell-tale is, takes what is its own.
        burnt = len(row) > 1 and most.across_v >= OPEN_MULTIPLE * made_for_v
        return (most, "open" if len(row) > 2 else "either") if burnt else None
    lacking = [each for each in row if each.lacks]
    if len(lacking) == 1 < len(row) and (
        lacking[0].across_v < SHORTED_SHARE * (lacking[0].part.needed_v or 0.0)
    ):
        return lacking[0], "shorted"
    return None
