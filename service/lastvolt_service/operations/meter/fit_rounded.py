"""Volts that were written down with fewer digits than their meter shows."""

import math
from collections.abc import Sequence

from lastvolt_service.fields import known
from lastvolt_service.operations.meter.fit_told import sentence
from lastvolt_service.operations.meter.reading_fields import MeterData, MeterReading, meter_of
from lastvolt_service.words.amounts import amount

# Steps of last digits, the coarsest first. [V]
STEPS = (1.0, 0.1, 0.01, 0.001)
# Of one reading in ten the digit that is not written is a zero: of so many it is no chance.
ENOUGH = 4
# Of a step, what a number of JSON is off a multiple of it.
ROUNDING = 1e-6


def rounded(readings: Sequence[MeterReading], meters: Sequence[MeterData]) -> str | None:
    """Say that all volts are multiples of a step that their meters would show finer.

    No number of JSON tells 0.04 from 0.040. Nothing is reckoned otherwise for it: it is asked for.
    """
    read = [
        (abs(each.value), meter_of(each, meters))
        for each in readings
        if each.kind == "volts" and not known(each.own_uncertainty) and each.value != 0.0
    ]
    taken = [(value, meter) for value, meter in read if not known(meter.resolution_v)]
    for step in STEPS:
        if all(_is_multiple(value, step) for value, _ in taken):
            finer = [value for value, meter in taken if meter.step(value) < (1 - ROUNDING) * step]
            enough = len(finer) >= ENOUGH
            decimals = round(-math.log10(step))
            text = amount(step, "V", decimals=decimals)
            return sentence("rounded", step=text) if enough else None
    return None


def _is_multiple(value: float, step: float) -> bool:
    return abs(value / step - round(value / step)) <= ROUNDING
