"""Readings that take part in a fit, each with its meter."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from lastvolt_service.fields import known
from lastvolt_service.operations.meter.reading_fields import MeterData, MeterReading
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading that takes part, with its meter.

    Attributes
    ----------
    index : int
        Its place in the request.
    reading, meter : MeterReading, MeterData
        As requested, or the usual one.
    turned : bool
        Whether its leads were the wrong way round.
    """

    index: int
    reading: MeterReading
    meter: MeterData
    turned: bool = False

    @property
    def value(self) -> float:
        """What it says, the leads put right."""
        return -self.reading.value if self.turned else self.reading.value

    @property
    def offset(self) -> float:
        """What the meter shows beside what is measured: ohms of its leads."""
        return self.meter.leads_ohm if self.reading.kind == "ohms" else 0.0

    @property
    def digits(self) -> float:
        """Standard uncertainty by its digits."""
        own = self.reading.own_uncertainty
        return own if known(own) else float(self.meter.digits(self.reading.value))

    @property
    def deviation(self) -> float:
        """Standard uncertainty by its digits and by its meter's factor."""
        return math.hypot(self.digits, self.meter.gain * self.value)

    @property
    def most_off(self) -> float:
        """How far off it may be, 19 times of 20, and never further than its meter's sheet says."""
        half = COVERAGE_FACTOR * self.deviation
        by_sheet = not known(self.reading.own_uncertainty) and self.reading.kind != "ohms"
        return min(half, self.meter.most_off(self.value)) if by_sheet else half


def meters_of(taken: Iterable[Taken]) -> list[MeterData]:
    """Meters of readings, each once, in the order in which they are met."""
    return list(dict.fromkeys(each.meter for each in taken))
