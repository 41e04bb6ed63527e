"""What the shape of a signal tells: a buzz, a kink where a plunger pulls in, a top cut off."""

import math

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics.recording import (
    LEAST_CHATTER,
    LEAST_INRUSH,
    LEAST_OVER_NOISE,
    SLOWEST_CHATTER_S,
    Moment,
    Stretch,
)
from lastvolt_service.physics.recording_estimate import (
    Samples,
    correlated_over,
    noise,
    scatter,
)

# Practice, both.
LEAST_DIP = 0.01  # of the plateau
FLAT = 3  # samples alike at the top
# What buzzes jumps between two levels, so far apart as a share of the upper, and is seldom between:
# the ripple of an engine that is cranked is a third of its time in the middle half.
LEAST_BUZZ, MOST_BETWEEN = 0.15, 0.2


def buzz_s(*, time_s: Samples, signal: Samples) -> float | None:
    """Find whether a signal jumps up and down between two levels, over and over.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples while it is on. [s]
    signal : ndarray
        Volts or amperes.

    Returns
    -------
    float or None
        From one rise to the next, on average; None where it does not. [s]
    """
    low, high = (float(each) for each in np.percentile(signal, [10, 90]))
    quarter = (high - low) / 4.0
    if 4.0 * quarter < LEAST_BUZZ * abs(high):
        return None
    is_up, is_down = signal > high - quarter, signal < low + quarter
    if float(np.mean(~is_up & ~is_down)) > MOST_BETWEEN:
        return None
    levels = is_up[is_up | is_down]
    rises_s = time_s[is_up | is_down][1:][levels[1:] & ~levels[:-1]]
    if len(rises_s) < LEAST_CHATTER:
        return None
    every_s = float(rises_s[-1] - rises_s[0]) / (len(rises_s) - 1)
    return every_s if every_s <= SLOWEST_CHATTER_S else None


def kink(
    *, time_s: Samples, signal: Samples, within: Stretch, plateau: float, resolution: float
) -> Moment | None:
    """Find where the rise of a winding's current dips: its plunger or armature moved, and stopped.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples. [s]
    signal : ndarray
        Current over that of rest.
    within : Stretch
        While it is on, after the last bounce.
    plateau : float
        What it settles to.
    resolution : float
        Of the current, in its unit.

    Returns
    -------
    Moment or None
        From the top before the dip to where the current is above that again; None without a dip.

    Notes
    -----
    What moves makes a voltage against the supply's, so that the current dips; once it has stopped,
    the current goes on to what the resistance lets through.
    """
    part = signal[within.first : within.last + 1]
    if len(part) < 8:
        return None
    width = max(1, int(np.searchsorted(part, 0.6 * plateau)) // 8)
    smooth = np.convolve(part, np.ones(width) / width, "valid") if width > 1 else part
    spread = _spread(part, width)
    deep = max(LEAST_OVER_NOISE * spread, 2.0 * resolution / width, LEAST_DIP * plateau)
    tops = np.maximum.accumulate(smooth)
    falls = np.nonzero(tops - smooth > deep)[0]
    if not len(falls):
        return None
    top = int(np.argmax(smooth[: falls[0] + 1]))
    again = np.nonzero(smooth[falls[0] :] > smooth[top])[0]
    if not len(again):  # it fell for good: an inrush, or a winding that is let go
        return None
    end = int(falls[0] + again[0])
    place = top + int(np.argmin(smooth[top : end + 1]))
    # The lowest sample, and as far to either side as it is not told from that.
    near = np.nonzero(smooth[top : end + 1] <= smooth[place] + max(3.0 * spread, deep / 4))[0]
    half = width // 2
    first = within.first + top + int(near[0]) + half
    last = within.first + top + int(near[-1]) + half
    return Moment(float(time_s[max(first - 1, 0)]), float(time_s[min(last + 1, within.last)]))


def _spread(part: Samples, width: int) -> float:
    """Standard deviation of the mean of some samples in a row, from where all is settled."""
    tail = part[len(part) // 2 :]
    at = np.arange(len(tail)) - (len(tail) - 1) / 2
    left = tail - tail.mean() - at * float(at @ tail) / max(float(at @ at), 1.0)
    new = max(1.0, width / correlated_over(values=left, fitted=2))
    return max(scatter(values=left), noise(values=part)) / math.sqrt(new)


def flat_top(*, values: Samples, on: NDArray[np.bool_], plateau: float) -> int:
    """Count the samples at the top of a channel that was driven over its range.

    Parameters
    ----------
    values : ndarray
        Samples as read, turned so that on is above zero.
    on : ndarray of bool
        Which of them are on.
    plateau : float
        What they settle to.

    Returns
    -------
    int
        0 where the top is not flat: it is where the rise to it breaks off, or where a plateau
        stands still to the last digit while the same channel flickers elsewhere.
    """
    top = float(np.max(values))
    at_top = np.concatenate(([False], values == top, [False]))
    edges = np.nonzero(np.diff(at_top.astype(int)))[0]
    begin, end = max(zip(edges[::2], edges[1::2], strict=True), key=lambda pair: pair[1] - pair[0])
    count = int(end - begin)
    if count < FLAT:
        return 0
    spread = max(3.0 * noise(values=values), _digit(values))
    if top - plateau > LEAST_INRUSH * abs(plateau):
        before = values[begin - 1] * 2 - values[begin - 2] if begin >= 2 else -math.inf
        after = values[end] * 2 - values[end + 1] if end + 1 < len(values) else -math.inf
        return count if max(before, after) > top + spread else 0
    off = values[~on]
    flickers = len(off) >= 2 * FLAT and len(np.unique(off)) >= FLAT
    return count if flickers and count > 0.9 * int(on.sum()) else 0


def _digit(values: Samples) -> float:
    """Smallest step between values that differ."""
    steps = np.diff(np.unique(values))
    return float(np.min(steps)) if len(steps) else 0.0
