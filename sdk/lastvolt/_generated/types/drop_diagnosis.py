# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.drop_diagnosis`."""

from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import Construction, Material, Number, Part, Result, Standard
from lastvolt.answers import Model


class Meter(TypedDict):
    """The voltmeter: what its last digit is worth, and how far off it may be."""

    resolution_v: NotRequired[Number]
    """One step of the last digit, in the range of these readings. From 0.000001 to 1, by default
    0.01. [V]
    """
    accuracy_percent: NotRequired[Number]
    """Error of the meter, of what it reads. From 0 to 20, by default 0.5. [%]"""


class WireReading(TypedDict):
    """A reading across a wire, from one end of its metal to the other."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    kind: Literal["wire"]
    """Wire."""
    measured_v: Number
    """Across the part, with the current flowing; below zero where the leads are swapped. From
    -60 to 60. [V]
    """
    material: NotRequired[Material]
    """Metal of the conductor. By default ``"copper"``."""
    construction: NotRequired[Construction]
    """Stranded or solid. By default ``"stranded"``."""
    size: str
    """Conductor size: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'."""
    standard: NotRequired[Standard]
    """Standard of the size; by default AWG, SAE or IEC 60228 by the way it is written."""
    length_m: Number
    """Length of the wire, one way. From 0 to 1000. [m]"""
    temperature_c: NotRequired[Number]
    """Temperature of the conductor. From -60 to 300, by default 20. [degC]"""


