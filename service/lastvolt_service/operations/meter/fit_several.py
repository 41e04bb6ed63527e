"""Several parts at once that are worse than they were given to be, if all readings are right."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, groupby

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.meter.fit_beyond import held
from lastvolt_service.operations.meter.fit_ends import (
    FIELDS,
    end_of,
    middle_of,
    most_more_ohm,
    moved,
    numbered,
    wider,
)
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_outputs import across
from lastvolt_service.operations.meter.fit_way import ways_of
from lastvolt_service.operations.meter.fit_worn import Worn, worse_by
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

# What a part takes less than that beyond what was given is no share of a loss. [V]
LEAST_MORE_V = 0.01
# Sound contacts differ by so much: beside a larger loss less is none. [V]. Common practice.
SOUND_V = 0.05


@dataclass(frozen=True, slots=True)
class Together:
    """Parts in a row that take more than was given for them, where no reading tells which.

    Attributes
    ----------
    parts : tuple of str
        Their names, in the order of the current.
    case : int
        Place of the case.
    more_v : float
        What they take beyond what was given. [V]
    """

    parts: tuple[str, ...]
    case: int
    more_v: float


@dataclass(frozen=True, slots=True)
class Several:
    """A fit that all readings go with, and the parts that it lays the losses at.

    Attributes
    ----------
    solved : Solved
        With all parts open that were given as numbers, and those at the high end of their bounds.
    alone : list of Worn
        Parts that take more for sure, the worst first.
    together : list of Together
        Parts of which one or more do.
    """

    solved: Solved
    alone: list[Worn]
    together: list[Together]


def several(model: CircuitModel, whole: Solved) -> Several | None:
    """Find the parts that make all readings hold together; None where they do not all the same."""
    try:
        states = [model.here(place, whole.point).state for place in whole.problem.cases]
        names = {*numbered(model.circuit), *_at_their_high_ends(model, whole)}
        wide, worse = wider(model, most_more_ohm(names, states))
        solved = Problem(wide, whole.problem.taken).solved_if_near(
            [moved(model, whole.point, wide), moved(model, middle_of(model), wide)]
        )
        if not worse or solved is None or not solved.check.agrees:
            return None
        at = {each.path: place for place, each in enumerate(wide.unknowns)}
        found = [worse_by(solved, each, at[each.path]) for each in worse]
    except CalculationError:
        return None
    told = [each for each in found if each is not None]
    sure = sorted((e for e in told if e.least_v > 0.0), key=lambda each: -each.more_v)
    untold = {e.part: e for e in told if e.least_v <= 0.0 and e.more_v > LEAST_MORE_V}
    together = list(_runs(solved, untold))
    alone = [each for each in sure if each.more_v > SOUND_V] or (sure[:1] if not together else [])
    return Several(solved, alone, together) if alone or together else None


def _at_their_high_ends(model: CircuitModel, whole: Solved) -> Iterator[str]:
    """Branches and relays that a fit holds at the most that was given for them."""
    for place in held(whole):
        unknown = model.unknowns[place]
        group, field = str(unknown.path[1]), unknown.path[-1]
        is_high = whole.point[place] > 0.5 * (unknown.given.low + unknown.given.high)
        if is_high and FIELDS.get(group) == field and len(unknown.path) == 4:
            yield str(getattr(model.circuit, group)[int(unknown.path[2])].name)


def _runs(solved: Solved, untold: Mapping[str, Worn]) -> Iterator[Together]:
    """Rows of those on a way which take more together for sure; the end of a wire is its own.

    Where no reading tells what lies before a part that is told from what lies behind it, both do.
    """
    model, met = solved.problem.model, set[str]()
    ends = {end_of(name) for name in untold}
    for case in solved.problem.cases:
        here = model.here(case, solved.point)
        for way in ways_of(here.state):
            on_way = [name for name in way if name not in ends]
            rows = [[*row] for is_in, row in groupby(on_way, untold.__contains__) if is_in]
            for row in [*rows, [*chain(*rows)]]:
                run = [untold[name] for name in row if name not in met]
                more_v = sum(each.more_v for each in run)
                spans = [across(here.state.model, *each.nodes) for each in run]
                slopes = here.slopes(spans).sum(axis=0)
                if more_v - COVERAGE_FACTOR * solved.of(slopes) > 0.0:
                    met.update(each.part for each in run)
                    yield Together(tuple(each.part for each in run), case, more_v)
