"""How readings of a circuit agree with each other, and which one the others speak against."""

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from lastvolt_service.physics.least_squares import Fit
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import chi_squared_tail, correlations

# A false alarm in so many circuits at most, by a single reading and by all together.
ALARMS_OF_ONE, ALARMS_OF_ALL = 0.04, 0.005
# Readings whose deviations go together so closely cannot be told apart.
COLLINEAR = 0.9
# Of a reading's variance, what the others must be able to hold it against; below it is not checked.
LEAST_REDUNDANCY = 0.05
# What a fit that arrived misses beside the least that its slopes promise, in standard
# uncertainties.
SHORT = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Agreement:
    """How readings agree with each other and with the bounds.

    Attributes
    ----------
    normalised : ndarray
        Of each reading, how far it is from what the others say, in standard uncertainties of that.
    redundancy : ndarray
        Share of its own variance in that: 0 where nothing holds it.
    related : ndarray
        Correlations of these.
    limit : float
        That one of them exceeds in one of 25 circuits without fault.
    chi_squared, degrees_of_freedom, probability : float
        Of what is missed together; the probability is NaN where nothing is read twice over.
    arrived : bool
        Whether the values found are those that miss least.
    """

    normalised: FloatArray
    redundancy: FloatArray
    related: FloatArray
    limit: float
    chi_squared: float
    degrees_of_freedom: float
    probability: float
    arrived: bool

    @classmethod
    def of(
        cls, fit: Fit, rows: int, begin: FloatArray, deviations: FloatArray, count: int
    ) -> "Agreement":
        """Look at a fit; what is at a bound is held there.

        The first `rows` of what it misses are readings, its first `count` values no factors; with
        what all were thought to be, and the standard uncertainties of that.
        """
        free = ~fit.bound
        slopes = fit.slopes[:rows, free] * deviations[free]
        back = (begin - fit.point)[free] / deviations[free]
        missed = -fit.missed[:rows]
        ways, size, _ = np.linalg.svd(slopes)
        told = np.zeros(rows)
        told[: len(size)] = size**2
        inverse = (ways / (1.0 + told)) @ ways.T
        own = np.maximum(np.diag(inverse), 1e-300)
        normalised = missed / np.sqrt(own)
        # Where the fit stopped short, going on along its slopes would make up for more.
        short = float(np.max(np.abs(missed - inverse @ (missed - slopes @ back))))
        of_meters = slopes[:, int(free[:count].sum()) :]
        errors = np.eye(rows) + of_meters @ of_meters.T
        left = errors @ inverse
        weights = np.clip(np.real(np.linalg.eigvals(left)), 0.0, 1.0)
        total, square = float(weights.sum()), float((weights**2).sum())
        chi = float(missed @ errors @ missed)
        held = own > LEAST_REDUNDANCY
        freedom = total**2 / square if square > 0.0 else 0.0
        is_checked = bool(held.any()) and square > 0.0
        chi = chi * total / square if square > 0.0 else 0.0
        tail = (
            chi_squared_tail(chi_squared=chi, degrees_of_freedom=freedom)
            if is_checked
            else math.nan
        )
        share = 1.0 - (1.0 - ALARMS_OF_ONE) ** (1.0 / max(int(held.sum()), 1))
        limit = NormalDist().inv_cdf(1.0 - 0.5 * share)
        return cls(
            normalised, own, correlations(inverse), limit, chi, freedom, tail, short <= SHORT
        )

    @property
    def is_checked(self) -> bool:
        """Whether anything was read twice over."""
        return not math.isnan(self.probability)

    def is_held(self, row: int) -> bool:
        """Whether the others hold a reading."""
        return bool(self.redundancy[row] > LEAST_REDUNDANCY)

    @property
    def agrees(self) -> bool:
        """Whether nothing speaks against the readings."""
        far = np.abs(self.normalised)[self.redundancy > LEAST_REDUNDANCY]
        if not self.arrived:
            return False
        return not self.is_checked or bool(
            (not len(far) or far.max() <= self.limit) and self.probability >= ALARMS_OF_ALL
        )

    def worst(self) -> list[int]:
        """Rows of the reading that is furthest off, and of those it cannot be told apart from."""
        far = np.where(self.redundancy > LEAST_REDUNDANCY, np.abs(self.normalised), 0.0)
        first = int(np.argmax(far))
        near = np.flatnonzero(np.abs(self.related[first]) >= COLLINEAR).tolist()
        return [first, *(row for row in near if row != first)]
