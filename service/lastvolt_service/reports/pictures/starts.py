"""A start as small multiples: its stages beside each other, on one scale, case below case."""

from collections.abc import Mapping
from typing import Any

from lastvolt_service.operations.starting.stages import Sound, StageName, StartStage
from lastvolt_service.operations.starting.start_sequence import (
    OutcomeCode,
    StartCase,
    StartSequence,
)
from lastvolt_service.reports.pictures.axis import Axis
from lastvolt_service.reports.pictures.heading import SIDE, SMALL, and_more, headed, top
from lastvolt_service.reports.plain import cut, with_short_names
from lastvolt_service.reports.svg import FAINT, INK, SOFT, WARN, WIDTH, Svg, fit, text_width
from lastvolt_service.words.amounts import amount

MOST_CASES = 6
_STAGES: Mapping[StageName, str] = {
    "key_on": "key turned",
    "main_contact": "contact closes",
    "cranking": "cranking",
    "key_off": "key let go",
}
# What the turns of both windings do at what is needed.
_AT_NEEDED: Mapping[StageName, str] = {
    "key_on": "moves from",
    "main_contact": "holds from",
    "cranking": "holds from",
    "key_off": "lets go below",
}
_SOUNDS: Mapping[Sound, str] = {
    "nothing": "nothing is heard",
    "click": "a click",
    "hum": "a hum",
    "clunk": "a clunk",
    "clicking": "clicks on and on",
    "cranking": "it cranks",
    "slow_cranking": "it cranks slowly",
    "quiet": "quiet",
    "runs_on": "it runs on",
}
_OUTCOMES: Mapping[OutcomeCode, str] = {
    "silent": "nothing moves",
    "hums": "hums",
    "buzzes": "clicks on and on",
    "slow": "cranks slowly",
    "runs_on": "runs on",
    "starts": "starts",
}
_APART = (WIDTH - 2 * SIDE) / len(_STAGES)
_CELL = _APART - 10.0
_HEAD, _NAMES, _PLOT, _LABELS, _PULL = 22.0, 32.0, 96.0, 16.0, 48.0
_CASE = _HEAD + _NAMES + _PLOT + _LABELS + _PULL + 12.0
_BARS = ("battery", "50", "motor")
_BAR = 24.0
_KEY = "Bars: volts at the battery, terminal 50, the motor; pull: ampere-turns of both windings."
# Where what is needed stands on the bar of the pull, as a share of it.
_NEEDED_AT = 0.6


def start_sequence_picture(request: Any, answer: StartSequence) -> str:
    """Draw the stages of a start in every case, the worst first, as SVG."""
    ranked = sorted(answer.cases, key=lambda case: case.name != answer.worst_case)
    shown, left = ranked[:MOST_CASES], ranked[MOST_CASES:]
    told = with_short_names(answer.headline, request)
    below = _CASE * len(shown) + (18 if left else 0) + 34
    svg = headed("The stages of a start", told, below, desc=" ".join(map(_said, shown)))
    volts = [each for case in ranked for stage in case.stages for each in _volts(stage)]
    axis = Axis(0.0, 1.05 * max(*volts, 1e-3), 0.0, _PLOT - 14.0)
    y = top(told) + 10
    for case in shown:
        _draw_case(svg, axis, case, y)
        y += _CASE
    svg.text(SIDE, y + 12, _KEY, size=SMALL, ink=SOFT)
    if left:
        svg.text(SIDE, y + 30, and_more(len(left), "case"), ink=SOFT)
    return str(svg)


def _volts(stage: StartStage) -> tuple[float, float, float]:
    return stage.supply_v, stage.control_v, stage.motor_v


def _draw_case(svg: Svg, axis: Axis, case: StartCase, y: float) -> None:
    svg.line((SIDE, y), (WIDTH - SIDE, y), ink=SOFT)
    outcome = _OUTCOMES[case.outcome]
    room = WIDTH - 2 * SIDE - 12 - text_width(outcome, 12, bold=True)
    svg.text(SIDE, y + 16, fit(case.name, room, 12, bold=True), bold=True)
    svg.text(WIDTH - SIDE, y + 16, outcome, anchor="end", bold=True)
    reached = {stage.name: stage for stage in case.stages}
    for place, (name, words) in enumerate(_STAGES.items()):
        x, first = SIDE + place * _APART, y + _HEAD
        svg.text(x, first + 12, words, bold=name == case.fails_in)
        if name in reached:
            _draw_stage(svg, axis, reached[name], x, first, fails=name == case.fails_in)
        else:
            svg.text(x, first + 27, "not reached", size=SMALL, ink=SOFT)


def _draw_stage(
    svg: Svg, axis: Axis, stage: StartStage, x: float, y: float, *, fails: bool
) -> None:
    svg.text(x, y + 27, _SOUNDS[stage.sound], size=SMALL, bold=fails, ink=WARN if fails else INK)
    bottom = y + _NAMES + _PLOT
    svg.line((x, bottom), (x + _CELL, bottom), width=1.5)
    step = _CELL / len(_BARS)
    for place, (label, volts) in enumerate(zip(_BARS, _volts(stage), strict=True)):
        middle = x + step * (place + 0.5)
        height = axis.at(max(volts, 0.0))
        if label == "motor":
            svg.hatched(middle - _BAR / 2, bottom - height, _BAR, height)
        else:
            fill = INK if label == "50" else "#ffffff"
            svg.box(middle - _BAR / 2, bottom - height, _BAR, height, fill=fill)
        value = amount(volts, "V").removesuffix(" V").replace("less than ", "<")
        svg.text(middle, bottom - height - 4, value, size=SMALL, anchor="middle")
        svg.text(middle, bottom + 13, label, size=SMALL, anchor="middle", ink=SOFT)
    _draw_pull(svg, stage, x, bottom + _LABELS)


def _draw_pull(svg: Svg, stage: StartStage, x: float, y: float) -> None:
    """Ampere-turns of both windings, beside those that move the plunger or keep it."""
    needed = stage.needed_ampere_turns
    if needed:
        share = min(max(stage.ampere_turns / needed * _NEEDED_AT, 0.0), 1.0)
        svg.line((x, y + 8), (x + _CELL, y + 8), ink=FAINT)
        svg.box(x, y + 4, share * _CELL, 8, fill=INK)
        at = x + _NEEDED_AT * _CELL
        svg.line((at, y + 1), (at, y + 15), width=2, ink=WARN)
    svg.text(x, y + 28, f"pull {_turns(stage.ampere_turns)}", size=SMALL)
    if needed is not None:
        text = f"{_AT_NEEDED[stage.name]} {_turns(needed)}"
        svg.text(x, y + 41, text, size=SMALL, ink=WARN)


def _turns(value: float) -> str:
    """Ampere-turns, as whole ones."""
    return amount(value, "A", decimals=0)


def _said(case: StartCase) -> str:
    stages = "; ".join(
        f"{_STAGES[stage.name]}: {_SOUNDS[stage.sound]}, "
        + ", ".join(
            f"{label} {amount(volts, 'V')}"
            for label, volts in zip(_BARS, _volts(stage), strict=True)
        )
        + f", pull {_turns(stage.ampere_turns)}"
        for stage in case.stages
    )
    return f"{cut(case.name)} {_OUTCOMES[case.outcome]}. {stages}."
