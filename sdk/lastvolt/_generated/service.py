# Generated from openapi.json by sdk/generate: do not edit.
"""What the client knows of the service: what is read by GET, what is drawn, how numbers round."""

from collections.abc import Mapping
from typing import Final

TABLES: Final = frozenset(["conductors"])
"""Operations that are read by GET; every other one is a POST."""

DRAWN: Final = frozenset(
    [
        "voltage-drop",
        "wire-heating",
        "solenoid-pull-in",
        "circuit-fit",
        "gain-proof",
        "recording",
        "circuit-check",
        "start-sequence",
        "relay-retrofit",
        "remedy-choice",
        "relay-choice",
        "work-sheet",
    ]
)
"""Operations that have a picture."""

LINED: Final[frozenset[str]] = frozenset(
    [
        "switch-loading",
        "drop-diagnosis",
        "circuit-fit",
        "meter-plan",
        "gain-proof",
        "recording",
        "circuit-check",
        "start-sequence",
        "relay-retrofit",
        "remedy-choice",
        "relay-choice",
        "work-sheet",
        "quick-answer",
    ]
)
"""Operations whose batches are lines of JSON; those of the others are columns."""

MEDIA_TYPES: Final[Mapping[str, str]] = {
    "md": "text/markdown",
    "txt": "text/plain",
    "svg": "image/svg+xml",
    "png": "image/png",
    "html": "text/html",
}
"""What each form of a report comes as."""

DECIMALS: Final[Mapping[str, int]] = {
    "V": 2,
    "A": 1,
    "degC": 0,
    "K": 0,
    "%": 0,
    "m": 2,
    "ft": 1,
    "s": 1,
}
"""Decimals of a number that is shown, by unit; where none stands here, three digits count."""

TWO_DIGITS_BELOW: Final[Mapping[str, float]] = {"V": 0.01, "A": 1.0, "s": 1.0}
"""Numbers below which two digits count, of thousandths at the least, in place of these decimals."""

SYMBOLS: Final[Mapping[str, str]] = {
    "degC": "°C",
    "ohm": "Ω",
    "mm2": "mm²",
    "A2s": "A²s",
    "ohm/m": "Ω/m",
    "1": "",
}
"""How units are written for people, where that differs from their names in the document."""

WORST_FIRST: Final[tuple[str, ...]] = ("fail", "undecided", "unknown", "marginal", "pass")
"""Verdicts of checks in their order."""
