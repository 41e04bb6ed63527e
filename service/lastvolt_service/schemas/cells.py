"""Columns of cells: what they hold, where they are given, and where a field refuses them."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from marshmallow import ValidationError, fields, validate

from lastvolt_service.errors import UnknownSize
from lastvolt_service.rows import Words, given
from lastvolt_service.schemas.fields import Count, Flag, Quantity, Size
from lastvolt_service.tables.sizes import spelt

_NOTHING = type(None)


def as_sent(name: str, each: fields.Field[Any], column: Sequence[Any]) -> tuple[Any, Any]:
    """Put a column into an array or into `Words`, and say where it is given.

    Parameters
    ----------
    name : str
        Of the column.
    each : Field
        Of the schema, whose type the cells must have; its bounds are not looked at.
    column : sequence
        As JSON says it.

    Raises
    ------
    ValidationError
        If a cell is of another type.
    """
    if isinstance(each, Quantity | Count):
        return _numbers(name, each, column)
    return (_flags if isinstance(each, Flag) else _words)(name, each, column)


def _numbers(name: str, each: fields.Field[Any], column: Sequence[Any]) -> tuple[Any, Any]:
    types = set(map(type, column))
    if not types <= {float, int, _NOTHING}:
        raise _wrong_type(name, each, column, (float, int, _NOTHING))
    values = np.array(column, dtype=np.float64)
    return values, given(values) if _NOTHING in types else True


def _flags(name: str, each: fields.Field[Any], column: Sequence[Any]) -> tuple[Any, Any]:
    if not set(map(type, column)) <= {bool, _NOTHING}:
        raise _wrong_type(name, each, column, (bool, _NOTHING))
    return np.array(column, dtype=bool), np.array([value is not None for value in column])


def _words(name: str, each: fields.Field[Any], column: Sequence[Any]) -> tuple[Any, Any]:
    try:
        codes = {value: code for code, value in enumerate(dict.fromkeys(column))}
    except TypeError:  # a list or an object in the column
        codes = {0: 0}
    # Values that are equal are of one type, but for numbers, of which there is none here.
    if not set(map(type, codes)) <= {str, _NOTHING}:
        raise _wrong_type(name, each, column, (str, _NOTHING))
    if isinstance(each, Size):
        column = [*map({value: _as_spelt(value) for value in codes}.__getitem__, column)]
        codes = {value: code for code, value in enumerate(dict.fromkeys(column))}
    words = Words(
        tuple(codes), np.fromiter(map(codes.__getitem__, column), np.intp, count=len(column))
    )
    return words, given(words) if None in codes else True


def _as_spelt(size: str | None) -> str | None:
    """Write a size the one way that tables know; what is none is refused where it stands."""
    try:
        return size if size is None else spelt(size)
    except UnknownSize:
        return size


def refused(each: fields.Field[Any], values: Any, has: Any) -> Any:
    """Say where a field does not take a value."""
    if isinstance(values, Words):
        wrong = {value for value in values.values if value is not None and why(each, value)}
        return values.map(wrong.__contains__, bool) if wrong else False
    if isinstance(each, Flag):
        return False
    (rule,) = each.validators
    if isinstance(rule, validate.Range):
        inside = (values >= rule.min) & (values <= rule.max)
    else:
        inside = np.isin(values, list(rule.choices))  # type: ignore[attr-defined]  # OneOf
    if isinstance(each, Count):
        inside &= values == np.floor(values)
    return has & ~inside


def why(each: fields.Field[Any], value: Any) -> str:
    """What a field says against a value; nothing if it takes it."""
    try:
        each.deserialize(value)
    except ValidationError as error:
        messages: Any = error.messages
        return str(messages[0])
    return ""


def _wrong_type(
    name: str, each: fields.Field[Any], column: Sequence[Any], kinds: tuple[type, ...]
) -> ValidationError:
    row = next(row for row, value in enumerate(column) if type(value) not in kinds)
    return ValidationError({"columns": {name: {row: [why(each, column[row])]}}})
