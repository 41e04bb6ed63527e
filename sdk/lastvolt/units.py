"""Quantities as people write them: a number and its unit, such as ``"15 ft"`` or ``"180 degF"``.

Any argument whose name ends in a unit takes such text. A conductor size is text already
(``"14 AWG"``) and goes to the service as it is.
"""

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

from lastvolt.errors import WrongArgument

# Ends of names, the longer first: "_ohm_per_m" ends in "_m" too.
SUFFIXES = {
    "ampere_turns": "A", "ageing_factor": "1", "cost": "1", "turns": "1", "_ohm_per_m": "ohm/m",
    "_k_per_w": "K/W", "_percent": "%", "_a2s": "A2s", "_mm2": "mm2", "_ohm": "ohm", "_mm": "mm",
    "_v": "V", "_a": "A", "_w": "W", "_n": "N", "_m": "m", "_k": "K", "_c": "degC", "_s": "s",
    "_h": "h",
}  # fmt: skip

_NUMBER = r"[+-]?(?:[0-9]{1,15}(?:\.[0-9]{0,15})?|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?"
_WRITTEN = re.compile(rf"({_NUMBER}) *(.*)")
_LONGEST = 40


class _Scale(NamedTuple):
    """How a unit becomes the one that a name ends in: first times `factor`, then plus `offset`."""

    factor: Fraction
    offset: Fraction = Fraction(0)


def _scales(factors: Mapping[str, str | int]) -> dict[str, _Scale]:
    return {unit: _Scale(Fraction(factor)) for unit, factor in factors.items()}


def _prefixed(unit: str) -> dict[str, _Scale]:
    return _scales({unit: 1, f"m{unit}": "1e-3", f"u{unit}": "1e-6", f"µ{unit}": "1e-6",
                    f"k{unit}": 1000})  # fmt: skip


def _times(scales: dict[str, _Scale], factor: int) -> dict[str, _Scale]:
    return {unit: _Scale(scale.factor * factor) for unit, scale in scales.items()}


# Inch, foot, yard and pound-force are exact by definition; tests hold them to a reference library.
_LENGTHS = _scales({"m": 1, "mm": "0.001", "cm": "0.01", "km": 1000,
                    "in": "0.0254", "ft": "0.3048", "yd": "0.9144"})  # fmt: skip
_CELSIUS = dict.fromkeys(("degC", "°C", "C"), _Scale(Fraction(1)))
# (T - 32) 5/9
_FAHRENHEIT = dict.fromkeys(("degF", "°F", "F"), _Scale(Fraction(5, 9), Fraction(-160, 9)))

# Units that may be written, by the one that a name ends in; spelling and case count: 1 mW, 1 MW.
ALLOWED: dict[str, dict[str, _Scale]] = {
    "m": _LENGTHS,
    "mm": _times(_LENGTHS, 1000),
    "mm2": _scales({"mm2": 1, "mm²": 1, "cm2": 100, "cm²": 100, "m2": 1_000_000, "in2": "645.16"}),
    "degC": _CELSIUS | _FAHRENHEIT | {"K": _Scale(Fraction(1), Fraction("-273.15"))},
    "K": _scales({"K": 1}),
    "V": _prefixed("V"),
    "A": _prefixed("A"),
    "W": _prefixed("W"),
    "N": _prefixed("N") | _scales({"lbf": "4.4482216152605"}),
    "s": _scales({"s": 1, "ms": "0.001", "min": 60, "h": 3600}),
    "h": _scales({"h": 1, "min": "1/60", "s": "1/3600", "d": 24}),
    "ohm": _prefixed("ohm") | _prefixed("Ω"),
    "ohm/m": _scales({"ohm/m": 1, "mohm/m": "0.001", "ohm/km": "0.001"}),
    "K/W": _scales({"K/W": 1}),
    "A2s": _scales({"A2s": 1}),
    "%": _scales({"%": 1}),
    "1": _scales({"": 1}),
}


def unit_of(name: str) -> str | None:
    """Tell the unit that a name ends in.

    Parameters
    ----------
    name : str
        Of an argument or a column, such as ``"length_m"``.

    Returns
    -------
    str or None
        None where the name carries no unit.
    """
    return next((unit for end, unit in SUFFIXES.items() if f"_{name}".endswith(end)), None)


def parse(text: str, unit: str) -> float:
    """Read a number with its unit.

    Parameters
    ----------
    text : str
        Such as ``"15 ft"``; digits are ASCII, the decimal sign is a point, and the unit, which
        may not be left out, is one of `ALLOWED`.
    unit : str
        What to convert it to: a unit that names end in.

    Returns
    -------
    float
        In `unit`.

    Raises
    ------
    WrongArgument
        If it is anything else; it is a ValueError, too.

    Examples
    --------
    >>> parse("15 ft", "m")
    4.572
    """
    allowed = ALLOWED.get(unit)
    if allowed is None:
        raise WrongArgument(f"{unit!r} is no unit that a name ends in.")
    if not isinstance(text, str):
        raise WrongArgument(f"A {type(text).__name__} is no text: write a number and a unit.")
    found = _WRITTEN.fullmatch(text.strip(" ")) if len(text) <= _LONGEST else None
    scale = allowed.get(found[2]) if found else None
    if found is None or scale is None:
        excerpt = text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
        what = f"a number and a unit, one of {', '.join(allowed)}" if unit != "1" else "a number"
        raise WrongArgument(f"{excerpt!r} is not understood: write {what}.")
    return float(Fraction(found[1]) * scale.factor + scale.offset)
