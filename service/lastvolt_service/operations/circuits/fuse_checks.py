"""What a fuse of a circuit carries, of which family it may be, and what leads past it."""

from collections.abc import Iterable, Iterator, Sequence

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.unruled import keeps_memory
from lastvolt_service.operations.fuses.profile import carried_multiple, gates_citation
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    flatly,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.tables import fuses
from lastvolt_service.tables.limits import RATED

GIVEN = Given("given by the caller")
# What lets less than this past a fuse of unknown rating burns nothing. [A]. Common practice.
LEAST_PAST_A = 1.0
# No fuse of a vehicle bears so many times its rating for seconds. Common practice.
ANY_OPENS = 6.0
_NOTHING = flatly(UNKNOWN)


def families_of(fuse: Part) -> tuple[str, ...]:
    """Name the families that a fuse may be of: its own, else all that have its rating.

    Empty where the operating times are not known.
    """
    rating_a = float(fuse.asked.rating_a)
    timed = [name for name, each in fuses.families().items() if each.timed_from_a <= rating_a]
    if fuse.asked.fuse_family is not None:
        return tuple(name for name in timed if name == fuse.asked.fuse_family)
    having = [n for n in timed if rating_a in fuses.ratings_a(n)]
    return tuple(having or timed)


def families_of_all(side_by_side: Sequence[Part]) -> tuple[str, ...]:
    """Name the families that one of several fuses may be of; none where any has no times."""
    each = [families_of(fuse) for fuse in side_by_side]
    return tuple(dict.fromkeys(name for some in each for name in some)) if all(each) else ()


def together(side_by_side: Iterable[Part]) -> str:
    """What several parts are called in a check."""
    return " + ".join(part.name for part in side_by_side)


def fuse_load(part: Part, current_a: float, duration_s: float | None) -> Checked:
    """Judge whether a fuse carries the current, without end or for as long as the case lasts."""
    try:
        factor = fuses.ambient_factor(part.ambient_c)
    except CalculationError as error:
        judged = flatly(UNKNOWN, current_a)
        basis = fuses.ambient_citation()
        return Checked("fuse_load", judged, "A", basis, part=part.name, detail=error.detail)
    rated_a = part.asked.rating_a * factor
    limit_a, basis = fuses.CONTINUOUS_SHARE * rated_a, fuses.continuous_citation()
    families = families_of(part)
    if duration_s is not None and families:
        multiple, name = min((float(carried_multiple(each, duration_s)), each) for each in families)
        if multiple * rated_a > limit_a:
            limit_a, basis = multiple * rated_a, gates_citation(name)
    judged = stays_within(current_a, limit_a)
    if judged.verdict == FAIL and current_a <= rated_a:  # it holds its rating, and ages
        judged = judged._replace(verdict=MARGINAL)
    return Checked("fuse_load", judged, "A", basis, part=part.name)


def fuses_alone(state: State, metal: Metal) -> Iterator[Checked]:
    """Judge what can be told of fuses without the wires that they protect."""
    yield from _unrated(metal)
    yield from _bypassed(state, metal)


def _unrated(metal: Metal) -> Iterator[Checked]:
    for fuse in metal.fuses:
        if not known(fuse.asked.rating_a):
            yield Checked("fuse_rating", _NOTHING, "A", GIVEN, part=fuse.name)


def _bypassed(state: State, metal: Metal) -> Iterator[Checked]:
    """Fuses that something leads past without a fuse, and lets more by than they are rated for."""
    contacts = zip(metal.parts["contacts"], state.solution.closed.tolist(), strict=True)
    is_open = [part for part, closed in contacts if not closed]
    for fuse in metal.fuses:
        way = metal.way_past(fuse, is_open)
        ohm = sum(getattr(part.asked, "resistance_ohm", 0.0) for part in way)
        rated_a = fuse.asked.rating_a if known(fuse.asked.rating_a) else LEAST_PAST_A
        if way and ohm * rated_a < metal.drive_v and not _is_switched(metal, fuse, way):
            judged = flatly(FAIL)
            so = {"part": fuse.name, "detail": ", ".join(part.name for part in way)}
            yield Checked("fuse_bypassed", judged, "A", COMMON_PRACTICE, **so)


def _is_switched(metal: Metal, fuse: Part, way: Sequence[Part]) -> bool:
    """Whether a way past a fuse and its wire is a switch: it keeps a clock alive without."""
    beside = [part for part in way if part not in metal.in_series(fuse)]
    rated = (
        part.asked.rating_a
        for part in beside
        if part.kind == "relay" or (part.kind == "contact" and part.asked.part == RATED)
    )
    if any(keeps_memory(fuse.asked, rating_a) for rating_a in rated):
        return True
    contacts = [part.asked.part for part in beside if part.kind == "contact"]
    return len(contacts) == len(beside) and RATED in contacts


def cold_rating_a(fuse: Part) -> float:
    """Rating of a fuse, times what a cold place lets it hold more. [A]."""
    try:
        factor = fuses.ambient_factor(fuse.ambient_c)
    except CalculationError:
        lowest_c, *_ = fuses.ambient_curve().x
        factor = fuses.ambient_factor(lowest_c)
    return float(fuse.asked.rating_a) * max(factor, 1.0)


def sure_to_open_a(fuse: Part) -> float:
    """Current at which a fuse of known rating opens, of whatever family it may be. [A]."""
    most = max((opening_multiple(name) for name in families_of(fuse)), default=ANY_OPENS)
    return most * cold_rating_a(fuse)


def opening_multiple(family: str) -> float:
    """Of its rating, the current at which a fuse of some family is sure to open; 1 if unknown."""
    band = fuses.band(family)
    return 1.0 if band is None else band.opening_multiple
