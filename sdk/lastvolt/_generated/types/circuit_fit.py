# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.circuit_fit`."""

from dataclasses import dataclass, field
from typing import Literal

from lastvolt._generated.types.common import Case, Circuit, Nominal, Result
from lastvolt._generated.types.diagnosis import Agreement
from lastvolt._generated.types.diagnosis_answers import NextReading
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class Decisive(Model):
    """Voltage at the load in the case that decides.

    Attributes
    ----------
    case : str
        The case.
    before_low_v : float or None
        Least within the bounds given; None without a state. [V]
    before_high_v : float or None
        Most within the bounds given. [V]
    voltage_v : float or None
        Most likely, after the readings; None, as the next three, where nothing explains them. [V]
    low_v : float or None
        It is not less, 19 times of 20, by all that would explain contradicting readings: each
        without the one that is wrong, or with the part at fault. [V]
    high_v : float or None
        It is not more, 19 times of 20. [V]
    standard_uncertainty_v : float or None
        Of the likeliest, by JCGM 100. [V]
    coverage_factor : float
        That widens it to 19 times of 20, 1.96.
    needed_v : float or None
        Lowest voltage that the load works at there. [V]
    """

    case: str
    """The case."""
    before_low_v: float | None
    """Least within the bounds given; None without a state. [V]"""
    before_high_v: float | None
    """Most within the bounds given. [V]"""
    voltage_v: float | None
    """Most likely, after the readings; None, as the next three, where nothing explains them. [V]"""
    low_v: float | None
    """It is not less, 19 times of 20, by all that would explain contradicting readings: each
    without the one that is wrong, or with the part at fault. [V]
    """
    high_v: float | None
    """It is not more, 19 times of 20. [V]"""
    standard_uncertainty_v: float | None
    """Of the likeliest, by JCGM 100. [V]"""
    coverage_factor: float
    """That widens it to 19 times of 20, 1.96."""
    needed_v: float | None
    """Lowest voltage that the load works at there. [V]"""


