"""What is wrong with a solenoid that no path, battery or cooling makes good."""

from typing import Literal, get_args

import numpy as np

from lastvolt_service.operations.common_fields import LEAST_OF_24_V
from lastvolt_service.operations.judging import FAIL, MARGINAL, PASS
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.misfit import is_overcharged
from lastvolt_service.operations.solenoids.descriptions import (
    Solenoid,
    SolenoidWindings,
    judge_made_for,
)
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, Texts, Words, negate

SolenoidFault = Literal[
    "overcharged",
    "for_less",
    "pull_in_open",
    "hold_in_open",
    "for_more",
    "brushes",
    "hold_in_data",
    "perhaps_for_less",
]
MEANING = (
    "what no path, battery or cooling makes good: no system has such a supply, the regulator is at "
    "fault; it is made for a lower voltage; its pull-in or its hold-in winding is open; it is made "
    "for a higher voltage; its pull-in winding gets too little through the motor's brushes; it "
    "cannot hold as described, though no winding is open; it may be made for a lower voltage; null "
    "for nothing"
)
_CODES: tuple[str | None, ...] = (*get_args(SolenoidFault), None)
# A pull-in winding has a third of the hold-in winding's resistance, about. Common practice.
OPEN_PULL_IN_TIMES, OPEN_HOLD_IN_TIMES = 10.0, 30.0


def overcharged(bare: Solenoid, source_v: Numbers) -> Flags:
    """Say where a supply is too high for a 12 V system and of none of 24 V, as the solenoid is."""
    too_high = is_overcharged(12.0, source_v) & (source_v < LEAST_OF_24_V)
    fits_12 = judge_made_for(bare.pull_in_v, 12.0).verdict != FAIL
    fits_24 = judge_made_for(bare.pull_in_v, 24.0).verdict == PASS
    found: Flags = too_high & fits_12 & negate(fits_24)
    return found


def solenoid_fault(
    solenoid: Solenoid,
    bare: Solenoid,
    change: Numbers,
    made_for: Checked,
    best_v: Numbers,
    is_runaway: Flags,
    windings: SolenoidWindings | None,
) -> Texts:
    """Name what is wrong with a solenoid, or with each of many; see `MEANING`.

    Parameters
    ----------
    solenoid, bare : Solenoid
        As it is, and without the resistance of its motor.
    change : float or ndarray
        Resistance of its copper, hot, over that at its reference.
    made_for : Checked
        Whether it is made for the system.
    best_v : float or ndarray
        The most that the system gives. [V]
    is_runaway : bool or ndarray of bool
        Whether the regulator is at fault.
    windings : SolenoidWindings or None
        As they are given; only their resistances tell an open one.
    """
    pull_ohm = windings.pull_in_resistance_ohm if windings else NOT_GIVEN
    hold_ohm = windings.hold_in_resistance_ohm if windings else NOT_GIVEN
    flags = (
        is_runaway,
        made_for.judged.verdict == FAIL,
        pull_ohm >= OPEN_PULL_IN_TIMES * hold_ohm,
        hold_ohm >= OPEN_HOLD_IN_TIMES * pull_ohm,
        bare.pull_in_v > best_v,
        (solenoid.pull_in_v * change > best_v) & (bare.pull_in_v * change <= best_v),
        # What moves the plunger holds it.
        (solenoid.hold_in_v > best_v) & (solenoid.pull_in_v <= best_v),
        made_for.judged.verdict == MARGINAL,
    )
    if any(isinstance(each, np.ndarray) for each in flags):
        places = np.select([np.asarray(each) for each in flags], range(len(flags)), len(flags))
        return Words(_CODES, places.astype(np.intp))
    return next((code for code, each in zip(_CODES, flags, strict=False) if each), None)
