"""Least squares against the certified values of NIST's Statistical Reference Datasets (StRD).

Data and certified values: National Institute of Standards and Technology, Statistical Reference
Datasets, doi 10.18434/T43G6C, files Norris.dat, Longley.dat and Misra1a.dat.
"""

import math

import numpy as np
import pytest

from lastvolt_service.physics.least_squares import least_squares

# Norris, J., NIST: calibration of ozone monitors. y, x.
NORRIS = """
0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3
449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0
448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3
0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3
228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5
"""
# Longley, J. W. (1967), Journal of the American Statistical Association 62, 819-841. y, x1 to x6.
LONGLEY = """
60323 83.0 234289 2356 1590 107608 1947
61122 88.5 259426 2325 1456 108632 1948
60171 88.2 258054 3682 1616 109773 1949
61187 89.5 284599 3351 1650 110929 1950
63221 96.2 328975 2099 3099 112075 1951
63639 98.1 346999 1932 3594 113270 1952
64989 99.0 365385 1870 3547 115094 1953
63761 100.0 363112 3578 3350 116219 1954
66019 101.2 397469 2904 3048 117388 1955
67857 104.6 419180 2822 2857 118734 1956
68169 108.4 442769 2936 2798 120445 1957
66513 110.8 444546 4681 2637 121950 1958
68655 112.6 482704 3813 2552 123366 1959
69564 114.2 502601 3931 2514 125368 1960
69331 115.7 518173 4806 2572 127852 1961
70551 116.9 554894 4007 2827 130081 1962
"""
# Misra, D., NIST (1978): dental research monomolecular adsorption study. y, x.
MISRA1A = """
10.07 77.6 14.73 114.9 17.94 141.1 23.93 190.8 29.61 239.9 35.18 289.0 40.02 332.8 44.82 378.4
50.76 434.8 55.05 477.3 61.01 536.8 66.40 593.1 75.47 689.1 81.78 760.0
"""
LINEAR = {
    "Norris": (
        NORRIS, 2,
        [-0.262323073774029, 1.00211681802045],
        [0.232818234301152, 0.429796848199937e-03],
        0.884796396144373,
    ),
    "Longley": (
        LONGLEY, 7,
        [-3482258.63459582, 15.0618722713733, -0.358191792925910e-01, -2.02022980381683,
         -1.03322686717359, -0.511041056535807e-01, 1829.15146461355],
        [890420.383607373, 84.9149257747669, 0.334910077722432e-01, 0.488399681651699,
         0.214274163161675, 0.226073200069370, 455.478499142212],
        304.854073561965,
    ),
}  # fmt: skip


def columns(text: str, count: int) -> tuple[np.ndarray, np.ndarray]:
    rows = np.array(text.split(), dtype=float).reshape(-1, count)
    return rows[:, 0], rows[:, 1:]


def digits(found: float, certified: float) -> float:
    """NIST's measure: how many digits of a certified value were met."""
    return math.inf if found == certified else -math.log10(abs(found / certified - 1.0))


def deviations(fit) -> np.ndarray:
    """Standard deviations of the estimates, by the rounding of orthogonal factors."""
    readings, unknowns = fit.slopes.shape
    scale = np.linalg.norm(fit.slopes, axis=0)
    upper = np.linalg.qr(fit.slopes / scale, mode="r")
    inverse = np.linalg.inv(upper)
    own = np.sqrt(np.sum(inverse**2, axis=1)) / scale
    return own * math.sqrt(fit.sum_of_squares / (readings - unknowns))


@pytest.mark.parametrize("name", LINEAR)
def test_linear(name: str) -> None:
    text, count, certified, certified_deviations, residual_deviation = LINEAR[name]
    y, x = columns(text, count)
    slopes = np.column_stack([np.ones(len(y)), x])
    fit = least_squares(missed=lambda at: (slopes @ at - y, slopes), start=np.zeros(count))
    assert fit.converged
    assert min(map(digits, fit.point, certified)) >= 9
    assert min(map(digits, deviations(fit), certified_deviations)) >= 9
    found = math.sqrt(fit.sum_of_squares / (len(y) - count))
    assert digits(found, residual_deviation) >= 9


@pytest.mark.parametrize("start", [(500.0, 0.0001), (250.0, 0.0005)], ids=["start 1", "start 2"])
def test_nonlinear(start: tuple[float, float]) -> None:
    """y = b1 (1 - exp(-b2 x)), from both published starts."""
    y, x = columns(MISRA1A, 2)
    x = x[:, 0]

    def missed(at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        left = np.exp(-at[1] * x)
        return at[0] * (1.0 - left) - y, np.column_stack([1.0 - left, at[0] * x * left])

    fit = least_squares(missed=missed, start=start)
    assert fit.converged
    assert min(map(digits, fit.point, [2.3894212918e02, 5.5015643181e-04])) >= 6
    assert min(map(digits, deviations(fit), [2.7070075241e00, 7.2668688436e-06])) >= 6
    assert digits(fit.sum_of_squares, 1.2455138894e-01) >= 6
