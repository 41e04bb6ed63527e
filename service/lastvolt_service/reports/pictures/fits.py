"""What readings tell: every value before and after them, and each reading beside what it should be.

Values differ by decades and by their units, so that each has a scale of its own, from what was
given. Readings are compared in standard uncertainties, which all of them share.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import floor, log10
from typing import Any

from lastvolt_service.operations.meter.circuit_fit import UNTOLD
from lastvolt_service.operations.meter.fit_answer import CircuitFit, Decisive
from lastvolt_service.operations.meter.fit_told import Estimate, Residual, both, sentence
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.reports.pictures.axis import Axis
from lastvolt_service.reports.pictures.heading import SIDE, SMALL, headed, top
from lastvolt_service.reports.plain import cut, shorten, with_short_names
from lastvolt_service.reports.svg import FAINT, INK, SOFT, WARN, WIDTH, Svg, fit, text_width
from lastvolt_service.words.amounts import amount

_ROW, _KEY, _FOOT, _NEED = 42.0, 26.0, 10.0, 16.0
_PLOT = (96.0, WIDTH - 96.0)
_NAME_ROOM = 320.0
# Readings that are further off than so many standard uncertainties are drawn at the end.
FURTHEST = 6.0


@dataclass(frozen=True, slots=True)
class _Band:
    """A value before and after the readings, and what is needed of it."""

    name: str
    unit: str
    given: tuple[float, float]
    value: float
    low: float
    high: float
    is_told: bool
    needed: float | None = None

    @property
    def height(self) -> float:
        return _ROW if self.needed is None else _ROW + _NEED

    @property
    def ends(self) -> str:
        low, high = both(self.low, self.high, self.unit)
        return f"{low} to {high}"


def circuit_fit_values(request: Any, answer: CircuitFit) -> str:
    """Draw the interval of every value as it was given, and what readings leave of it, as SVG."""
    bands = [*_decisive(request.load, answer.decisive), *map(_band, answer.estimates)]
    if answer.agreement in UNTOLD:
        bands = [replace(band, is_told=False) for band in bands]
    told = with_short_names(answer.headline, request)
    below = _KEY + sum(band.height for band in bands) + _FOOT
    said = " ".join(map(_said, bands))
    svg = headed("What is known of each value, before and after", told, below, desc=said)
    y = top(told) + _KEY
    _draw_key(svg, y - 8)
    for band in bands:
        _draw_band(svg, band, y)
        y += band.height
    return str(svg)


def _decisive(load: str, found: Decisive) -> Sequence[_Band]:
    """The voltage that decides; without one before, or after, there is nothing to compare."""
    values = found.before_low_v, found.before_high_v, found.low_v, found.high_v, found.voltage_v
    if None in values:
        return []
    least, most, low, high, volts = (float(each or 0.0) for each in values)
    name = f"{cut(load)}, {cut(found.case)}"
    return [_Band(name, "V", (least, most), volts, low, high, True, found.needed_v)]


def _band(each: Estimate) -> _Band:
    given = (each.given_low, each.given_high)
    return _Band(
        each.name, each.unit, given, each.estimate, each.low, each.high, each.determined
    )  # fmt: skip


def _draw_key(svg: Svg, y: float) -> None:
    svg.box(SIDE, y - 7, 26, 6)
    svg.text(SIDE + 32, y, "as given", size=SMALL, ink=SOFT)
    svg.box(SIDE + 100, y - 9, 26, 10, fill=INK)
    svg.text(SIDE + 132, y, "with the readings, 19 times of 20", size=SMALL, ink=SOFT)
    svg.hatched(SIDE + 362, y - 9, 26, 10)
    svg.text(SIDE + 394, y, "the same, still left open", size=SMALL, ink=SOFT)


def _draw_band(svg: Svg, band: _Band, y: float) -> None:
    svg.text(SIDE, y + 12, fit(band.name, _NAME_ROOM, 12))
    svg.text(WIDTH - SIDE, y + 12, band.ends, anchor="end", bold=band.is_told)
    values = [*band.given, band.low, band.high, band.needed or band.value]
    least, most = min(values), max(values)
    axis = Axis(least, most if most > least else least + 1.0, *_PLOT)
    middle = y + 26
    first, last = map(axis.at, band.given)
    svg.box(first, middle - 3, last - first, 6)
    low, high = map(axis.at, (band.low, band.high))
    width = max(high - low, 3.0)
    left = min(max(0.5 * (low + high - width), _PLOT[0]), _PLOT[1] - width)
    if band.is_told:
        svg.box(left, middle - 6, width, 12, fill=INK)
    else:
        svg.hatched(left, middle - 6, width, 12)
    given = both(*band.given, band.unit)
    svg.text(_PLOT[0] - 6, middle + 4, given[0], size=SMALL, anchor="end", ink=SOFT)
    svg.text(_PLOT[1] + 6, middle + 4, given[1], size=SMALL, ink=SOFT)
    if band.needed is not None:
        x = axis.at(band.needed)
        svg.line((x, middle - 11), (x, middle + 11), width=2, ink=WARN, dash="6 4")
        label = f"needed {amount(band.needed, band.unit)}"
        half = 0.5 * text_width(label, SMALL, bold=True)
        x = min(max(x, SIDE + half), WIDTH - SIDE - half)
        svg.text(x, middle + 23, label, size=SMALL, anchor="middle", ink=WARN, bold=True)


def _said(band: _Band) -> str:
    given = " to ".join(both(*band.given, band.unit))
    return f"{band.name}: {given} as given, {band.ends} with the readings."


_LANE = (36.0, 376.0)
_LONGEST_NODE = 24


def circuit_fit_readings(request: Any, answer: CircuitFit) -> str:
    """Draw by how much each reading is off what the values say it should have been, as SVG."""
    shown, aside = answer.residuals, len(answer.set_aside)
    told = with_short_names(answer.headline, request)
    below = _KEY + _ROW * len(shown) + (_ROW / 2 if aside else 0) + _FOOT
    odd = answer.contradicts
    said = " ".join(_said_of(each, odd) for each in shown)
    svg = headed("Each reading beside what it should be", told, below, desc=said)
    axis = Axis(-FURTHEST, FURTHEST, *_LANE)
    y = top(told) + _KEY
    bottom = y + _ROW * len(shown)
    svg.text(_LANE[0], y - 9, "read less", size=SMALL, ink=SOFT)
    svg.text(axis.at(0), y - 9, "as the values say", size=SMALL, anchor="middle", ink=SOFT)
    svg.text(_LANE[1], y - 9, "read more", size=SMALL, anchor="end", ink=SOFT)
    svg.text(WIDTH - SIDE, y - 9, "between the ends: 19 of 20", size=SMALL, anchor="end", ink=SOFT)
    for place, each in enumerate(shown):
        reading = request.readings[each.reading - 1]
        _draw_reading(svg, axis, each, reading, y + _ROW * place, odd)
    if aside:
        text = f"{aside} of ohms left out: less than leads and last digit tell"
        svg.text(SIDE, bottom + 12, text, ink=SOFT)
    return str(svg)


def _draw_reading(
    svg: Svg, axis: Axis, each: Residual, reading: MeterReading, y: float, odd: Sequence[int]
) -> None:
    remark = _remark(each, odd)
    room = WIDTH - SIDE - _LANE[0] - text_width(remark, SMALL, bold=True) - 8
    svg.text(SIDE, y + 12, str(each.reading), bold=True)
    svg.text(_LANE[0], y + 12, fit(_where(each, reading, room), room, 12, shorter=shorten))
    if remark:
        svg.text(WIDTH - SIDE, y + 12, remark, size=SMALL, anchor="end", ink=WARN, bold=True)
    off, middle = _off(each), y + 26
    svg.line((_LANE[0], middle), (_LANE[1], middle), ink=FAINT)
    svg.box(
        axis.at(-COVERAGE_FACTOR),
        middle - 3,
        axis.at(COVERAGE_FACTOR) - axis.at(-COVERAGE_FACTOR),
        6,
    )
    svg.line((axis.at(0), middle - 8), (axis.at(0), middle + 8), ink=SOFT)
    x = axis.at(off)
    if abs(off) > FURTHEST:
        tip = 9.0 if off > 0 else -9.0
        svg.shape([(x - tip, middle - 6), (x, middle), (x - tip, middle + 6)])
    elif each.reading in odd:
        svg.shape(
            [(x - 5, middle - 5), (x + 5, middle - 5), (x + 5, middle + 5), (x - 5, middle + 5)]
        )
    else:
        svg.circle((x, middle), 4.5, fill=INK if each.used else "#ffffff")
    numbers = f"{_shown(each, each.read)}, should be {_shown(each, each.fitted)}"
    svg.text(WIDTH - SIDE, middle + 4, numbers, size=SMALL, anchor="end")


def _where(each: Residual, reading: MeterReading, room: float) -> str:
    """Where and when it was read; long names of nodes shorter, so that both are seen."""
    text = f"{each.where}; {each.case}"
    if reading.between and text_width(text, 12) > room:
        red, black = (cut(name, _LONGEST_NODE) for name in reading.between)
        text = f"{sentence('between', red=red, black=black)}; {each.case}"
    return text


def _remark(each: Residual, odd: Sequence[int]) -> str:
    """What else is to be said of a reading."""
    if each.reading in odd:
        return "contradicts the rest" if len(odd) == 1 else "one of these contradicts"
    if not each.used:
        return "left out"
    return "wrong way round" if each.swapped else ""


def _off(each: Residual) -> float:
    """By how many of its standard uncertainties a reading is above what the values say."""
    return (each.read - each.fitted) / each.standard_uncertainty


def _shown(each: Residual, value: float) -> str:
    """With two digits of its uncertainty, as JCGM 100 (7.2.6) has it."""
    decimals = max(0, 1 - floor(log10(each.standard_uncertainty)))
    return amount(value, each.unit, decimals=decimals)


def _said_of(each: Residual, odd: Sequence[int]) -> str:
    remark = _remark(each, odd)
    read, fitted = _shown(each, each.read), _shown(each, each.fitted)
    return f"Reading {each.reading}: read {read}, should be {fitted}{remark and ', ' + remark}."
