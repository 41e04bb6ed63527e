"""Parts of the calls about one thing: a path, a coil, a solenoid, a switch, a reading."""

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

from lastvolt.inputs.words import (
    Construction,
    ContactPart,
    Insulation,
    Material,
    Number,
    Standard,
    SuppressionKind,
)


class WireSegment(TypedDict):
    """A wire in a path; `length_m` is what the current runs through, one way.

    With `ambient_c` in place of `temperature_c` the wire is as warm as its current makes it.
    """

    kind: Literal["wire"]
    name: str
    size: str
    length_m: Number
    standard: NotRequired[Standard]
    temperature_c: NotRequired[Number]
    ambient_c: NotRequired[Number]
    insulation: NotRequired[Insulation]
    insulation_limit_c: NotRequired[Number]
    outer_diameter_mm: NotRequired[Number]
    grouped_conductors: NotRequired[int]
    altitude_m: NotRequired[Number]
    material: NotRequired[Material]
    construction: NotRequired[Construction]


class ContactSegment(TypedDict):
    """A contact in a path, with its resistance as it is today."""

    kind: Literal["contact"]
    name: str
    part: ContactPart
    resistance_ohm: Number
    rating_a: NotRequired[Number]


class ResistanceSegment(TypedDict):
    """A known resistance in a path."""

    kind: Literal["resistance"]
    name: str
    resistance_ohm: Number


Segment = WireSegment | ContactSegment | ResistanceSegment


class Suppression(TypedDict):
    """What is wired across a coil: a resistor needs `resistance_ohm`, a zener `zener_v`."""

    kind: SuppressionKind
    resistance_ohm: NotRequired[Number]
    zener_v: NotRequired[Number]


class DeratingPoint(TypedDict):
    """One point of a maker's derating curve."""

    ambient_c: Number
    current_a: Number


class RatedSolenoid(TypedDict):
    """A solenoid by its maker's pull-in voltage, or by a test on the bench."""

    pull_in_v: Number
    hold_in_v: NotRequired[Number]
    resistance_ohm: NotRequired[Number]
    reference_temperature_c: NotRequired[Number]


class SolenoidWindings(TypedDict):
    """A starter solenoid by its two windings."""

    pull_in_turns: Number
    pull_in_resistance_ohm: Number
    hold_in_turns: Number
    hold_in_resistance_ohm: Number
    ampere_turns: Number
    motor_resistance_ohm: NotRequired[Number]
    hold_ampere_turns: NotRequired[Number]
    reference_temperature_c: NotRequired[Number]


class Plunger(TypedDict):
    """A solenoid by the force that its plunger needs."""

    force_n: Number
    gap_mm: Number
    area_mm2: Number
    turns: Number
    resistance_ohm: Number
    hold_force_n: NotRequired[Number]
    hold_gap_mm: NotRequired[Number]
    reference_temperature_c: NotRequired[Number]


class SwitchLoad(TypedDict):
    """One load that a switch feeds, in the positions that you name."""

    name: str
    current_a: Number
    positions: Sequence[str]
    through_relay: NotRequired[bool]


class Meter(TypedDict):
    """A voltmeter: one step of its last digit, and its error of what it reads."""

    resolution_v: NotRequired[Number]
    accuracy_percent: NotRequired[Number]


class WireReading(TypedDict):
    """A reading across a wire, from one end of its metal to the other."""

    kind: Literal["wire"]
    name: str
    measured_v: Number
    size: str
    length_m: Number
    standard: NotRequired[Standard]
    temperature_c: NotRequired[Number]
    material: NotRequired[Material]
    construction: NotRequired[Construction]


class ContactReading(TypedDict):
    """A reading across a contact or a joint."""

    kind: Literal["contact"]
    name: str
    measured_v: Number
    part: ContactPart


Reading = WireReading | ContactReading
