"""Every way to help a load, side by side: as stairs of volts, and by the ohms that it has left."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import log10
from typing import Any

from lastvolt_service.operations.circuits.states import load_states, node_voltages, part_states
from lastvolt_service.operations.decision.options import Option
from lastvolt_service.operations.decision.remedy_choice import (
    RemedyChoice,
    RemedyChoiceRequest,
    weighed_ways,
)
from lastvolt_service.operations.decision.versions import HIGHEST_EXTRA_OHM
from lastvolt_service.reports.pictures.axis import Axis, around
from lastvolt_service.reports.pictures.heading import SIDE, SMALL, and_more, headed, top
from lastvolt_service.reports.pictures.paths import NEEDED, path_to
from lastvolt_service.reports.pictures.steps import MINUS, Step, Way
from lastvolt_service.reports.plain import cut, shorten, with_short_names
from lastvolt_service.reports.svg import FAINT, INK, SOFT, WARN, WIDTH, Svg, fit, text_width, wrap
from lastvolt_service.words.amounts import amount, difference

# The circuit as it is and the way that is advised are always among them.
MOST_WAYS = 12
# Of a longer path those that take most are drawn, the others as one.
MOST_STEPS = 8
_COLUMNS, _GAP = 2, 20.0
_COLUMN = (WIDTH - 2 * SIDE - _GAP) / _COLUMNS
_ROW, _LINE, _FOOT, _MARGIN = 17.0, 15.0, 20.0, 6.0
_NAME_ROOM = 122.0
_PLOT = (130.0, 222.0)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A way by its number, what is told of it, and the path that it makes."""

    number: int
    option: Option
    path: Way

    @property
    def name(self) -> str:
        return f"{self.number}. {_name(self.option)}"

    @property
    def heads(self) -> list[str]:
        return wrap(self.name, _COLUMN, 12, 2, bold=True)

    @property
    def comes_to(self) -> str:
        """How much there is to spare, and whether it is to be taken."""
        option = self.option
        apart = difference(option.load_voltage_v, option.needed_v, "V")
        spare = f"{apart} {'to spare' if option.margin_v >= 0 else 'short'}"
        if option.is_advised:
            return f"{spare}: advised"
        if not option.available:
            return f"{spare}; not to be had"
        return spare if option.works else f"{spare}: does not do"

    @property
    def height(self) -> float:
        return _LINE * (len(self.heads) + 1) + _MARGIN + _ROW * (len(self.path.steps) + 2) + _FOOT


def remedy_choice_picture(request: RemedyChoiceRequest, answer: RemedyChoice) -> str:
    """Draw every way as stairs of volts on one scale, each in its poorest case, as SVG."""
    ways = [_drawn(request, *each) for each in _shown(request, answer)]
    told = with_short_names(answer.headline, request)
    rows = [ways[place : place + _COLUMNS] for place in range(0, len(ways), _COLUMNS)]
    heights = [max(way.height for way in row) + _MARGIN for row in rows]
    left = len(answer.options) - len(ways)
    below = _MARGIN + sum(heights) + _ROW * (2 if left else 1) + _MARGIN
    svg = headed("The ways side by side", told, below, desc=" ".join(map(_said, ways)))
    values = [volts for way in ways for volts in (*way.path.left_v, way.option.needed_v)]
    axis = around(values, *_PLOT)
    y = top(told) + _MARGIN
    for row, height in zip(rows, heights, strict=True):
        for column, way in enumerate(row):
            _draw_way(svg, axis, way, SIDE + column * (_COLUMN + _GAP), y)
        y += height
    marks = ", ".join(f"{mark:g}" for mark in axis.marks(4))
    svg.text(SIDE, y + 12, f"Thin lines stand at {marks} V.", size=SMALL, ink=SOFT)
    if left:
        svg.text(SIDE, y + _ROW + 12, and_more(left, "way"), ink=SOFT)
    return str(svg)


