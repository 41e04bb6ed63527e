"""Voltage along a path, one step a part, from the post to the load and back."""

from collections.abc import Sequence
from dataclasses import dataclass

from lastvolt_service.reports.pictures.axis import Axis, around
from lastvolt_service.reports.plain import shorten
from lastvolt_service.reports.svg import (
    ACCENT,
    FAINT,
    INK,
    SOFT,
    WARN,
    WIDTH,
    Svg,
    fit,
    text_width,
    wrap,
)
from lastvolt_service.words.amounts import amount, difference

_ROW = 22.0
_LABEL_X = 12.0
_PLOT = (218.0, 500.0)
_VALUE_X = WIDTH - 12.0
_SMALL = 11.0
MINUS = "\u2212"  # as wide as a digit, unlike a hyphen


@dataclass(frozen=True, slots=True)
class Step:
    """One part on the way.

    Attributes
    ----------
    name : str
        Its label.
    drop_v : float
        What it takes. [V]
    is_load : bool
        Whether it is the load itself, which is where the way turns back.
    """

    name: str
    drop_v: float
    is_load: bool = False


@dataclass(frozen=True, slots=True)
class Way:
    """One path.

    Attributes
    ----------
    heading : str
        Above its rows; empty for none.
    start : str
        Label of where it starts.
    start_v : float
        Voltage there. [V]
    steps : sequence of Step
        In order, out and back.
    needed_v : float
        The voltage that the load needs. [V]
    """

    heading: str
    start: str
    start_v: float
    steps: Sequence[Step]
    needed_v: float | None

    @property
    def left_v(self) -> list[float]:
        """What is left after each step, the start first. [V]."""
        found = [self.start_v]
        for step in self.steps:
            found.append(found[-1] - step.drop_v)
        return found


def draw_steps(title: str, ways: Sequence[Way], needs: str) -> str:
    """Draw one path, or two below each other on the same scale.

    Parameters
    ----------
    title : str
        What it is about.
    ways : sequence of Way
        The first is drawn in ink, the second in colour and heavier.
    needs : str
        What the needed voltage is, such as ``"needed"``.

    Returns
    -------
    str
        SVG.
    """
    heads = wrap(title, WIDTH - 2 * _LABEL_X, 15, 2, bold=True)
    top = 18.0 * len(heads) + 48.0
    values = [value for way in ways for value in way.left_v]
    values += [way.needed_v for way in ways if way.needed_v is not None]
    axis = around(values, *_PLOT)
    tall = [_height(way) for way in ways]
    svg = Svg(top + sum(tall) + 14, title, " ".join(_told(way, needs) for way in ways))
    for index, head in enumerate(heads):
        svg.text(_LABEL_X, 24 + 18 * index, head, size=15, bold=True)
    svg.text(_PLOT[0], top - 26, "volts left for the load", size=_SMALL, ink=SOFT)
    bottom = top + sum(tall)
    for mark in axis.marks(6):
        svg.line((axis.at(mark), top - 6), (axis.at(mark), bottom), ink=FAINT)
        svg.text(axis.at(mark), top - 10, f"{mark:g}", size=_SMALL, anchor="middle", ink=SOFT)
    svg.text(_VALUE_X, top - 10, "step", size=_SMALL, anchor="end", ink=SOFT)
    for place, way in enumerate(ways):
        _draw_way(svg, axis, way, top + sum(tall[:place]), needs, second=place > 0)
    return str(svg)


def _height(way: Way) -> float:
    return _ROW * (len(way.steps) + 2 + bool(way.heading) + (way.needed_v is not None))


