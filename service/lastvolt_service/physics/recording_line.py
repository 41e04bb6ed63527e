"""Volts over amperes of a recording: a line with errors in both, late by some skew; and warming."""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics.recording_estimate import (
    Estimate,
    Samples,
    combined,
    correlated_over,
)
from lastvolt_service.physics.recording_skew import (
    LEAST_CHANGE,
    LEAST_FOR_SKEW,
    LEAST_POINTS,
    skew,
)

LEAST_SPREAD = 5.0  # of the amperes, over their noise: with less there is no slope
END_STEPS = 1.5
WIDE = 4  # samples to each side, over which a change is looked for
LEAST_QUIET = 0.8  # of the swing, between levels
ROUNDS = 50
CLOSE = 1e-12


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points with errors in both coordinates.

    Attributes
    ----------
    intercept, slope : float
        Volts at no current, and ohms.
    intercept_uncertainty, slope_uncertainty : float
        Standard uncertainties from the given errors alone. [V], [ohm]
    left : ndarray
        Distance of each point, in its own standard errors.
    """

    intercept: float
    slope: float
    intercept_uncertainty: float
    slope_uncertainty: float
    left: Samples


def line(*, x: Samples, y: Samples, x_error: Samples, y_error: Samples) -> Line:
    """Fit a line to points with errors in both coordinates.

    Parameters
    ----------
    x, y : ndarray
        Coordinates.
    x_error, y_error : ndarray
        Standard error of each, above zero.

    Returns
    -------
    Line
        The most likely one.

    References
    ----------
    D. York et al., Unified equations for the slope, intercept, and standard errors of the best
    straight line, American Journal of Physics 72, 367 (2004).
    """
    x_weight, y_weight = 1.0 / x_error**2, 1.0 / y_error**2
    slope = _first_slope(x, y, x_weight, y_weight)
    for _ in range(ROUNDS):
        weight = x_weight * y_weight / (x_weight + slope * slope * y_weight)
        total = float(weight.sum())
        x_mean, y_mean = float(weight @ x) / total, float(weight @ y) / total
        u, v = x - x_mean, y - y_mean
        beta = weight * (u / y_weight + slope * v / x_weight)
        before, below = slope, float((weight * beta) @ u)
        slope = float((weight * beta) @ v) / below if below else math.nan
        if not math.isfinite(slope) or abs(slope - before) <= CLOSE * abs(slope):
            break
    fitted = beta - float(weight @ beta) / total
    spread = float(weight @ fitted**2)
    slope_error = 1.0 / math.sqrt(spread) if spread > 0 else math.inf
    at_mean = x_mean + float(weight @ beta) / total
    intercept_error = math.sqrt(1.0 / total + (at_mean * slope_error) ** 2)
    left = (y - y_mean - slope * (x - x_mean)) * np.sqrt(weight)
    return Line(y_mean - slope * x_mean, slope, intercept_error, slope_error, left)


def _first_slope(x: Samples, y: Samples, x_weight: Samples, y_weight: Samples) -> float:
    """Slope where all points have the same errors: Deming's."""
    ratio = float(np.median(x_weight) / np.median(y_weight))
    u, v = x - x.mean(), y - y.mean()
    xx, yy, xy = float(u @ u), float(v @ v), float(u @ v)
    if xy == 0.0:
        return 0.0
    half = yy - ratio * xx
    return (half + math.sqrt(half * half + 4.0 * ratio * xy * xy)) / (2.0 * xy)


@dataclass(frozen=True, slots=True)
class Slope:
    """Volts over amperes.

    Attributes
    ----------
    slope, intercept : Estimate
        Ohms with their sign, and volts at no current.
    late : Estimate
        By how much the volts come later. [s]
    samples, new : float
        How many were used, and how many of them tell something new.
    """

    slope: Estimate
    intercept: Estimate
    late: Estimate
    samples: int
    new: float


def slope(
    *,
    time_s: Samples,
    volts_v: Samples,
    current_a: Samples,
    volts_noise_v: float,
    current_noise_a: float,
    gain_percent: tuple[float, float],
    zero_v: float,
    edges_s: tuple[float, float] | None = None,
) -> Slope | None:
    """Resistance as the slope of volts over amperes, with errors in both.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples. [s]
    volts_v, current_a : ndarray
        Both channels. [V], [A]
    volts_noise_v, current_noise_a : float
        Standard deviations of their noise, above zero. [V], [A]
    gain_percent : tuple of float
        Largest errors of their scales. [%]
    zero_v : float
        Largest error of the zero of the volts. [V]
    edges_s : tuple of float, optional
        Between which the edges of a switching hold the skew. [s]

    Returns
    -------
    Slope or None
        None where the current hardly changes, or volts and amperes do not go together.

    Notes
    -----
    Samples caught while the current changes count little: what the skew leaves unknown is an error
    of theirs.
    """
    if float(np.std(current_a)) < LEAST_SPREAD * current_noise_a:
        return None
    late = skew(
        time_s=time_s,
        volts_v=volts_v,
        current_a=current_a,
        volts_noise_v=volts_noise_v,
        current_noise_a=current_noise_a,
        edges_s=edges_s,
    )
    step_s = float(np.median(np.diff(time_s)))
    wide = min(WIDE + math.ceil(2.0 * late.standard_uncertainty / step_s), len(time_s))
    channels = _Channels(time_s, volts_v, current_a, volts_noise_v, current_noise_a, wide)
    found, used = channels.fitted(late.value, late.standard_uncertainty)
    if found is None or used < LEAST_POINTS or not math.isfinite(found.slope) or not found.slope:
        return None
    each_of = correlated_over(values=found.left, fitted=2)
    new = max(3.0, used / each_of)
    worse = max(1.0, math.sqrt(float(found.left @ found.left) / (used - 2)))
    wider = worse * math.sqrt(each_of)
    moved = []
    for error in (-2.0 * late.standard_uncertainty, 2.0 * late.standard_uncertainty):
        other, _ = channels.fitted(late.value + error, late.standard_uncertainty)
        moved.append(found if other is None else other)
    # Far out, and to the worse side: along a rise a slope bends with the skew.
    of_skew = max(abs(each.slope - found.slope) for each in moved) / 2
    at_rest = max(abs(each.intercept - found.intercept) for each in moved) / 2
    gains = tuple(found.slope * each / 100.0 for each in gain_percent)
    return Slope(
        combined(
            value=found.slope,
            sampled=math.hypot(found.slope_uncertainty * wider, of_skew),
            freedom=new - 2.0,
            limits=gains,
        ),
        combined(
            value=found.intercept,
            sampled=math.hypot(found.intercept_uncertainty * wider, at_rest),
            freedom=new - 2.0,
            limits=(zero_v, found.intercept * gain_percent[0] / 100.0),
        ),
        late,
        used,
        new,
    )


