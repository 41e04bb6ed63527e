"""How a recording is judged: how it was taken, what was switched, how well it tells."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    PASS,
    UNKNOWN,
    Judged,
    stays_within,
)
from lastvolt_service.operations.meter.recording_judged import levels, stays
from lastvolt_service.operations.meter.recording_signals import GAP_STEPS, Signals
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.physics import recording as course
from lastvolt_service.physics.recording_estimate import Samples
from lastvolt_service.rows import NOT_GIVEN

# Practice: a lamp or a motor has half of its inrush behind it after a few of these.
SLOWEST_STEP_S = 0.002
ROUNDED = 1 + 1e-6  # times are written with so many digits
# Practice: a sound contact has settled by then.
SETTLED_S = 0.01
WELL_KNOWN_PERCENT = 10.0


def recording_checks(
    taken: Signals, columns: dict[str, Any], why_not: str | None
) -> Iterator[Checked]:
    """Judge a recording; `why_not` says why it tells no resistance."""
    on_current = len(taken.current_a) > 0
    values = taken.current_a if on_current else taken.volts_v
    swing, unit = float(np.ptp(values)), "A" if on_current else "V"
    if taken.switching is None:
        judged = Judged(swing, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        detail = stays(taken, columns)
        yield Checked("switching", judged, unit, COMMON_PRACTICE, detail=detail)
    yield from levels(taken, columns)
    yield from _sampling_checks(taken, columns)
    for channel, values in (("volts", taken.volts_v), ("current", taken.current_a)):
        if len(values):
            yield _range_check(taken, values, channel)
    if taken.is_reversed:
        level = columns["current"].plateau.value_a
        judged = Judged(-level, 0.0, -level, MARGINAL)
        yield Checked("clamp_direction", judged, "A", "the sign of what is read")
    if taken.leads_reversed:
        level = columns["volts"].plateau.value_v
        judged = Judged(-level, 0.0, -level, PASS)  # on positive ground it is no mistake
        yield Checked("leads_direction", judged, "V", "the sign of what is read")
    yield from _rest_check(columns)
    yield from _bounce_check(columns)
    if not on_current or not len(taken.volts_v):
        return
    if why_not is not None:
        judged = Judged(NOT_GIVEN, WELL_KNOWN_PERCENT, NOT_GIVEN, UNKNOWN)
    else:
        ohms = columns["resistance"]
        share = 100.0 * (ohms.high_ohm - ohms.low_ohm) / 2 / ohms.value_ohm
        judged = stays_within(share, WELL_KNOWN_PERCENT)
        if not ohms.is_told:
            judged, why_not = judged._replace(verdict=UNKNOWN), "not_told"
        elif judged.verdict == FAIL:
            judged = judged._replace(verdict=MARGINAL)
    yield Checked("resistance", judged, "%", COMMON_PRACTICE, detail=why_not)


def _sampling_checks(taken: Signals, columns: dict[str, Any]) -> Iterator[Checked]:
    sampling, current = columns["sampling"], columns["current"]
    if sampling.gaps:
        longest_s = sampling.longest_step_s
        judged = Judged(longest_s, GAP_STEPS * sampling.step_s, NOT_GIVEN, MARGINAL)
        yield Checked("gaps", judged, "s", COMMON_PRACTICE)
    if current is None or taken.switching is None or taken.switching.on is None:
        return
    began = taken.switching.on
    step_s = began.high_s - began.low_s
    detail, verdict = "no_inrush", MARGINAL if _is_slow(step_s) else PASS
    if current.is_inrush and current.peak_limit_a is None:
        detail, verdict = "one_sample", FAIL
    elif current.is_inrush:
        detail, verdict = "inrush", PASS
    judged = Judged(step_s, SLOWEST_STEP_S, SLOWEST_STEP_S - step_s, verdict)
    yield Checked("sampling", judged, "s", COMMON_PRACTICE, detail=detail)


def _is_slow(step_s: float) -> bool:
    return step_s > SLOWEST_STEP_S * ROUNDED


def _range_check(taken: Signals, values: Samples, channel: str) -> Checked:
    """Say whether a channel was driven over its range, up or down."""
    most = taken.cut_off(values)
    judged = Judged(float(most), 0.0, -float(most), FAIL if most else PASS)
    return Checked("range", judged, "1", "the top of what is read", detail=channel)


def _rest_check(columns: dict[str, Any]) -> Iterator[Checked]:
    """Tell amperes that flow while it is off, or a clamp that was not set to zero."""
    current = columns["current"]
    if current is None or current.rest is None:
        return
    rest_a = abs(current.rest.value_a)
    surely_a = max(current.rest.low_a, -current.rest.high_a)
    if surely_a > 0.0 and rest_a > course.LEAST_SHARE * current.plateau.value_a:
        judged = Judged(rest_a, NOT_GIVEN, NOT_GIVEN, MARGINAL)
        yield Checked("rest_current", judged, "A", COMMON_PRACTICE)


def _bounce_check(columns: dict[str, Any]) -> Iterator[Checked]:
    bounces, every_s = columns["timing"].bounces, columns["timing"].chatters_every_s
    if every_s is not None:
        judged = Judged(every_s, NOT_GIVEN, NOT_GIVEN, FAIL)
        yield Checked("bounces", judged, "s", COMMON_PRACTICE, detail="chatters")
        return
    if bounces is None or (not bounces.times and _is_slow(columns["sampling"].step_s)):
        return
    judged = stays_within(bounces.last_s, SETTLED_S, 0.0)
    detail = "bounced" if bounces.times else None
    yield Checked("bounces", judged, "s", COMMON_PRACTICE, detail=detail)
