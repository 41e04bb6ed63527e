"""What comes out of a call: frozen dataclasses with the names of the JSON answer.

Every quantity's name ends in its unit; temperatures are in degC. A field that is None was not
asked for, or has no value here, as its meaning says. An answer may gain fields that this version
does not know; they are left aside here and remain in `lastvolt.Client.call`.
"""

from lastvolt.models.base import Check, ComputedBy, Model, Result, Verdict
from lastvolt.models.relays import RelayCoil, RelayContact, SuppressionResult
from lastvolt.models.solenoids import SolenoidPullIn
from lastvolt.models.wires import (
    Conductors,
    ConductorSize,
    SegmentDrop,
    VoltageDrop,
    WireResistance,
)

__all__ = [
    "Check",
    "ComputedBy",
    "ConductorSize",
    "Conductors",
    "Model",
    "RelayCoil",
    "RelayContact",
    "Result",
    "SegmentDrop",
    "SolenoidPullIn",
    "SuppressionResult",
    "Verdict",
    "VoltageDrop",
    "WireResistance",
]
