"""Temperatures of the wires of many scenarios, told by as few calls as there can be."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from lastvolt_service.physics.network.elements import FloatArray, Network


class Warmths:
    """Temperatures of the wires of many scenarios.

    Parameters
    ----------
    asked : sequence of (callable, list of int)
        What tells them, and of which scenarios.
    count : int
        Number of scenarios.
    """

    def __init__(self, asked: Sequence[tuple[Any, list[int]]], count: int) -> None:
        self._asked, self._count = asked, count

    @classmethod
    def of(cls, networks: Sequence[Network], count: int) -> "Warmths":
        """Take what tells them from networks, each once."""
        if len(networks) == 1:
            return cls([(networks[0].wires.temperature_of, list(range(count)))], count)
        groups: dict[Any, list[int]] = {}
        for place, one in enumerate(networks):
            tells = one.wires.temperature_of
            together = getattr(tells, "together", tells)
            groups.setdefault((type(tells), together), []).append(place)
        asked = []
        for own in groups.values():
            each = [networks[place].wires.temperature_of for place in own]
            first: Any = each[0]
            same = all(other is first or other == first for other in each)
            asked.append((first if same else first.side_by_side(each), own))
        return cls(asked, count)

    def chosen(self, scenarios: Sequence[int]) -> "Warmths":
        """Those of some scenarios."""
        place = {scenario: new for new, scenario in enumerate(scenarios)}
        asked = []
        for tells, own in self._asked:
            kept = [index for index, scenario in enumerate(own) if scenario in place]
            if kept:
                some = getattr(tells, "chosen", None)
                part = tells if some is None or len(kept) == len(own) else some(kept)
                asked.append((part, [place[own[index]] for index in kept]))
        return Warmths(asked, len(scenarios))

    def __call__(self, lower: FloatArray, upper: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Temperatures at two currents each, shape (wires, scenarios)."""
        pair = np.stack([lower, upper]).transpose(0, 2, 1)
        found = np.empty(pair.shape)
        for tells, own in self._asked:
            found[:, own] = tells(pair[:, own])
        return found[0].T, found[1].T
