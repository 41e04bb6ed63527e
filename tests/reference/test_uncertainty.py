"""Uncertainty against the Guide's own example, and against a general library."""

import math

import numpy as np
import pytest
import uncertainties
from scipy import stats
from uncertainties import umath

from lastvolt_service.physics.uncertainty import (
    COVERAGE_FACTOR,
    chi_squared_tail,
    correlations,
    propagated,
    rectangular,
)

# JCGM 100:2008, Table H.2: volts, milliamperes, radians, read together five times.
H2 = (
    (5.007, 19.663, 1.0456),
    (4.994, 19.639, 1.0438),
    (5.005, 19.640, 1.0468),
    (4.990, 19.685, 1.0428),
    (4.999, 19.678, 1.0433),
)


def test_simultaneous_resistance_and_reactance() -> None:
    """JCGM 100:2008, H.2: Tables H.3 and H.4 as printed."""
    mean, covariance = np.mean(H2, axis=0), np.cov(H2, rowvar=False) / len(H2)
    volts, amps, phase = mean * (1.0, 1e-3, 1.0)
    covariance = covariance * np.outer((1.0, 1e-3, 1.0), (1.0, 1e-3, 1.0))
    cos, sin, size = math.cos(phase), math.sin(phase), volts / amps
    slopes = [
        [cos / amps, -size * cos / amps, -size * sin],
        [sin / amps, -size * sin / amps, size * cos],
        [1.0 / amps, -size / amps, 0.0],
    ]
    found = propagated(slopes=slopes, covariance=covariance)
    deviations, related = np.sqrt(np.diag(found)), correlations(found)
    assert [size * cos, size * sin, size] == pytest.approx([127.732, 219.847, 254.260], abs=5e-4)
    assert deviations == pytest.approx([0.071, 0.295, 0.236], abs=1e-3)
    assert related[0, 1] == pytest.approx(-0.588, abs=0.005)
    assert related[0, 2] == pytest.approx(-0.485, abs=0.005)
    assert related[1, 2] == pytest.approx(0.993, abs=0.005)
    assert correlations(covariance)[np.triu_indices(3, 1)] == pytest.approx(
        [-0.36, 0.86, -0.65], abs=0.006
    )


@pytest.mark.parametrize("seed", range(20))
def test_a_divider_with_correlated_readings(seed: int) -> None:
    """Resistance and power of a part in series, drawn, by a library of automatic derivatives."""
    random = np.random.default_rng(seed)
    values = random.uniform([10.0, 0.1, 1.0], [14.0, 2.0, 40.0])
    half = random.normal(size=(3, 3)) * 0.01 * values[:, None]
    covariance = half @ half.T
    supply, drop, amps = uncertainties.correlated_values(values, covariance)
    wanted = [drop / amps, (supply - drop) * amps, umath.log(drop / amps)]
    s, d, a = values
    slopes = [[0.0, 1.0 / a, -d / a**2], [a, -a, s - d], [0.0, 1.0 / d, -1.0 / a]]
    found = propagated(slopes=slopes, covariance=covariance)
    assert found == pytest.approx(np.array(uncertainties.covariance_matrix(wanted)), rel=1e-9)
    assert correlations(found) == pytest.approx(
        np.array(uncertainties.correlation_matrix(wanted)), rel=1e-9
    )


def test_a_coverage_factor_holds_95_percent_of_many_errors_and_more_of_one() -> None:
    assert stats.norm.cdf(COVERAGE_FACTOR) - stats.norm.cdf(-COVERAGE_FACTOR) == pytest.approx(
        0.95, abs=1e-4
    )
    assert COVERAGE_FACTOR * float(rectangular(1.0)) > 1.0
    assert rectangular([3.0, 6.0]) == pytest.approx([math.sqrt(3.0), 2.0 * math.sqrt(3.0)])


@pytest.mark.parametrize("freedom", [0.3, 1.0, 2.5, 7.0, 40.0])
def test_the_tail_of_chi_squared(freedom: float) -> None:
    for value in (0.0, 0.01, 0.5, 3.0, freedom, 2.0 * freedom, 60.0):
        found = chi_squared_tail(chi_squared=value, degrees_of_freedom=freedom)
        assert found == pytest.approx(stats.chi2.sf(value, freedom), rel=1e-9, abs=1e-13)
