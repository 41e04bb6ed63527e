"""Values with their standard uncertainty, as JCGM 100 has them, and how far samples tell one."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics.uncertainty import NORMAL_95

Samples = NDArray[np.float64]

# Standard deviation over the median of absolute deviations, of normal errors.
OF_DEVIATIONS = 1.4826
# Standard error of a median over that of a mean, of many normal errors.
MOST_ALIKE = 0.999
NEXT_TO_NONE = 1e-6
OF_MEDIAN = math.sqrt(math.pi / 2)


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its uncertainty.

    Attributes
    ----------
    value, standard_uncertainty : float
        In the same unit.
    freedom : float
        Effective degrees of freedom; infinite where no part of the uncertainty was read off
        samples.
    """

    value: float
    standard_uncertainty: float
    freedom: float = math.inf

    @property
    def coverage_factor(self) -> float:
        """Half the 95 % interval over the standard uncertainty."""
        return coverage_factor(freedom=self.freedom)

    @property
    def half(self) -> float:
        """Half the 95 % interval."""
        return self.coverage_factor * self.standard_uncertainty


def coverage_factor(*, freedom: float) -> float:
    """Factor from a standard uncertainty to half of the 95 % interval: Student's.

    Parameters
    ----------
    freedom : float
        Effective degrees of freedom, 1 or more.

    Returns
    -------
    float
        Within 0.2 % from 3 degrees of freedom on, and exact at 1 and 2.

    References
    ----------
    JCGM 100:2008, G.3 and Table G.2; the series is that of Cornish and Fisher.
    """
    if math.isinf(freedom):
        return NORMAL_95
    if freedom < 3.0:  # closed forms at 1 and 2, the cautious one between
        return 12.706204736 if freedom < 2.0 else 4.30265273
    z, found, power = NORMAL_95, NORMAL_95, 1.0
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    for term in terms:
        power *= freedom
        found += term / power
    return found


def combined(
    *, value: float, sampled: float, freedom: float, limits: tuple[float, ...]
) -> Estimate:
    """Join what samples scatter with errors that are known by their limits.

    Parameters
    ----------
    value : float
        What is estimated.
    sampled : float
        Standard uncertainty that the samples tell, in the unit of the value.
    freedom : float
        Degrees of freedom of that.
    limits : tuple of float
        Largest errors of other kinds, each as likely anywhere within.

    Returns
    -------
    Estimate
        Degrees of freedom by Welch and Satterthwaite.

    References
    ----------
    JCGM 100:2008, 4.3.7 and G.4.1.
    """
    known = sum(each * each for each in limits) / 3.0
    total = math.sqrt(sampled * sampled + known)
    if sampled <= NEXT_TO_NONE * total:
        return Estimate(value, total)
    return Estimate(value, total, max(1.0, freedom) * (total / sampled) ** 4)


def scatter(*, values: Samples) -> float:
    """Standard deviation of samples about their middle, which a few wild ones do not spoil.

    Parameters
    ----------
    values : ndarray
        Samples.

    Returns
    -------
    float
        In their unit; the ordinary one where more than half of them are alike.
    """
    if len(values) < 2:
        return 0.0
    return _robust(values) or float(np.std(values, ddof=1))


def noise(*, values: Samples) -> float:
    """Standard deviation of what changes from one sample to the next.

    Parameters
    ----------
    values : ndarray
        Samples in a row.

    Returns
    -------
    float
        In their unit; steps and slopes hardly count. 0 where more than half of them do not change:
        then the last digit says how much there may be.
    """
    if len(values) < 3:
        return 0.0
    return _robust(values[2:] - 2.0 * values[1:-1] + values[:-2]) / math.sqrt(6.0)


def _robust(values: Samples) -> float:
    return OF_DEVIATIONS * float(np.median(np.abs(values - np.median(values))))


def correlated_over(*, values: Samples, fitted: int = 1) -> float:
    """Samples in a row that tell as much as one that stands alone.

    Parameters
    ----------
    values : ndarray
        What is left of samples in a row once what they follow is taken off.
    fitted : int
        How many numbers were fitted to take it off.

    Returns
    -------
    float
        1 where each is new; at most a third of them all.

    Notes
    -----
    One and twice the sum of their autocorrelation, up to a window of six times that: from there on
    a correlogram is noise. What it comes out too low for what was fitted is put back.

    References
    ----------
    A. D. Sokal, Monte Carlo methods in statistical mechanics (1997), section 3: the window.
    """
    count = len(values)
    if count < 4:
        return 1.0
    left = values - values.mean()
    power = float(left @ left)
    if power <= 0.0:
        return 1.0
    spectrum = np.fft.rfft(left, 2 * count)
    lags = np.fft.irfft(spectrum * spectrum.conj())[: count // 2] / power
    running = 1.0 + 2.0 * np.cumsum(lags[1:])
    windows = np.arange(1, len(running) + 1)
    wide = np.nonzero(windows >= 6.0 * running)[0]
    place = int(wide[0]) if len(wide) else len(running) - 1
    raw = float(running[place])
    mended = raw * (1.0 + fitted * (2.0 * windows[place] + 1.0) / count)
    # Of few samples a correlogram is cut short: what the first of it says of noise that fades away.
    first = min(float(lags[1]) + (fitted + (2 * fitted + 1) * float(lags[1])) / count, MOST_ALIKE)
    fades = (1.0 + first) / (1.0 - first) if first > 2.0 / math.sqrt(count) else 1.0
    return float(min(max(1.0, mended, fades), count / 3.0))