ConditionVerdict = Literal["fail", "undecided", "marginal", "likely", "pass", "unknown"]
"""What `Condition.verdict` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition(Model):
    """What a part is worth, or several that no reading tells apart.

    Attributes
    ----------
    parts : tuple of str
        Its name; of several, in the order of the current.
    kind : str
        Wire, resistance, relay, or what makes the contact; of several: several.
    case : str
        The case that tells.
    verdict : {"fail", "undecided", "marginal", "likely", "pass", "unknown"}
        Fail: poor; undecided: poor or sound, and a closer reading tells; marginal: a little worn;
        likely: sound as far as the meter tells, which is too coarse to be sure; pass: sound;
        unknown: no reading tells.
    drop_v : float
        Most likely across it there; of several the sum. [V]
    low_v : float
        It is not less, 19 times of 20. [V]
    high_v : float
        It is not more, 19 times of 20. [V]
    limit_v : float or None
        That a sound one drops at most, at this current; of one that is poor, at the most that may
        flow; of several the sum. [V]
    current_a : float
        Most likely through it; of several the least. [A]
    measure_between : tuple of str
        Nodes at the red and at the black lead; empty of several.
    is_read : bool
        Whether volts across it were read there.
    message : str
        The same in a sentence.
    """

    parts: tuple[str, ...]
    """Its name; of several, in the order of the current."""
    kind: str
    """Wire, resistance, relay, or what makes the contact; of several: several."""
    case: str
    """The case that tells."""
    verdict: ConditionVerdict
    """Fail: poor; undecided: poor or sound, and a closer reading tells; marginal: a little worn;
    likely: sound as far as the meter tells, which is too coarse to be sure; pass: sound;
    unknown: no reading tells.
    """
    drop_v: float
    """Most likely across it there; of several the sum. [V]"""
    low_v: float
    """It is not less, 19 times of 20. [V]"""
    high_v: float
    """It is not more, 19 times of 20. [V]"""
    limit_v: float | None
    """That a sound one drops at most, at this current; of one that is poor, at the most that may
    flow; of several the sum. [V]
    """
    current_a: float
    """Most likely through it; of several the least. [A]"""
    measure_between: tuple[str, ...]
    """Nodes at the red and at the black lead; empty of several."""
    is_read: bool
    """Whether volts across it were read there."""
    message: str
    """The same in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate(Model):
    """A value that was not known.

    Attributes
    ----------
    input : str
        JSON path of the input, as circuit-check names it.
    name : str
        The same in words.
    unit : str
        Of all numbers but the coverage factor.
    given_low : float
        Low end of the interval that was given.
    given_high : float
        Its high end.
    estimate : float
        Most likely value.
    low : float
        It is not less, 19 times of 20.
    high : float
        It is not more, 19 times of 20.
    standard_uncertainty : float
        By JCGM 100.
    coverage_factor : float
        That widens it to 19 times of 20, 1.96: near where many errors add up, and on the safe side
        where one rectangular error decides.
    told_by : tuple of int
        Readings that tell it, by their number from 1 on.
    determined : bool
        Whether readings leave no more than half of what its bounds alone leave.
    message : str
        The same in a sentence.
    """

    input: str
    """JSON path of the input, as circuit-check names it."""
    name: str
    """The same in words."""
    unit: str
    """Of all numbers but the coverage factor."""
    given_low: float
    """Low end of the interval that was given."""
    given_high: float
    """Its high end."""
    estimate: float
    """Most likely value."""
    low: float
    """It is not less, 19 times of 20."""
    high: float
    """It is not more, 19 times of 20."""
    standard_uncertainty: float
    """By JCGM 100."""
    coverage_factor: float
    """That widens it to 19 times of 20, 1.96: near where many errors add up, and on the safe
    side where one rectangular error decides.
    """
    told_by: tuple[int, ...]
    """Readings that tell it, by their number from 1 on."""
    determined: bool
    """Whether readings leave no more than half of what its bounds alone leave."""
    message: str
    """The same in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beyond(Model):
    """A value beyond the bounds that were given for it.

    Attributes
    ----------
    input : str
        Path of the input, as circuit-check names it.
    name : str
        What it is called.
    unit : str
        Its unit.
    given_low : float
        Least that was given.
    given_high : float
        Most that was given.
    estimate : float
        What it would be, if all readings are right.
    low : float
        Then it is not less, 19 times of 20.
    high : float
        And not more.
    message : str
        The same in a sentence.
    """

    input: str
    """Path of the input, as circuit-check names it."""
    name: str
    """What it is called."""
    unit: str
    """Its unit."""
    given_low: float
    """Least that was given."""
    given_high: float
    """Most that was given."""
    estimate: float
    """What it would be, if all readings are right."""
    low: float
    """Then it is not less, 19 times of 20."""
    high: float
    """And not more."""
    message: str
    """The same in a sentence."""


FaultFault = Literal[
    "stays_live", "open_part", "worn_part", "perhaps_worn", "takes_more", "stays_out", "stays_in"
]
"""What `Fault.fault` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault(Model):
    """A part that is open, or a relay that does not do what its coil says.

    Attributes
    ----------
    part : str
        Its name.
    fault : FaultFault
        `stays_live`: a switch, with volts behind it while it is off; `open_part`: it lets nothing
        through; `worn_part`: a wire, or what was given as a number, that takes more than that;
        `takes_more`: the same, of one that surely takes no more than a sound one may;
        `perhaps_worn`: the same, where the readings leave open which of both; `stays_out`,
        `stays_in`: a relay, whatever its coil gets.
    case : str
        The case that shows it.
    voltage_v : float
        Across the part, at the coil, or behind the switch. [V]
    message : str
        The same in a sentence.
    """

    part: str
    """Its name."""
    fault: FaultFault
    """`stays_live`: a switch, with volts behind it while it is off; `open_part`: it lets nothing
    through; `worn_part`: a wire, or what was given as a number, that takes more than that;
    `takes_more`: the same, of one that surely takes no more than a sound one may;
    `perhaps_worn`: the same, where the readings leave open which of both; `stays_out`,
    `stays_in`: a relay, whatever its coil gets.
    """
    case: str
    """The case that shows it."""
    voltage_v: float
    """Across the part, at the coil, or behind the switch. [V]"""
    message: str
    """The same in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Confounded(Model):
    """Values that these readings cannot tell apart.

    Attributes
    ----------
    inputs : tuple of str
        JSON paths of the inputs.
    together : float or None
        Their sum; None where even that is not told, or their units differ.
    low : float or None
        The sum is not less, 19 times of 20.
    high : float or None
        The sum is not more, 19 times of 20.
    unit : str
        Of the sum; empty where there is none.
    measure_in : str or None
        Case in which a reading tells them apart best.
    measure_between : tuple of str
        Nodes at the red and at the black lead.
    message : str
        The same in a sentence.
    """

    inputs: tuple[str, ...]
    """JSON paths of the inputs."""
    together: float | None
    """Their sum; None where even that is not told, or their units differ."""
    low: float | None
    """The sum is not less, 19 times of 20."""
    high: float | None
    """The sum is not more, 19 times of 20."""
    unit: str
    """Of the sum; empty where there is none."""
    measure_in: str | None
    """Case in which a reading tells them apart best."""
    measure_between: tuple[str, ...]
    """Nodes at the red and at the black lead."""
    message: str
    """The same in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Residual(Model):
    """How a reading fits the rest.

    Attributes
    ----------
    reading : int
        Its number, from 1 on.
    case : str
        The case in which it was read.
    where : str
        Where the meter was, in words.
    unit : str
        V, A or ohm.
    read : float
        What was shown, the leads put right.
    fitted : float
        What the meter should have shown.
    standard_uncertainty : float
        Of the reading by its digits, and the meter's factor.
    normalised : float or None
        How far the reading is from what the others say, in standard uncertainties of that; None
        where no other reading holds it.
    swapped : bool
        Whether the leads, or the clamp, were the wrong way round.
    used : bool
        Whether the values rest on it.
    """

    reading: int
    """Its number, from 1 on."""
    case: str
    """The case in which it was read."""
    where: str
    """Where the meter was, in words."""
    unit: str
    """V, A or ohm."""
    read: float
    """What was shown, the leads put right."""
    fitted: float
    """What the meter should have shown."""
    standard_uncertainty: float
    """Of the reading by its digits, and the meter's factor."""
    normalised: float | None
    """How far the reading is from what the others say, in standard uncertainties of that; None
    where no other reading holds it.
    """
    swapped: bool
    """Whether the leads, or the clamp, were the wrong way round."""
    used: bool
    """Whether the values rest on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside(Model):
    """A reading of ohms that says nothing.

    Attributes
    ----------
    reading : int
        Its number, from 1 on.
    least_ohm : float
        Least that this meter and its leads can tell. [ohm]
    between : tuple of str
        Nodes between which to read volts with the load on.
    message : str
        The same in a sentence.
    """

    reading: int
    """Its number, from 1 on."""
    least_ohm: float
    """Least that this meter and its leads can tell. [ohm]"""
    between: tuple[str, ...]
    """Nodes between which to read volts with the load on."""
    message: str
    """The same in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Consistency(Model):
    """How readings hold together.

    Attributes
    ----------
    chi_squared : float
        Sum of the squares of what is missed, in units of its standard uncertainty.
    degrees_of_freedom : float
        Readings less what they had to tell; not whole, as bounds tell something, too.
    probability : float or None
        Of so much or more by chance; None where nothing is read twice over.
    limit : float
        That one normalised residual exceeds in one of 25 sound circuits.
    """

    chi_squared: float
    """Sum of the squares of what is missed, in units of its standard uncertainty."""
    degrees_of_freedom: float
    """Readings less what they had to tell; not whole, as bounds tell something, too."""
    probability: float | None
    """Of so much or more by chance; None where nothing is read twice over."""
    limit: float
    """That one normalised residual exceeds in one of 25 sound circuits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedCases(Model):
    """A circuit in cases, its intervals narrowed by readings, as any operation takes them.

    Attributes
    ----------
    circuit : Circuit
        The network.
    cases : tuple of Case
        Named conditions. From 1 to 20 of them.
    nominal_v : {6, 12, 24} or None
        Nominal voltage of the system, for limits of drops; by default told from the source. [V]
    """

    circuit: Circuit = field(hash=False)
    """The network."""
    cases: tuple[Case, ...] = field(hash=False)
    """Named conditions. From 1 to 20 of them."""
    nominal_v: Nominal | None = None
    """Nominal voltage of the system, for limits of drops; by default told from the source. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitFit(Result):
    """Answer of ``circuit-fit``.

    Attributes
    ----------
    agreement : Agreement
        Agrees; `reading_contradicts`: one reading, which the values do not rest on;
        `group_contradicts`: one of some readings that cannot be told apart; `model_does_not_fit`;
        `not_checked`: nothing is read twice over.
    contradicts : tuple of int
        The reading that contradicts the rest, by its number from 1 on, or those of which one does.
    decisive : Decisive
        The voltage that decides.
    danger : str or None
        What is to be stopped at once, at currents that these readings tell; None for nothing.
    charging : str or None
        That something charges the battery, by its volts, of which the circuit knows nothing; None
        where no reading says so.
    battery : str or None
        What is wrong with the battery, by all that readings leave open; None: nothing.
    mend : str or None
        What to mend, by the volts that it costs, or else what to read closer; None for nothing.
    fuse : str or None
        A fuse that is too large for a wire behind it, where that is known; else None.
    rounded : str or None
        That all volts seem to be rounded to a coarser step than their meter shows; else None.
    sound : str or None
        Parts that are sound by these readings; None for none.
    likely : str or None
        Parts that are sound as far as a coarse meter tells; None for none.
    unread : str or None
        Parts of which no reading tells; None for none.
    parts : tuple of Condition
        Every part that carried current, the poor ones first, by the volts that they cost.
    next_reading : NextReading or None
        What to read next; None where nothing more is worth it.
    next_message : str
        The same in a sentence.
    estimates : tuple of Estimate
        Every value that was not known.
    beyond : tuple of Beyond
        Values beyond their bounds of which one would make contradicting readings hold together, the
        volts of a battery with its ohms; else empty.
    faults : tuple of Fault
        Parts that are open and relays that are stuck, by these readings.
    part_first : bool
        Whether a part that is poor takes more volts too many than the first of `faults` does: it is
        mended first.
    confounded : tuple of Confounded
        Values that these readings cannot tell apart.
    residuals : tuple of Residual
        Every reading that tells something, in order.
    set_aside : tuple of SetAside
        Readings of ohms that are noise.
    consistency : Consistency
        How the readings hold together.
    fitted : FittedCases
        Circuit and cases with the intervals narrowed, to post to any operation.
    """

    agreement: Agreement
    """Agrees; `reading_contradicts`: one reading, which the values do not rest on;
    `group_contradicts`: one of some readings that cannot be told apart; `model_does_not_fit`;
    `not_checked`: nothing is read twice over.
    """
    contradicts: tuple[int, ...]
    """The reading that contradicts the rest, by its number from 1 on, or those of which one
    does.
    """
    decisive: Decisive
    """The voltage that decides."""
    danger: str | None
    """What is to be stopped at once, at currents that these readings tell; None for nothing."""
    charging: str | None
    """That something charges the battery, by its volts, of which the circuit knows nothing; None
    where no reading says so.
    """
    battery: str | None
    """What is wrong with the battery, by all that readings leave open; None: nothing."""
    mend: str | None
    """What to mend, by the volts that it costs, or else what to read closer; None for nothing."""
    fuse: str | None
    """A fuse that is too large for a wire behind it, where that is known; else None."""
    rounded: str | None
    """That all volts seem to be rounded to a coarser step than their meter shows; else None."""
    sound: str | None
    """Parts that are sound by these readings; None for none."""
    likely: str | None
    """Parts that are sound as far as a coarse meter tells; None for none."""
    unread: str | None
    """Parts of which no reading tells; None for none."""
    parts: tuple[Condition, ...]
    """Every part that carried current, the poor ones first, by the volts that they cost."""
    next_reading: NextReading | None
    """What to read next; None where nothing more is worth it."""
    next_message: str
    """The same in a sentence."""
    estimates: tuple[Estimate, ...]
    """Every value that was not known."""
    beyond: tuple[Beyond, ...]
    """Values beyond their bounds of which one would make contradicting readings hold together,
    the volts of a battery with its ohms; else empty.
    """
    faults: tuple[Fault, ...]
    """Parts that are open and relays that are stuck, by these readings."""
    part_first: bool
    """Whether a part that is poor takes more volts too many than the first of `faults` does: it
    is mended first.
    """
    confounded: tuple[Confounded, ...]
    """Values that these readings cannot tell apart."""
    residuals: tuple[Residual, ...]
    """Every reading that tells something, in order."""
    set_aside: tuple[SetAside, ...]
    """Readings of ohms that are noise."""
    consistency: Consistency
    """How the readings hold together."""
    fitted: FittedCases
    """Circuit and cases with the intervals narrowed, to post to any operation."""