def _shown(
    request: RemedyChoiceRequest, answer: RemedyChoice
) -> Iterator[tuple[int, Option, Any, Any]]:
    """The ways that are drawn, by their number in the answer."""
    found = zip(answer.options, weighed_ways(request), strict=True)
    every = [(number, option, *each) for number, (option, each) in enumerate(found, 1)]
    kept = [each for each in every if each[1].is_advised or each[1].code == "as_is"]
    others = [each for each in every if each not in kept][: MOST_WAYS - len(kept)]
    yield from (each for each in every if each in kept or each in others)


def _drawn(
    request: RemedyChoiceRequest, number: int, option: Option, weighed: Any, tried: Any
) -> _Drawn:
    place = tried.poorest(request.load)
    judged = tried.judged[place]
    asked = weighed.ways.question(tried.treatment, weighed.as_is.judged[place].case)
    load = next(each for each in load_states(judged.state) if each.name == request.load)
    nodes, parts = node_voltages(judged.state), part_states(judged.state)
    path = path_to("", asked.circuit, load, nodes, parts)
    return _Drawn(number, option, replace(path, steps=_fewer(path.steps)))


def _fewer(steps: Sequence[Step]) -> list[Step]:
    """The parts that take most in the order of the path, and the others as one."""
    parts = [step for step in steps if not step.is_load]
    if len(parts) <= MOST_STEPS:
        return parts
    by_drop = sorted(parts, key=lambda step: -abs(step.drop_v))
    kept, others = by_drop[: MOST_STEPS - 1], by_drop[MOST_STEPS - 1 :]
    rest = Step(f"{len(others)} others", sum(step.drop_v for step in others))
    return [*(step for step in parts if any(step is each for each in kept)), rest]


def _name(option: Option) -> str:
    """What a way is called: as the request does, or by what it does."""
    if option.name is not None:
        return option.name
    if option.code == "as_is":
        return "as it is"
    battery = option.code in {"battery", "battery_and_mend", "all_of_these"}
    found = (
        "a sound battery" if battery else "",
        f"mend {', '.join(option.parts)}" if option.parts else "",
        f"new {', '.join(option.new)}" if option.new else "",
        f"fit {option.relay}" if option.relay else "",
    )
    return " and ".join(filter(None, found))


def _draw_way(svg: Svg, axis: Axis, way: _Drawn, x: float, y: float) -> None:
    right = x + _COLUMN
    if way.option.is_advised:
        svg.box(x - 6, y - 2, _COLUMN + 12, way.height + 2)
    for head in way.heads:
        svg.text(x, y + 13, head, bold=True)
        y += _LINE
    svg.text(x, y + 13, fit(way.comes_to, _COLUMN, SMALL, shorter=shorten), size=SMALL)
    first = row = y + _LINE + _MARGIN
    steps, left = way.path.steps, way.path.left_v
    last = first + _ROW * (len(steps) + 2)
    for mark in axis.marks(4):
        svg.line((x + axis.at(mark), first), (x + axis.at(mark), last), ink=FAINT)
    names = [way.path.start, *(step.name for step in steps), "arrives"]
    drops = [_volts(left[0]), *(_volts(-step.drop_v) for step in steps), _volts(left[-1])]
    for name, text in zip(names, drops, strict=True):
        ends = name is names[0] or name is names[-1]
        svg.text(x, row + 12, fit(name, _NAME_ROOM, SMALL), size=SMALL, bold=name is names[-1])
        svg.text(right, row + 12, text, size=SMALL, anchor="end", bold=ends)
        row += _ROW
    _draw_stairs(svg, axis, left, x, first)
    at = x + axis.at(way.option.needed_v)
    svg.line((at, first), (at, last + 2), width=1.8, ink=WARN, dash="6 4")
    label = f"{NEEDED} {amount(way.option.needed_v, 'V')}"
    half = 0.5 * text_width(label, SMALL, bold=True)
    svg.text(
        min(max(at, x + half), right - half), last + 14, label,
        size=SMALL, anchor="middle", ink=WARN, bold=True,
    )  # fmt: skip


