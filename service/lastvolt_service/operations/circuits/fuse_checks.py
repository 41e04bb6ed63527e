"""What a fuse of a circuit carries, and whether it protects the wires in series with it."""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.unruled import keeps_memory
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.fuses.overload import BASIS, NOT_KNOWN, FusedWire, overloads
from lastvolt_service.operations.fuses.profile import carried_multiple, gates_citation
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    PASS,
    UNDECIDED,
    UNKNOWN,
    Judged,
    flatly,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.wires.heated_wire import HeatedWire, side_by_side
from lastvolt_service.operations.wires.heating import IN_TIME
from lastvolt_service.tables import fuses
from lastvolt_service.tables.limits import RATED

GIVEN = Given("given by the caller")
# What lets less than this past a fuse of unknown rating burns nothing. [A]. Common practice.
LEAST_PAST_A = 1.0
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


class _Fused(NamedTuple):
    """A wire behind fuses of known rating, and its temperature with what flows.

    Fuses side by side are one of the sum of their ratings: at a fault they open one after another,
    the last under all of it.
    """

    name: str
    wire: HeatedWire | None
    hot_c: float
    fuses: tuple[Part, ...]
    families: tuple[str, ...]
    cold_rating_a: float  # what the fuses hold where they are, together
    live_s: float  # how long it is live at most

    @property
    def about(self) -> dict[str, str]:
        """Which part is judged, and with which fuses."""
        return {"part": self.name, "detail": together(self.fuses)}

    @property
    def is_judged(self) -> bool:
        """Whether its limit is known."""
        return self.wire is not None and known(self.wire.limit_c)


def protection(
    states: Sequence[State],
    metals: Sequence[Metal],
    bears: Bears,
    durations_s: Sequence[float | None],
    *,
    verdicts_only: bool,
) -> list[list[Checked]]:
    """Judge in many states whether each fuse protects the wires that lie behind it.

    What heats is reckoned for all of them at once. Where verdicts are all that is asked for, it is
    reckoned at the ends of the temperatures that a wire begins at, and between ends that agree it
    is read off the line between them: the hotter it begins, the hotter it gets.
    """
    pairs = [_fused_wires(*each) for each in zip(states, metals, durations_s, strict=True)]
    heated = [pair for some in pairs for pair in some if pair.is_judged]
    heat = iter(_heat(heated, bears, verdicts_only=verdicts_only))
    return [
        [
            *_unrated(metal),
            *_bypassed(state, metal),
            *_unjudged(some),
            *_judged(some, bears, heat),
        ]
        for state, metal, some in zip(states, metals, pairs, strict=True)
    ]


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


def _unjudged(pairs: Sequence[_Fused]) -> Iterator[Checked]:
    for pair in pairs:
        if not pair.is_judged:
            yield Checked("fuse_protection", _NOTHING, "A", GIVEN, **pair.about)


def _judged(
    pairs: Sequence[_Fused], bears: Bears, heat: Iterator[list[Judged]]
) -> Iterator[Checked]:
    for pair in pairs:
        if pair.wire is not None and pair.is_judged:
            yield _opening(pair, *_borne(pair.wire, pair.live_s, bears))
            found = list(zip(pair.families, next(heat), strict=True))
            if found:
                yield _overload(pair, found)


# A wire, the cold rating of its fuse, a family that this may be of, how long it is live; and where
# the wire begins.
_Kind = tuple[HeatedWire, float, str, float]
_Row = tuple[_Kind, float]


def _heat(pairs: Sequence[_Fused], bears: Bears, *, verdicts_only: bool) -> Iterator[list[Judged]]:
    """Of each wire the overload that is worst for it, for each family that its fuse may be of."""
    rows: list[list[_Row]] = [
        [
            ((pair.wire, pair.cold_rating_a, name, pair.live_s), pair.hot_c)
            for name in pair.families
            if pair.wire is not None
        ]
        for pair in pairs
    ]
    wanted = dict.fromkeys(
        row for some in rows for row in some if fuses.band(row[0][2]) is not None
    )
    found = _between(wanted, bears) if verdicts_only else _worst([*wanted], bears)
    for some in rows:
        yield [found.get(row, NOT_KNOWN.judged) for row in some]


def _worst(rows: Sequence[_Row], bears: Bears) -> dict[_Row, Judged]:
    """The worst overload of each."""
    if not rows:
        return {}
    fused = FusedWire(
        np.array([bears.of(wire)[0] for (wire, *_), _ in rows]),
        True,
        side_by_side([wire for (wire, *_), _ in rows]),
        np.array([hot_c for _, hot_c in rows]),
        np.array([live_s for (*_, live_s), _ in rows]),
    )
    bands = [band for (_, _, name, _), _ in rows if (band := fuses.band(name)) is not None]
    cold_a = np.array([cold_a for (_, cold_a, *_), _ in rows])
    columns = overloads(fused, bands, cold_a).judged
    judged = zip(*(np.asarray(each).tolist() for each in columns), strict=True)
    return {row: Judged(*each) for row, each in zip(rows, judged, strict=True)}


