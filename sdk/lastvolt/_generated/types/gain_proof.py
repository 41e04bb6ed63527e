# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.gain_proof`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.common import Result
from lastvolt._generated.types.diagnosis import Agreement
from lastvolt._generated.types.diagnosis_answers import NextReading
from lastvolt.answers import Model

Proof = Literal["proven", "not_proven", "less_than_promised", "worse"]
"""What `GainProof.proof` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain(Model):
    """What the way brings the load, at one supply and temperature.

    Attributes
    ----------
    case : str
        The case in which before and after are compared.
    before_v : float
        Voltage at the load before. [V]
    before_standard_uncertainty_v : float
        Of that, by JCGM 100. [V]
    after_v : float
        After, at the supply and the temperatures of before. [V]
    after_standard_uncertainty_v : float
        Of that. [V]
    correlation : float or None
        Of the two: what one meter errs in both, the winding and the supply they share, cancels in
        part; None where one of them is sure.
    gain_v : float
        The second less the first. [V]
    low_v : float
        It is not less, 19 times of 20. [V]
    high_v : float
        It is not more, 19 times of 20. [V]
    standard_uncertainty_v : float
        Of the gain, with that correlation. [V]
    coverage_factor : float
        That widens it to 19 times of 20, 1.96.
    """

    case: str
    """The case in which before and after are compared."""
    before_v: float
    """Voltage at the load before. [V]"""
    before_standard_uncertainty_v: float
    """Of that, by JCGM 100. [V]"""
    after_v: float
    """After, at the supply and the temperatures of before. [V]"""
    after_standard_uncertainty_v: float
    """Of that. [V]"""
    correlation: float | None
    """Of the two: what one meter errs in both, the winding and the supply they share, cancels in
    part; None where one of them is sure.
    """
    gain_v: float
    """The second less the first. [V]"""
    low_v: float
    """It is not less, 19 times of 20. [V]"""
    high_v: float
    """It is not more, 19 times of 20. [V]"""
    standard_uncertainty_v: float
    """Of the gain, with that correlation. [V]"""
    coverage_factor: float
    """That widens it to 19 times of 20, 1.96."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise(Model):
    """What the way promises by the circuit as it was found before, in the same case.

    Attributes
    ----------
    load_voltage_v : float
        At the load. [V]
    gain_v : float
        More than before. [V]
    missing_v : float
        How much of it is missing; negative where more came. [V]
    missing_low_v : float
        It is not less, 19 times of 20. [V]
    missing_high_v : float
        It is not more, 19 times of 20. [V]
    """

    load_voltage_v: float
    """At the load. [V]"""
    gain_v: float
    """More than before. [V]"""
    missing_v: float
    """How much of it is missing; negative where more came. [V]"""
    missing_low_v: float
    """It is not less, 19 times of 20. [V]"""
    missing_high_v: float
    """It is not more, 19 times of 20. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchCurrent(Model):
    """What the switch carries, in the same case.

    Attributes
    ----------
    before_a : float
        Before. [A]
    before_low_a : float
        It is not less, 19 times of 20. [A]
    before_high_a : float
        It is not more, 19 times of 20. [A]
    after_a : float
        After. [A]
    after_low_a : float
        It is not less, 19 times of 20. [A]
    after_high_a : float
        It is not more, 19 times of 20. [A]
    told : bool
        Whether the readings after rule out that it carries the load still, wired wrong.
    """

    before_a: float
    """Before. [A]"""
    before_low_a: float
    """It is not less, 19 times of 20. [A]"""
    before_high_a: float
    """It is not more, 19 times of 20. [A]"""
    after_a: float
    """After. [A]"""
    after_low_a: float
    """It is not less, 19 times of 20. [A]"""
    after_high_a: float
    """It is not more, 19 times of 20. [A]"""
    told: bool
    """Whether the readings after rule out that it carries the load still, wired wrong."""


What = Literal["feed", "contact", "outlet", "ground", "sound", "replaced"]
"""What `NewDrop.what` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewDrop(Model):
    """What is lost over something new, or over the ground, in the same case.

    Attributes
    ----------
    what : {"feed", "contact", "outlet", "ground", "sound", "replaced"}
        Feed, contact and outlet of the relay; ground; sound: made so; replaced.
    part : str
        What the request calls it.
    between : tuple of str
        Its nodes.
    drop_v : float
        Over it. [V]
    low_v : float
        It is not less, 19 times of 20. [V]
    high_v : float
        It is not more, 19 times of 20. [V]
    promised_v : float
        What it was to drop. [V]
    """

    what: What
    """Feed, contact and outlet of the relay; ground; sound: made so; replaced."""
    part: str
    """What the request calls it."""
    between: tuple[str, ...]
    """Its nodes."""
    drop_v: float
    """Over it. [V]"""
    low_v: float
    """It is not less, 19 times of 20. [V]"""
    high_v: float
    """It is not more, 19 times of 20. [V]"""
    promised_v: float
    """What it was to drop. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofOfCase(Model):
    """The load in a case, before and after; a case without readings is predicted from both fits.

    Attributes
    ----------
    case : str
        The case.
    is_read : bool
        Whether it was read before and after; else it is predicted.
    needed_v : float or None
        Lowest voltage that the load works at there. [V]
    before_v : float or None
        At the load before; None without a state of rest. [V]
    before_low_v : float or None
        It is not less, 19 times of 20. [V]
    before_high_v : float or None
        It is not more, 19 times of 20. [V]
    after_v : float or None
        After, at the supply and the temperatures of before. [V]
    after_low_v : float or None
        It is not less, 19 times of 20. [V]
    after_high_v : float or None
        It is not more, 19 times of 20. [V]
    gain_v : float or None
        The second less the first. [V]
    gain_low_v : float or None
        It is not less, 19 times of 20. [V]
    gain_high_v : float or None
        It is not more, 19 times of 20. [V]
    met : {"yes", "no", "not_told"}
        Whether the load gets what it needs, 19 times of 20.
    """

    case: str
    """The case."""
    is_read: bool
    """Whether it was read before and after; else it is predicted."""
    needed_v: float | None
    """Lowest voltage that the load works at there. [V]"""
    before_v: float | None
    """At the load before; None without a state of rest. [V]"""
    before_low_v: float | None
    """It is not less, 19 times of 20. [V]"""
    before_high_v: float | None
    """It is not more, 19 times of 20. [V]"""
    after_v: float | None
    """After, at the supply and the temperatures of before. [V]"""
    after_low_v: float | None
    """It is not less, 19 times of 20. [V]"""
    after_high_v: float | None
    """It is not more, 19 times of 20. [V]"""
    gain_v: float | None
    """The second less the first. [V]"""
    gain_low_v: float | None
    """It is not less, 19 times of 20. [V]"""
    gain_high_v: float | None
    """It is not more, 19 times of 20. [V]"""
    met: Literal["yes", "no", "not_told"]
    """Whether the load gets what it needs, 19 times of 20."""


Wired = Literal["as_described", "coil_swapped", "old_wire_left_on", "fed_from", "not_told"]
"""What `GainProof.wired` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAt(Model):
    """What to look at where nothing is proven, or less than was promised.

    Attributes
    ----------
    code : str
        What kind it is, in a word that stays the same.
    part : str or None
        Part, node or case that it is about.
    readings : tuple of int
        Readings that say so, by their number from 1 on: those after, unless the code names those
        before.
    message : str
        The same in a sentence.
    """

    code: str
    """What kind it is, in a word that stays the same."""
    part: str | None
    """Part, node or case that it is about."""
    readings: tuple[int, ...]
    """Readings that say so, by their number from 1 on: those after, unless the code names those
    before.
    """
    message: str
    """The same in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GainProof(Result):
    """Answer of ``gain-proof``.

    Attributes
    ----------
    proof : {"proven", "not_proven", "less_than_promised", "worse"}
        Proven: more at the load, as promised, and enough in every case, all of it 19 times of 20;
        `less_than_promised`; worse; `not_proven`: none of these is sure.
    gain : Gain
        What the way brings the load.
    promise : Promise
        What it promises.
    switch_current : SwitchCurrent
        What the switch carries.
    drops : tuple of NewDrop
        Over what is new, and over the ground.
    by_case : tuple of ProofOfCase
        The load in every case that has it, with a fault that was found.
    wired : Wired
        `as_described`; or what the readings after say instead: `coil_swapped` with the contact,
        `old_wire_left_on` the load, `fed_from` another node; `not_told` where they contradict
        themselves. What fails or got worse though it is wired rightly stands in `look_at`.
    look_at : tuple of LookAt
        What to look at, and which reading says so.
    agreement_before : Agreement
        How the readings before agree, as circuit-fit says it.
    agreement_after : Agreement
        How those after agree with the circuit so wired.
    contradicts_before : tuple of int
        The reading that contradicts the rest, from 1 on, or those of which one does.
    contradicts_after : tuple of int
        The same of those after.
    next_reading : NextReading or None
        After: what to read next; None of what is proven, and where nothing more is worth it.
    next_message : str or None
        The same in a sentence.
    rounded : str or None
        That all volts seem to be rounded to a coarser step than their meter shows; else None.
    """

    proof: Proof
    """Proven: more at the load, as promised, and enough in every case, all of it 19 times of 20;
    `less_than_promised`; worse; `not_proven`: none of these is sure.
    """
    gain: Gain
    """What the way brings the load."""
    promise: Promise
    """What it promises."""
    switch_current: SwitchCurrent
    """What the switch carries."""
    drops: tuple[NewDrop, ...]
    """Over what is new, and over the ground."""
    by_case: tuple[ProofOfCase, ...]
    """The load in every case that has it, with a fault that was found."""
    wired: Wired
    """`as_described`; or what the readings after say instead: `coil_swapped` with the contact,
    `old_wire_left_on` the load, `fed_from` another node; `not_told` where they contradict
    themselves. What fails or got worse though it is wired rightly stands in `look_at`.
    """
    look_at: tuple[LookAt, ...]
    """What to look at, and which reading says so."""
    agreement_before: Agreement
    """How the readings before agree, as circuit-fit says it."""
    agreement_after: Agreement
    """How those after agree with the circuit so wired."""
    contradicts_before: tuple[int, ...]
    """The reading that contradicts the rest, from 1 on, or those of which one does."""
    contradicts_after: tuple[int, ...]
    """The same of those after."""
    next_reading: NextReading | None
    """After: what to read next; None of what is proven, and where nothing more is worth it."""
    next_message: str | None
    """The same in a sentence."""
    rounded: str | None
    """That all volts seem to be rounded to a coarser step than their meter shows; else None."""
