"""What is wrong with a solenoid that no path, battery or cooling makes good."""

from typing import Literal

import numpy as np

from lastvolt_service.operations.judging import FAIL
from lastvolt_service.operations.solenoids.descriptions import Solenoid, judge_made_for
from lastvolt_service.rows import Numbers, Texts, Words

SolenoidFault = Literal["for_less", "for_more", "brushes", "hold_in_open"]
MEANING = (
    "what no path, battery or cooling makes good: it is made for a lower voltage, or for a higher "
    "one; its pull-in winding gets too little through the motor's brushes; its hold-in winding is "
    "open; null for nothing"
)
_CODES: tuple[str | None, ...] = ("for_less", "for_more", "brushes", "hold_in_open", None)


def solenoid_fault(
    solenoid: Solenoid, bare: Solenoid, change: Numbers, nominal_v: Numbers, best_v: Numbers
) -> Texts:
    """Name what is wrong with a solenoid, or with each of many; see `MEANING`.

    Parameters
    ----------
    solenoid, bare : Solenoid
        As it is, and without the resistance of its motor.
    change : float or ndarray
        Resistance of its copper, hot, over that at its reference.
    nominal_v, best_v : float or ndarray
        Of the system, and the most that it gives. [V]
    """
    flags = (
        judge_made_for(bare.pull_in_v, nominal_v).verdict == FAIL,
        bare.pull_in_v > best_v,
        (solenoid.pull_in_v * change > best_v) & (bare.pull_in_v * change <= best_v),
        # What moves the plunger holds it: a winding that needs so much more is none.
        (solenoid.hold_in_v > best_v) & (solenoid.pull_in_v <= best_v),
    )
    if any(isinstance(each, np.ndarray) for each in flags):
        places = np.select([np.asarray(each) for each in flags], range(4), 4)
        return Words(_CODES, places.astype(np.intp))
    return next((code for code, each in zip(_CODES, flags, strict=False) if each), None)