def _draw_stairs(svg: Svg, axis: Axis, left: Sequence[float], x: float, first: float) -> None:
    middles = [first + _ROW * (place + 0.5) for place in range(len(left) + 1)]
    points = [(x + axis.at(left[0]), middles[0])]
    for volts, middle in zip(left[1:], middles[1:], strict=False):
        points += [(points[-1][0], middle), (x + axis.at(volts), middle)]
    points.append((points[-1][0], middles[-1]))
    svg.path(points, width=2.5)
    svg.circle(points[-1], 4)


def _volts(value: float) -> str:
    """In a column of its own: all with the same decimals."""
    shown = round(value, 2)
    return f"{MINUS if shown < 0 else ''}{abs(shown):.2f} V"


def _said(way: _Drawn) -> str:
    arrives = amount(way.option.load_voltage_v, "V")
    steps = ", ".join(f"{cut(step.name)} {amount(step.drop_v, 'V')}" for step in way.path.steps)
    return (
        f"{cut(way.name)}: {arrives} of {amount(way.option.needed_v, 'V')} needed, "
        f"{way.comes_to}; {steps}."
    )


# Ohms that a switch may age by, on a scale of decades, up to the most that the answer tells.
_LEAST_OHM = 1e-3
_LANE, _BAR = (SIDE + 12.0, WIDTH - 40.0), 34.0


def remedy_choice_ageing(request: RemedyChoiceRequest, answer: RemedyChoice) -> str:
    """Draw the further ohms that the switch may have with each way until the load fails, as SVG."""
    options = answer.options
    told = with_short_names(answer.headline, request)
    named = [f"{number}. {_name(option)}" for number, option in enumerate(options, 1)]
    both = [*zip(named, options, strict=True)]
    said = " ".join(f"{cut(name)}: {_stands(option)}." for name, option in both)
    title = "What the switch may age by until the load fails"
    svg = headed(title, told, _MARGIN + _BAR * len(options) + 44, desc=said)
    axis = Axis(log10(_LEAST_OHM), log10(HIGHEST_EXTRA_OHM), *_LANE)
    y = top(told) + _MARGIN
    bottom = y + _BAR * len(options)
    for name, option in both:
        _draw_bar(svg, axis, name, option, y)
        y += _BAR
    svg.line((axis.start, bottom + 4), (axis.end, bottom + 4))
    for decade in range(round(axis.low), round(axis.high) + 1):
        x = axis.at(decade)
        svg.line((x, bottom + 4), (x, bottom + 8))
        svg.text(x, bottom + 20, f"{10.0**decade:g}", size=SMALL, anchor="middle", ink=SOFT)
    label = f"further ohms of {cut(request.switch)}; each mark is ten times the last"
    svg.text((axis.start + axis.end) / 2, bottom + 36, label, size=SMALL, anchor="middle", ink=SOFT)
    return str(svg)


def _draw_bar(svg: Svg, axis: Axis, name: str, option: Option, y: float) -> None:
    stands = _stands(option)
    bold = option.is_advised
    room = WIDTH - 2 * SIDE - text_width(stands, 12, bold=bold) - 12
    svg.text(SIDE, y + 12, fit(name, room, 12, bold=bold), bold=bold)
    svg.text(WIDTH - SIDE, y + 12, stands, anchor="end", bold=bold)
    ohm = option.tolerated_contact_ohm
    if ohm is None:
        x = axis.start
        svg.line((x - 4, y + 18), (x + 4, y + 26), width=2)
        svg.line((x - 4, y + 26), (x + 4, y + 18), width=2)
        return
    width = max(axis.at(log10(max(ohm, _LEAST_OHM))) - axis.start, 2.0)
    svg.box(axis.start, y + 17, width, 10, fill=INK if option.is_advised else "#ffffff")


def _stands(option: Option) -> str:
    ohm = option.tolerated_contact_ohm
    if ohm is None:
        return "falls short as it is"
    more = amount(ohm, "ohm", side="down")
    return f"{more} or more" if ohm >= HIGHEST_EXTRA_OHM else more
