# Generated from openapi.json by sdk/generate: do not edit.
"""Answers that several operations share. Whole circuits."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from lastvolt._generated.types.circuits import Code, OutputSpreadCode
from lastvolt._generated.types.common import Verdict
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class OutputSpread(Model):
    """What an output does within the bounds of all inputs.

    Attributes
    ----------
    code : {"load_voltage", "load_margin", "coil_voltage", "coil_margin"}
        `load_voltage`, `load_margin`, `coil_voltage` or `coil_margin`.
    part : str
        The load or the relay.
    nominal_v : float
        With all inputs in the middle of their bounds. [V]
    low_v : float
        The least that was found. [V]
    high_v : float
        The most that was found. [V]
    is_about : bool
        Whether a relay or a load switches within the bounds, so that just before or after that
        there may be less or more.
    """

    code: OutputSpreadCode
    """`load_voltage`, `load_margin`, `coil_voltage` or `coil_margin`."""
    part: str
    """The load or the relay."""
    nominal_v: float
    """With all inputs in the middle of their bounds. [V]"""
    low_v: float
    """The least that was found. [V]"""
    high_v: float
    """The most that was found. [V]"""
    is_about: bool
    """Whether a relay or a load switches within the bounds, so that just before or after that
    there may be less or more.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class Influence(Model):
    """What one input does to the decisive load.

    Attributes
    ----------
    input : str
        JSON path of the input in the request, parts separated by slashes.
    change_v : float
        Change of the decisive load's voltage from the low to the high end of the input. [V]
    """

    input: str
    """JSON path of the input in the request, parts separated by slashes."""
    change_v: float
    """Change of the decisive load's voltage from the low to the high end of the input. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mend(Model):
    """A part, what it costs, and what mending it would bring.

    Attributes
    ----------
    name : str
        The part.
    costs_v : float
        More voltage at the decisive load, with a jumper across the part. [V]
    regained_v : float
        More voltage there, with the part sound; 0 where it is. [V]
    sound_ohm : float or None
        Of a new contact in its place; None where there is nothing to mend. [ohm]
    """

    name: str
    """The part."""
    costs_v: float
    """More voltage at the decisive load, with a jumper across the part. [V]"""
    regained_v: float
    """More voltage there, with the part sound; 0 where it is. [V]"""
    sound_ohm: float | None
    """Of a new contact in its place; None where there is nothing to mend. [ohm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way(Model):
    """A way to help the load, and what it comes to.

    Attributes
    ----------
    code : Code
        `as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`.
    parts : tuple of str
        What is made sound: cleaned, tightened or replaced.
    new : tuple of str
        What is new, or takes the place of the old, without a relay's own; a wire with its size.
    works : bool
        Whether the load gets what it needs in every case, with a tenth to spare, nothing that was
        sound fails, and the relay, where it is fitted, may be built so.
    case : str
        The case in which the load then has the least to spare.
    load_voltage_v : float
        That reaches the load in that case. [V]
    needed_v : float
        Lowest voltage that it works at there. [V]
    margin_v : float
        `load_voltage_v` over `needed_v`. [V]
    gain_v : float
        More voltage at the load, in the case that is poorest as it is. [V]
    """

    code: Code
    """`as_is`, battery, mend, `battery_and_mend`, relay, `mend_then_relay` or `all_of_these`."""
    parts: tuple[str, ...]
    """What is made sound: cleaned, tightened or replaced."""
    new: tuple[str, ...]
    """What is new, or takes the place of the old, without a relay's own; a wire with its size."""
    works: bool
    """Whether the load gets what it needs in every case, with a tenth to spare, nothing that was
    sound fails, and the relay, where it is fitted, may be built so.
    """
    case: str
    """The case in which the load then has the least to spare."""
    load_voltage_v: float
    """That reaches the load in that case. [V]"""
    needed_v: float
    """Lowest voltage that it works at there. [V]"""
    margin_v: float
    """`load_voltage_v` over `needed_v`. [V]"""
    gain_v: float
    """More voltage at the load, in the case that is poorest as it is. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark(Model):
    """One sentence about a decision, with its code and its numbers.

    Attributes
    ----------
    code : str
        What kind of remark it is, in a word that stays the same.
    message : str
        The same in a sentence.
    case : str or None
        The case that shows it, as the request names it.
    part : str or None
        The part that it is about, as the request names it, or several in a row.
    check : str or None
        Code of the check that it repeats.
    values : mapping of str to float
        Its numbers by name.
    """

    code: str
    """What kind of remark it is, in a word that stays the same."""
    message: str
    """The same in a sentence."""
    case: str | None
    """The case that shows it, as the request names it."""
    part: str | None
    """The part that it is about, as the request names it, or several in a row."""
    check: str | None
    """Code of the check that it repeats."""
    values: Mapping[str, float] = field(hash=False)
    """Its numbers by name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version(Model):
    """The circuit as it is, or as proposed, in one case.

    Attributes
    ----------
    load_voltage_v : float
        Voltage that reaches the load. [V]
    needed_v : float
        Lowest voltage that it works at in this case. [V]
    margin_v : float
        `load_voltage_v` over `needed_v`. [V]
    switch_current_a : float
        Through the switch. [A]
    switch_power_w : float
        Heat made in the switch. [W]
    tolerated_contact_ohm : float or None
        Further resistance of the switch until the load fails, at most 1000; None where it fails as
        it is. [ohm]
    hottest_winding_c : float or None
        Highest temperature of the load at which it still works, at most 400; None where it works at
        none. [degC]
    coil_v : float or None
        At the relay's coil before it closes; None as it is. [V]
    pick_up_v : float or None
        That closes the relay, its coil warm; None as it is. [V]
    spreads : tuple of OutputSpread
        Empty where no input is an interval.
    influences : tuple of Influence
        Of the inputs that are, strongest first.
    verdict : {"fail", "undecided", "unknown", "marginal", "pass"}
        The worst check of the load and of the proposed parts.
    """

    load_voltage_v: float
    """Voltage that reaches the load. [V]"""
    needed_v: float
    """Lowest voltage that it works at in this case. [V]"""
    margin_v: float
    """`load_voltage_v` over `needed_v`. [V]"""
    switch_current_a: float
    """Through the switch. [A]"""
    switch_power_w: float
    """Heat made in the switch. [W]"""
    tolerated_contact_ohm: float | None
    """Further resistance of the switch until the load fails, at most 1000; None where it fails
    as it is. [ohm]
    """
    hottest_winding_c: float | None
    """Highest temperature of the load at which it still works, at most 400; None where it works
    at none. [degC]
    """
    coil_v: float | None
    """At the relay's coil before it closes; None as it is. [V]"""
    pick_up_v: float | None
    """That closes the relay, its coil warm; None as it is. [V]"""
    spreads: tuple[OutputSpread, ...]
    """Empty where no input is an interval."""
    influences: tuple[Influence, ...]
    """Of the inputs that are, strongest first."""
    verdict: Verdict
    """The worst check of the load and of the proposed parts."""
