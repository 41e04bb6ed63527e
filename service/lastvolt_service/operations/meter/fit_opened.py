"""A fitted circuit in which wires and what was given as a number may be worse than given."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.meter.fit_ends import (
    FIELDS,
    end_of,
    most_more_ohm,
    moved,
    numbered,
    wider,
)
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.physics.least_squares import Fit


@dataclass(frozen=True, slots=True)
class Own:
    """Place of a part's own resistance among what is not known, the least and the most given."""

    place: int
    low_ohm: float
    high_ohm: float


def opened(solved: Solved, states: Iterable[State]) -> tuple[Solved, dict[str, Own]]:
    """What is known where wires and numbers may be worse than given, and where each part stands."""
    model = solved.problem.model
    ended = {each.name for each in model.circuit.branches}
    names = {name for name in numbered(model.circuit) if end_of(name) not in ended}
    ends = {end_of(name) for name in ended}
    wide, worse = wider(model, most_more_ohm(names, states))
    problem = Problem(wide, solved.problem.taken)
    point = np.concatenate([moved(model, solved.point, wide), solved.fit.point[solved.count :]])
    missed, slopes = problem.missed(point)
    fit = Fit(point, missed, slopes, np.zeros(len(point), dtype=np.bool_), 0, converged=True)
    at = {each.path: place for place, each in enumerate(wide.unknowns)}
    own = {each.part: Own(at[each.path], each.least_ohm, math.inf) for each in worse}
    for group, field in FIELDS.items():
        for index, each in enumerate(getattr(model.circuit, group)):
            place = at.get(("circuit", group, index, field))
            if (
                place is not None
                and each.name not in own
                and each.name not in ends
                and getattr(each, "kind", None) != "resistance"
            ):
                own[each.name] = Own(place, *wide.unknowns[place].given)
    return Solved(problem, fit), own
