"""What speaks against a coil before any voltage is weighed: that it is not meant for this."""

from collections.abc import Mapping
from typing import Literal

import numpy as np

from lastvolt_service.operations.judging import FAIL, asked_if, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.data import CoilData, customary
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.physics import coil as physics
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    Words,
    given,
    negate,
    pick,
    plain,
)

Misfit = Literal["other_voltage", "overcharged", "perhaps_other_voltage", "short_use"]
MEANING = (
    "what is wrong before any voltage is weighed: nominal_v is not for a system of drive_v; no "
    "system has such a drive_v, the regulator is at fault; without a maximum_v, available_v is "
    "that of a system of less than nominal_v, or the feed is bad; or the coil does not stand its "
    "own nominal voltage for hours, and no duration_s is given; null for nothing"
)
_CODES: tuple[str | None, ...] = (
    "other_voltage",
    "overcharged",
    "perhaps_other_voltage",
    "short_use",
    None,
)
_LOWEST_NOMINAL_V, _HIGHEST_NOMINAL_V = 6.0, 24.0
# Of its nominal voltage: so little a system has whose battery is flat, and that is no other one.
LEAST_SHARE = 0.75
# Of the same, what is left while an engine starts, as is published of 12 V.
CRANKS_SHARE = 0.5
# The coil of a relay takes more than so much at its nominal voltage: one that takes less is open,
# or its ohms were read over what lies across it. [W]. Common practice.
LEAST_COIL_W = 0.05


def is_overcharged(nominal_v: Numbers, maximum_v: Numbers) -> Flags:
    """Say where a voltage is too high for a system and too low for the next: of none at all."""
    system_v = nominal_of(nominal_v, NOT_GIVEN)
    next_v = pick(system_v < _HIGHEST_NOMINAL_V, 2 * system_v, np.inf)
    found: Flags = (maximum_v > customary(nominal_v).limit_v) & (maximum_v < next_v)
    return found


def is_for_other_system(nominal_v: Numbers, maximum_v: Numbers) -> Flags:
    """Say where a nominal voltage is not that of a system with this highest lasting voltage."""
    too_high = LEAST_SHARE * nominal_v > maximum_v
    over = maximum_v > customary(nominal_v).limit_v
    found: Flags = too_high | (over & negate(is_overcharged(nominal_v, maximum_v)))
    return found


def arrives_too_little(asked: CoilData, available_v: Numbers) -> Flags:
    """Say where what arrives is that of a lower system, or of a bad feed: none knows which.

    A lower system has from what is left of it while it cranks up to what it charges with.
    """
    system_v = nominal_of(asked.nominal_v, NOT_GIVEN)
    lower_v = pick(system_v > _LOWEST_NOMINAL_V, system_v / 2, NOT_GIVEN)
    most_v = customary(lower_v).limit_v
    is_one = (available_v >= CRANKS_SHARE * lower_v) & (available_v <= most_v)
    found: Flags = negate(given(asked.maximum_v)) & is_one
    return found


def as_good_as_open(asked: CoilData) -> Checked:
    """Judge whether a coil has ohms of which any relay closes, whatever arrives."""
    judged = stays_within(asked.coil_resistance_ohm, asked.nominal_v**2 / LEAST_COIL_W, 0.0)
    told = asked_if(judged.verdict == FAIL, judged)
    return Checked("coil_resistance", told, "ohm", COMMON_PRACTICE)


def misfit(
    asked: CoilData,
    available_v: Numbers,
    drive_v: Numbers,
    duration_s: Numbers,
    limit_c: Numbers,
    thermal: Mapping[str, Numbers],
) -> Texts:
    """Name what is wrong with a coil, or with each of many; see `MEANING`."""
    cold = {**thermal, "resistance_ohm": asked.coil_resistance_ohm}
    rise_k = limit_c - asked.reference_temperature_c
    stands_v = plain(physics.voltage_at_rise(rise_k=rise_k, **cold))
    flags = (
        is_for_other_system(asked.nominal_v, drive_v),
        is_overcharged(asked.nominal_v, drive_v),
        arrives_too_little(asked, available_v),
        negate(given(duration_s)) & (stands_v < asked.nominal_v),
    )
    if any(isinstance(each, np.ndarray) for each in flags):
        places = np.select([np.asarray(each) for each in flags], range(4), 4)
        return Words(_CODES, places.astype(np.intp))
    return next((code for code, each in zip(_CODES, flags, strict=False) if each), None)
