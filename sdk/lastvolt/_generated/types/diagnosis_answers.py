# Generated from openapi.json by sdk/generate: do not edit.
"""Answers that several operations share. Readings taken on a live circuit."""

from dataclasses import dataclass

from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class NextReading(Model):
    """The reading that tells most about the decisive voltage, or, where that is sure, the parts.

    Attributes
    ----------
    case : str
        The case to read it in.
    between : tuple of str
        Nodes at the red and at the black lead; empty of a clamp.
    through : str or None
        Part that the clamp lies round; None of volts.
    expected_low : float
        The meter shows no less, 19 times of 20.
    expected_high : float
        And no more.
    unit : str
        Of what is expected: V or A.
    uncertainty_now_v : float
        Of the decisive voltage now, 19 times of 20. [V]
    uncertainty_then_v : float
        And with this reading. [V]
    """

    case: str
    """The case to read it in."""
    between: tuple[str, ...]
    """Nodes at the red and at the black lead; empty of a clamp."""
    through: str | None
    """Part that the clamp lies round; None of volts."""
    expected_low: float
    """The meter shows no less, 19 times of 20."""
    expected_high: float
    """And no more."""
    unit: str
    """Of what is expected: V or A."""
    uncertainty_now_v: float
    """Of the decisive voltage now, 19 times of 20. [V]"""
    uncertainty_then_v: float
    """And with this reading. [V]"""
