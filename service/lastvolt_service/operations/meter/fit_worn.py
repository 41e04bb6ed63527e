"""Parts given as numbers, wires among them, that are worse than that if all readings are right."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.meter.fit_beyond import MOST_TOLD, OPEN_OHM
from lastvolt_service.operations.meter.fit_ends import Worse, middle_of, moved, numbered, wider
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_outputs import across
from lastvolt_service.operations.meter.fit_told import digits
from lastvolt_service.operations.meter.fit_verdict import ALIKE
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

# Parts that a fit is tried for, the likeliest by the slopes first.
MOST_WORN_TRIED = 4
# So many ohms more have a slope like any, and change nothing that is near.
NEAR_OHM = 0.1


@dataclass(frozen=True, slots=True)
class Worn:
    """A part that has more than was given, and the fit that all readings go with.

    Attributes
    ----------
    part, nodes : str, tuple of str
        Its name, and its ends.
    solved : Solved
        The fit.
    case : int
        Place of the case in which it takes most.
    drop_v, more_v : float
        What it takes there, and what of that it takes beyond what was given. [V]
    least_v : float
        That it takes beyond it, 19 times of 20. [V]
    amps : float
        Through it. [A]
    """

    part: str
    nodes: tuple[str, str]
    solved: Solved
    case: int
    drop_v: float
    more_v: float
    least_v: float
    amps: float

    @property
    def half_v(self) -> float:
        """What that may be off by, 19 times of 20. [V]."""
        return self.more_v - self.least_v

    @property
    def missed(self) -> float:
        """What it misses, in squares of uncertainties."""
        return float(self.solved.fit.sum_of_squares)


def worn(model: CircuitModel, whole: Solved) -> list[Worn]:
    """Parts of which one, with more ohms, makes all readings hold together; the likeliest first."""
    found = []
    for name in likeliest(model, whole, numbered(model.circuit))[:MOST_WORN_TRIED]:
        wide, (worse, *_) = wider(model, {name: OPEN_OHM})
        place = next(k for k, each in enumerate(wide.unknowns) if each.path == worse.path)
        near = moved(model, whole.point, wide)
        far = near.copy()
        far[place] = OPEN_OHM
        begun = [near.copy(), moved(model, middle_of(model), wide)]
        for each in begun:
            each[place] += NEAR_OHM
        try:
            solved = Problem(wide, whole.problem.taken).solved_if_near([*begun, far])
            told = worse_by(solved, worse, place) if solved and solved.check.agrees else None
        except CalculationError:
            continue
        if told and told.least_v > 0.0:
            found.append(told)
    most = min((each.missed for each in found), default=0.0) + ALIKE
    order = numbered(model.circuit)
    alike = [each for each in found if each.missed <= most]
    return sorted(alike, key=lambda e: (digits(e.missed), order.index(e.part)))[:MOST_TOLD]


def likeliest(model: CircuitModel, whole: Solved, names: Sequence[str]) -> list[str]:
    """Parts by how much of what is missed more ohms of each would make up for, by the slopes."""
    wide, worse = wider(model, dict.fromkeys(names, NEAR_OHM))
    problem = Problem(wide, whole.problem.taken)
    point = np.concatenate([moved(model, whole.point, wide), whole.fit.point[whole.count :]])
    rows = len(problem.taken)
    missed, slopes = problem.missed(point)
    if not np.isfinite(slopes).all():
        return list(names)
    missed, slopes = missed[:rows], slopes[:rows] * problem.deviations
    at = {each.path: place for place, each in enumerate(wide.unknowns)}
    own = [at[each.path] for each in worse]
    held = {wide_at for place, each in enumerate(model.unknowns)
            if whole.fit.bound[place] and (wide_at := at.get(each.path)) is not None}  # fmt: skip
    free = [k for k in range(slopes.shape[1]) if k not in held and k not in own]
    errors = np.linalg.inv(np.eye(rows) + slopes[:, free] @ slopes[:, free].T)
    gains = {}
    for each, place in zip(worse, own, strict=True):
        column = slopes[:, place]
        push, stiff = -column @ errors @ missed, column @ errors @ column
        gains[each.part] = push**2 / stiff if push > 0.0 and stiff > 0.0 else 0.0
    # Where a relay moves slopes tell nothing: the others are tried after these.
    # And of the equal the first on the list is, whatever their last digits say.
    return sorted(names, key=lambda name: -digits(gains[name]))


def if_open(model: CircuitModel, whole: Solved, names: Sequence[str]) -> list[str]:
    """Parts by how little is missed with one of them open, all else as it was fitted.

    It tells where a part that is open moves a relay, of which slopes know nothing.
    """
    wide, worse = wider(model, dict.fromkeys(names, OPEN_OHM))
    problem, at = Problem(wide, whole.problem.taken), moved(model, whole.point, wide)
    factors = whole.fit.point[whole.count :]
    places = {each.path: place for place, each in enumerate(wide.unknowns)}
    points = []
    for each in worse:
        points.append(np.concatenate([at, factors]))
        points[-1][places[each.path]] += OPEN_OHM
    missed = dict(zip([each.part for each in worse], problem.squares(points), strict=True))
    return sorted(missed, key=missed.__getitem__)


def worse_by(solved: Solved, worse: Worse, place: int) -> Worn | None:
    """In the case in which it takes most beyond what was given; None where no case has it."""
    model = solved.problem.model
    own: Any = getattr(model.circuit, str(worse.path[1]))[int(worse.path[2])]
    first = next((each for each in model.circuit.branches if each.name == worse.part), own)
    nodes = own.contact_nodes if worse.path[1] == "relays" else (first.nodes[0], own.nodes[1])
    best: Worn | None = None
    for case in solved.problem.cases:
        here = model.here(case, solved.point)
        names = here.network.node_names
        if not {*nodes}.issubset(names):
            continue
        at = [across(here.state.model, *nodes)]
        drop_v, half = abs(float(here.told(at)[0])), COVERAGE_FACTOR * solved.of(here.slopes(at)[0])
        amps = abs(here.state.contact_a(own.name))
        more_v = amps * (float(solved.point[place]) - worse.least_ohm)
        each = Worn(worse.part, tuple(nodes), solved, case, drop_v, more_v, more_v - half, amps)
        if best is None or each.more_v > best.more_v:
            best = each
    return best