def _between(rows: Iterable[_Row], bears: Bears) -> dict[_Row, Judged]:
    """The worst overload of each; where both ends agree, a margin between theirs."""
    alike: dict[_Kind, list[float]] = {}
    for kind, hot_c in rows:
        alike.setdefault(kind, []).append(hot_c)
    ends = {kind: (min(hot), max(hot)) for kind, hot in alike.items()}
    found = _worst([(kind, hot_c) for kind, hot in ends.items() for hot_c in {*hot}], bears)
    doubtful = []
    for kind, hot in alike.items():
        low_c, high_c = ends[kind]
        low, high = found[kind, low_c], found[kind, high_c]
        sure = low.verdict == high.verdict and not math.isnan(low.margin + high.margin)
        for hot_c in hot:
            if hot_c in {low_c, high_c}:
                continue
            if sure:
                found[kind, hot_c] = _on_the_line(low, high, (hot_c - low_c) / (high_c - low_c))
            else:
                doubtful.append((kind, hot_c))
    return found | _worst(doubtful, bears)


def _on_the_line(low: Judged, high: Judged, share: float) -> Judged:
    value, limit, margin = (
        float(one) + share * (float(other) - float(one))
        for one, other in zip(low[:3], high[:3], strict=True)
    )
    return Judged(value, limit, margin, low.verdict)


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
    most = max((_opening_multiple(name) for name in families_of(fuse)), default=math.inf)
    return most * cold_rating_a(fuse)


def _borne(wire: HeatedWire, live_s: float, bears: Bears) -> tuple[float, str]:
    """What a wire bears for as long as it is live, and who says so. [A]."""
    steady_a, cited = bears.of(wire)
    if live_s == math.inf:
        return steady_a, cited
    return max(bears.duty_a(wire, live_s), steady_a), IN_TIME


def _opening(pair: _Fused, may_a: float, cited: str) -> Checked:
    """Judge whether the wire bears every current below that at which the fuse is sure to open."""
    families, cold_a = pair.families, pair.cold_rating_a
    if not families:
        # Its rating it holds whatever its times: a wire that does not bear that is not protected.
        judged = stays_within(cold_a, may_a, 0.0)
        judged = judged._replace(verdict=FAIL if judged.verdict == FAIL else UNKNOWN)
        return Checked("fuse_protection", judged, "A", cited, **pair.about)
    each = [(_opening_multiple(name) * cold_a, name) for name in families]
    verdicts = {stays_within(opens_a, may_a, 0.0).verdict for opens_a, _ in each}
    opens_a, name = max(each)
    judged = stays_within(opens_a, may_a, 0.0)._replace(verdict=_together(verdicts))
    basis = f"{gates_citation(name)}; {cited}"
    return Checked("fuse_protection", judged, "A", basis, **pair.about)


def _overload(pair: _Fused, heat: list[tuple[str, Judged]]) -> Checked:
    """Judge whether the wire bears larger currents for the fuse's longest time."""
    name, worst = min(heat, key=lambda each: _margin(each[1]))
    verdict = _together({each.verdict for _, each in heat})
    basis = f"{gates_citation(name)}; {BASIS}"
    judged = worst._replace(verdict=verdict)
    return Checked("fuse_overload", judged, "degC", basis, **pair.about)


def _margin(judged: Judged) -> float:
    return judged.margin if judged.margin == judged.margin else -np.inf


def _opening_multiple(family: str) -> float:
    band = fuses.band(family)
    return 1.0 if band is None else band.opening_multiple


def _together(verdicts: set[int]) -> int:
    """Judge a fuse of one of several families: undecided where they differ."""
    if verdicts == {FAIL}:
        return FAIL
    return UNDECIDED if FAIL in verdicts else PASS


def _fused_wires(state: State, metal: Metal, duration_s: float | None) -> list[_Fused]:
    """Pair fuses of known rating with the wires that they answer for.

    These are the wires in series with the fuse, and all behind it up to the next fuse: beyond a
    fork a fault gets all that the fuse lets through, and where several feeds meet, all of theirs.
    """
    answers: dict[tuple[Part, ...], set[str]] = {
        (fuse,): metal.answers_for(fuse) for fuse in metal.fuses
    }
    for fed in metal.fed_together:
        for some, names in fed.names_by_fuses.items():
            answers[some] = answers.get(some, set()) | names
    chains = [
        (some, families_of_all(some), sum(map(cold_rating_a, some)), names)
        for some, names in answers.items()
        if all(known(fuse.asked.rating_a) for fuse in some)
    ]
    # What a switch makes live is so for as long as the case lasts, and no fault in it longer.
    always = metal.always_live if duration_s is not None else set[str]()
    on_s = math.inf if duration_s is None else duration_s
    return [
        _Fused(
            part.name,
            wire,
            hot_c,
            some,
            families,
            cold_a,
            math.inf if part.name in always else on_s,
        )
        for part, wire, hot_c in zip(
            state.model.parts["wires"],
            state.model.wires,
            state.solution.wire_temperature_c.tolist(),
            strict=True,
        )
        for some, families, cold_a, names in chains
        if part.name in names
    ]
