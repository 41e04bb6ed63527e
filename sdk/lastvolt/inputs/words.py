"""Words that a call may use, and the mark of what it leaves out."""

import enum
from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal


class Omit(enum.Enum):
    """Type of `OMIT`."""

    OMIT = "left to the service"

    def __repr__(self) -> str:
        """Show it in signatures as it is written."""
        return self.name


OMIT: Final = Omit.OMIT
"""Default of an optional argument: the field is left out and the service's default holds."""

Number = float | Decimal | Fraction | str
"""A number in the unit that its name ends in, or text with a unit of `lastvolt.units`.

Numbers and arrays of numpy are taken as well. An object that carries a unit of its own is refused:
its number alone could be in another one.
"""

Standard = Literal["AWG", "SAE", "IEC 60228", "ISO 6722"]
Material = Literal["copper", "tinned_copper", "aluminium", "copper_clad_aluminium"]
Construction = Literal["stranded", "solid"]
CircuitKind = Literal["continuous", "intermittent", "starter_control", "starter_motor"]
Nominal = Literal[6, 12, 24]
ContactPart = Literal["switch", "relay", "connector", "fuse", "ground", "terminal"]
LoadKind = Literal["resistive", "motor", "lamp", "solenoid", "capacitive"]
ReturnPath = Literal["wire", "body"]
Insulation = Literal[
    "ISO class A",
    "ISO class B",
    "ISO class C",
    "ISO class D",
    "ISO class E",
    "ISO class F",
    "ISO class G",
    "ISO class H",
    "GPT",
    "TXL",
    "GXL",
    "SXL",
    "TWP",
    "HDT",
    "SGT",
    "SGX",
    "STX",
]
Zone = Literal[
    "cabin",
    "cabin_in_the_sun",
    "outside_body",
    "underbody",
    "battery_box",
    "engine_bay",
    "engine_bay_near_exhaust",
]
FuseFamily = Literal["blade C", "blade F", "blade E", "bolt-in SF30", "bolt-in SF51"]
SuppressionKind = Literal["none", "diode", "resistor", "zener"]
