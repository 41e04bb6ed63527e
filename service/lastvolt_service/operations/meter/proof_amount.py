"""A quantity that a proof tells, with its uncertainty."""

import math
from dataclasses import dataclass, replace

from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity at what was found, its standard uncertainty, and between what it surely is."""

    value: float
    deviation: float
    least: float = -math.inf
    most: float = math.inf

    @property
    def low(self) -> float:
        """It is not less, 19 times of 20."""
        return max(self.value - COVERAGE_FACTOR * self.deviation, min(self.least, self.value))

    @property
    def high(self) -> float:
        """It is not more, 19 times of 20."""
        return min(self.value + COVERAGE_FACTOR * self.deviation, max(self.most, self.value))

    def within(self, least: float, most: float) -> "Amount":
        """The same, where it surely is no less and no more."""
        return replace(self, least=least, most=most)
