# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Readings taken on a live circuit."""

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import Number

Kind = Literal["volts", "amperes", "ohms"]
"""What `kind` may be."""


class MeterData(TypedDict):
    """A meter, by what its sheet says of one kind of reading; what is not given is as usual.

    Give at most one of `resolution_v`, `resolution_a`, `resolution_ohm`.
    """

    name: str
    """What readings call it. From 1 to 80 characters."""
    kind: Kind
    """What it reads; amperes by a clamp for direct current."""
    accuracy_percent: NotRequired[Number]
    """Largest error as a share of what it reads, the same in all its readings; by default 0.5 of
    volts, 2 of amperes and 0.8 of ohms (common practice). From 0 to 50. [%]
    """
    accuracy_digits: NotRequired[int]
    """Largest error in steps of the last digit, beside rounding; by default 2 of volts, 5 of
    amperes and 3 of ohms (common practice). From 0 to 1000.
    """
    counts: NotRequired[int]
    """Largest number that it shows, without the point: it takes the finest range that holds a
    reading, and for 0 V that of the battery. From 100 to 10000000, by default 2000.
    """
    resolution_v: NotRequired[Number]
    """Step of the last digit of volts, whatever the range. From 0.000001 to 1000. [V]"""
    resolution_a: NotRequired[Number]
    """Step of the last digit of amperes, whatever the range. From 0.000001 to 10000. [A]"""
    resolution_ohm: NotRequired[Number]
    """Step of the last digit of ohms, whatever the range. From 0.000001 to 1000000. [ohm]"""
    leads_ohm: NotRequired[Number]
    """Resistance of its leads, which a reading of ohms includes; half as much more or less is
    reckoned with. From 0 to 10, by default 0.2. [ohm]
    """


class MeterReading(TypedDict):
    """What a meter showed: volts between two nodes, amperes through a part, or ohms without
    power.

    Give exactly one of between, through, of. Give exactly one of `value_v`, `value_a`, `value_ohm`.
    """

    case: str
    """The case in which it was read. From 1 to 80 characters."""
    between: NotRequired[Sequence[str]]
    """Nodes at the red and at the black lead. Exactly 2 of them."""
    through: NotRequired[str]
    """Branch, load or relay that the clamp lies round; a relay's contact is meant. From 1 to 80
    characters.
    """
    of: NotRequired[str]
    """Part whose ohms were read by itself, one end of it taken off; of a relay its coil. From 1
    to 80 characters.
    """
    value_v: NotRequired[Number]
    """That was shown. From -100 to 100. [V]"""
    value_a: NotRequired[Number]
    """That was shown. From -3000 to 3000. [A]"""
    value_ohm: NotRequired[Number]
    """That was shown, power off. From 0 to 1000000. [ohm]"""
    meter: NotRequired[str]
    """The meter; by default a usual one of its kind. From 1 to 80 characters."""
    standard_uncertainty_v: NotRequired[Number]
    """Of a recording's reading, or of a mean, with all that its meter adds; in place of `meter`.
    From 0.000001 to 1000. [V]
    """
    standard_uncertainty_a: NotRequired[Number]
    """Of a recording's reading, or of a mean, with all that its meter adds; in place of `meter`.
    From 0.000001 to 10000. [A]
    """
    standard_uncertainty_ohm: NotRequired[Number]
    """Of a recording's reading, or of a mean, with all that its meter adds; in place of `meter`.
    From 0.000001 to 1000000. [ohm]
    """
    duration_s: NotRequired[Number]
    """How long it lasted. From 0 to 1000000. [s]"""


Agreement = Literal[
    "agrees", "reading_contradicts", "group_contradicts", "model_does_not_fit", "not_checked"
]
"""What `agreement` may be."""
