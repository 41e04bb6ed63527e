"""Currents of the wires of circuits, judged as wire-heating judges them of a wire alone."""

import math
from collections.abc import Collection, Iterator, Sequence
from typing import Any

import numpy as np

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.metal import Metal, is_fuse
from lastvolt_service.operations.circuits.model import Model, Part, State
from lastvolt_service.operations.judging import FAIL, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.ampacity import duty_current, nothing_left, permissible
from lastvolt_service.operations.wires.heated_wire import HeatedWire, side_by_side
from lastvolt_service.operations.wires.heating import IN_TIME
from lastvolt_service.operations.wires.sure_heat import AT_BEST, BEST_LIMIT_C, alone_bears_a
from lastvolt_service.tables.insulation import insulation as kind_of_insulation

RATED = Given("rating given by the caller")


class Bears:
    """What the wires of many states may carry steadily: each wire is reckoned once.

    Parameters
    ----------
    models : sequence of Model
        Circuits in cases.
    """

    def __init__(self, models: Sequence[Model]) -> None:
        wires = {
            wire: None
            for model in models
            for wire in model.wires
            if wire is not None and known(wire.limit_c)
        }
        self._place = {wire: place for place, wire in enumerate(wires)}
        if wires:
            self.together = side_by_side([*wires])
            self.may = permissible(self.together)
            self._current_a = np.atleast_1d(self.may.current_a).tolist()
            self._cited = [self.may.citation(place) for place in range(len(wires))]
        self._duty_a: dict[float, list[float]] = {}

    def of(self, wire: HeatedWire) -> tuple[float, str]:
        """Steady current of a wire, and who says so. [A]."""
        place = self._place[wire]
        return self._current_a[place], self._cited[place]

    def least_a(self, model: Model, names: Collection[str]) -> float:
        """Least steady current of some wires; 0 where that of any is not known. [A]."""
        wires = [
            wire
            for part, wire in zip(model.parts["wires"], model.wires, strict=True)
            if part.name in names
        ]
        may_a = [
            self.of(wire)[0] if wire is not None and known(wire.limit_c) else 0.0 for wire in wires
        ]
        return min(may_a, default=0.0)

    def duty_a(self, wire: HeatedWire, duration_s: float) -> float:
        """Current of a wire for a time, from a start at ambient. [A]."""
        if duration_s not in self._duty_a:
            found = duty_current(self.together, self.may, duration_s, np.inf)
            self._duty_a[duration_s] = np.atleast_1d(found).tolist()
        return self._duty_a[duration_s][self._place[wire]]


def at_best_a(wire: Any, duration_s: float | None) -> float:
    """What a wire of a circuit bears at most, whatever covers it if nobody says. [A]."""
    limit_c = BEST_LIMIT_C
    if known(wire.insulation_limit_c):
        limit_c = wire.insulation_limit_c
    elif wire.insulation is not None:
        limit_c = kind_of_insulation(wire.insulation).limit_c
    return alone_bears_a(wire, duration_s, limit_c)


def wire_currents(state: State, duration_s: float | None, bears: Bears) -> list[Checked]:
    """Judge the current of each wire whose insulation has a limit.

    Parameters
    ----------
    state : State
        A circuit at rest.
    duration_s : float or None
        How long the state lasts, from a start at ambient; None for ever. [s]
    bears : Bears
        What its wires may carry.
    """
    found = []
    for (part, _, current), wire in zip(state.carrying("wires"), state.model.wires, strict=True):
        if wire is None or not known(wire.limit_c):
            continue
        if duration_s is None:
            code, (may_a, basis) = "permissible_current", bears.of(wire)
        else:
            code, may_a, basis = "duty_current", bears.duty_a(wire, duration_s), IN_TIME
        judged = stays_within(abs(current), may_a)
        why = nothing_left(wire.limit_c, wire.ambient_c)
        found.append(Checked(code, judged, "A", basis, part=part.name, detail=why))
    return found


def charger_currents(state: State, metal: Metal, bears: Bears) -> Iterator[Checked]:
    """Judge what leads from a charger to a battery at the most that this gives, into a flat one.

    What flows here and now is judged as with any part, and what else takes of it may be off. What
    lies behind a fuse need bear no more than that, and a fuse that opens sets nothing alight.
    """
    heated = zip(state.model.parts["wires"], state.model.wires, strict=True)
    wires = {part: wire for part, wire in heated if wire is not None and known(wire.limit_c)}
    for charger in state.model.parts["chargers"]:
        most_a, chain = charger.asked.limit_a, metal.lead_of(charger)
        rated_a = {
            part: part.asked.rating_a
            for part in chain
            if part.kind == "contact" and known(part.asked.rating_a)
        }
        fused_a = min((rated_a[part] for part in rated_a if is_fuse(part)), default=math.inf)
        may: dict[Part, tuple[float, str]] = {}
        for part in chain:
            if part in rated_a:
                may[part] = rated_a[part], RATED
            elif part in wires:
                may[part] = bears.of(wires[part])
            elif part.group == "wires":
                may[part] = at_best_a(part.asked, None), AT_BEST
        less = {part: may_a for part, (may_a, _) in may.items() if may_a < most_a}
        thin = min((part for part in less if not is_fuse(part)), key=less.__getitem__, default=None)
        detail: str | None
        for part, (may_a, basis) in may.items():
            judged = stays_within(min(most_a, fused_a), may_a, 0.0)
            code, detail = "charger_current", charger.name
            if is_fuse(part):
                judged = stays_within(most_a, may_a, 0.0)
                code, detail = "charger_fuse", thin.name if thin else None
            # Of a wire whose insulation is not known, all that is known is what none bears.
            if basis is not AT_BEST or judged.verdict == FAIL:
                yield Checked(code, judged, "A", basis, part=part.name, detail=detail)
