"""Whether the fuses of a circuit protect the wires that lie behind them."""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeAlias

import numpy as np

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fuse_checks import (
    GIVEN,
    cold_rating_a,
    families_of_all,
    fuses_alone,
    opening_multiple,
    together,
)
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.metal_tree import is_fuse
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.wire_checks import Bears
from lastvolt_service.operations.fuses.overload import BASIS, NOT_KNOWN, FusedWire, overloads
from lastvolt_service.operations.fuses.profile import gates_citation
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
from lastvolt_service.operations.wires.heated_wire import HeatedWire, side_by_side
from lastvolt_service.operations.wires.heating import IN_TIME
from lastvolt_service.tables import fuses

_NOTHING = flatly(UNKNOWN)
_FINE = frozenset({PASS, MARGINAL})
# What is alike of wires behind fuses: the wire itself, rating, time, families.
_Kind: TypeAlias = tuple[int, float, float, tuple[str, ...]]
_Row: TypeAlias = tuple[_Kind, str, float]
# A circuit at rest, its metal, and how long it rests so.
Where: TypeAlias = tuple[State, Metal, float | None]
# Code and part of checks that are left out, and are in doubt at all points alike.
InDoubt: TypeAlias = set[tuple[str, str | None]]


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

    @property
    def kind(self) -> _Kind:
        """All that decides how it heats, but for where that begins."""
        return id(self.wire), self.cold_rating_a, self.live_s, self.families

    def row(self, family: str) -> _Row:
        """All that decides how it heats with a fuse of one family."""
        return self.kind, family, self.hot_c


def protection(where: Sequence[Where], bears: Bears) -> list[list[Checked]]:
    """Judge in many states whether each fuse protects the wires that lie behind it.

    What heats is reckoned for all of them at once.
    """
    pairs = [_fused_wires(*each) for each in where]
    timed = [(pair, name) for some in pairs for pair in some for name in pair.families]
    found = _worst([each for each in timed if each[0].is_judged], bears)
    checks = []
    for (state, metal, _), some in zip(where, pairs, strict=True):
        here = [*fuses_alone(state, metal), *(_unjudged(p) for p in some if not p.is_judged)]
        for pair in some:
            if pair.wire is not None and pair.is_judged:
                here.append(_opening(pair, bears))
                if pair.families:
                    heat = [found.get(pair.row(name), NOT_KNOWN.judged) for name in pair.families]
                    here.append(_overload(pair, heat))
        checks.append(here)
    return checks


def protection_within(
    groups: Sequence[Sequence[Where]], bears: Bears
) -> list[tuple[list[list[Checked]], InDoubt]]:
    """Judge as `protection` circuits at many points of their bounds, each of which is a group.

    What comes out alike at all points of a group is left out. Margins are as near as verdicts want.
    """
    columns = [[*zip(*(_fused_wires(*each) for each in group), strict=True)] for group in groups]
    judged = [[column for column in some if column[0].is_judged] for some in columns]
    heat = _Between([pair for some in judged for column in some for pair in column], bears)
    differ = [[heat.verdict(column) is None for column in some] for some in judged]
    heat.look(
        [
            pair
            for some, which in zip(judged, differ, strict=True)
            for column, is_asked in zip(some, which, strict=True)
            if is_asked
            for pair in column
        ]
    )
    found = []
    for group, some, which, every in zip(groups, judged, differ, columns, strict=True):
        points = [[*fuses_alone(state, metal)] for state, metal, _ in group]
        in_doubt: InDoubt = {
            ("fuse_protection", column[0].name) for column in every if not column[0].is_judged
        }
        for column, is_asked in zip(some, which, strict=True):
            openings = {pair.kind: _opening(pair, bears) for pair in _of_each_kind(column)}
            verdicts = {int(check.judged.verdict) for check in openings.values()}
            if not is_alike(verdicts):
                for here, pair in zip(points, column, strict=True):
                    here.append(openings[pair.kind])
            elif not verdicts <= _FINE:
                in_doubt.add(("fuse_protection", column[0].name))
            if is_asked:
                for here, pair in zip(points, column, strict=True):
                    if pair.families:
                        here.append(_overload(pair, heat.of(pair)))
            elif heat.verdict(column) not in _FINE:
                in_doubt.add(("fuse_overload", column[0].name))
        found.append((points, in_doubt))
    return found


