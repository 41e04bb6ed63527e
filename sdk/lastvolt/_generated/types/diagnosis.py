# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Readings taken on a live circuit."""

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
