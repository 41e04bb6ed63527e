"""A recording over time, with what was found in it: switching, pull-in, bounces, peak, levels."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import floor, log10
from typing import Any

import numpy as np

from lastvolt_service.operations.meter.recording_answer import Amperes, RecordingAnswer
from lastvolt_service.operations.meter.recording_fields import RecordingRequest
from lastvolt_service.operations.meter.recording_signals import GAP_STEPS, Signals
from lastvolt_service.physics.recording_estimate import Samples
from lastvolt_service.reports.pictures.axis import Axis, around
from lastvolt_service.reports.pictures.heading import SIDE, SMALL, headed, top
from lastvolt_service.reports.svg import (
    ACCENT,
    FAINT,
    INK,
    SOFT,
    WARN,
    WIDTH,
    Point,
    Svg,
    text_width,
)
from lastvolt_service.words.amounts import amount

_LEFT, _RIGHT = 52.0, WIDTH - 18.0
_PANEL, _LINE, _APART, _FOOT = 150.0, 15.0, 10.0, 40.0
# Up to so many samples each is a dot; of more, each column of pixels shows its least and most.
MOST_DOTS = 100
_COLUMNS = 2 * int(_RIGHT - _LEFT)
_EVENTS = {"on": "on", "pull_in": "pull-in", "off": "off"}
_GLYPH, _NEXT = 26.0, 14.0

Glyph = Callable[[Svg, float, float], None]


@dataclass(frozen=True, slots=True)
class _Mark:
    """A moment: what happened, and between which samples."""

    text: str
    time_s: float


@dataclass(frozen=True, slots=True)
class _Panel:
    """One channel, and what is told of it."""

    name: str
    values: Samples
    found: Any
    unit: str
    is_switched: bool

    @property
    def keys(self) -> list[tuple[Glyph, str]]:
        level = self.found.plateau
        low, value, high = (self._of(level, each) for each in ("low", "value", "high"))
        settles = self.is_switched and getattr(self.found, "settles", True)
        what = "settles to" if settles else "level"
        found: list[tuple[Glyph, str]] = [(_bar, f"{what} {value}, {low} to {high}")]
        if isinstance(self.found, Amperes):
            peak = (
                f"{'peak' if self.found.is_inrush else 'largest'} {amount(self.found.peak_a, 'A')}"
            )
            limit = self.found.peak_limit_a
            if self.found.is_inrush and limit is None:
                peak += ", or more between two samples"
            elif self.found.is_inrush and limit is not None:
                peak += f", no more than {amount(limit, 'A', side='up')}"
            found.append((_diamond, peak))
        if self.found.rest is not None:
            found.append((_dots, f"at rest {self._of(self.found.rest, 'value')}"))
        return found

    def number(self, read: Any, which: str) -> float:
        return float(getattr(read, f"{which}_{self.unit.lower()}"))

    def _of(self, read: Any, which: str) -> str:
        return amount(self.number(read, which), self.unit)


def recording_picture(request: RecordingRequest, answer: RecordingAnswer) -> str:
    """Draw volts and amperes over time, with what was found marked, as SVG."""
    taken = Signals.of(request)
    panels = [*_panels(taken, answer)]
    marks = [*_marks(answer)]
    time = Axis(float(taken.time_s[0]), float(taken.time_s[-1]), _LEFT, _RIGHT)
    lanes = _lanes(marks, time)
    flows = [_flow(panel) for panel in panels]
    heads = [_APART + _LINE * (1 + len({line for line, *_ in flow})) for flow in flows]
    above = _LINE * (max(lanes, default=-1) + 1)
    below = above + sum(heads) + _PANEL * len(panels) + _FOOT
    said = " ".join([*(f"{mark.text}." for mark in marks), *_said(panels)])
    svg = headed("The recording", answer.headline, below, desc=said)
    y = top(answer.headline) + above
    _draw_marks(svg, marks, lanes, time, y, svg.height - _FOOT)
    for panel, flow, head in zip(panels, flows, heads, strict=True):
        _draw_flow(svg, panel, flow, y + _APART)
        y += head + _PANEL
        _draw_panel(svg, panel, taken, time, y)
    _draw_time(svg, time, y)
    return str(svg)


def _panels(taken: Signals, answer: RecordingAnswer) -> Iterator[_Panel]:
    if answer.volts is not None:
        yield _Panel("volts", taken.volts_v, answer.volts, "V", answer.switched)
    if answer.current is not None:
        yield _Panel("amperes", taken.current_a, answer.current, "A", answer.switched)


def _marks(answer: RecordingAnswer) -> Iterator[_Mark]:
    """What happened, in order; each time with the digits that its samples tell."""
    bounces = answer.timing.bounces
    for each in answer.events:
        decimals = max(0, 1 - floor(log10(each.latest_s - each.earliest_s)))
        yield _Mark(
            f"{_EVENTS[each.event]} {amount(each.time_s, 's', decimals=decimals)}", each.time_s
        )
        if each.event == "on" and bounces is not None and bounces.times:
            ends_s = each.time_s + bounces.last_s
            text = f"bounced {bounces.times} {'time' if bounces.times == 1 else 'times'} until"
            yield _Mark(f"{text} {amount(ends_s, 's', decimals=decimals)}", ends_s)


def _label_at(mark: _Mark, time: Axis) -> float:
    """Left end of a label, which stays inside."""
    width = text_width(mark.text, SMALL, bold=True)
    return min(max(time.at(mark.time_s) - width / 2, SIDE), WIDTH - SIDE - width)


def _lanes(marks: Sequence[_Mark], time: Axis) -> list[int]:
    """The line that each label is written on, so that none lies on another."""
    ends: list[float] = []
    found = []
    for mark in marks:
        left = _label_at(mark, time)
        lane = next((k for k, end in enumerate(ends) if end <= left), len(ends))
        ends[lane : lane + 1] = [left + text_width(mark.text, SMALL, bold=True) + 8]
        found.append(lane)
    return found


def _draw_marks(
    svg: Svg, marks: Sequence[_Mark], lanes: Sequence[int], time: Axis, y: float, bottom: float
) -> None:
    for mark, lane in zip(marks, lanes, strict=True):
        x, base = time.at(mark.time_s), y - 4 - _LINE * lane
        svg.line((x, base + 3), (x, bottom), ink=WARN, dash="6 4")
    for mark, lane in zip(marks, lanes, strict=True):
        base = y - 4 - _LINE * lane
        svg.text(
            _label_at(mark, time), base, mark.text, size=SMALL, ink=WARN, bold=True, clear=True
        )


def _flow(panel: _Panel) -> list[tuple[int, float, Glyph, str]]:
    """Line and left end of each key below the name of a panel."""
    found = []
    line, x = 0, SIDE
    for glyph, text in panel.keys:
        width = _GLYPH + text_width(text, SMALL)
        if x > SIDE and x + width > WIDTH - SIDE:
            line, x = line + 1, SIDE
        found.append((line, x, glyph, text))
        x += width + _NEXT
    return found


def _draw_flow(
    svg: Svg, panel: _Panel, flow: Sequence[tuple[int, float, Glyph, str]], y: float
) -> None:
    svg.text(SIDE, y + 12, panel.name, bold=True, clear=True)
    for line, x, glyph, text in flow:
        base = y + 12 + _LINE * (line + 1)
        glyph(svg, x + 7, base - 4)
        svg.text(x + _GLYPH, base, text, size=SMALL, clear=True)


def _draw_panel(svg: Svg, panel: _Panel, taken: Signals, time: Axis, bottom: float) -> None:
    low, high = (panel.number(panel.found.plateau, end) for end in ("low", "high"))
    values = [float(panel.values.min()), float(panel.values.max()), low, high]
    axis = around(values, bottom - 6, bottom - _PANEL + 14)
    for mark in axis.marks(5):
        y = axis.at(mark)
        svg.line((_LEFT, y), (_RIGHT, y), ink=FAINT)
        svg.text(_LEFT - 6, y + 4, f"{mark:g}", size=SMALL, anchor="end", ink=SOFT)
    svg.line((_LEFT, axis.end), (_LEFT, bottom), ink=INK)
    svg.line((_LEFT, bottom), (_RIGHT, bottom), ink=INK)
    for points in _curves(taken.time_s, panel.values, time, axis):
        svg.path(points, width=1.5)
        if len(panel.values) <= MOST_DOTS:
            for point in points:
                svg.circle(point, 1.5, width=0.5)
    first, last = (time.at(float(taken.time_s[taken.plateau][end])) for end in (0, -1))
    svg.box(first, axis.at(high), max(last - first, 1.0), axis.at(low) - axis.at(high), fill="none")
    if panel.found.rest is not None:
        y = axis.at(panel.number(panel.found.rest, "value"))
        svg.line((_LEFT, y), (_RIGHT, y), width=1.5, ink=ACCENT, dash="2 3")
    if isinstance(panel.found, Amperes):
        _diamond(svg, time.at(panel.found.peak_time_s), axis.at(panel.found.peak_a))


def _curves(time_s: Samples, values: Samples, time: Axis, axis: Axis) -> Iterator[list[Point]]:
    """Points of the curve; a gap in the recording is one in the curve."""
    steps = np.diff(time_s)
    cuts = np.flatnonzero(steps > GAP_STEPS * np.median(steps)) + 1
    for at, value in zip(np.split(time_s, cuts), np.split(values, cuts), strict=True):
        if len(values) <= _COLUMNS:
            yield [
                (time.at(t), axis.at(v)) for t, v in zip(at.tolist(), value.tolist(), strict=True)
            ]
            continue
        columns = np.array([round(time.at(t)) for t in at.tolist()])
        begins = np.flatnonzero(np.diff(columns, prepend=columns[0] - 1))
        least = np.minimum.reduceat(value, begins).tolist()
        most = np.maximum.reduceat(value, begins).tolist()
        yield [
            (float(columns[begin]), axis.at(end))
            for begin, low, high in zip(begins.tolist(), least, most, strict=True)
            for end in (low, high)
        ]


def _draw_time(svg: Svg, time: Axis, bottom: float) -> None:
    for mark in time.marks(7):
        x = time.at(mark)
        svg.line((x, bottom), (x, bottom + 4), ink=INK)
        svg.text(x, bottom + 16, f"{mark:g}", size=SMALL, anchor="middle", ink=SOFT)
    svg.text((_LEFT + _RIGHT) / 2, bottom + 31, "seconds", size=SMALL, anchor="middle", ink=SOFT)


def _bar(svg: Svg, x: float, y: float) -> None:
    svg.box(x - 7, y - 4, 20, 8)


def _diamond(svg: Svg, x: float, y: float) -> None:
    svg.shape([(x, y - 6), (x + 6, y), (x, y + 6), (x - 6, y)])


def _dots(svg: Svg, x: float, y: float) -> None:
    svg.line((x - 7, y), (x + 13, y), width=1.5, ink=ACCENT, dash="2 3")


def _said(panels: Sequence[_Panel]) -> Iterator[str]:
    for panel in panels:
        yield f"{panel.name}: {'; '.join(text for _, text in panel.keys)}."
