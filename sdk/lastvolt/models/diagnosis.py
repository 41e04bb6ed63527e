"""Answers about readings on a live circuit."""

from dataclasses import dataclass
from typing import Literal

from lastvolt.models.base import Model, Result


@dataclass(frozen=True, slots=True)
class PartDiagnosis(Model):
    """What one reading says of its part.

    Attributes
    ----------
    name : str
        The part as the call names it.
    kind : str
        Wire or contact, in lower case.
    measured_v : float
        What the meter shows. [V]
    uncertainty_v : float
        Largest error of that reading. [V]
    expected_v : float
        Of a new wire at this current and temperature, or the most that a sound contact drops. [V]
    excess_v : float
        Measured over expected; 0 where it drops no more. [V]
    excess_uncertainty_v : float
        Largest error of the excess. [V]
    excess_resistance_ohm : float
        The excess as a resistance, at the current. [ohm]
    proven : bool
        Whether the excess is beyond its largest error.
    rank : int
        1 is the part that gives the load most when mended.
    regained_v : float
        What the load gains when the excess is mended. [V]
    share_percent : float
        Of all that is measured. [%]
    """

    name: str
    kind: str
    measured_v: float
    uncertainty_v: float
    expected_v: float
    excess_v: float
    excess_uncertainty_v: float
    excess_resistance_ohm: float
    proven: bool
    rank: int
    regained_v: float
    share_percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DropDiagnosis(Result):
    """Answer of `lastvolt.Client.drop_diagnosis`.

    Attributes
    ----------
    advice : str
        ``mend_the_wiring``, ``path_is_sound``, ``not_proven`` or ``unmeasured_part``.
    advice_text : str
        The same in words, and what to do.
    mend_first : tuple of str
        Parts of proven excess, the most worthwhile first.
    regained_v : float
        What the load gains when all of these are mended. [V]
    total_measured_v : float
        Sum of the readings. [V]
    total_uncertainty_v : float
        Largest error of that sum. [V]
    unaccounted_v : float or None
        Supply less load less readings; None where one of them is not given. [V]
    unaccounted_uncertainty_v : float or None
        Largest error of that. [V]
    nominal_v : float
        Nominal voltage of the system that the limits are for. [V]
    readings : tuple of PartDiagnosis
        Every reading in order.
    """

    advice: Literal["mend_the_wiring", "path_is_sound", "not_proven", "unmeasured_part"]
    advice_text: str
    mend_first: tuple[str, ...]
    regained_v: float
    total_measured_v: float
    total_uncertainty_v: float
    unaccounted_v: float | None
    unaccounted_uncertainty_v: float | None
    nominal_v: float
    readings: tuple[PartDiagnosis, ...]
