"""Answers as JSON text."""

import json
from collections.abc import Callable, Iterable
from dataclasses import fields, is_dataclass
from functools import cache
from operator import attrgetter
from typing import Any

import orjson

from lastvolt_service.fields import Fields, as_sent

_WITHOUT_PARTS = frozenset({str, int, bool, type(None)})


@cache
def _values(kind: type) -> Callable[[Any], Iterable[Any]]:
    """Make the function that lists the values of a dataclass."""
    names = [field.name for field in fields(kind)]
    if len(names) > 1:
        return attrgetter(*names)
    return lambda value: [getattr(value, name) for name in names]


def _check(values: Iterable[Any]) -> None:
    """Refuse numbers that are not finite: orjson would write null for them."""
    for value in values:
        kind = type(value)
        if kind is float:
            if value - value:  # not a number for itself and for infinity, else zero
                raise ValueError("A number is not finite.")
        elif kind in _WITHOUT_PARTS:
            continue
        elif kind is tuple or kind is list:
            _check(value)
        elif kind is dict:
            _check(value.values())
        elif is_dataclass(kind):
            _check(_values(kind)(value))
        elif issubclass(kind, Fields):
            _check(as_sent(value).values())
        elif issubclass(kind, str):  # a basis that carries a mark
            continue
        else:
            raise TypeError(f"{kind.__name__} is for the slow way")


def _plain(value: Any) -> dict[str, Any]:
    if isinstance(value, Fields):  # a part of a request, to be sent on
        return as_sent(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: getattr(value, field.name) for field in fields(value)}
    raise TypeError(f"{type(value).__name__} is no part of an answer")


def to_json(answer: Any) -> bytes:
    """Write an answer as JSON.

    Returns
    -------
    bytes
        JSON text in UTF-8.

    Raises
    ------
    ValueError
        If a number is not finite: NaN and Infinity are not JSON.
    """
    try:
        _check((answer,))
        return orjson.dumps(answer, default=_plain)
    except TypeError:  # long integers, keys and numbers of other kinds
        text = json.dumps(
            answer, default=_plain, allow_nan=False, ensure_ascii=False, separators=(",", ":")
        )
        return text.encode()
