"""Currents of the wires of circuits, judged as wire-heating judges them of a wire alone."""

import math
from collections.abc import Collection, Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.metal_tree import is_fuse
from lastvolt_service.operations.circuits.model import Model, Part, State
from lastvolt_service.operations.judging import FAIL, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.ampacity import (
    duty_current,
    judge_temperature,
    nothing_left,
    permissible,
)
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
        # Nearly all are the same object: the tables are asked for each wire once.
        objects = {id(wire): wire for model in models for wire in model.wires if wire is not None}
        wires = {wire: None for wire in objects.values() if known(wire.limit_c)}
        self._place = {wire: place for place, wire in enumerate(wires)}
        self._places = {key: self._place.get(wire, -1) for key, wire in objects.items()}
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

    def places(self, model: Model) -> list[int]:
        """Place in `together` of each wire of a model; -1 where its limit is not known."""
        return [-1 if wire is None else self._places[id(wire)] for wire in model.wires]

    def may_a(self, places: NDArray[np.intp], duration_s: float | None) -> NDArray[np.float64]:
        """What the wires at some places bear, for a time or steadily. [A]."""
        bears_a = self._current_a if duration_s is None else self._all_duty_a(duration_s)
        return np.asarray(bears_a)[places]

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
        return self._all_duty_a(duration_s)[self._place[wire]]

    def _all_duty_a(self, duration_s: float) -> list[float]:
        if duration_s not in self._duty_a:
            found = duty_current(self.together, self.may, duration_s, np.inf)
            self._duty_a[duration_s] = np.atleast_1d(found).tolist()
        return self._duty_a[duration_s]


def at_best_a(wire: Any, duration_s: float | None) -> float:
    """What a wire of a circuit bears at most, whatever covers it if nobody says. [A]."""
    limit_c = BEST_LIMIT_C
    if known(wire.insulation_limit_c):
        limit_c = wire.insulation_limit_c
    elif wire.insulation is not None:
        limit_c = kind_of_insulation(wire.insulation).limit_c
    return alone_bears_a(wire, duration_s, limit_c)


def current_code(duration_s: float | None) -> str:
    """Code of the check of a wire's current, without end or for a time."""
    return "permissible_current" if duration_s is None else "duty_current"


def alike_at_all(
    states: Sequence[State], durations_s: Sequence[float | None], bears: Bears
) -> dict[str, list[str]]:
    """Wires of one circuit that come out alike at all points of its bounds.

    Parameters
    ----------
    states, durations_s, bears
        As of `wire_currents`, of each point.

    Returns
    -------
    dict of str to list of str
        By name, codes of what fails at all points; other wires fail at some of them only.
    """
    places = np.array([bears.places(state.model) for state in states], dtype=np.intp)
    if not np.any(places >= 0):
        return {}
    limit_c, ambient_c = (
        np.atleast_1d(each)[places] for each in (bears.together.limit_c, bears.together.ambient_c)
    )
    hot_c = np.array([state.wire_temperatures_c for state in states])
    amps = np.abs([state.flow("wires").current_a for state in states])
    may_a = np.array([bears.may_a(*each) for each in zip(places, durations_s, strict=True)])
    fails = {
        "conductor_temperature": judge_temperature(hot_c, limit_c, ambient_c).verdict == FAIL,
        current_code(durations_s[0]): stays_within(amps, may_a).verdict == FAIL,
    }
    flips = [each.any(axis=0) & ~each.all(axis=0) for each in fails.values()]
    is_alike = (places >= 0).all(axis=0) & ~np.any(flips, axis=0)
    return {
        part.name: [code for code, each in fails.items() if each[0, at]]
        for at, part in enumerate(states[0].model.parts["wires"])
        if is_alike[at]
    }


def wire_currents(
    state: State,
    duration_s: float | None,
    bears: Bears,
    left_out: Collection[str] = (),
) -> list[Checked]:
    """Judge the current of each wire whose insulation has a limit.

    Parameters
    ----------
    state : State
        A circuit at rest.
    duration_s : float or None
        How long the state lasts, from a start at ambient; None for ever. [s]
    bears : Bears
        What its wires may carry.
    left_out : collection of str
        Names of wires that are not asked about.
    """
    code, found = current_code(duration_s), []
    for (part, _, current), wire in zip(state.carrying("wires"), state.model.wires, strict=True):
        if wire is None or not known(wire.limit_c) or part.name in left_out:
            continue
        if duration_s is None:
            may_a, basis = bears.of(wire)
        else:
            may_a, basis = bears.duty_a(wire, duration_s), IN_TIME
        judged = stays_within(abs(current), may_a)
        why = nothing_left(wire.limit_c, wire.ambient_c)
        found.append(Checked(code, judged, "A", basis, part=part.name, detail=why))
    return found


def charger_currents(state: State, metal: Metal, bears: Bears) -> Iterator[Checked]:
    """Judge what leads from a charger to a battery at the most that this gives, into a flat one.

    What flows here and now is judged as with any part, and what else takes of it may be off. What
    lies behind a fuse need bear no more than that, and a fuse that opens sets nothing alight. One
    that is turned charges nothing.
    """
    heated = zip(state.model.parts["wires"], state.model.wires, strict=True)
    wires = {part: wire for part, wire in heated if wire is not None and known(wire.limit_c)}
    right = (each for each in state.model.parts["chargers"] if each.name not in state.model.turned)
    for charger in right:
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