def is_alike(verdicts: set[int]) -> bool:
    """Whether what has these verdicts at some points flips between none of them."""
    return verdicts <= _FINE or len(verdicts) == 1


def _of_each_kind(column: Iterable[_Fused]) -> list[_Fused]:
    return [*{pair.kind: pair for pair in column}.values()]


class _Between:
    """The worst overloads of many wires, reckoned where those that are alike begin at the ends.

    Between ends that agree a margin is read off the line between theirs: the hotter one begins, the
    hotter it gets.
    """

    def __init__(self, pairs: Iterable[_Fused], bears: Bears) -> None:
        self._bears = bears
        self._ends: dict[_Kind, tuple[_Fused, _Fused]] = {}
        for pair in pairs:
            kind = pair.kind
            low, high = self._ends.get(kind, (pair, pair))
            if pair.hot_c < low.hot_c:
                self._ends[kind] = pair, high
            elif pair.hot_c > high.hot_c or low is high:
                self._ends[kind] = low, pair
        ends = [pair for both in self._ends.values() for pair in both]
        self._found = _worst([(pair, name) for pair in ends for name in pair.families], bears)

    def _at_ends(self, kind: _Kind, family: str) -> tuple[Judged, Judged]:
        low, high = (self._found.get(end.row(family), NOT_KNOWN.judged) for end in self._ends[kind])
        return low, high

    def verdict(self, column: Sequence[_Fused]) -> int | None:
        """Of a wire at many points; None where it differs, or may."""
        found = set[int]()
        for pair in _of_each_kind(column):
            ends = [self._at_ends(pair.kind, name) for name in pair.families]
            if any(low.verdict != high.verdict for low, high in ends):
                return None
            found.add(_together({int(low.verdict) for low, _ in ends}))
        return found.pop() if len(found) == 1 else None

    def look(self, pairs: Sequence[_Fused]) -> None:
        """Reckon wires of which the ends do not tell a margin."""
        unsure = {
            (pair.kind, name)
            for pair in _of_each_kind(pairs)
            for name in pair.families
            if not _is_line(*self._at_ends(pair.kind, name))
        }
        rows = ((pair, name) for pair in pairs for name in pair.families)
        self._found |= _worst(
            [
                (pair, name)
                for pair, name in rows
                if (pair.kind, name) in unsure and pair.row(name) not in self._found
            ],
            self._bears,
        )

    def of(self, pair: _Fused) -> list[Judged]:
        """Of each family that a fuse may be of, at one point."""
        found = []
        for name in pair.families:
            low, high = self._ends[pair.kind]
            known_here = self._found.get(pair.row(name))
            if known_here is None and fuses.band(name) is not None:
                share = (pair.hot_c - low.hot_c) / (high.hot_c - low.hot_c)
                known_here = _on_the_line(*self._at_ends(pair.kind, name), share)
            found.append(NOT_KNOWN.judged if known_here is None else known_here)
        return found


def _worst(rows: Iterable[tuple[_Fused, str]], bears: Bears) -> dict[_Row, Judged]:
    """The worst overload of each wire, with a fuse of some family."""
    wanted = {p.row(name): (p, name) for p, name in rows if fuses.band(name) is not None}
    wires = [(p, p.wire, name) for p, name in wanted.values() if p.wire is not None]
    if not wires:
        return {}
    fused = FusedWire(
        np.array([bears.of(wire)[0] for _, wire, _ in wires]),
        True,
        side_by_side([wire for _, wire, _ in wires]),
        np.array([pair.hot_c for pair, _, _ in wires]),
        np.array([pair.live_s for pair, _, _ in wires]),
    )
    bands = [band for _, _, name in wires if (band := fuses.band(name)) is not None]
    cold_a = np.array([pair.cold_rating_a for pair, _, _ in wires])
    columns = overloads(fused, bands, cold_a).judged
    judged = zip(*(np.asarray(each).tolist() for each in columns), strict=True)
    return {row: Judged(*each) for row, each in zip(wanted, judged, strict=True)}