@dataclass(frozen=True)
class _Channels:
    """Both channels and their noise, to be laid on each other with any skew."""

    time_s: Samples
    volts_v: Samples
    current_a: Samples
    volts_noise_v: float
    current_noise_a: float
    wide: int

    @cached_property
    def quiet(self) -> NDArray[np.bool_]:
        """Samples round which the current hardly changes."""
        amperes = self.current_a
        wide = self.wide
        padded = np.pad(amperes, wide, mode="edge")
        change = np.maximum(
            np.abs(padded[2 * wide :] - amperes), np.abs(amperes - padded[: -2 * wide])
        )
        found: NDArray[np.bool_] = change < LEAST_CHANGE * self.current_noise_a
        return found

    def fitted(self, late_s: float, error_s: float) -> tuple[Line | None, int]:
        """Fit with the volts so late; also how many points were used."""
        time_s, amperes = self.time_s, self.current_a
        at_s = time_s + late_s
        step = float(np.median(np.diff(time_s)))
        # Where a switch cuts off what goes before and after, the volts do so late by the skew.
        edge = END_STEPS * step if len(time_s) >= LEAST_FOR_SKEW else 0.0
        inside = (at_s >= time_s[0] + max(late_s, 0.0) + edge) & (
            at_s <= time_s[-1] + min(late_s, 0.0) - edge
        )
        if int(inside.sum()) < LEAST_POINTS:
            return None, 0
        levels = amperes[inside & self.quiet]
        if len(levels) >= LEAST_FOR_SKEW and np.ptp(levels) > LEAST_QUIET * np.ptp(amperes[inside]):
            inside &= self.quiet  # two levels: what lies between tells little, and skew spoils it
        volts = np.interp(at_s, time_s, self.volts_v)
        rates = np.abs(np.diff(amperes) / np.diff(time_s))
        rate = np.maximum(np.concatenate(([0.0], rates)), np.concatenate((rates, [0.0])))
        rate = np.where(rate * step > LEAST_CHANGE * self.current_noise_a, rate, 0.0)
        # Between two samples of a corner the volts lie on no straight line.
        bend = np.abs(np.diff(amperes, 2, prepend=amperes[0], append=amperes[-1]))
        bend = np.where(bend > LEAST_CHANGE * self.current_noise_a, bend, 0.0)
        between = abs(late_s / step - round(late_s / step))
        error = np.sqrt(self.current_noise_a**2 + (rate * error_s) ** 2 + (bend * between) ** 2)
        found = line(
            x=amperes[inside],
            y=volts[inside],
            x_error=error[inside],
            y_error=np.full(int(inside.sum()), self.volts_noise_v),
        )
        return found, int(inside.sum())


def warming_ratio(
    *,
    time_s: Samples,
    volts_v: Samples,
    current_a: Samples,
    from_s: float,
    zero_v: float,
    zero_a: float,
) -> Estimate | None:
    """Resistance of a winding at the end of a recording over that at its beginning.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples that are settled. [s]
    volts_v, current_a : ndarray
        At the winding and through it, there. [V], [A]
    from_s : float
        When it was switched on. [s]
    zero_v, zero_a : float
        Largest errors of both zeros. [V], [A]

    Returns
    -------
    Estimate or None
        From the line of volts over amperes against time, drawn back to the beginning; errors of
        the scales cancel. None from fewer than four samples.
    """
    if len(time_s) < 4:
        return None
    ohms = volts_v / current_a
    after = time_s - from_s
    middle = float(after.mean())
    u = after - middle
    spread = float(u @ u)
    rise, mean = float(u @ ohms) / spread, float(ohms.mean())
    left = ohms - mean - rise * u
    each_of = correlated_over(values=left, fitted=2)
    new = max(3.0, len(ohms) / each_of)
    variance = float(left @ left) / (len(ohms) - 2) * each_of
    begin, end = mean - rise * middle, mean + rise * float(u[-1])
    if begin <= 0.0:
        return None
    ratio = end / begin
    # d ratio over mean and rise, which are independent of each other.
    by_mean = (1.0 - ratio) / begin
    by_rise = (float(u[-1]) + ratio * middle) / begin
    sampled = math.sqrt(variance * (by_mean**2 / len(ohms) + by_rise**2 / spread))
    zero = ratio * abs(1.0 / float(volts_v[-1]) - 1.0 / float(volts_v[0])) * zero_v
    of_clamp = ratio * abs(1.0 / float(current_a[-1]) - 1.0 / float(current_a[0])) * zero_a
    return combined(value=ratio, sampled=sampled, freedom=new - 2.0, limits=(zero, of_clamp))
