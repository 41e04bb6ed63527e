"""Least squares within bounds, for models that tell their own slopes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray: TypeAlias = NDArray[np.float64]
# What is missed at a point, each in units of its own uncertainty, and its slopes.
Missed: TypeAlias = Callable[[FloatArray], tuple[FloatArray, FloatArray]]

MOST_STEPS = 60
MOST_TRIES = 12
# A search that is in vain so many times on end goes on no longer.
MOST_VAIN = 2
# A step that changes nothing beyond so many digits is the last one.
_DIGITS = 1e-13
# Times a bound is met or left, for each unknown; beyond what is left of a pull is rounding.
_MOST_BOUNDS, _ROUNDING = 3, 1e-12
# Fits are one that differ by no more than this share of what they miss, in squares.
_LITTLE_SHARE = 0.01
_FIRST_DAMPING, _LEAST_DAMPING, _MORE, _LESS = 1e-3, 1e-12, 8.0, 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """Where the sum of squares is least.

    Attributes
    ----------
    point : ndarray, shape (unknowns,)
        The values found.
    missed : ndarray, shape (readings,)
        What is missed there.
    slopes : ndarray, shape (readings, unknowns)
        Its derivative there.
    bound : ndarray of bool, shape (unknowns,)
        Which unknowns are held at a bound.
    steps : int
        How many steps were taken.
    converged : bool
        Whether another step would change nothing.
    """

    point: FloatArray
    missed: FloatArray
    slopes: FloatArray
    bound: NDArray[np.bool_]
    steps: int
    converged: bool

    @property
    def sum_of_squares(self) -> float:
        """Sum of the squares of what is missed."""
        return float(self.missed @ self.missed)


def least_squares(
    *,
    missed: Missed,
    start: ArrayLike,
    low: ArrayLike = -np.inf,
    high: ArrayLike = np.inf,
    digits: float = _DIGITS,
    is_far: Callable[[FloatArray], bool] | None = None,
) -> Fit:
    """Find the values within bounds at which a sum of squares is least.

    Parameters
    ----------
    missed : callable
        Takes values of the unknowns, gives what is missed there and its slopes, shape (readings,)
        and (readings, unknowns); not finite where there is no answer, which is then kept away from.
    start : ndarray, shape (unknowns,)
        Where to begin; there must be an answer.
    low, high : float or ndarray
        Bounds, inclusive.
    digits : float
        Relative change below which a step is the last one.
    is_far : callable, optional
        Whether what is missed is more than one looks for. The search ends where the slopes promise
        no less twice on end, bounds or no bounds.

    Returns
    -------
    Fit

    Notes
    -----
    Levenberg's and Marquardt's damped steps, each solved by orthogonal factors of the slopes with
    their columns scaled to one length, so that no square of them loses digits. The bounds are
    part of that problem, so that one step meets as many of them as it must.
    """
    point = np.clip(np.array(start, dtype=np.float64), low, high)
    low, high = (np.broadcast_to(np.asarray(end, np.float64), point.shape) for end in (low, high))
    values, slopes = missed(point)
    damping, converged, steps, vain = _FIRST_DAMPING, False, 0, 0
    while not converged and steps < MOST_STEPS:
        steps += 1
        scale = np.linalg.norm(slopes, axis=0)
        scale[scale == 0.0] = 1.0
        room = (low - point) * scale, (high - point) * scale
        if is_far is not None:
            held = _pushed(point, slopes.T @ values, low, high)
            ends = np.where(held, 0.0, -np.inf), np.where(held, 0.0, np.inf)
            promised = values + slopes @ (_step(values, slopes / scale, *ends, 0.0) / scale)
            vain = vain + 1 if is_far(promised) else 0
            if vain >= MOST_VAIN:
                break
        for _ in range(MOST_TRIES):
            step = _step(values, slopes / scale, *room, damping)
            new = np.clip(point + step / scale, low, high)
            new = np.where(step <= room[0], low, np.where(step >= room[1], high, new))
            converged = bool(np.all(np.abs(new - point) <= digits * np.abs(point)))
            if converged:
                break
            new_values, new_slopes = missed(new)
            less = values @ values - new_values @ new_values
            if less >= -digits * (values @ values):  # what is not finite is no less
                damping = max(damping * _LESS, _LEAST_DAMPING)
                # At the bottom rounding decides: the better point is kept, and it is the last.
                converged = bool(abs(less) <= digits * (values @ values))
                point, values, slopes = new, new_values, new_slopes
                break
            damping *= _MORE
        else:
            converged = True  # no step leads down any more
    held = _pushed(point, slopes.T @ values, low, high)
    return Fit(point, values, slopes, held, steps, converged)


def unlike(fits: Sequence[Fit]) -> list[FloatArray]:
    """Where fits came to, the best first; of those that differ by little beside what is missed one.

    Parameters
    ----------
    fits : sequence of Fit
        Of one problem, from several starts.

    Returns
    -------
    list of ndarray
        Points, little apart where they are so for the slopes of both.
    """
    found: list[Fit] = []
    for fit in sorted(fits, key=lambda each: each.sum_of_squares):
        little = _LITTLE_SHARE * (1.0 + fit.sum_of_squares)
        if not any(
            fit.sum_of_squares - each.sum_of_squares <= little
            and all(
                float(np.sum((of.slopes @ (fit.point - each.point)) ** 2)) <= little
                for of in (fit, each)
            )
            for each in found
        ):
            found.append(fit)
    return [each.point for each in found]


def _pushed(
    point: FloatArray, uphill: FloatArray, low: FloatArray, high: FloatArray
) -> NDArray[np.bool_]:
    """Unknowns at a bound that the way down would leave."""
    return ((point <= low) & (uphill > 0.0)) | ((point >= high) & (uphill < 0.0))


def _step(
    values: FloatArray, slopes: FloatArray, low: FloatArray, high: FloatArray, damping: float
) -> FloatArray:
    """Solve the damped linear problem within bounds, of which zero is between each two.

    Stark and Parker's active set (Computational Statistics 10, 1995): go towards the least of what
    is free until a bound is met, which then holds; at the least, let go what pulls most away from
    its bound.
    """
    count = len(low)
    rows = np.vstack([slopes, np.sqrt(damping) * np.eye(count)])
    orthogonal, upper = np.linalg.qr(rows)
    right = orthogonal.T @ np.concatenate([-values, np.zeros(count)])
    step = np.zeros(count)
    uphill = -upper.T @ right
    free = ~_pushed(step, uphill, low, high)
    for _ in range(_MOST_BOUNDS * count):
        if free.any():
            held = right - upper[:, ~free] @ step[~free]
            way = np.linalg.lstsq(upper[:, free], held, rcond=None)[0] - step[free]
            with np.errstate(divide="ignore", invalid="ignore"):
                ends = np.where(way > 0.0, high[free], low[free])
                shares = np.where(way != 0.0, (ends - step[free]) / way, np.inf)
            first = int(np.argmin(shares))
            if shares[first] < 1.0:
                step[free] += shares[first] * way
                place = np.flatnonzero(free)[first]
                step[place], free[place] = ends[first], False
                continue
            step[free] += way
        uphill = upper.T @ (upper @ step - right)
        pull = np.where(free | _pushed(step, uphill, low, high), 0.0, np.abs(uphill))
        place = int(np.argmax(pull))
        if pull[place] <= _ROUNDING * np.linalg.norm(right):
            break
        free[place] = True
    return step
