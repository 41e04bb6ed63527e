"""Answers as JSON text."""

import json
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _plain(value: Any) -> dict[str, Any]:
    if is_dataclass(value) and not isinstance(value, type):
        return {name: getattr(value, name) for name in _names(type(value))}
    raise TypeError(f"{type(value).__name__} is no part of an answer")


def to_json(answer: Any) -> str:
    """Write an answer as JSON.

    Parameters
    ----------
    answer : dataclass instance, dict, list, tuple, str, number or None
        What an operation returned.

    Returns
    -------
    str
        JSON text.

    Raises
    ------
    ValueError
        If a number is not finite: NaN and Infinity are not JSON.
    """
    return json.dumps(
        answer, default=_plain, allow_nan=False, ensure_ascii=False, separators=(",", ":")
    )