class ContactReading(TypedDict):
    """A reading across a contact or a joint."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    kind: Literal["contact"]
    """Contact."""
    measured_v: Number
    """Across the part, with the current flowing; below zero where the leads are swapped. From
    -60 to 60. [V]
    """
    part: Part
    """What makes the contact."""


Reading = WireReading | ContactReading
"""`WireReading` or `ContactReading`, told apart by `kind`."""

DropDiagnosisAdvice = Literal[
    "mend_the_wiring", "open_part", "path_is_sound", "not_proven", "unmeasured_part"
]
"""What `DropDiagnosis.advice` may be."""

Reason = Literal[
    "excess_proven",
    "open_part",
    "load_open",
    "shorted",
    "leads_swapped",
    "lost_elsewhere",
    "read_twice",
    "readings_contradict",
    "current_contradicts",
    "trickle",
    "too_coarse",
    "too_thin",
    "too_thin_at_least",
    "may_be_too_thin",
    "draws_too_much",
    "parts_are_sound",
]
"""What `DropDiagnosis.reason` may be."""

SupplyIs = Literal[
    "too_low", "low", "low_unless_cranking", "too_high", "unsettled", "of_other_system"
]
"""What `DropDiagnosis.supply_is` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDiagnosis(Model):
    """What one reading says of its part.

    Attributes
    ----------
    name : str
        The part as the request names it.
    kind : str
        Wire or contact.
    part : str or None
        What makes the contact; None for a wire.
    measured_v : float
        What the meter shows. [V]
    uncertainty_v : float
        Largest error of that reading. [V]
    expected_v : float
        Of a new wire at this current and temperature, or the most that a sound contact drops. [V]
    excess_v : float
        Measured over expected; 0 where it drops no more. [V]
    excess_uncertainty_v : float
        Largest error of the excess: of the reading, of what is expected, and of readings that
        contradict each other. [V]
    excess_resistance_ohm : float
        The excess as a resistance, at the current. [ohm]
    excess_at_work_v : float or None
        The excess that it would be at `working_current_a`; None where all of the supply sends no
        such current through the part. [V]
    proven : bool
        Whether the excess is beyond its largest error.
    rank : int
        1 is the part that gives the load most when mended.
    regained_v : float
        What the load gains when the excess is mended: a load of constant resistance with
        `load_voltage_v`, of constant current without it. [V]
    share_percent : float
        Of all that is measured; 0 where nothing drops. [%]
    """

    name: str
    """The part as the request names it."""
    kind: str
    """Wire or contact."""
    part: str | None
    """What makes the contact; None for a wire."""
    measured_v: float
    """What the meter shows. [V]"""
    uncertainty_v: float
    """Largest error of that reading. [V]"""
    expected_v: float
    """Of a new wire at this current and temperature, or the most that a sound contact drops. [V]"""
    excess_v: float
    """Measured over expected; 0 where it drops no more. [V]"""
    excess_uncertainty_v: float
    """Largest error of the excess: of the reading, of what is expected, and of readings that
    contradict each other. [V]
    """
    excess_resistance_ohm: float
    """The excess as a resistance, at the current. [ohm]"""
    excess_at_work_v: float | None
    """The excess that it would be at `working_current_a`; None where all of the supply sends no
    such current through the part. [V]
    """
    proven: bool
    """Whether the excess is beyond its largest error."""
    rank: int
    """1 is the part that gives the load most when mended."""
    regained_v: float
    """What the load gains when the excess is mended: a load of constant resistance with
    `load_voltage_v`, of constant current without it. [V]
    """
    share_percent: float
    """Of all that is measured; 0 where nothing drops. [%]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DropDiagnosis(Result):
    """Answer of ``drop-diagnosis``.

    Attributes
    ----------
    advice : DropDiagnosisAdvice
        `mend_the_wiring`: an excess is proven; `open_part`: nearly all of the supply stands across
        a part or the load, and no current flows; `unmeasured_part`: voltage is lost where nothing
        was read; `not_proven`: the readings cannot tell; `path_is_sound`: no part can hide an
        excess that matters.
    reason : Reason
        Why: an excess is proven; a part is open; the load is open or off; it is shorted; leads are
        swapped; voltage is lost elsewhere; a part was read within another; readings, load and
        supply contradict each other; the wires contradict the current; it is a trickle; an excess
        that matters could hide within the errors; all parts are sound and together they drop too
        much; they do whatever the errors hide, and one may be poor besides; all parts are sound,
        and whether a wire bears the current is not known; all parts are sound, and the load draws
        too much; all parts are sound.
    mend_first : tuple of str
        Parts of proven excess, the most worthwhile first, or what is open.
    overlap : tuple of str
        Parts without which the readings make up the supply: read twice.
    too_hot : tuple of str
        Wires that the current at work overheats in the best of insulation and place.
    may_be_too_hot : tuple of str
        Wires that bear the current at work in some insulation and place, and not in all.
    load_is : {"overdrawn", "shorted"} or None
        Whether the load is looked at first: overdrawn where far more than `working_current_a`
        flows, or more and a wire burns; shorted where it keeps next to nothing while more flows
        than any load takes so; else None.
    sound_path_beyond_v : float or None
        What the path drops beyond its limit, once these are mended: its wires are too thin or too
        long; None where it does not, or nothing is to be mended. [V]
    order : {"wires_first", "wires_after"} or None
        Whether that is more than mending them brings; None where it is none.
    largest_drop : str
        The part that drops most: of the wires, where half of what they drop makes up for what is
        lost beyond the limit, else of the wires or of the contacts, whichever drop more.
    supply_is : SupplyIs or None
        Whether the supply itself is at fault, wherever the path may be, too: low for a warm battery
        that cranks; `low_unless_cranking`: flat, unless the starter turned; unsettled where a 6 V
        system or a flat 12 V battery may be read.
    supply_first : bool
        Whether the supply falls short by more volts than mending the path brings.
    next_message : str or None
        Which reading to take next, in a sentence; None where none tells more.
    swapped : tuple of str
        Parts read with the leads the wrong way round.
    regained_v : float
        What the load gains when all of these are mended. [V]
    total_measured_v : float
        Sum of the readings. [V]
    total_uncertainty_v : float
        Largest error of that sum. [V]
    unaccounted_v : float or None
        Supply less load less readings: lost where nothing was read, or, below zero, read twice;
        None without `supply_v` and `load_voltage_v`. [V]
    unaccounted_uncertainty_v : float or None
        Largest error of that. [V]
    current_at_work_a : float
        Current that limits and heat are judged at: what flows at work, or flowed where that is not
        given. [A]
    nominal_v : float
        Nominal voltage of the system that the limits are for. [V]
    readings : tuple of PartDiagnosis
        Every reading in order.
    """

    advice: DropDiagnosisAdvice
    """`mend_the_wiring`: an excess is proven; `open_part`: nearly all of the supply stands
    across a part or the load, and no current flows; `unmeasured_part`: voltage is lost where
    nothing was read; `not_proven`: the readings cannot tell; `path_is_sound`: no part can hide
    an excess that matters.
    """
    reason: Reason
    """Why: an excess is proven; a part is open; the load is open or off; it is shorted; leads
    are swapped; voltage is lost elsewhere; a part was read within another; readings, load and
    supply contradict each other; the wires contradict the current; it is a trickle; an excess
    that matters could hide within the errors; all parts are sound and together they drop too
    much; they do whatever the errors hide, and one may be poor besides; all parts are sound, and
    whether a wire bears the current is not known; all parts are sound, and the load draws too
    much; all parts are sound.
    """
    mend_first: tuple[str, ...]
    """Parts of proven excess, the most worthwhile first, or what is open."""
    overlap: tuple[str, ...]
    """Parts without which the readings make up the supply: read twice."""
    too_hot: tuple[str, ...]
    """Wires that the current at work overheats in the best of insulation and place."""
    may_be_too_hot: tuple[str, ...]
    """Wires that bear the current at work in some insulation and place, and not in all."""
    load_is: Literal["overdrawn", "shorted"] | None
    """Whether the load is looked at first: overdrawn where far more than `working_current_a`
    flows, or more and a wire burns; shorted where it keeps next to nothing while more flows than
    any load takes so; else None.
    """
    sound_path_beyond_v: float | None
    """What the path drops beyond its limit, once these are mended: its wires are too thin or too
    long; None where it does not, or nothing is to be mended. [V]
    """
    order: Literal["wires_first", "wires_after"] | None
    """Whether that is more than mending them brings; None where it is none."""
    largest_drop: str
    """The part that drops most: of the wires, where half of what they drop makes up for what is
    lost beyond the limit, else of the wires or of the contacts, whichever drop more.
    """
    supply_is: SupplyIs | None
    """Whether the supply itself is at fault, wherever the path may be, too: low for a warm
    battery that cranks; `low_unless_cranking`: flat, unless the starter turned; unsettled where
    a 6 V system or a flat 12 V battery may be read.
    """
    supply_first: bool
    """Whether the supply falls short by more volts than mending the path brings."""
    next_message: str | None
    """Which reading to take next, in a sentence; None where none tells more."""
    swapped: tuple[str, ...]
    """Parts read with the leads the wrong way round."""
    regained_v: float
    """What the load gains when all of these are mended. [V]"""
    total_measured_v: float
    """Sum of the readings. [V]"""
    total_uncertainty_v: float
    """Largest error of that sum. [V]"""
    unaccounted_v: float | None
    """Supply less load less readings: lost where nothing was read, or, below zero, read twice;
    None without `supply_v` and `load_voltage_v`. [V]
    """
    unaccounted_uncertainty_v: float | None
    """Largest error of that. [V]"""
    current_at_work_a: float
    """Current that limits and heat are judged at: what flows at work, or flowed where that is
    not given. [A]
    """
    nominal_v: float
    """Nominal voltage of the system that the limits are for. [V]"""
    readings: tuple[PartDiagnosis, ...]
    """Every reading in order."""
