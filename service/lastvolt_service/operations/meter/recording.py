"""What a recording of volts and amperes shows: inrush, plateau, events, resistance, warming.

A clamp meter that records, or an oscilloscope, tells what a reading cannot: the peak at the
beginning and what one between two samples may have been, what it settles to, how long it was on,
bounces of the contact, and the dip in a winding's current where its plunger or armature pulls in.
The slope of volts over amperes is a resistance, with the errors of both channels, the skew between
them and noise that lasts all counted; volts over amperes at a winding tell how much it warms. Each
value has its standard uncertainty, a coverage factor and an interval that holds it 19 times of 20,
and can be handed on as a reading. A battery at work is judged by what a sound one keeps, the volts
at a load by what it needs, a contact by what a sound one drops; what lacks for that is asked for.
That nothing is switched is an answer, too: what that can be is told.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from lastvolt_service.laws import OHM
from lastvolt_service.operations.judging import FAIL, MARGINAL
from lastvolt_service.operations.meter import recording_answer as answers
from lastvolt_service.operations.meter.reading_fields import LEAST_UNCERTAINTY
from lastvolt_service.operations.meter.recording_answer import RecordingAnswer, told
from lastvolt_service.operations.meter.recording_checks import recording_checks
from lastvolt_service.operations.meter.recording_fields import RecordingRequest
from lastvolt_service.operations.meter.recording_judged import OF_LEVELS
from lastvolt_service.operations.meter.recording_signals import GAP_STEPS, UNITS, Signals, warmed
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import (
    COMMON_PRACTICE,
    DEFERENCE,
    SHORT_CIRCUIT,
    STARTER,
    merge,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.conductors import copper_coefficient_per_k
from lastvolt_service.physics import recording as course
from lastvolt_service.physics import recording_line as lines
from lastvolt_service.physics.recording_estimate import Estimate, Samples
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables.materials import material
from lastvolt_service.words import catalogue

NAME = "recording"
JCGM = "JCGM 100:2008: standard uncertainties, Student's factor with effective degrees of freedom"
YORK = "York et al., American Journal of Physics 72, 367 (2004): a line with errors in both"

_OHMS_OF = {
    "path": "ohms_of_path",
    "battery": "ohms_of_battery",
    "load": "ohms_before_load",
}


def solve(asked: RecordingRequest) -> Outcome:
    """Work out one recording."""
    taken = Signals.of(asked)
    line = taken.line() if len(taken.volts_v) and len(taken.current_a) else None
    ohms, why_not = _resistance(taken, line)
    current = _amperes(taken) if len(taken.current_a) else None
    timing = _timing(taken)
    load = taken.load_resistance() if _at_load(taken) else None
    warming = taken.warming_ratio() if _at_load(taken) and asked.winding else None
    columns = {
        "switched": taken.switching is not None,
        "sampling": _sampling(taken.time_s),
        "events": tuple(_events(taken)),
        "timing": timing,
        "current": current,
        "volts": _volts(taken) if len(taken.volts_v) else None,
        "resistance": None if ohms is None else told(answers.OhmsRead, ohms, "ohm"),
        "line": None if line is None or ohms is None else _line(line),
        "load_resistance": None if load is None else told(answers.OhmsRead, load, "ohm"),
        "warming": None if warming is None else _warming(taken, warming),
        "is_reversed": taken.is_reversed,
    }
    columns["readings"] = tuple(_readings(taken, columns))
    checks = tuple(recording_checks(taken, columns, why_not))
    columns["level_message"] = _level_message(checks)
    return Outcome(
        columns,
        checks,
        merge(
            (JCGM, COMMON_PRACTICE),
            (YORK,) if line else (),
            (OHM,) if load else (),
            (material("copper").citation,) if warming else (),
        ),
        (STARTER, SHORT_CIRCUIT, DEFERENCE),
    )


def _level_message(checks: Sequence[Checked]) -> str | None:
    """What is said of volts that are no good, or hardly good enough."""
    poor = (e for e in checks if e.code in OF_LEVELS and e.judged.verdict in {FAIL, MARGINAL})
    found = next(poor, None)
    return None if found is None else found.told(catalogue()[NAME]).message


def _at_load(taken: Signals) -> bool:
    both = len(taken.volts_v) and len(taken.current_a)
    return bool(both) and taken.asked.between == "load" and taken.switching is not None


def _sampling(time_s: Samples) -> answers.Sampling:
    steps = np.diff(time_s)
    usual = float(np.median(steps))
    return answers.Sampling(
        len(time_s), usual, float(steps.max()), int((steps > GAP_STEPS * usual).sum())
    )


def _resistance(taken: Signals, line: lines.Slope | None) -> tuple[Estimate | None, str | None]:
    """The slope with its sign put right, or why there is none."""
    if not (len(taken.volts_v) and len(taken.current_a)):
        return None, "one_channel"
    if line is None:
        return None, "no_swing"
    if taken.cut_off(taken.volts_v) or taken.cut_off(taken.current_a):
        return None, "cut_off"
    sign = 1.0 if taken.asked.between == "path" else -1.0
    found = Estimate(sign * line.slope.value, line.slope.standard_uncertainty, line.slope.freedom)
    if found.value <= 0.0:
        return None, "leads_swapped" if -found.value > found.half else "no_swing"
    return found, None


def _line(line: lines.Slope) -> answers.FittedLine:
    return answers.FittedLine(
        told(answers.VoltsRead, line.intercept, "v"),
        line.late.value,
        line.late.standard_uncertainty,
        line.samples,
        line.new,
    )


def _warming(taken: Signals, ratio: Estimate) -> answers.Warming:
    start_c = taken.asked.start_temperature_c
    found = warmed(ratio, copper_coefficient_per_k(), start_c)
    began = taken.switching.on.time_s if taken.switching and taken.switching.on else NOT_GIVEN
    made: answers.Warming = told(
        answers.Warming,
        found,
        "k",
        is_told=abs(found.value) > found.half,
        temperature_c=start_c + found.value,
        over_s=float(taken.time_s[taken.plateau][-1]) - began,
    )
    return made


def _amperes(taken: Signals) -> answers.Amperes:
    plateau = taken.level(taken.current_a[taken.plateau], "current")
    rest = taken.rest(taken.current_a)
    signal = taken.current_a - rest
    found = course.peak(
        time_s=taken.time_s, signal=signal, within=taken.whole, plateau=plateau.value - rest
    )
    return answers.Amperes(
        rest=_level(taken, taken.current_a, "current"),
        plateau=told(answers.AmperesRead, plateau, "a"),
        settles=taken.settles,
        peak_a=found.value + rest,
        peak_time_s=float(taken.time_s[found.place]),
        is_inrush=found.is_inrush,
        peak_limit_a=None if math.isinf(found.limit) else found.limit + rest,
    )


def _volts(taken: Signals) -> answers.Volts:
    on = taken.volts_v[taken.on]
    return answers.Volts(
        rest=_level(taken, taken.volts_v, "volts"),
        plateau=told(answers.VoltsRead, taken.level(taken.volts_v[taken.plateau], "volts"), "v"),
        lowest_v=float(on.min()),
        highest_v=float(on.max()),
    )


def _level(taken: Signals, values: Samples, channel: str) -> Any:
    """Level of a channel while it is off."""
    if not taken.off.any():
        return None
    kind = {"volts": answers.VoltsRead, "current": answers.AmperesRead}[channel]
    return told(kind, taken.level(values[taken.off], channel), UNITS[channel])


def _events(taken: Signals) -> Iterator[answers.Event]:
    found = taken.switching
    moments: list[tuple[answers.EventCode, course.Moment | None]] = [
        ("on", found.on if found else None),
        ("pull_in", taken.pull_in),
        ("off", found.off if found else None),
    ]
    for code, moment in moments:
        if moment is not None:
            yield answers.Event(code, moment.time_s, moment.low_s, moment.high_s)


def _timing(taken: Signals) -> answers.Timing:
    found, pulled = taken.switching, taken.pull_in
    if found is None:
        return answers.Timing(0, None, None, None, None)
    began, ended = found.on, found.off
    bounces = None
    if began is not None:
        gaps = found.gaps_s(taken.time_s)
        last_s = float(taken.time_s[found.stretches[-1].first]) - began.time_s
        bounces = answers.Bounces(len(gaps), max(gaps, default=0.0), last_s if gaps else 0.0)
    return answers.Timing(
        found.times,
        found.chatters_every_s or taken.buzzes_every_s,
        ended.time_s - began.time_s if began and ended else None,
        bounces,
        pulled.time_s - began.time_s if began and pulled else None,
    )


def _readings(taken: Signals, columns: dict[str, Any]) -> Iterator[answers.RecordedReading]:
    """What can be posted on, each level with the time that it was read over."""
    current, volts = columns["current"], columns["volts"]
    found: list[tuple[answers.ReadingCode, Any, str]] = []
    if taken.switching is not None:
        if current is not None and current.settles:
            found.append(("amperes_on", current.plateau, "a"))
        if volts is not None:
            found.append(("volts_on", volts.plateau, "v"))
        if volts is not None and volts.rest is not None and taken.asked.between == "battery":
            found.append(("volts_at_rest", volts.rest, "v"))
    if columns["resistance"] is not None:
        code: Any = _OHMS_OF[taken.asked.between]
        found.append((code, columns["resistance"], "ohm"))
    if columns["load_resistance"] is not None:
        found.append(("ohms_of_load", columns["load_resistance"], "ohm"))
    for name, read, unit in found:
        own = getattr(read, f"standard_uncertainty_{unit}")
        as_read = -1.0 if unit == "v" and taken.leads_reversed else 1.0
        values = {
            f"value_{unit}": as_read * getattr(read, f"value_{unit}"),
            f"standard_uncertainty_{unit}": max(own, LEAST_UNCERTAINTY),
            "duration_s": taken.plateau_s,
        }
        yield answers.RecordedReading(name, values)


# By hand: what samples tell is no chain of formulas.
def tell_all(asked: RecordingRequest, answer: RecordingAnswer, steps: Steps) -> None:
    """Tell how the interval of each value follows from its uncertainty, and the warming's."""
    estimates: list[tuple[str, Any, str]] = []
    if answer.current:
        estimates.append(("plateau", answer.current.plateau, "a"))
    if answer.volts:
        estimates.append(("plateau", answer.volts.plateau, "v"))
    estimates.append(("resistance", answer.resistance, "ohm"))
    estimates.append(("load_resistance", answer.load_resistance, "ohm"))
    estimates.append(("warming", answer.warming, "k"))
    for name, read, unit in estimates:
        if read is not None:
            _tell(steps, name, read, unit)
    if answer.warming is not None:
        steps.given(
            "start_temperature_c", asked.start_temperature_c, "of the winding when switched on"
        )
        steps.computed(
            "warming_temperature_c",
            "start_temperature_c + warming_value_k",
            answer.warming.temperature_c,
            "of the winding at the end",
            "the warming",
        )


def _tell(steps: Steps, name: str, read: Any, unit: str) -> None:
    value, error = f"{name}_value_{unit}", f"{name}_standard_uncertainty_{unit}"
    factor = f"{name}_{unit}_coverage_factor"
    samples = "the samples of the recording"
    steps.published(value, getattr(read, f"value_{unit}"), "most likely value", samples)
    steps.published(error, getattr(read, f"standard_uncertainty_{unit}"), "of that", samples)
    steps.published(factor, read.coverage_factor, "for 19 times of 20", JCGM)
    for end, sign in (("low", "-"), ("high", "+")):
        formula = f"{value} {sign} {factor} * {error}"
        steps.computed(
            f"{name}_{end}_{unit}",
            formula if end == "high" or unit != "ohm" else f"max({formula}, 0)",
            getattr(read, f"{end}_{unit}"),
            "end of the interval that holds it 19 times of 20",
            JCGM,
        )


OPERATION = Operation(NAME, __doc__, RecordingRequest, RecordingAnswer, solve, tell_all=tell_all)
