"""Least squares within bounds, against scipy's."""

import numpy as np
import pytest
from scipy import optimize

from lastvolt_service.physics.least_squares import least_squares


@pytest.mark.parametrize("seed", range(30))
def test_a_linear_problem_within_bounds(seed: int) -> None:
    random = np.random.default_rng(seed)
    slopes = random.normal(size=(8, 4)) * 10.0 ** random.uniform(-3, 3, 4)
    right = random.normal(size=8)
    low = -random.uniform(0, 0.1, 4) / np.linalg.norm(slopes, axis=0)
    high = random.uniform(0, 0.1, 4) / np.linalg.norm(slopes, axis=0)
    fit = least_squares(
        missed=lambda at: (slopes @ at - right, slopes),
        start=0.5 * (low + high),
        low=low,
        high=high,
    )
    wanted = optimize.lsq_linear(slopes, right, (low, high), method="bvls", tol=1e-14)
    assert fit.converged
    assert 0.5 * fit.sum_of_squares == pytest.approx(wanted.cost, rel=1e-9)
    assert fit.point == pytest.approx(wanted.x, rel=1e-6, abs=1e-9 * np.max(high - low))
    assert fit.bound.any()
    assert list(fit.bound) == [bool(each) for each in wanted.active_mask]


def test_what_no_reading_moves_stays_where_it_began() -> None:
    slopes = np.array([[1.0, 0.0], [2.0, 0.0]])
    fit = least_squares(missed=lambda at: (slopes @ at - (1.0, 2.0), slopes), start=[0.2, 0.7])
    assert fit.point == pytest.approx([1.0, 0.7])


def test_points_without_an_answer_are_kept_away_from() -> None:
    """A logarithm that a whole step would leave."""

    def missed(at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        with np.errstate(all="ignore"):
            return np.log(at) + 3.0, np.diag(1.0 / at)

    fit = least_squares(missed=missed, start=[40.0])
    assert fit.converged
    assert fit.point == pytest.approx([np.exp(-3.0)], rel=1e-9)
