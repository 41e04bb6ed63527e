"""The voltage at a load before and after a way was built, each with its uncertainty."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from lastvolt_service.operations.meter.fit_told import both
from lastvolt_service.operations.meter.proof_answer import GainProof, ProofOfCase
from lastvolt_service.reports.pictures.axis import Axis, around
from lastvolt_service.reports.pictures.heading import SIDE, SMALL, and_more, headed, top
from lastvolt_service.reports.plain import cut, with_short_names
from lastvolt_service.reports.svg import FAINT, INK, SOFT, WARN, WIDTH, Svg, fit, text_width
from lastvolt_service.words.amounts import amount

MOST_CASES = 30
_PLOT = (96.0, 414.0)
_ROW, _SCALE, _FOOT = 20.0, 30.0, 10.0


@dataclass(frozen=True, slots=True)
class _Row:
    """One voltage: what it is, with its interval where it has one; None where there is no rest."""

    name: str
    value: float | None
    ends: tuple[float, float] | None
    symbol: str

    @property
    def text(self) -> str:
        if self.value is None:
            return "does not come to rest"
        if self.ends is None:
            return amount(self.value, "V")
        low, high = both(*self.ends, "V")
        return f"{low} to {high}"


@dataclass(frozen=True, slots=True)
class _Case:
    """What is drawn of a case."""

    told: ProofOfCase
    rows: tuple[_Row, ...]

    @property
    def values(self) -> Iterator[float]:
        for row in self.rows:
            yield from (each for each in (row.value, *(row.ends or ())) if each is not None)
        if self.told.needed_v is not None:
            yield self.told.needed_v

    @property
    def height(self) -> float:
        return _ROW * (2 + len(self.rows))

    @property
    def gain(self) -> str:
        told = self.told
        if told.gain_low_v is None or told.gain_high_v is None:
            return ""
        return f"gain {' to '.join(both(told.gain_low_v, told.gain_high_v, 'V'))}"


def gain_proof_picture(request: Any, answer: GainProof, *, alone: bool = True) -> str:
    """Draw the load's voltage before and after, with error bars, in every case, as SVG.

    `alone` it says what it comes to, which stands beside it on a page.
    """
    # The case in which both are compared first: the others are predicted from it.
    by_case = sorted(answer.by_case, key=lambda each: each.case != answer.gain.case)
    cases = [_Case(each, tuple(_rows(each, answer))) for each in by_case[:MOST_CASES]]
    left = len(by_case) - len(cases)
    told = with_short_names(answer.headline, request) if alone else ""
    below = _SCALE + sum(case.height for case in cases) + (_ROW if left else 0) + _FOOT
    svg = headed("Before and after", told, below, desc=" ".join(map(_said, cases)))
    axis = around([volts for case in cases for volts in case.values], *_PLOT)
    y = top(told) + _SCALE
    svg.text(SIDE, y - 8, "volts", size=SMALL, ink=SOFT)
    for mark in axis.marks(6):
        svg.text(axis.at(mark), y - 8, f"{mark:g}", size=SMALL, anchor="middle", ink=SOFT)
    svg.text(WIDTH - SIDE, y - 8, "bars: 19 times of 20", size=SMALL, anchor="end", ink=SOFT)
    for case in cases:
        _draw_case(svg, axis, case, y)
        y += case.height
    if left:
        svg.text(SIDE, y + 12, and_more(left, "case"), ink=SOFT)
    return str(svg)


def _rows(each: ProofOfCase, answer: GainProof) -> Iterator[_Row]:
    before = after = None
    if each.before_low_v is not None and each.before_high_v is not None:
        before = (each.before_low_v, each.before_high_v)
    if each.after_low_v is not None and each.after_high_v is not None:
        after = (each.after_low_v, each.after_high_v)
    yield _Row("before", each.before_v, before, "ring")
    yield _Row("after", each.after_v, after, "disc")
    if each.case == answer.gain.case:
        yield _Row("promised", answer.promise.load_voltage_v, None, "diamond")


def _draw_case(svg: Svg, axis: Axis, case: _Case, y: float) -> None:
    told = case.told
    bottom = y + case.height - _ROW
    how = "" if told.is_read else ", predicted"
    room = WIDTH - 2 * SIDE - 12 - text_width(case.gain + how, 12, bold=True)
    svg.text(SIDE, y + 14, fit(told.case, room, 12, bold=True) + how, bold=True)
    if case.gain:
        svg.text(WIDTH - SIDE, y + 14, case.gain, anchor="end", bold=True)
    for mark in axis.marks(6):
        svg.line((axis.at(mark), y + _ROW), (axis.at(mark), bottom), ink=FAINT)
    if told.needed_v is not None:
        x = axis.at(told.needed_v)
        svg.line((x, y + _ROW), (x, bottom + 3), width=1.8, ink=WARN, dash="6 4")
        label = f"needed {amount(told.needed_v, 'V')}"
        half = 0.5 * text_width(label, SMALL, bold=True)
        x = min(max(x, SIDE + half), WIDTH - SIDE - half)
        svg.text(x, bottom + 14, label, size=SMALL, anchor="middle", ink=WARN, bold=True)
    for place, row in enumerate(case.rows, 1):
        _draw_row(svg, axis, row, y + _ROW * place)


def _draw_row(svg: Svg, axis: Axis, row: _Row, y: float) -> None:
    svg.text(SIDE, y + 14, row.name)
    svg.text(WIDTH - SIDE, y + 14, row.text, anchor="end")
    if row.value is None:
        return
    x, middle = axis.at(row.value), y + _ROW / 2
    if row.ends is not None:
        low, high = map(axis.at, row.ends)
        svg.line((low, middle), (high, middle), width=2)
        for end in (low, high):
            svg.line((end, middle - 7), (end, middle + 7), width=2)
    if row.symbol == "diamond":
        svg.shape([(x, middle - 6), (x + 6, middle), (x, middle + 6), (x - 6, middle)])
    else:
        svg.circle((x, middle), 3, fill=INK if row.symbol == "disc" else "#ffffff")


def _said(case: _Case) -> str:
    told = case.told
    rows = ", ".join(f"{row.name} {row.text}" for row in case.rows)
    needed = "" if told.needed_v is None else f", needed {amount(told.needed_v, 'V')}"
    return f"{cut(told.case)}: {rows}{needed}."
