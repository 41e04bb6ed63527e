"""Python values to JSON text, and by name what cannot be one."""

import json
import math
from collections.abc import Iterator, Mapping
from typing import Any
from urllib.parse import quote

from lastvolt.errors import invalid_field


def encoded(body: Mapping[str, Any]) -> bytes:
    """Write a request as JSON.

    Numbers and arrays of numpy are taken like those of Python, and any mapping like a dict.

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
        If a value is not a finite number or has no form in JSON; it names the field.
    """
    try:
        text = json.dumps(body, default=_plain, allow_nan=False, separators=(",", ":"))
    except (TypeError, ValueError, RecursionError) as error:
        pointer, detail = next(_faults(body, "#"), ("#", f"This has no form in JSON: {error}."))
        raise invalid_field(pointer, detail) from error
    return text.encode()


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
            escaped = quote(str(key).replace("~", "~0").replace("/", "~1"))
            yield from _faults(item, f"{pointer}/{escaped}", depth + 1)
    elif isinstance(value, list | tuple):
        for index, item in enumerate(value):
            yield from _faults(item, f"{pointer}/{index}", depth + 1)
    elif hasattr(value, "tolist"):
        yield from _faults(value.tolist(), pointer, depth + 1)
    else:
        yield pointer, f"A {type(value).__name__} has no form in JSON."


_DEEPEST = 32  # as deep as the service reads
