# Generated from openapi.json by sdk/generate: do not edit.
"""Answers that several operations share. Whole circuits."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from lastvolt._generated.types.circuits import OutputSpreadCode
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