def _draw_way(svg: Svg, axis: Axis, way: Way, top: float, needs: str, *, second: bool) -> None:
    ink, width = (ACCENT, 3.0) if second else (INK, 2.0)
    row = top
    if way.heading:
        if second:
            svg.line((_LABEL_X, top + 1), (_VALUE_X, top + 1), ink=SOFT)
        svg.text(_LABEL_X, row + 16, way.heading, bold=True, ink=ink)
        row += _ROW
    first = row
    left = way.left_v
    room = _PLOT[0] - _LABEL_X - 8
    svg.text(_LABEL_X, row + 15, fit(way.start, room, 12))
    svg.text(_VALUE_X, row + 15, _volts(way.start_v), anchor="end")
    points = [(axis.at(left[0]), row + _ROW / 2)]
    for step, after in zip(way.steps, left[1:], strict=True):
        row += _ROW
        middle = row + _ROW / 2
        svg.text(_LABEL_X, row + 15, fit(step.name, room, 12, bold=step.is_load), bold=step.is_load)
        if step.is_load:
            svg.text(_VALUE_X, row + 15, "the load", anchor="end", bold=True)
        else:
            svg.text(_VALUE_X, row + 15, _volts(-step.drop_v), anchor="end")
        points += [(points[-1][0], middle), (axis.at(after), middle)]
    row += _ROW
    points.append((points[-1][0], row + _ROW / 2))
    if way.needed_v is not None:
        _draw_need(svg, axis, way.needed_v, first, row + _ROW, needs)
    svg.path(points, width=width, ink=ink)
    _mark(svg, points[-1], ink, square=second)
    for index, step in enumerate(way.steps):
        if step.is_load:
            _diamond(svg, points[2 * index + 2], ink)
    svg.text(
        _LABEL_X,
        row + 15,
        fit(_verdict(way), room, 12, bold=True, shorter=shorten),
        bold=True,
        ink=ink,
    )
    svg.text(_VALUE_X, row + 15, _volts(left[-1]), anchor="end", bold=True, ink=ink)


def _draw_need(
    svg: Svg, axis: Axis, needed_v: float, first: float, last: float, needs: str
) -> None:
    x = axis.at(needed_v)
    svg.line((x, first + 2), (x, last + 3), width=1.8, ink=WARN, dash="6 4")
    label = f"{needs} {_volts(needed_v)}"
    half = 0.5 * text_width(label, _SMALL, bold=True)
    svg.text(
        min(max(x, _PLOT[0] + half), _PLOT[1] - half),
        last + 15,
        label,
        size=_SMALL,
        anchor="middle",
        ink=WARN,
        bold=True,
        clear=True,
    )


def _verdict(way: Way) -> str:
    if way.needed_v is None:
        return "arrives at the load"
    apart = difference(way.left_v[-1], way.needed_v, "V")
    return f"arrives: {apart} {'to spare' if way.left_v[-1] >= way.needed_v else 'short'}"


def _volts(value: float) -> str:
    """In a column of its own: all with the same decimals."""
    shown = round(value, 2)
    return f"{MINUS if shown < 0 else ''}{abs(shown):.2f} V"


def _mark(svg: Svg, at: tuple[float, float], ink: str, *, square: bool) -> None:
    x, y = at
    if square:
        svg.shape([(x - 5, y - 5), (x + 5, y - 5), (x + 5, y + 5), (x - 5, y + 5)], ink=ink)
    else:
        svg.circle(at, 5, fill=ink)


def _diamond(svg: Svg, at: tuple[float, float], ink: str) -> None:
    x, y = at
    svg.shape([(x, y - 7), (x + 7, y), (x, y + 7), (x - 7, y)], ink=ink)


def _told(way: Way, needs: str) -> str:
    said = [f"{way.heading}:" if way.heading else ""]
    said.append(f"{amount(way.start_v, 'V')} at {way.start}.")
    said += [
        f"{step.name} is the load." if step.is_load else f"{step.name}: {amount(step.drop_v, 'V')}."
        for step in way.steps[:60]
    ]
    said.append(f"{amount(way.left_v[-1], 'V')} arrive at the load.")
    if way.needed_v is not None:
        said.append(f"{needs.capitalize()}: {amount(way.needed_v, 'V')}.")
    return " ".join(said)
