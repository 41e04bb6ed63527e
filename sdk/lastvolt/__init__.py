"""Does the last volt arrive? Calculations for automotive DC circuits, over REST or in process.

>>> import lastvolt
>>> with lastvolt.Client() as client:  # doctest: +SKIP
...     answer = client.wire_resistance(size="12 AWG", length_m=6.5)

Without a URL the service that is installed beside this package answers, in this process; with one
(or ``LASTVOLT_URL``) a server does. Answers are frozen dataclasses (`lastvolt.models`), arguments
are typed (`lastvolt.inputs`) and may name a unit, as in ``length_m="15 ft"`` (`lastvolt.units`),
and every error is a `LastvoltError` (`lastvolt.errors`).
"""

import logging
from typing import TYPE_CHECKING

from lastvolt import errors, inputs, models, units
from lastvolt.batch import BatchPiece, RowError
from lastvolt.client import Client
from lastvolt.embedded import EMBEDDED
from lastvolt.errors import (
    ConnectionFailed,
    ErrorAnswer,
    FieldError,
    InvalidRequest,
    LastvoltError,
    LinkTooLong,
    NoService,
    RateLimited,
    RequestRefused,
    ServerFault,
    ServerUnavailable,
    Timeout,
    UnreadableAnswer,
    WrongArgument,
)
from lastvolt.inputs import OMIT
from lastvolt.models import (
    BatteryVoltage,
    Candidate,
    CaseState,
    Change,
    Check,
    CircuitCheck,
    ComputedBy,
    Conductors,
    ConductorSize,
    DropDiagnosis,
    FuseSelection,
    Influence,
    LoadState,
    Mend,
    NodeVoltage,
    OutputSpread,
    PartDiagnosis,
    PartState,
    RelayCoil,
    RelayContact,
    RelayRetrofit,
    RelayState,
    Remedy,
    Result,
    RetrofitCase,
    SegmentDrop,
    SolenoidPullIn,
    Step,
    SuppressionResult,
    SwitchLoading,
    SwitchPosition,
    SwitchRelief,
    SwitchStep,
    Version,
    VoltageDrop,
    WeakestPart,
    WireHeating,
    WireResistance,
    WireSizing,
)

__all__ = [
    "EMBEDDED",
    "OMIT",
    "BatchPiece",
    "BatteryVoltage",
    "Candidate",
    "CaseState",
    "Change",
    "Check",
    "CircuitCheck",
    "Client",
    "ComputedBy",
    "ConductorSize",
    "Conductors",
    "ConnectionFailed",
    "DropDiagnosis",
    "ErrorAnswer",
    "FieldError",
    "FuseSelection",
    "Influence",
    "InvalidRequest",
    "LastvoltError",
    "LinkTooLong",
    "LoadState",
    "Mend",
    "NoService",
    "NodeVoltage",
    "OutputSpread",
    "PartDiagnosis",
    "PartState",
    "RateLimited",
    "RelayCoil",
    "RelayContact",
    "RelayRetrofit",
    "RelayState",
    "Remedy",
    "RequestRefused",
    "Result",
    "RetrofitCase",
    "RowError",
    "SegmentDrop",
    "ServerFault",
    "ServerUnavailable",
    "SolenoidPullIn",
    "Step",
    "SuppressionResult",
    "SwitchLoading",
    "SwitchPosition",
    "SwitchRelief",
    "SwitchStep",
    "Timeout",
    "UnreadableAnswer",
    "Version",
    "VoltageDrop",
    "WeakestPart",
    "WireHeating",
    "WireResistance",
    "WireSizing",
    "WrongArgument",
    "__version__",
    "errors",
    "inputs",
    "models",
    "units",
]

logging.getLogger("lastvolt").addHandler(logging.NullHandler())

__version__: str  # read from the installed package when somebody asks

if not TYPE_CHECKING:  # to a type checker it would make any name an attribute

    def __getattr__(name):
        if name == "__version__":
            from lastvolt._version import version

            return version()
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
