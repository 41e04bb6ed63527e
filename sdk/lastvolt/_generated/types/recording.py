# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.recording`."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from lastvolt._generated.types.common import Result
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class Sampling(Model):
    """How the recording was taken.

    Attributes
    ----------
    samples : int
        How many.
    step_s : float
        From one to the next: the median. [s]
    longest_step_s : float
        The longest time between two. [s]
    gaps : int
        Steps of more than five times the usual one.
    """

    samples: int
    """How many."""
    step_s: float
    """From one to the next: the median. [s]"""
    longest_step_s: float
    """The longest time between two. [s]"""
    gaps: int
    """Steps of more than five times the usual one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Event(Model):
    """Something that happened.

    Attributes
    ----------
    event : {"on", "pull_in", "off"}
        On, off: switched; `pull_in`: the current of a winding dips while it rises, for its plunger
        or armature moves, and rises on once that has stopped.
    time_s : float
        When, in the middle of the two that follow. [s]
    earliest_s : float
        The last sample before. [s]
    latest_s : float
        The first sample after. [s]
    """

    event: Literal["on", "pull_in", "off"]
    """On, off: switched; `pull_in`: the current of a winding dips while it rises, for its
    plunger or armature moves, and rises on once that has stopped.
    """
    time_s: float
    """When, in the middle of the two that follow. [s]"""
    earliest_s: float
    """The last sample before. [s]"""
    latest_s: float
    """The first sample after. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounces(Model):
    """How often a contact opened again after it had closed, by up to 0.1 s each.

    Attributes
    ----------
    times : int
        How often.
    longest_s : float
        The longest that it was open. [s]
    last_s : float
        From the switching on to the end of the last one; 0 without any. [s]
    """

    times: int
    """How often."""
    longest_s: float
    """The longest that it was open. [s]"""
    last_s: float
    """From the switching on to the end of the last one; 0 without any. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing(Model):
    """How long it was on, and how it came on.

    Attributes
    ----------
    times_on : int
        How often it was on, bounces not counted unless it chatters; the rest is of the first.
    chatters_every_s : float or None
        From one closing to the next where it goes on and off again and again, more often than every
        0.3 s; else None. [s]
    on_s : float or None
        How long it was on; None where the recording begins or ends meanwhile. [s]
    bounces : Bounces or None
        Of the contact that switched it on; None where that is not recorded.
    pull_in_after_s : float or None
        From the switching on to the pull-in, if any is seen. [s]
    """

    times_on: int
    """How often it was on, bounces not counted unless it chatters; the rest is of the first."""
    chatters_every_s: float | None
    """From one closing to the next where it goes on and off again and again, more often than
    every 0.3 s; else None. [s]
    """
    on_s: float | None
    """How long it was on; None where the recording begins or ends meanwhile. [s]"""
    bounces: Bounces | None
    """Of the contact that switched it on; None where that is not recorded."""
    pull_in_after_s: float | None
    """From the switching on to the pull-in, if any is seen. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class AmperesRead(Model):
    """A current and its uncertainty.

    Attributes
    ----------
    value_a : float
        Most likely value. [A]
    low_a : float
        Lower end of the interval that holds it 19 times of 20. [A]
    high_a : float
        Its upper end. [A]
    standard_uncertainty_a : float
        Standard uncertainty, as JCGM 100 has it. [A]
    coverage_factor : float
        Half of that interval over the standard uncertainty: Student's factor for 95 %.
    """

    value_a: float
    """Most likely value. [A]"""
    low_a: float
    """Lower end of the interval that holds it 19 times of 20. [A]"""
    high_a: float
    """Its upper end. [A]"""
    standard_uncertainty_a: float
    """Standard uncertainty, as JCGM 100 has it. [A]"""
    coverage_factor: float
    """Half of that interval over the standard uncertainty: Student's factor for 95 %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amperes(Model):
    """The current.

    Attributes
    ----------
    rest : AmperesRead or None
        While it is off; None where it never is.
    plateau : AmperesRead
        What it settles to: over the last half of the time on.
    settles : bool
        Whether it changes by less than a twentieth there.
    peak_a : float
        Largest that was read. [A]
    peak_time_s : float
        When. [s]
    is_inrush : bool
        Whether that stands out over the plateau.
    peak_limit_a : float or None
        What a peak between two samples may have been; None where nothing tells, for the inrush
        stands on one sample, or lasts less than a step. [A]
    """

    rest: AmperesRead | None
    """While it is off; None where it never is."""
    plateau: AmperesRead
    """What it settles to: over the last half of the time on."""
    settles: bool
    """Whether it changes by less than a twentieth there."""
    peak_a: float
    """Largest that was read. [A]"""
    peak_time_s: float
    """When. [s]"""
    is_inrush: bool
    """Whether that stands out over the plateau."""
    peak_limit_a: float | None
    """What a peak between two samples may have been; None where nothing tells, for the inrush
    stands on one sample, or lasts less than a step. [A]
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltsRead(Model):
    """A voltage and its uncertainty.

    Attributes
    ----------
    value_v : float
        Most likely value. [V]
    low_v : float
        Lower end of the interval that holds it 19 times of 20. [V]
    high_v : float
        Its upper end. [V]
    standard_uncertainty_v : float
        Standard uncertainty, as JCGM 100 has it. [V]
    coverage_factor : float
        Half of that interval over the standard uncertainty: Student's factor for 95 %.
    """

    value_v: float
    """Most likely value. [V]"""
    low_v: float
    """Lower end of the interval that holds it 19 times of 20. [V]"""
    high_v: float
    """Its upper end. [V]"""
    standard_uncertainty_v: float
    """Standard uncertainty, as JCGM 100 has it. [V]"""
    coverage_factor: float
    """Half of that interval over the standard uncertainty: Student's factor for 95 %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Volts(Model):
    """The voltage.

    Attributes
    ----------
    rest : VoltsRead or None
        While it is off; None where it never is.
    plateau : VoltsRead
        Over the last half of the time on.
    lowest_v : float
        Lowest that was read while it was on, or at all where it never is. [V]
    highest_v : float
        Highest likewise. [V]
    """

    rest: VoltsRead | None
    """While it is off; None where it never is."""
    plateau: VoltsRead
    """Over the last half of the time on."""
    lowest_v: float
    """Lowest that was read while it was on, or at all where it never is. [V]"""
    highest_v: float
    """Highest likewise. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class OhmsRead(Model):
    """A resistance and its uncertainty.

    Attributes
    ----------
    value_ohm : float
        Most likely value. [ohm]
    low_ohm : float
        Lower end of the interval that holds it 19 times of 20. [ohm]
    high_ohm : float
        Its upper end. [ohm]
    standard_uncertainty_ohm : float
        Standard uncertainty, as JCGM 100 has it. [ohm]
    coverage_factor : float
        Half of that interval over the standard uncertainty: Student's factor for 95 %.
    is_told : bool
        Whether that is told apart from none at all.
    """

    value_ohm: float
    """Most likely value. [ohm]"""
    low_ohm: float
    """Lower end of the interval that holds it 19 times of 20. [ohm]"""
    high_ohm: float
    """Its upper end. [ohm]"""
    standard_uncertainty_ohm: float
    """Standard uncertainty, as JCGM 100 has it. [ohm]"""
    coverage_factor: float
    """Half of that interval over the standard uncertainty: Student's factor for 95 %."""
    is_told: bool
    """Whether that is told apart from none at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedLine(Model):
    """How the resistance was found: a line of volts over amperes.

    Attributes
    ----------
    at_no_current : VoltsRead
        Volts where the line meets no current: of a battery, what it has unloaded.
    skew_s : float
        By how much the volts come later than the amperes; taken out. [s]
    skew_uncertainty_s : float
        Standard uncertainty of that; counted in the resistance. [s]
    samples : int
        That lie on the line.
    new_samples : float
        As many as tell something new, since noise that lasts repeats itself.
    """

    at_no_current: VoltsRead
    """Volts where the line meets no current: of a battery, what it has unloaded."""
    skew_s: float
    """By how much the volts come later than the amperes; taken out. [s]"""
    skew_uncertainty_s: float
    """Standard uncertainty of that; counted in the resistance. [s]"""
    samples: int
    """That lie on the line."""
    new_samples: float
    """As many as tell something new, since noise that lasts repeats itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warming(Model):
    """By how much a winding warmed from the switching on to the end, and its uncertainty.

    Attributes
    ----------
    value_k : float
        Most likely value. [K]
    low_k : float
        Lower end of the interval that holds it 19 times of 20. [K]
    high_k : float
        Its upper end. [K]
    standard_uncertainty_k : float
        Standard uncertainty, as JCGM 100 has it. [K]
    coverage_factor : float
        Half of that interval over the standard uncertainty: Student's factor for 95 %.
    is_told : bool
        Whether that is told apart from none at all.
    temperature_c : float
        What it has then. [degC]
    over_s : float
        Time from the switching on to then. [s]
    """

    value_k: float
    """Most likely value. [K]"""
    low_k: float
    """Lower end of the interval that holds it 19 times of 20. [K]"""
    high_k: float
    """Its upper end. [K]"""
    standard_uncertainty_k: float
    """Standard uncertainty, as JCGM 100 has it. [K]"""
    coverage_factor: float
    """Half of that interval over the standard uncertainty: Student's factor for 95 %."""
    is_told: bool
    """Whether that is told apart from none at all."""
    temperature_c: float
    """What it has then. [degC]"""
    over_s: float
    """Time from the switching on to then. [s]"""


