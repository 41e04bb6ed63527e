"""By how much one channel of a recording comes later than the other."""

import math

import numpy as np

from lastvolt_service.physics.recording import Moment
from lastvolt_service.physics.recording_estimate import Estimate, Samples, correlated_over

MOST_LATE = 8  # samples: channels are not skewed by more, nor by a thirtieth of what is looked at
LEAST_SKEW = 0.05  # of a step: nearer than that two clocks are not known
LEAST_CHANGE = 6.0  # from one sample to the next, over the noise: less is none
LEAST_POINTS = 4
LEAST_FOR_SKEW = 12
LEAST_JUMP = 0.1  # of the whole swing, from one sample to the next
AS_GOOD = 3.0  # standard deviations of a sum of squares: shifts nearer than that are not told apart
SHARP = 2.0  # times what a channel changes near by, from one sample to the next: an edge
CAUGHT = 0.25  # of an edge: a sample caught on its way


def skew(
    *,
    time_s: Samples,
    volts_v: Samples,
    current_a: Samples,
    volts_noise_v: float,
    current_noise_a: float,
    edges_s: tuple[float, float] | None = None,
) -> Estimate:
    """By how much the volts come later than the amperes.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples, in about even steps. [s]
    volts_v, current_a : ndarray
        Both channels. [V], [A]
    volts_noise_v, current_noise_a : float
        Standard deviations of their noise, above zero. [V], [A]
    edges_s : tuple of float, optional
        Between which the edges of a switching hold it, as `edges_apart` finds. [s]

    Returns
    -------
    Estimate
        In seconds: where they lie best on a line, to a sample by all there is, and between samples
        by a parabola over what changes smoothly, as a jump says no more than between which two.
        A decay that is shifted is like another of its own: where no sample is told from the others
        it is anywhere among them, and where no edge is, either.
    """
    count, step = len(time_s), float(np.median(np.diff(time_s)))
    most = min(max(2, count // 30), MOST_LATE)
    unknown = Estimate(0.0, step / 2) if edges_s is None else _anywhere(edges_s)
    if count < max(LEAST_FOR_SKEW, 4 * most + 4):
        return unknown
    # In units of their noise, so that what is left on either side of a line weighs alike.
    x, y = current_a / current_noise_a, volts_v / volts_noise_v
    kept = np.arange(most, count - most)
    left = [_beside_a_line(x[kept], y[kept + lag]) for lag in range(-most, most + 1)]
    best = int(np.argmin(left))
    lag = best - most
    each_of = correlated_over(values=_off_a_line(x[kept], y[kept + lag]), fitted=2)
    near = left[best] * (1.0 + AS_GOOD * math.sqrt(2.0 * each_of / len(kept)))
    as_good = np.nonzero(np.array(left) <= near)[0]
    first, last = int(as_good[0]), int(as_good[-1])
    among = (first - most - 0.5) * step, (last - most + 0.5) * step
    if last - first > 2 or first == 0 or last == 2 * most:
        return _anywhere(among if edges_s is None else edges_s)
    jumps = np.abs(np.diff(x, 2, prepend=x[0], append=x[-1]))
    abrupt = jumps > max(LEAST_CHANGE * 2.5, LEAST_JUMP * float(np.ptp(x)))
    for _ in range(2):
        abrupt[1:], abrupt[:-1] = abrupt[1:] | abrupt[:-1], abrupt[:-1] | abrupt[1:]
    kept = kept[~abrupt[kept]]
    whole = _anywhere(among)
    if len(kept) < LEAST_POINTS:
        return whole
    low, least, high = (_beside_a_line(x[kept], y[kept + lag + k]) for k in (-1, 0, 1))
    bend = low - 2.0 * least + high
    if bend <= 0.0:
        return whole
    part = 0.5 * (low - high) / bend
    # The sum of squares grows by its own mean square where a parameter is off by its error; noise
    # upon noise, one sample apart, tilts the parabola as well.
    share = least / bend
    error = math.sqrt(2.0 * each_of * share / len(kept) * (1.0 + share) + LEAST_SKEW**2)
    if abs(part) > 1.0:
        return Estimate(lag * step, step)
    # No shift but the two beside it is as good.
    return Estimate((lag + part) * step, min(error, 1.0) * step)


def _anywhere(ends: tuple[float, float]) -> Estimate:
    return Estimate((ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2 / math.sqrt(3.0))


def edges_apart(
    *, time_s: Samples, volts_v: Samples, current_a: Samples, moments: tuple[Moment, ...]
) -> tuple[float, float] | None:
    """Between which the edges of a switching hold what the volts come later by.

    Parameters
    ----------
    time_s : ndarray
        Times of the samples. [s]
    volts_v, current_a : ndarray
        Both channels, all of them. [V], [A]
    moments : tuple of Moment
        When the current is switched.

    Returns
    -------
    tuple of float or None
        None without an edge in the volts, or where two contradict each other. [s]
    """
    low_s, high_s = -math.inf, math.inf
    for moment in moments:
        place = int(np.searchsorted(time_s, moment.high_s))
        volts, current = _edge(time_s, volts_v, place), _edge(time_s, current_a, place)
        if volts is None:
            continue
        if current is None:  # which rises slowly: it may have begun a step before it is seen
            step_s = moment.high_s - moment.low_s
            current = Moment(moment.low_s - step_s, moment.high_s)
        low_s = max(low_s, volts.low_s - current.high_s)
        high_s = min(high_s, volts.high_s - current.low_s)
    return (low_s, high_s) if math.isfinite(low_s) and low_s < high_s else None


def _edge(time_s: Samples, values: Samples, place: int) -> Moment | None:
    """Between which samples a channel jumps near a place; None where it does not."""
    begin, end = max(place - MOST_LATE - 1, 0), min(place + MOST_LATE + 1, len(values))
    steps = np.abs(np.diff(values[begin:end]))
    largest = int(np.argmax(steps))
    others = np.delete(steps, slice(max(largest - 1, 0), largest + 2))
    if len(others) and steps[largest] < SHARP * float(others.max()):
        return None
    first, last = largest, largest + 1
    if largest and steps[largest - 1] > CAUGHT * steps[largest]:
        first -= 1
    if last < len(steps) and steps[last] > CAUGHT * steps[largest]:
        last += 1
    return Moment(float(time_s[begin + first]), float(time_s[begin + last]))


def _beside_a_line(x: Samples, y: Samples) -> float:
    """Sum of the squared distances from the best line."""
    u, v = x - x.mean(), y - y.mean()
    xx, yy, xy = float(u @ u), float(v @ v), float(u @ v)
    return max(0.0, (xx + yy - math.hypot(xx - yy, 2.0 * xy)) / 2)


def _off_a_line(x: Samples, y: Samples) -> Samples:
    """Distances from the best line, with their sign."""
    u, v = x - x.mean(), y - y.mean()
    angle = 0.5 * math.atan2(2.0 * float(u @ v), float(u @ u) - float(v @ v))
    found: Samples = v * math.cos(angle) - u * math.sin(angle)
    return found
