"""Types of what goes into a call; at run time they are plain dicts and strings.

Every quantity's name ends in its unit. Temperatures are in degC.
"""

import enum
from typing import Final, Literal, NotRequired, TypedDict


class Omit(enum.Enum):
    """Type of `OMIT`."""

    OMIT = "left to the service"

    def __repr__(self) -> str:
        """Show it in signatures as it is written."""
        return self.name


OMIT: Final = Omit.OMIT
"""Default of an optional argument: the field is left out and the service's default holds."""

Standard = Literal["AWG", "SAE", "IEC 60228", "ISO 6722"]
Material = Literal["copper", "tinned_copper", "aluminium", "copper_clad_aluminium"]
Construction = Literal["stranded", "solid"]
Circuit = Literal["continuous", "intermittent", "starter_control", "starter_motor"]
Nominal = Literal[6, 12, 24]
ContactPart = Literal["switch", "relay", "connector", "fuse", "ground", "terminal"]
LoadKind = Literal["resistive", "motor", "lamp", "solenoid", "capacitive"]
SuppressionKind = Literal["none", "diode", "resistor", "zener"]


class WireSegment(TypedDict):
    """A wire in a path; `length_m` is what the current runs through, one way."""

    kind: Literal["wire"]
    name: str
    size: str
    length_m: float
    standard: NotRequired[Standard]
    temperature_c: NotRequired[float]
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