def _is_line(low: Judged, high: Judged) -> bool:
    """Whether what is between two ends is told by both."""
    return bool(low.verdict == high.verdict) and not math.isnan(low.margin + high.margin)


def _on_the_line(low: Judged, high: Judged, share: float) -> Judged:
    value, limit, margin = (
        float(one) + share * (float(other) - float(one))
        for one, other in zip(low[:3], high[:3], strict=True)
    )
    return Judged(value, limit, margin, low.verdict)


def _unjudged(pair: _Fused) -> Checked:
    return Checked("fuse_protection", _NOTHING, "A", GIVEN, **pair.about)


def _borne(wire: HeatedWire, live_s: float, bears: Bears) -> tuple[float, str]:
    """What a wire bears for as long as it is live, and who says so. [A]."""
    steady_a, cited = bears.of(wire)
    if live_s == math.inf:
        return steady_a, cited
    return max(bears.duty_a(wire, live_s), steady_a), IN_TIME


def _opening(pair: _Fused, bears: Bears) -> Checked:
    """Judge whether the wire bears every current below that at which the fuse is sure to open."""
    families, cold_a = pair.families, pair.cold_rating_a
    may_a, cited = _borne(pair.wire, pair.live_s, bears) if pair.wire else (0.0, GIVEN)
    if not families:
        # Its rating it holds whatever its times: a wire that does not bear that is not protected.
        judged = stays_within(cold_a, may_a, 0.0)
        judged = judged._replace(verdict=FAIL if judged.verdict == FAIL else UNKNOWN)
        return Checked("fuse_protection", judged, "A", cited, **pair.about)
    each = [(opening_multiple(name) * cold_a, name) for name in families]
    verdicts = {stays_within(opens_a, may_a, 0.0).verdict for opens_a, _ in each}
    opens_a, name = max(each)
    judged = stays_within(opens_a, may_a, 0.0)._replace(verdict=_together(verdicts))
    basis = f"{gates_citation(name)}; {cited}"
    return Checked("fuse_protection", judged, "A", basis, **pair.about)


def _overload(pair: _Fused, heat: Sequence[Judged]) -> Checked:
    """Judge whether the wire bears larger currents for the fuse's longest time, of each family."""
    each = zip(pair.families, heat, strict=True)
    name, worst = min(each, key=lambda family: _margin(family[1]))
    verdict = _together({one.verdict for one in heat})
    basis = f"{gates_citation(name)}; {BASIS}"
    judged = worst._replace(verdict=verdict)
    return Checked("fuse_overload", judged, "degC", basis, **pair.about)


def _margin(judged: Judged) -> float:
    return judged.margin if judged.margin == judged.margin else -np.inf


def _together(verdicts: set[int]) -> int:
    """Judge a fuse of one of several families: undecided where they differ."""
    if verdicts == {FAIL}:
        return FAIL
    return UNDECIDED if FAIL in verdicts else PASS


def _fused_wires(state: State, metal: Metal, duration_s: float | None) -> list[_Fused]:
    """Pair fuses of known rating with the wires that they answer for.

    These are the wires in series with the fuse, and all behind it up to the next fuse: beyond a
    fork a fault gets all that the fuse lets through, and where several feeds meet, all of theirs.
    The lead of a charger is behind the batteries' fuse, too, whatever else hangs on both.
    """
    answers: dict[tuple[Part, ...], set[str]] = {
        (fuse,): metal.answers_for(fuse) for fuse in metal.fuses
    }
    for fed in metal.fed_together:
        for some, names in fed.names_by_fuses.items():
            answers[some] = answers.get(some, set()) | names
    for charger in state.model.parts["chargers"]:
        before = set[str]()
        for part in metal.lead_of(charger):
            if is_fuse(part):
                answers[part,] |= before
                before = set()
            else:
                before.add(part.name)
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
