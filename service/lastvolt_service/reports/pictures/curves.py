"""Curves: how hot a wire gets over its current, what a solenoid needs over its temperature."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from lastvolt_service.operations.solenoids import pull_in
from lastvolt_service.operations.wires import heating
from lastvolt_service.reports.pictures.axis import Axis
from lastvolt_service.reports.plain import shorten
from lastvolt_service.reports.svg import ACCENT, FAINT, INK, SOFT, WARN, WIDTH, Svg, wrap
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.words.amounts import amount, difference

HEIGHT = 400
_LEFT, _RIGHT, _TOP, _BOTTOM = 58.0, WIDTH - 18.0, 76.0, HEIGHT - 46.0
_SMALL = 11.0
POINTS = 24
# The coldest and the hottest winding that is drawn, unless the answer lies beyond.
COLDEST_C, HOTTEST_C = -40.0, 160.0


def wire_heating_picture(request: Any, answer: heating.WireHeating) -> str:
    """Draw the steady temperature over the current, with the limit of the insulation.

    Returns
    -------
    str
        SVG.
    """
    current, may = request.current_a, answer.permissible_current_a
    limit, ambient, hot = (
        answer.insulation_limit_c,
        answer.ambient_c,
        answer.conductor_temperature_c,
    )
    most = max(1.25 * max(current, may), 1e-3)
    curve = _temperatures(request, most)
    floor, above = min(ambient, limit), max(ambient, limit, ambient if hot is None else hot)
    ceiling = max(above + 0.12 * (above - floor), limit + 0.6 * (limit - ambient), above + 10)
    curve = [(x, y) for x, y in curve if y <= ceiling]
    x_axis = Axis(0.0, most, _LEFT, _RIGHT)
    y_axis = Axis(floor - 0.12 * (ceiling - floor), ceiling, _BOTTOM, _TOP)
    svg = _frame(
        f"How hot {request.size} gets",
        answer.headline,
        x_axis,
        y_axis,
        "current, A",
        "conductor, °C",
    )
    y = y_axis.at(limit)
    svg.line((_LEFT, y), (_RIGHT, y), width=2, ink=WARN, dash="7 4")
    svg.text(_LEFT + 6, y - 6, f"insulation limit {_c(limit)}", ink=WARN, bold=True)
    y = y_axis.at(ambient)
    svg.line((_LEFT, y), (_RIGHT, y), ink=SOFT, dash="2 3")
    svg.text(_RIGHT - 6, y + 14, f"ambient {_c(ambient)}", size=_SMALL, anchor="end", ink=SOFT)
    x = x_axis.at(may)
    svg.line((x, _BOTTOM), (x, y_axis.at(limit)), width=1.5, ink=ACCENT, dash="2 3")
    right = x > _LEFT + 150
    svg.text(
        x - 6 if right else x + 6,
        _BOTTOM - 9,
        f"may carry {amount(may, 'A')}",
        anchor="end" if right else "start",
        ink=ACCENT,
        bold=True,
    )
    svg.path([(x_axis.at(x), y_axis.at(y)) for x, y in curve], width=2.5)
    if hot is None:
        x = x_axis.at(current)
        svg.line((x, _BOTTOM), (x, _TOP), width=1.5)
        svg.text(x - 6, _TOP + 14, f"{amount(current, 'A')}: no end", anchor="end", bold=True)
    else:
        _point(svg, x_axis.at(current), y_axis.at(hot), f"{amount(current, 'A')}: {_c(hot)}")
    return str(svg)


def _temperatures(request: heating.WireHeatingRequest, most_a: float) -> list[tuple[float, float]]:
    grid = np.maximum(np.linspace(0.0, most_a, POINTS + 1), 1e-6)
    steady = {"current_a": grid, "on_time_s": NOT_GIVEN, "off_time_s": NOT_GIVEN}
    rows = heating.solve(heating.WireHeatingRequest(**{**vars(request), **steady}))
    hot = rows.columns["conductor_temperature_c"]
    steadily = np.isfinite(hot)  # up to where the wire heats up without end
    return list(zip(grid[steadily].tolist(), hot[steadily].tolist(), strict=True))


def solenoid_pull_in_picture(request: Any, answer: pull_in.SolenoidPullIn) -> str:
    """Draw the voltage that is needed, and what arrives, over the temperature of the winding.

    Returns
    -------
    str
        SVG.
    """
    at, hottest = request.temperature_c, answer.maximum_temperature_c
    low, high = min(COLDEST_C, at - 10), max(HOTTEST_C, at + 20)
    if hottest is not None and hottest < 2 * high:
        low, high = min(low, hottest - 10), max(high, hottest + 20)
    step = (high - low) / POINTS
    grid = [low + step * place for place in range(POINTS + 1)]
    over = {**vars(request), "temperature_c": np.array(grid)}
    rows = pull_in.solve(pull_in.SolenoidPullInRequest(**over)).columns
    volts = np.broadcast_arrays(
        *map(np.asarray, (grid, rows["hot_pull_in_v"], rows["available_v"]))
    )
    found = [row for row in zip(*(v.tolist() for v in volts), strict=True) if row[1] > 0]
    needed = [(each, volt) for each, volt, _ in found]
    arrives = [(each, volt) for each, _, volt in found]
    values = [volts for _, volts in (*needed, *arrives)]
    width = max(max(values) - min(values), 0.5)
    x_axis = Axis(low, high, _LEFT, _RIGHT)
    y_axis = Axis(min(values) - 0.16 * width, max(values) + 0.16 * width, _BOTTOM, _TOP)
    svg = _frame(
        "What the solenoid needs, hot and cold",
        answer.headline,
        x_axis,
        y_axis,
        "winding, °C",
        "volts",
    )
    svg.path(_on(x_axis, y_axis, needed), width=2.2, ink=WARN, dash="7 4")
    svg.path(_on(x_axis, y_axis, arrives), width=2.6, ink=ACCENT)
    above = arrives[0][1] >= needed[0][1]
    _label(svg, x_axis, y_axis, needed[1], "needed to pull in", WARN, below=above)
    _label(svg, x_axis, y_axis, arrives[1], "arrives", ACCENT, below=not above)
    x = x_axis.at(at)
    ends = (y_axis.at(answer.hot_pull_in_v), y_axis.at(answer.available_v))
    svg.line((x, ends[0]), (x, ends[1]), width=1.5)
    svg.circle((x, ends[0]), 5, fill="#ffffff")
    svg.circle((x, ends[1]), 5)
    spare = difference(answer.available_v, answer.hot_pull_in_v, "V")
    text = f"{_c(at)}: {spare} {'to spare' if answer.margin_v >= 0 else 'short'}"
    right = x > (_LEFT + _RIGHT) / 2
    middle = 0.5 * (ends[0] + ends[1]) + 4
    svg.text(
        x - 9 if right else x + 9,
        middle,
        text,
        anchor="end" if right else "start",
        bold=True,
        clear=True,
    )
    if hottest is not None and low < hottest < high:
        x = x_axis.at(hottest)
        svg.line((x, _BOTTOM), (x, _TOP), ink=SOFT, dash="2 3")
        svg.text(x - 5, _BOTTOM - 8, f"limit {_c(hottest)}", size=_SMALL, anchor="end", ink=SOFT)
    return str(svg)


def _c(value: float) -> str:
    return amount(value, "degC")


def _on(x_axis: Axis, y_axis: Axis, rows: Sequence[tuple[float, float]]) -> list[Any]:
    return [(x_axis.at(x), y_axis.at(y)) for x, y in rows if math.isfinite(y)]


def _frame(title: str, told: str, x_axis: Axis, y_axis: Axis, x_label: str, y_label: str) -> Svg:
    svg = Svg(HEIGHT, title, told)
    svg.text(12, 24, title, size=15, bold=True)
    for index, line in enumerate(wrap(told, WIDTH - 24, _SMALL, 2, shorter=shorten)):
        svg.text(12, 42 + 14 * index, line, size=_SMALL)
    for mark in x_axis.marks(7):
        x = x_axis.at(mark)
        svg.line((x, _TOP), (x, _BOTTOM), ink=FAINT)
        svg.text(x, _BOTTOM + 16, f"{mark:g}", size=_SMALL, anchor="middle", ink=SOFT)
    for mark in y_axis.marks(6):
        y = y_axis.at(mark)
        svg.line((_LEFT, y), (_RIGHT, y), ink=FAINT)
        svg.text(_LEFT - 6, y + 4, f"{mark:g}", size=_SMALL, anchor="end", ink=SOFT)
    svg.line((_LEFT, _BOTTOM), (_RIGHT, _BOTTOM), ink=INK)
    svg.line((_LEFT, _TOP), (_LEFT, _BOTTOM), ink=INK)
    svg.text((_LEFT + _RIGHT) / 2, HEIGHT - 12, x_label, anchor="middle")
    svg.text(12, _TOP - 4, y_label, size=_SMALL)
    return svg


def _label(
    svg: Svg,
    x_axis: Axis,
    y_axis: Axis,
    at: tuple[float, float],
    text: str,
    ink: str,
    *,
    below: bool,
) -> None:
    y = y_axis.at(at[1]) + (20 if below else -10)
    svg.text(x_axis.at(at[0]), y, text, bold=True, ink=ink, clear=True)


def _point(svg: Svg, x: float, y: float, text: str) -> None:
    svg.circle((x, y), 5)
    if x > _LEFT + 150:
        svg.text(x - 10, y - 8, text, anchor="end", bold=True)
    else:
        svg.text(x + 12, y + 18, text, bold=True)
