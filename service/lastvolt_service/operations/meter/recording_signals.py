"""A recording as signals: turned so that on is up, rest taken off, when it is on and its levels."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.operations.meter.recording_fields import RecordingRequest
from lastvolt_service.physics import recording as course
from lastvolt_service.physics import recording_line as lines
from lastvolt_service.physics import recording_shape as shape
from lastvolt_service.physics.recording_estimate import Estimate, Samples, noise
from lastvolt_service.physics.recording_skew import LEAST_POINTS, edges_apart

UNITS = {"volts": "v", "current": "a"}
GAP_STEPS = 5.0
SETTLES_SHARE = 0.05
SMALLEST = 1e-9
# No closed contact, and no path, keeps so much: it is open. [V]. Common practice.
OPEN_V = 5.0
LEAST_OF_REST = 3
# A digit is a rectangle as wide as a step.
OF_A_STEP = 1 / math.sqrt(12.0)


@dataclass(frozen=True)
class Signals:
    """What was asked, as arrays.

    Attributes
    ----------
    asked : RecordingRequest
        The recording.
    time_s, volts_v, current_a : ndarray
        Its channels, empty where one is not given; the current with its sign put right, and the
        volts of a battery or a load.
    is_reversed, leads_reversed : bool
        Whether the current was turned, and whether the volts were.
    switching : Switching or None
        When it is on: by the current where there is one.
    """

    asked: RecordingRequest
    time_s: Samples
    volts_v: Samples
    current_a: Samples
    is_reversed: bool
    leads_reversed: bool
    switching: course.Switching | None

    @classmethod
    def of(cls, asked: RecordingRequest) -> "Signals":
        """Take a recording."""
        time_s, volts_v, current_a = (
            np.asarray(each, float) for each in (asked.time_s, asked.volts_v, asked.current_a)
        )
        volts_v, current_a = _without_dust(volts_v), _without_dust(current_a)
        is_reversed = False
        found = None
        # Against the ground of positive ground, too, what stands at a battery or a load is below 0.
        leads_reversed = (
            asked.between in {"battery", "load"}
            and len(volts_v) > 0
            and _points_down(volts_v, asked.volts_resolution_v)
        )
        volts_v = -volts_v if leads_reversed else volts_v
        if len(current_a):
            is_reversed = _points_down(current_a, asked.current_resolution_a)
            current_a = -current_a if is_reversed else current_a
            found = _switching(time_s, current_a, asked.current_resolution_a, course.LEAST_SHARE)
        else:
            is_down = asked.between == "battery" or _opens(asked, volts_v)
            up = -np.abs(volts_v) if is_down else volts_v
            found = _switching(time_s, up, asked.volts_resolution_v, course.LEAST_SHARE_OF_VOLTS)
        return cls(asked, time_s, volts_v, current_a, is_reversed, leads_reversed, found)

    @cached_property
    def on(self) -> NDArray[np.bool_]:
        """Which samples are on; all where it is never switched."""
        if self.switching is None:
            return np.ones(len(self.time_s), bool)
        found = np.zeros(len(self.time_s), bool)
        for each in self.switching.stretches:
            found[each.first : each.last + 1] = True
        return found

    @cached_property
    def off(self) -> NDArray[np.bool_]:
        """Which samples tell the rest: one to each side of an edge may be caught between."""
        if self.switching is None:
            return np.zeros(len(self.time_s), bool)
        near = self.on.copy()
        near[1:] |= self.on[:-1]
        near[:-1] |= self.on[1:]
        found = ~near
        # Before it is on, where that is known: afterwards a battery has yet to recover.
        before = found.copy()
        before[self.switching.whole.first :] = False
        if int(before.sum()) >= LEAST_OF_REST:
            return before
        if self.switching.times > 1:  # what comes later is on for some of the time
            found[self.switching.whole.last :] = False
        return found

    @cached_property
    def whole(self) -> course.Stretch:
        """The time on, or all there is."""
        if self.switching is None:
            return course.Stretch(0, len(self.time_s) - 1)
        return self.switching.whole

    @cached_property
    def main_stretch(self) -> course.Stretch:
        """The longest time on without a bounce."""
        if self.switching is None:
            return self.whole
        return max(self.switching.stretches, key=lambda each: each.last - each.first)

    @cached_property
    def plateau(self) -> slice:
        """Samples that a level is taken from."""
        if self.switching is None:
            return slice(0, len(self.time_s))
        found = course.settled(time_s=self.time_s, within=self.main_stretch)
        return slice(found.first, found.last + 1)

    @cached_property
    def pull_in(self) -> course.Moment | None:
        """When the current of a winding dips while it rises."""
        if not self.asked.winding or self.switching is None or not len(self.current_a):
            return None
        rest = self.rest(self.current_a)
        return shape.kink(
            time_s=self.time_s,
            signal=self.current_a - rest,
            within=self.main_stretch,
            plateau=float(np.median(self.current_a[self.plateau])) - rest,
            resolution=self.asked.current_resolution_a,
        )

    @property
    def buzzes_every_s(self) -> float | None:
        """From one change to the next of what goes up and down, and never off; None without."""
        if self.switching is None:
            return None
        values = self.current_a if len(self.current_a) else np.abs(self.volts_v)
        stretch = self.main_stretch
        part = slice(stretch.first, stretch.last + 1)
        return shape.buzz_s(time_s=self.time_s[part], signal=values[part])

    @property
    def plateau_s(self) -> float:
        """How long that is."""
        times = self.time_s[self.plateau]
        return float(times[-1] - times[0])

    def cut_off(self, values: Samples) -> int:
        """Samples in a row at the end of a channel's range."""
        middle = float(np.median(values[self.plateau]))
        return max(
            shape.flat_top(values=sign * values, on=self.on, plateau=sign * middle)
            for sign in (1.0, -1.0)
        )

    def rest(self, values: Samples) -> float:
        """Level of a channel while it is off; 0 where it never is."""
        return float(np.median(values[self.off])) if self.off.any() else 0.0

    def limits(self, channel: str) -> Callable[[float], tuple[float, float]]:
        """Largest errors of a channel's level: of its scale, and of its zero."""
        percent = getattr(self.asked, f"{channel}_accuracy_percent")
        zero = self.zero(channel)
        return lambda value: (abs(value) * percent / 100.0, zero)

    def zero(self, channel: str) -> float:
        """Largest error of a channel's zero."""
        found: float = getattr(self.asked, f"{channel}_resolution_{UNITS[channel]}")
        return found

    def level(self, values: Samples, channel: str) -> Estimate:
        """Estimate a level from samples of a channel."""
        limits = self.limits(channel)(float(np.median(values)))
        return course.level(values=values, limits=limits)

    @property
    def settles(self) -> bool:
        """Whether the plateau of the current is one."""
        part = self.current_a[self.plateau]
        third = max(1, len(part) // 3)
        apart = abs(float(np.median(part[-third:]) - np.median(part[:third])))
        middle = abs(float(np.median(part)))
        least = self.zero("current") + 3.0 * noise(values=part)
        return apart <= max(SETTLES_SHARE * middle, least)

    def line(self) -> lines.Slope | None:
        """Volts over amperes: at the battery always, elsewhere only while the switch is closed."""
        between, stretch, edges_s = self.asked.between, self.main_stretch, None
        part = slice(stretch.first, stretch.last + 1)
        if between == "battery" or (between == "path" and self._path_rests()):
            part = slice(0, len(self.time_s))
        elif self.switching is not None:  # the ends may be caught while they switch
            part = slice(stretch.first + 1, stretch.last)
            edges_s = edges_apart(
                time_s=self.time_s,
                volts_v=self.volts_v,
                current_a=self.current_a,
                moments=tuple(filter(None, (self.switching.on, self.switching.off))),
            )
        time_s, volts_v, current_a = self.time_s[part], self.volts_v[part], self.current_a[part]
        if len(time_s) < LEAST_POINTS:
            return None
        return lines.slope(
            time_s=time_s,
            volts_v=volts_v,
            current_a=current_a,
            volts_noise_v=self._noise(self.volts_v, "volts"),
            current_noise_a=self._noise(self.current_a, "current"),
            gain_percent=(
                self.asked.volts_accuracy_percent,
                self.asked.current_accuracy_percent,
            ),
            zero_v=self.asked.volts_resolution_v,
            edges_s=edges_s,
        )

    def _path_rests(self) -> bool:
        """Say whether a path has no volts without current: the switch does not lie in it."""
        most = 3.0 * self.asked.volts_resolution_v + 3.0 * self._noise(self.volts_v, "volts")
        return abs(self.rest(self.volts_v)) <= most

    def _noise(self, values: Samples, channel: str) -> float:
        return max(noise(values=values[self.plateau]), self.zero(channel) * OF_A_STEP)

    def load_resistance(self) -> Estimate | None:
        """Volts over amperes at the load, on the plateau."""
        volts = self.level(self.volts_v[self.plateau], "volts")
        amperes = self.level(self.current_a[self.plateau], "current")
        if amperes.value <= 3.0 * amperes.standard_uncertainty or volts.value <= 0.0:
            return None
        value = volts.value / amperes.value
        shares = [each.standard_uncertainty / each.value for each in (volts, amperes)]
        ends = [
            share**4 / each.freedom for share, each in zip(shares, (volts, amperes), strict=True)
        ]
        share = math.hypot(*shares)
        freedom = share**4 / sum(ends) if sum(ends) > 0 else math.inf
        return Estimate(value, value * share, freedom)

    def warming_ratio(self) -> Estimate | None:
        """Resistance of the winding at the end over that when it was switched on."""
        if self.switching is None or self.switching.on is None or not self.settles:
            return None
        part = self.plateau
        if float(np.min(self.current_a[part])) <= 0.0 or float(np.min(self.volts_v[part])) <= 0.0:
            return None
        return lines.warming_ratio(
            time_s=self.time_s[part],
            volts_v=self.volts_v[part],
            current_a=self.current_a[part],
            from_s=self.switching.on.time_s,
            zero_v=self.asked.volts_resolution_v,
            zero_a=self.asked.current_resolution_a,
        )


def _opens(asked: RecordingRequest, volts_v: Samples) -> bool:
    """Whether the path itself opens: the supply stands over it while it is off.

    Without amperes nothing else tells its closing from a current that begins.
    """
    return asked.between == "path" and float(np.abs(volts_v).max()) >= OPEN_V


def _without_dust(values: Samples) -> Samples:
    """Take what no meter shows for nothing: its squares would be too small for a number."""
    found: Samples = np.where(np.abs(values) < SMALLEST, 0.0, values)
    return found


def _points_down(values: Samples, resolution: float) -> bool:
    """Say whether a channel is below zero where it reads something."""
    large = np.abs(values) > max(np.max(np.abs(values)) / 2, 2 * resolution)
    return bool(large.any()) and float(np.median(values[large])) < 0.0


def _switching(
    time_s: Samples, values: Samples, resolution: float, share: float
) -> course.Switching | None:
    signal = values - course.rest_level(values=values)
    return course.switching(time_s=time_s, signal=signal, resolution=resolution, share=share)


def warmed(ratio: Estimate, per_k: float, start_c: float) -> Estimate:
    """Turn the ratio of a copper winding's resistances into the kelvin between them."""
    kelvin = (1.0 + per_k * (start_c - 20.0)) / per_k
    return Estimate(
        (ratio.value - 1.0) * kelvin, ratio.standard_uncertainty * kelvin, ratio.freedom
    )
