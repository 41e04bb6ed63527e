"""Least squares within bounds, for models that tell their own slopes."""

from collections.abc import Callable
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
    their columns scaled to one length, so that no square of them loses digits. An unknown at a
    bound that the next step would leave stays there for that step.
    """
    point = np.clip(np.array(start, dtype=np.float64), low, high)
    low, high = (np.broadcast_to(np.asarray(end, np.float64), point.shape) for end in (low, high))
    values, slopes = missed(point)
    damping, converged, steps, vain = _FIRST_DAMPING, False, 0, 0
    while not converged and steps < MOST_STEPS:
        steps += 1
        scale = np.linalg.norm(slopes, axis=0)
        scale[scale == 0.0] = 1.0
        held = _pushed(point, slopes.T @ values, low, high)
        if is_far is not None:
            promised = values + slopes @ (_step(values, slopes / scale, ~held, 0.0) / scale)
            vain = vain + 1 if is_far(promised) else 0
            if vain >= MOST_VAIN:
                break
        for _ in range(MOST_TRIES):
            step = _step(values, slopes / scale, ~held, damping) / scale
            new = np.clip(point + step, low, high)
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


def _pushed(
    point: FloatArray, uphill: FloatArray, low: FloatArray, high: FloatArray
) -> NDArray[np.bool_]:
    """Unknowns at a bound that the way down would leave."""
    return ((point <= low) & (uphill > 0.0)) | ((point >= high) & (uphill < 0.0))


def _step(
    values: FloatArray, slopes: FloatArray, free: NDArray[np.bool_], damping: float
) -> FloatArray:
    """Solve the damped linear problem for what is free."""
    step = np.zeros(len(free))
    if free.any():
        count = int(free.sum())
        rows = np.vstack([slopes[:, free], np.sqrt(damping) * np.eye(count)])
        orthogonal, upper = np.linalg.qr(rows)
        right = orthogonal.T @ np.concatenate([-values, np.zeros(count)])
        step[free] = np.linalg.lstsq(upper, right, rcond=None)[0]
    return step
