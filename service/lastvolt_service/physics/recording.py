"""What a recording of one channel shows: when it is on, its peak and its plateau.

Signals are what lies above the level of rest, turned so that on is above zero.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics.recording_estimate import (
    OF_MEDIAN,
    Estimate,
    Samples,
    combined,
    correlated_over,
    noise,
    scatter,
)

# Practice, all of them: what makes an event, and what is no more than noise.
LEAST_OVER_NOISE = 6.0
LEAST_SHARE_OF_VOLTS = 0.3  # a battery has yet to recover afterwards
LEAST_APART = 8.0  # of the middles of on and off, over the scatter of off
LEAST_SHARE = 0.03  # of the largest value: less is off; a lamp starts with up to 15 times
SPIKE = 50  # times shorter than the longest time on
LONGEST_BOUNCE_S = 0.1  # a contact that is open for longer was opened
# Slower than that, lamps flash and people press; a contact that chatters is quicker.
SLOWEST_CHATTER_S = 0.3
LEAST_CHATTER = 4  # times that it closes
LEAST_INRUSH = 0.05  # of the plateau
MOST_BACK = 5.0  # time constants that a decay is drawn back by
SETTLED = 0.5  # of the time on, from its end, is taken for the plateau


@dataclass(frozen=True, slots=True)
class Stretch:
    """Samples in a row that are on.

    Attributes
    ----------
    first, last : int
        The first and the last of them.
    """

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Moment:
    """When something happened.

    Attributes
    ----------
    low_s, high_s : float
        The last sample before it and the first after it. [s]
    """

    low_s: float
    high_s: float

    @property
    def time_s(self) -> float:
        """In the middle between."""
        return (self.low_s + self.high_s) / 2


@dataclass(frozen=True, slots=True)
class Switching:
    """When a signal is on.

    Attributes
    ----------
    on, off : Moment or None
        Switched on and off; None where the recording begins or ends on.
    stretches : tuple of Stretch
        Of the first time that it was on; several where a contact bounced.
    times : int
        How often it was on, bounces not counted.
    chatters_every_s : float or None
        From one closing to the next, where it goes on and off again and again. [s]
    """

    on: Moment | None
    off: Moment | None
    stretches: tuple[Stretch, ...]
    times: int
    chatters_every_s: float | None

    @property
    def whole(self) -> Stretch:
        """From the first of them to the last."""
        return Stretch(self.stretches[0].first, self.stretches[-1].last)

    def gaps_s(self, time_s: Samples) -> list[float]:
        """How long each bounce left it open. [s]."""
        pairs = zip(self.stretches, self.stretches[1:], strict=False)
        return [float(time_s[b.first] - time_s[a.last]) for a, b in pairs]


@dataclass(frozen=True, slots=True)
class Peak:
    """The largest value, and how large one between two samples may have been.

    Attributes
    ----------
    place : int
        Of its sample.
    value, limit : float
        Read, and the most that may have been; infinite where nothing tells.
    samples : int
        That lie above half of what it has over the plateau.
    is_inrush : bool
        Whether it stands out over the plateau.
    """

    place: int
    value: float
    limit: float
    samples: int
    is_inrush: bool


def rest_level(*, values: Samples) -> float:
    """Level of a signal that is off for some of the time, at its beginning or its end or between.

    Parameters
    ----------
    values : ndarray
        Turned so that on is above off.

    Returns
    -------
    float
        In their unit.
    """
    few = max(1, min(len(values) // 4, 2 + len(values) // 50))
    ends = float(np.median(values[:few])), float(np.median(values[-few:]))
    between = float(np.sort(values)[min(few, len(values) - 1)])
    lowest = min(ends)
    # Bounces alone may be off where both ends are on.
    return min(lowest, between) if lowest - between > 0.5 * float(np.ptp(values)) else lowest


def switching(
    *, time_s: Samples, signal: Samples, resolution: float, share: float = LEAST_SHARE
) -> Switching | None:
    """Find when a signal is on.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples, rising. [s]
    signal : ndarray
        Over the level of rest.
    resolution : float
        What is less is nothing, in the unit of the signal.
    share : float
        Of the largest value: less is off.

    Returns
    -------
    Switching or None
        None where it is never on, never off, or noise and no more.
    """
    threshold = max(
        LEAST_OVER_NOISE * noise(values=signal),
        2.0 * resolution,
        share * float(np.max(signal)),
    )
    on = _over(signal, threshold, threshold / 2)
    if not on.any() or on.all():
        return None
    # Noise that lasts shows in what is off, not from one sample to the next.
    threshold = max(threshold, LEAST_OVER_NOISE * scatter(values=signal[~on]))
    on = _over(signal, threshold, threshold / 2)
    if not on.any() or on.all() or (len(signal) > 4 and on.sum() < 2):
        return None
    apart = float(np.median(signal[on]) - np.median(signal[~on]))
    if apart < LEAST_APART * scatter(values=signal[~on]):
        return None
    stretches = _stretches(on)
    groups: list[list[Stretch]] = []
    for each in stretches:
        gap = math.inf if not groups else time_s[each.first] - time_s[groups[-1][-1].last]
        if gap <= LONGEST_BOUNCE_S and _is_bounce(groups[-1][-1], each):
            groups[-1].append(each)
        else:
            groups.append([each])
    # A spike of noise beside something far longer is no switching.
    lengths = [sum(each.last - each.first + 1 for each in group) for group in groups]
    longest = max(lengths)
    groups = [g for g, each in zip(groups, lengths, strict=True) if each * SPIKE >= longest]
    first = groups[0]
    begin, end = first[0].first, first[-1].last
    closings_s = [float(time_s[each.first]) for group in groups for each in group]
    every_s = _chatters_every(closings_s)
    return Switching(
        Moment(float(time_s[begin - 1]), float(time_s[begin])) if begin else None,
        Moment(float(time_s[end]), float(time_s[end + 1])) if end + 1 < len(signal) else None,
        tuple(first),
        len(groups) if every_s is None else len(closings_s),
        every_s,
    )


def _chatters_every(closings_s: list[float]) -> float | None:
    """Mean time between closings of what chatters: a sound contact has its bounces behind it."""
    lasts_s = closings_s[-1] - closings_s[0]
    if len(closings_s) < LEAST_CHATTER or lasts_s <= LONGEST_BOUNCE_S:
        return None
    every_s = lasts_s / (len(closings_s) - 1)
    return every_s if every_s <= SLOWEST_CHATTER_S else None


def _is_bounce(before: Stretch, after: Stretch) -> bool:
    """Say whether a gap may be a bounce: what is as long as what it parts is pulses."""
    gap = after.first - before.last
    return gap < max(before.last - before.first, after.last - after.first) + 2


def _over(signal: Samples, high: float, low: float) -> NDArray[np.bool_]:
    """From where a signal passes `high` to where it falls below `low`."""
    state = np.where(signal > high, 1, np.where(signal < low, -1, 0))
    kept = np.maximum.accumulate(np.where(state != 0, np.arange(len(state)), 0))
    found: NDArray[np.bool_] = state[kept] > 0
    return found


def _stretches(on: NDArray[np.bool_]) -> list[Stretch]:
    edges = np.nonzero(np.diff(np.concatenate(([0], on.astype(int), [0]))))[0]
    pairs = zip(edges[::2], edges[1::2], strict=True)
    return [Stretch(int(begin), int(end) - 1) for begin, end in pairs]


def settled(*, time_s: Samples, within: Stretch) -> Stretch:
    """Choose the samples of a plateau: the last half of the time on, without its very end.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples. [s]
    within : Stretch
        While it is on.

    Returns
    -------
    Stretch
        One sample at least.
    """
    begin, end = float(time_s[within.first]), float(time_s[within.last])
    first = int(np.searchsorted(time_s, begin + SETTLED * (end - begin)))
    last = within.last
    # The last sample may be caught while it falls.
    if last - first >= 2:
        last -= 1
    return Stretch(min(first, last), last)


def level(*, values: Samples, limits: tuple[float, ...]) -> Estimate:
    """Estimate a level from its samples: their median, which few wild ones do not spoil.

    Parameters
    ----------
    values : ndarray
        Samples of a plateau, in a row.
    limits : tuple of float
        Largest errors that all of them share, in their unit.

    Returns
    -------
    Estimate
        What it drifts from its first third to its last counts as an error, too.
    """
    middle, count = float(np.median(values)), len(values)
    each_of = correlated_over(values=values)
    new = max(1.0, count / each_of)
    sampled = OF_MEDIAN * scatter(values=values) / math.sqrt(new) if count > 2 else 0.0
    third = max(1, count // 3)
    drift = abs(float(np.median(values[-third:]) - np.median(values[:third]))) / 2
    known = drift if drift > 3.0 * sampled else 0.0
    return combined(value=middle, sampled=sampled, freedom=new - 1.0, limits=(*limits, known))


def peak(*, time_s: Samples, signal: Samples, within: Stretch, plateau: float) -> Peak:
    """Find the largest value while it is on, and what one between two samples may have been.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples. [s]
    signal : ndarray
        Over the level of rest.
    within : Stretch
        While it is on.
    plateau : float
        What it settles to, in the unit of the signal.

    Returns
    -------
    Peak
        The limit is where what rises before the sample and what falls after it, each drawn on for
        a step at most, still allow.
    """
    part = signal[within.first : within.last + 1]
    place = within.first + int(np.argmax(part))
    value, spread = float(signal[place]), noise(values=part)
    over = value - plateau
    is_inrush = over > max(5.0 * spread, LEAST_INRUSH * abs(plateau))
    if not is_inrush:
        return Peak(place, value, value, within.last - within.first + 1, is_inrush=False)
    above = signal - plateau > over / 2
    first = last = place
    while last < within.last and above[last + 1]:
        last += 1
    while first > within.first and above[first - 1]:
        first -= 1
    # Half of it only on one sample: it may have been anything.
    limit = math.inf
    if last > place:
        limit = max(
            value,
            _between(time_s, signal, plateau, place, within.first),
            _between(time_s, signal, plateau, place - 1, within.first),
        )
    return Peak(place, value, limit, last - first + 1, is_inrush=True)


def _between(time_s: Samples, signal: Samples, plateau: float, at: int, first: int) -> float:
    """Most that may have been in the step after a sample; what is on begins with `first`."""
    if at < 0 or at + 2 >= len(signal):
        return float(signal[max(at, 0)])
    step, later = float(time_s[at + 1] - time_s[at]), float(time_s[at + 2] - time_s[at + 1])
    left, right = float(signal[at + 1] - plateau), float(signal[at + 2] - plateau)
    # What decays is drawn back as an exponential, which lies above a line.
    back = left + max(left - right, 0.0) * step / later
    if left > right > 0.0:
        back = left * math.exp(min(math.log(left / right) * step / later, MOST_BACK))
    if at - 1 < first:  # it was switched on in between: nothing tells how steeply it rose
        return plateau + back
    rise = max(float(signal[at] - signal[at - 1]), 0.0) / float(time_s[at] - time_s[at - 1])
    return plateau + min(back, float(signal[at] - plateau) + rise * step)
