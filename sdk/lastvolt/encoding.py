"""Python values to JSON text, quantities in their units, and by name what cannot be one.

Only what is known to be a bare number is taken for one. An object of a units library has a number,
too, in a unit of its own: sent without it, 21 ft would become 21 m.
"""

import json
import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any, NoReturn
from urllib.parse import quote

from lastvolt.errors import WrongArgument, invalid_field
from lastvolt.units import parse, unit_of

Path = tuple[object, ...]

_DEEPEST = 32  # as deep as the service reads
_MOST_BITS = 1024  # of an integer; a float has no more
_NUMPY_KINDS = "biufOUT"  # no complex numbers; no times, whose unit hides in their type
_NUMBERS = frozenset({int, float})
_TEXTS = frozenset({str})


def encoded(body: Mapping[str, Any], *, path: Path = ()) -> bytes:
    """Write a request as JSON.

    Numbers and arrays of numpy, Decimal and Fraction are taken like those of Python, and any
    mapping like a dict. Text with a unit becomes a number wherever the name of the field ends in
    a unit.

    Parameters
    ----------
    body : mapping
        Fields of the request.
    path : tuple
        Keys that lead to it, where it is part of something larger.

    Raises
    ------
    InvalidRequest
        If a value is not a finite number, has no form in JSON, carries a unit of its own, or is
        text that names no quantity where one belongs; it names the field.
    """
    return json.dumps(plain(body, path=path), separators=(",", ":")).encode()


def plain(value: Any, *, unit: str | None = None, path: Path = ()) -> Any:
    """Give the value that JSON has for it; what is below a name with a unit has that unit.

    Parameters
    ----------
    value : object
        Of a request, or a whole one.
    unit : str, optional
        Unit of the name that holds it.
    path : tuple
        Keys that lead to it.

    Returns
    -------
    object
        None, bool, int, float, str, or a dict or list of these; never the caller's own dict.

    Raises
    ------
    InvalidRequest
        As for `encoded`.
    """
    kind = type(value)
    if kind in _NUMBERS:
        return _finite(value, path)
    if value is None or (kind is bool and unit is None):
        return value
    if isinstance(value, str):
        return value if unit is None else _quantity(value, unit, path)
    if len(path) > _DEEPEST:
        refuse((), f"This has no form in JSON: it is nested deeper than {_DEEPEST} levels.")
    if isinstance(value, Mapping):
        return {
            _key(name, path): plain(item, unit=unit or unit_of(str(name)), path=(*path, name))
            for name, item in value.items()
        }
    if isinstance(value, list | tuple):
        return _items(value, unit, path)
    if kind in {Decimal, Fraction}:
        return _finite(_float(value, path), path)
    if is_of(value, "numpy") and getattr(value, "dtype", None) is not None:
        return plain(_from_numpy(value, unit, path), unit=unit, path=path)
    return _no_value(value, unit, path)


def is_of(value: object, *packages: str) -> bool:
    """Tell whether a value's own class is one of a package, which is not imported for it."""
    return type(value).__module__.partition(".")[0] in packages


def refuse(path: Path, detail: str) -> NoReturn:
    """Refuse a value by the keys that lead to it."""
    raise invalid_field("".join(("#", *map(_step, path))), detail)


def _finite(value: float, path: Path) -> float:
    if isinstance(value, int):
        if value.bit_length() > _MOST_BITS:
            refuse(path, "This integer has too many digits.")
    elif not math.isfinite(value):
        refuse(path, f"This must be a finite number, not {value}.")
    return value


def _float(value: Decimal | Fraction, path: Path) -> float:
    try:
        return float(value)
    except (OverflowError, ValueError):  # too large; a signalling NaN
        refuse(path, "This must be a finite number.")


def _quantity(text: str, unit: str, path: Path) -> float:
    try:
        return parse(text, unit)
    except WrongArgument as error:
        refuse(path, str(error))


def _key(name: object, path: Path) -> str:
    if not isinstance(name, str):
        refuse(path, f"A name must be text, not {name!r:.80}.")
    return name


def _items(values: Sequence[Any], unit: str | None, path: Path) -> Sequence[Any]:
    kinds = set(map(type, values))  # a list may be long
    if kinds <= _NUMBERS and all(map(_is_fine, values)):
        return values
    if unit is None and kinds <= _TEXTS:
        return values
    return [plain(item, unit=unit, path=(*path, index)) for index, item in enumerate(values)]


def _is_fine(value: float) -> bool:
    return value.bit_length() <= _MOST_BITS if isinstance(value, int) else math.isfinite(value)


def _from_numpy(value: Any, unit: str | None, path: Path) -> Any:
    kind = value.dtype.kind
    if kind not in _NUMPY_KINDS:
        _no_value(value, unit, path)
    return (value.astype("float64") if kind == "f" else value).tolist()


def _no_value(value: object, unit: str | None, path: Path) -> NoReturn:
    name = type(value).__name__
    if unit is None:
        refuse(path, f"A {name} has no form in JSON.")
    written = "" if unit == "1" else f" in {unit}, or text with its unit, such as '3 {unit}'"
    refuse(path, f"A {name} is no plain number: give a number{written}.")


def _step(key: object) -> str:
    """Write one step of a JSON Pointer in a URI fragment."""
    escaped = str(key)[:80].replace("~", "~0").replace("/", "~1")
    return f"/{quote(escaped, errors='replace')}"