RecordedReadingReading = Literal[
    "amperes_on",
    "volts_on",
    "volts_at_rest",
    "ohms_of_path",
    "ohms_of_battery",
    "ohms_before_load",
    "ohms_of_load",
]
"""What `RecordedReading.reading` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedReading(Model):
    """A reading that the recording gives, for a fit of the circuit.

    Attributes
    ----------
    reading : RecordedReadingReading
        What was read: say where, and in which case.
    values : mapping of str to float
        `value_v`, `value_a` or `value_ohm`, `standard_uncertainty` of the same unit, and
        `duration_s`.
    """

    reading: RecordedReadingReading
    """What was read: say where, and in which case."""
    values: Mapping[str, float] = field(hash=False)
    """`value_v`, `value_a` or `value_ohm`, `standard_uncertainty` of the same unit, and
    `duration_s`.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordingAnswer(Result):
    """Answer of ``recording``.

    Attributes
    ----------
    switched : bool
        Whether anything is switched on or off; if not, levels are those of all samples.
    level_message : str or None
        What is said of the volts while it is on, where they are no good or hardly good enough; else
        None.
    sampling : Sampling
        How it was taken.
    events : tuple of Event
        What happened the first time that it was on, in order.
    timing : Timing
        How long it was on, and how it came on.
    current : Amperes or None
        The amperes; None without `current_a`.
    volts : Volts or None
        The volts; None without `volts_v`.
    resistance : OhmsRead or None
        Of the path, of the battery or of all there is before the load, as `between` says; None
        where volts over amperes do not tell.
    line : FittedLine or None
        How it was found.
    load_resistance : OhmsRead or None
        Volts over amperes at the load, on the plateau; None elsewhere.
    warming : Warming or None
        Of the winding, from volts over amperes at it: the supply falls meanwhile, too, so that
        amperes alone tell nothing; None where it is not known.
    is_reversed : bool
        Whether the clamp sits the wrong way round: signs of the amperes are turned here.
    readings : tuple of RecordedReading
        What it gives for a fit of the circuit.
    """

    switched: bool
    """Whether anything is switched on or off; if not, levels are those of all samples."""
    level_message: str | None
    """What is said of the volts while it is on, where they are no good or hardly good enough;
    else None.
    """
    sampling: Sampling
    """How it was taken."""
    events: tuple[Event, ...]
    """What happened the first time that it was on, in order."""
    timing: Timing
    """How long it was on, and how it came on."""
    current: Amperes | None
    """The amperes; None without `current_a`."""
    volts: Volts | None
    """The volts; None without `volts_v`."""
    resistance: OhmsRead | None
    """Of the path, of the battery or of all there is before the load, as `between` says; None
    where volts over amperes do not tell.
    """
    line: FittedLine | None
    """How it was found."""
    load_resistance: OhmsRead | None
    """Volts over amperes at the load, on the plateau; None elsewhere."""
    warming: Warming | None
    """Of the winding, from volts over amperes at it: the supply falls meanwhile, too, so that
    amperes alone tell nothing; None where it is not known.
    """
    is_reversed: bool
    """Whether the clamp sits the wrong way round: signs of the amperes are turned here."""
    readings: tuple[RecordedReading, ...]
    """What it gives for a fit of the circuit."""
