"""Does the last volt arrive? Calculations for automotive DC circuits, over REST or in process.

>>> import lastvolt
>>> with lastvolt.Client() as client:  # doctest: +SKIP
...     answer = client.wire_resistance(size="12 AWG", length_m=6.5)

Without a URL the service that is installed beside this package answers, in this process; with one
(or ``LASTVOLT_URL``) a server does. Answers are frozen dataclasses and arguments are typed
(`lastvolt.types`); a quantity may name its unit, as in ``length_m="15 ft"`` (`lastvolt.units`), and
every error is a `LastvoltError` (`lastvolt.errors`).
"""

import logging
from typing import TYPE_CHECKING

from lastvolt import errors, types, units
from lastvolt.asking import OMIT, Omit
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
from lastvolt.frames import records

__all__ = [
    "EMBEDDED",
    "OMIT",
    "BatchPiece",
    "Client",
    "ConnectionFailed",
    "ErrorAnswer",
    "FieldError",
    "InvalidRequest",
    "LastvoltError",
    "LinkTooLong",
    "NoService",
    "Omit",
    "RateLimited",
    "RequestRefused",
    "RowError",
    "ServerFault",
    "ServerUnavailable",
    "Timeout",
    "UnreadableAnswer",
    "WrongArgument",
    "__version__",
    "errors",
    "records",
    "types",
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
