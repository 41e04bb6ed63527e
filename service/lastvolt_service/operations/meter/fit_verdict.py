"""Whether readings of a circuit hold together, and which one contradicts the rest."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_points import first_points, open_points
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.physics.network.elements import FloatArray

MOST_SUSPECTS = 8
# Beyond so many standard uncertainties a sign is one.
SURE = 3.0
# Fits that miss the readings by no more, in squares of their uncertainty, are as likely.
ALIKE = SURE**2


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a fit came to.

    Attributes
    ----------
    solved : Solved
        Without the reading that contradicts the rest, where one does.
    whole : Solved
        With all readings.
    contradicts : tuple of int
        Readings of which one contradicts the rest, by their place in the request.
    fits : bool
        Whether the circuit fits the readings, those left out.
    without : tuple of Solved
        The fits without each of these readings, in their order.
    """

    solved: Solved
    whole: Solved
    contradicts: tuple[int, ...]
    fits: bool
    without: tuple[Solved, ...] = ()


def judged(model: CircuitModel, taken: Sequence[Taken]) -> Verdict:
    """Fit, and look for the reading that contradicts the rest."""
    return suspected(model, *fit_of_all(model, taken))


def suspected(model: CircuitModel, whole: Solved, starts: Sequence[FloatArray]) -> Verdict:
    """Look for the reading that contradicts the rest of a fit that began at these points."""
    problem = whole.problem
    if whole.check.agrees:
        return Verdict(whole, whole, (), fits=True)
    suspects: dict[int, Solved] = {}
    for row in whole.check.worst()[:MOST_SUSPECTS]:
        index = problem.taken[row].index
        rest = [each for each in problem.taken if each.index != index]
        near = [whole.point, *starts[1:]]
        without = Problem(model, rest).solved_if_near(near) if rest else None
        if without is not None and without.check.agrees:
            suspects[index] = without
    if not suspects:
        return Verdict(whole, whole, (), fits=False)
    first = next(iter(suspects.values()))
    solved = first if len(suspects) == 1 else whole
    return Verdict(solved, whole, tuple(suspects), fits=True, without=tuple(suspects.values()))


def fit_of_all(model: CircuitModel, taken: Sequence[Taken]) -> tuple[Solved, list[FloatArray]]:
    """Fit all readings; gives where it began, too.

    Raises
    ------
    CalculationError
        If there is no state of rest within the bounds, or what was read is not there.
    """
    problem = Problem(model, taken)
    starts, error = first_points(model, problem.cases)
    if not starts:
        raise error or CalculationError("There is no state of rest within these bounds.")
    problem = Problem(model, turned(problem, starts))
    whole = problem.solved(starts)
    if not whole.check.agrees:
        further = problem.nearest(open_points(model))
        starts, whole = [*starts, *further], problem.solved([whole.point, *further])
    return whole, starts


def turned(problem: Problem, starts: Sequence[FloatArray]) -> list[Taken]:
    """Turn readings whose sign is the wrong way round wherever one looks within the bounds.

    Raises
    ------
    CalculationError
        If something that was read is not there.
    """
    told = np.array([problem.values(each) for each in starts])
    found = []
    for row, each in enumerate(problem.taken):
        sure = SURE * each.digits
        wrong = each.value < -sure and bool(np.all(told[:, row] > sure))
        wrong = wrong or (each.value > sure and bool(np.all(told[:, row] < -sure)))
        found.append(replace(each, turned=wrong))
    return found
