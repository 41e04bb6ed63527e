"""What comes out of a call: frozen dataclasses with the names of the JSON answer.

Every quantity's name ends in its unit; temperatures are in degC. A field that is None was not
asked for, or has no value here, as its meaning says. An answer may gain fields that this version
does not know; they are left aside here and remain in `lastvolt.Client.call`.
"""

from lastvolt.models.base import (
    Change,
    Check,
    ComputedBy,
    Model,
    Remedy,
    Result,
    Step,
    Verdict,
)
from lastvolt.models.circuits import (
    CaseState,
    CircuitCheck,
    Influence,
    LoadState,
    Mend,
    NodeVoltage,
    OutputSpread,
    PartState,
    RelayRetrofit,
    RelayState,
    RetrofitCase,
    Version,
    WeakestPart,
)
from lastvolt.models.diagnosis import DropDiagnosis, PartDiagnosis
from lastvolt.models.electrics import (
    BatteryVoltage,
    SwitchLoading,
    SwitchPosition,
    SwitchRelief,
    SwitchStep,
)
from lastvolt.models.heat import Candidate, FuseSelection, WireHeating, WireSizing
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
    "BatteryVoltage",
    "Candidate",
    "CaseState",
    "Change",
    "Check",
    "CircuitCheck",
    "ComputedBy",
    "ConductorSize",
    "Conductors",
    "DropDiagnosis",
    "FuseSelection",
    "Influence",
    "LoadState",
    "Mend",
    "Model",
    "NodeVoltage",
    "OutputSpread",
    "PartDiagnosis",
    "PartState",
    "RelayCoil",
    "RelayContact",
    "RelayRetrofit",
    "RelayState",
    "Remedy",
    "Result",
    "RetrofitCase",
    "SegmentDrop",
    "SolenoidPullIn",
    "Step",
    "SuppressionResult",
    "SwitchLoading",
    "SwitchPosition",
    "SwitchRelief",
    "SwitchStep",
    "Verdict",
    "Version",
    "VoltageDrop",
    "WeakestPart",
    "WireHeating",
    "WireResistance",
    "WireSizing",
]
