"""Loads in series: what one of them takes is not lost on the way to the others."""

import math
from functools import cached_property
from typing import Literal, NamedTuple

from lastvolt_service.operations.circuits.model import Part, State

# Of a load's current, that runs through what is in series with it.
ALIKE_SHARE = 0.8
# Less is a computer's last digits. [A]
NOTHING_A = 1e-9
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


class _Way(NamedTuple):
    """A part with the voltage across it, its current, and where that comes from and goes to."""

    part: Part
    across_v: float
    amps: float
    ends: tuple[str, str]


class Rows:
    """Loads of a circuit at rest that are in series."""

    def __init__(self, state: State) -> None:
        self._state = state

    @cached_property
    def _ways(self) -> dict[Part, _Way]:
        return {
            part: _Way(part, abs(drop_v), abs(amps), part.nodes if amps > 0 else part.nodes[::-1])
            for part, drop_v, amps in self._state.carrying(*self._state.model.parts)
        }

    @cached_property
    def _at(self) -> dict[tuple[int, str], list[_Way]]:
        """What carries from a node, 0, or to it, 1; sources apart."""
        found: dict[tuple[int, str], list[_Way]] = {}
        for way in self._ways.values():
            if way.part.group not in {"sources", "chargers"}:
                for end in (0, 1):
                    found.setdefault((end, way.ends[end]), []).append(way)
        return found

    def beside(self, load: Part) -> list[Fed]:
        """The other loads that the current of a load runs through, before it and after it."""
        own, found = self._ways[load], list[Fed]()
        if own.amps < NOTHING_A:
            return found
        for come_from, go_to in ((0, 1), (1, 0)):
            seen, reached = {load}, [own.ends[come_from]]
            while reached:
                for way in self._at.get((go_to, reached.pop()), ()):
                    if way.part not in seen and way.amps >= ALIKE_SHARE * own.amps:
                        seen.add(way.part)
                        reached.append(way.ends[come_from])
                        if way.part.is_load:
                            found.append(Fed.of(way.part, way.across_v))
        return found


def at_fault(row: list[Fed]) -> tuple[Fed, Literal["open", "shorted"]] | None:
    """The one of some loads in series that keeps others from their voltage, and how."""
    most = max(row, key=lambda each: each.across_v)
    made_for_v = most.part.needed_v or math.inf
    if most.across_v >= OPEN_SHARE * sum(each.across_v for each in row):
        # One that is made for all of it, as a tell-tale is, takes what is its own.
        burnt = len(row) > 1 and most.across_v >= OPEN_MULTIPLE * made_for_v
        return (most, "open") if burnt else None
    lacking = [each for each in row if each.lacks]
    if len(lacking) == 1 < len(row) and (
        lacking[0].across_v < SHORTED_SHARE * (lacking[0].part.needed_v or 0.0)
    ):
        return lacking[0], "shorted"
    return None
