"""Python values to JSON text, quantities in their units, and by name what cannot be one."""

import json
import math
from collections.abc import Iterator, Mapping
from types import NoneType
from typing import Any
from urllib.parse import quote

from lastvolt.errors import invalid_field
from lastvolt.units import parse, unit_of


def encoded(body: Mapping[str, Any]) -> bytes:
    """Write a request as JSON.

    Numbers and arrays of numpy are taken like those of Python, and any mapping like a dict. Text
    with a unit becomes a number wherever the name of the field ends in a unit.

    Parameters
    ----------
    body : mapping
        Fields of the request.

    Returns
    -------
    bytes

    Raises
    ------
    InvalidRequest
        If a value is not a finite number, has no form in JSON, or is text that names no quantity
        where one belongs; it names the field.
    """
    try:
        text = json.dumps(measured(body), default=_plain, allow_nan=False, separators=(",", ":"))
    except (TypeError, ValueError, RecursionError) as error:
        pointer, detail = next(_faults(body, "#"), ("#", f"This has no form in JSON: {error}."))
        raise invalid_field(pointer, detail) from error
    return text.encode()


def measured(value: Any, *, unit: str | None = None, path: tuple[object, ...] = ()) -> Any:
    """Put numbers for quantities in words; what is below a name with a unit has that unit.

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
        The value, or a copy where something had to change.

    Raises
    ------
    InvalidRequest
        If text names no quantity where one belongs; it names the field.
    """
    if isinstance(value, str) and unit is not None:
        try:
            return parse(value, unit)
        except ValueError as error:
            raise invalid_field("".join(("#", *map(_step, path))), str(error)) from None
    if len(path) > _DEEPEST:
        return value
    if isinstance(value, Mapping):
        return {
            name: measured(item, unit=unit or unit_of(str(name)), path=(*path, name))
            for name, item in value.items()
        }
    if getattr(getattr(value, "dtype", None), "kind", "") in _TEXT_KINDS:
        value = value.tolist()
    if isinstance(value, list | tuple):
        as_it_is = (int, float, NoneType) if unit else (int, float, NoneType, str)
        if not all(isinstance(item, as_it_is) for item in value):  # a column may be long
            return [
                measured(item, unit=unit, path=(*path, index)) for index, item in enumerate(value)
            ]
    return value


def _step(key: object) -> str:
    """Write one step of a JSON Pointer in a URI fragment."""
    escaped = str(key).replace("~", "~0").replace("/", "~1")
    return f"/{quote(escaped)}"


def _plain(value: object) -> object:
    if isinstance(value, Mapping):
        return dict(value)
    if hasattr(value, "tolist"):  # numpy, which this package does not import
        return value.tolist()
    raise TypeError(f"a {type(value).__name__} is no JSON value")


def _faults(value: object, pointer: str, depth: int = 0) -> Iterator[tuple[str, str]]:
    """Find the values at fault, depth first; a structure without end is left to the caller."""
    if isinstance(value, float) and not math.isfinite(value):
        yield pointer, f"This must be a finite number, not {value}."
    elif value is None or isinstance(value, str | int | float) or depth > _DEEPEST:
        return
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from _faults(item, pointer + _step(key), depth + 1)
    elif isinstance(value, list | tuple):
        for index, item in enumerate(value):
            yield from _faults(item, pointer + _step(index), depth + 1)
    elif hasattr(value, "tolist"):
        yield from _faults(value.tolist(), pointer, depth + 1)
    else:
        yield pointer, f"A {type(value).__name__} has no form in JSON."


_DEEPEST = 32  # as deep as the service reads
_TEXT_KINDS = ("O", "U", "T")  # of arrays that may hold text
