"""Parts of the calls about one thing: a path, a coil, a solenoid, a switch, a reading."""

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

from lastvolt.inputs.words import (
    Construction,
    ContactPart,
    Insulation,
    Material,
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
    length_m: float
    standard: NotRequired[Standard]
    temperature_c: NotRequired[float]
    ambient_c: NotRequired[float]
    insulation: NotRequired[Insulation]
    insulation_limit_c: NotRequired[float]
    outer_diameter_mm: NotRequired[float]
    grouped_conductors: NotRequired[int]
    altitude_m: NotRequired[float]
    material: NotRequired[Material]
    construction: NotRequired[Construction]


class ContactSegment(TypedDict):
    """A contact in a path, with its resistance as it is today."""

    kind: Literal["contact"]
    name: str
    part: ContactPart
    resistance_ohm: float
    rating_a: NotRequired[float]


class ResistanceSegment(TypedDict):
    """A known resistance in a path."""

    kind: Literal["resistance"]
    name: str
    resistance_ohm: float


Segment = WireSegment | ContactSegment | ResistanceSegment


class Suppression(TypedDict):
    """What is wired across a coil: a resistor needs `resistance_ohm`, a zener `zener_v`."""

    kind: SuppressionKind
    resistance_ohm: NotRequired[float]
    zener_v: NotRequired[float]


class DeratingPoint(TypedDict):
    """One point of a maker's derating curve."""

    ambient_c: float
    current_a: float


class RatedSolenoid(TypedDict):
    """A solenoid by its maker's pull-in voltage, or by a test on the bench."""

    pull_in_v: float
    hold_in_v: NotRequired[float]
    resistance_ohm: NotRequired[float]
    reference_temperature_c: NotRequired[float]


class SolenoidWindings(TypedDict):
    """A starter solenoid by its two windings."""

    pull_in_turns: float
    pull_in_resistance_ohm: float
    hold_in_turns: float
    hold_in_resistance_ohm: float
    ampere_turns: float
    motor_resistance_ohm: NotRequired[float]
    hold_ampere_turns: NotRequired[float]
    reference_temperature_c: NotRequired[float]


class Plunger(TypedDict):
    """A solenoid by the force that its plunger needs."""

    force_n: float
    gap_mm: float
    area_mm2: float
    turns: float
    resistance_ohm: float
    hold_force_n: NotRequired[float]
    hold_gap_mm: NotRequired[float]
    reference_temperature_c: NotRequired[float]


class SwitchLoad(TypedDict):
    """One load that a switch feeds, in the positions that you name."""

    name: str
    current_a: float
    positions: Sequence[str]
    through_relay: NotRequired[bool]


class Meter(TypedDict):
    """A voltmeter: one step of its last digit, and its error of what it reads."""

    resolution_v: NotRequired[float]
    accuracy_percent: NotRequired[float]


class WireReading(TypedDict):
    """A reading across a wire, from one end of its metal to the other."""

    kind: Literal["wire"]
    name: str
    measured_v: float
    size: str
    length_m: float
    standard: NotRequired[Standard]
    temperature_c: NotRequired[float]
    material: NotRequired[Material]
    construction: NotRequired[Construction]


class ContactReading(TypedDict):
    """A reading across a contact or a joint."""

    kind: Literal["contact"]
    name: str
    measured_v: float
    part: ContactPart


Reading = WireReading | ContactReading
