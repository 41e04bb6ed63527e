"""Columns of requests: the fields of a schema, applied to many rows at once.

Names of nested fields are joined by ``_``, items of lists are counted from 1: ``suppression_kind``,
``derating_1_ambient_c``. A cell may be null: nothing is given in that row. What a field of a schema
refuses is refused here, in the same words; the row is named, and its neighbours are computed.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, NamedTuple

import numpy as np
from marshmallow import ValidationError, fields, missing, validate
from numpy.typing import NDArray

from lastvolt_service.rows import NOT_GIVEN, Words, given, known_texts, pick, some, take
from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.fields import Count, Flag, Many, Part, Quantity

# Items of a list that columns can name.
LISTED = 5
_UNKNOWN = ["There is no such field."]  # one for all: there may be a million
_NOTHING = type(None)


class RowError(NamedTuple):
    """Why a row has no answer.

    Attributes
    ----------
    row : int
        Index of the row, from 0.
    field : str
        Name of the column; empty where it is the row as a whole.
    detail : str
        What it must be.
    """

    row: int
    field: str
    detail: str


@dataclass(slots=True)
class Rows:
    """Rows as the formulas take them.

    Attributes
    ----------
    count : int
        Number of rows sent.
    data : dict
        In the shape of the schema: a column or a constant in each place.
    errors : list of RowError
        Why rows are left out of `data`.
    good : ndarray of bool
        Which rows are in `data`.
    """

    count: int
    data: dict[str, Any]
    errors: list[RowError]
    good: NDArray[np.bool_]


@cache
def names(schema: Request, prefix: str = "") -> Mapping[str, fields.Field[Any]]:
    """List the columns that a schema takes.

    Parameters
    ----------
    schema : Request
        The schema.
    prefix : str
        Put before each name.

    Returns
    -------
    mapping of str to Field
    """
    found: dict[str, fields.Field[Any]] = {}
    for name, each in schema.fields.items():
        for inner, schema_of_it in _within(name, each):
            found |= names(schema_of_it, f"{prefix}{inner}_")
        if not isinstance(each, Part | Many):
            found[prefix + name] = each
    return found


def _within(name: str, each: fields.Field[Any]) -> Iterator[tuple[str, Any]]:
    """Objects below a field, with what their columns begin with."""
    if isinstance(each, Part):
        yield name, each.schema
    elif isinstance(each, Many) and isinstance(each.inner, Part):
        for place in range(1, LISTED + 1):
            yield f"{name}_{place}", each.inner.schema


def read(schema: Request, columns: Mapping[str, Any], constants: Mapping[str, Any]) -> Rows:
    """Hold columns against a schema.

    Parameters
    ----------
    schema : Request
        Of one row.
    columns : mapping of str to list
        One value per row, all of the same length.
    constants : mapping of str to object
        The same value for all rows.

    Returns
    -------
    Rows

    Raises
    ------
    ValidationError
        If a column is no list, of another length, of another type, unknown, or a constant does
        not fit; its messages are nested as the request is.
    """
    reading = _Reading(columns, constants, _count(schema, columns, constants))
    data, _ = reading.read(schema, "", True)
    bad = reading.bad
    if bad.any():
        data = known_texts(take(data, ~bad))
    return Rows(reading.count, data, sorted(reading.errors), ~bad)


def _count(schema: Request, columns: Mapping[str, Any], constants: Mapping[str, Any]) -> int:
    known = names(schema)
    wrong: dict[str, dict[str, list[str]]] = {"columns": {}, "constants": {}}
    for place, values in (("columns", columns), ("constants", constants)):
        # In their order, for the first of them are told.
        wrong[place] = {name: _UNKNOWN for name in values if name not in known}
    for name in constants:
        if name in columns:
            wrong["constants"][name] = ["This is given as a column, too."]
    lengths: dict[str, int] = {}
    for name, values in columns.items():
        if isinstance(values, list):
            lengths[name] = len(values)
        else:
            wrong["columns"].setdefault(name, ["This must be a list."])
    count = max(lengths.values(), default=0)
    for name, length in lengths.items():
        if length != count:
            wrong["columns"].setdefault(name, [f"This has {length} rows, another one {count}."])
    if not count and not any(wrong.values()):
        raise ValidationError({"columns": ["Give at least one column with one row."]})
    if any(wrong.values()):
        raise ValidationError({place: found for place, found in wrong.items() if found})
    return count


class _Cells(NamedTuple):
    """A column as read: values, where they are given, where they are refused."""

    values: Any
    given: Any
    refused: Any


@dataclass(slots=True)
class _Reading:
    columns: Mapping[str, Any]
    constants: Mapping[str, Any]
    count: int
    errors: list[RowError] = field(default_factory=list)
    bad: NDArray[np.bool_] = field(init=False)

    def __post_init__(self) -> None:
        self.bad = np.zeros(self.count, dtype=bool)

    def read(self, schema: Any, prefix: str, present: Any) -> tuple[dict[str, Any], Any]:
        """Read the columns of an object, which is there in some rows; and say in which."""
        cells = {
            name: self.cells(prefix + name, each)
            for name, each in schema.fields.items()
            if not isinstance(each, Part | Many)
        }
        if present is None:  # there where anything of it is
            present = np.zeros(self.count, dtype=bool)
            for column in cells.values():
                present = present | column.given
        data: dict[str, Any] = {}
        has: dict[str, Any] = {}
        for name, each in schema.fields.items():
            if isinstance(each, Part):
                data[name], has[name] = self.part(each, f"{prefix}{name}_", present)
            elif isinstance(each, Many):
                data[name] = self.many(each, f"{prefix}{name}")
            else:
                data[name], has[name] = self.completed(prefix + name, each, cells[name], present)
        self.hold(schema, prefix, data, has, present)
        return data, present

    def part(self, each: Part, prefix: str, present: Any) -> tuple[Any, Any]:
        if each.required:
            return self.read(each.schema, prefix, present)
        named = any(name.startswith(prefix) for name in (*self.columns, *self.constants))
        if not named and each.load_default is missing:
            return None, False
        if not named:
            return each.schema.load(each.load_default), True
        data, there = self.read(each.schema, prefix, None)
        if each.load_default is not missing:
            for name, value in each.load_default.items():
                cells = data[name]
                if isinstance(cells, Words):
                    data[name] = cells.filled(value)
                else:
                    data[name] = pick(given(cells), cells, value)
        return data, there

    def many(self, each: Many, prefix: str) -> list[dict[str, Any]]:
        inner: Any = each.inner
        return [
            self.read(inner.schema, f"{prefix}_{place}_", None)[0]
            for place in range(1, LISTED + 1)
            if any(n.startswith(f"{prefix}_{place}_") for n in (*self.columns, *self.constants))
        ]

    def completed(
        self, name: str, each: fields.Field[Any], cells: _Cells, present: Any
    ) -> tuple[Any, Any]:
        """Refuse what is wrong, ask for what is required, put the default where there is one."""
        values, has, refused = cells
        if some(refused):
            for row in np.flatnonzero(refused):
                self.refuse(row, name, _why(each, self.columns[name][row]))
        if each.required:
            wanting = present > has
            if some(wanting):
                for row in np.flatnonzero(np.broadcast_to(wanting, self.count)):
                    self.refuse(row, name, each.error_messages["required"])
        if each.load_default is not missing:
            if isinstance(values, Words):
                values = values.filled(each.load_default)
            elif each.load_default is not None:
                values = pick(has, values, each.load_default)
            has = True
        return values, has

    def refuse(self, row: Any, name: str, detail: Any) -> None:
        self.bad[row] = True
        self.errors.append(RowError(int(row), name, str(detail)))

    def hold(
        self,
        schema: Request,
        prefix: str,
        data: Mapping[str, Any],
        has: Mapping[str, Any],
        where: Any,
    ) -> None:
        """Hold the fields of rows against each other."""
        before = self.bad.copy()  # as for one request: not before each field is right by itself
        broken = [*schema.broken_groups(has), *schema.broken_rules(data)]
        for wrong, path, detail in broken:
            found = wrong & where & ~before
            if some(found):
                inner = [str(key + 1) if isinstance(key, int) else key for key in path]
                for row in np.flatnonzero(found):
                    self.refuse(row, prefix + "_".join(inner), detail)

    def cells(self, name: str, each: fields.Field[Any]) -> _Cells:
        """Read a column or a constant as it is."""
        if name in self.constants:
            try:
                return _Cells(each.deserialize(self.constants[name]), True, False)
            except ValidationError as error:
                raise ValidationError({"constants": {name: error.messages}}) from error
        if name not in self.columns:
            number = isinstance(each, Quantity | Count | Flag)
            return _Cells(NOT_GIVEN if number else None, False, False)
        if isinstance(each, Quantity | Count):
            return _numbers(name, each, self.columns[name])
        if isinstance(each, Flag):
            return _flags(name, each, self.columns[name])
        return _words(name, each, self.columns[name])


def _numbers(name: str, each: Quantity | Count, column: Sequence[Any]) -> _Cells:
    types = set(map(type, column))
    if not types <= {float, int, _NOTHING}:
        raise _wrong_type(name, each, column, (float, int, _NOTHING))
    values = np.array(column, dtype=np.float64)
    has: Any = given(values) if _NOTHING in types else True
    (rule,) = each.validators
    if isinstance(rule, validate.Range):
        inside = (values >= rule.min) & (values <= rule.max)
    else:
        inside = np.isin(values, list(rule.choices))  # type: ignore[attr-defined]  # OneOf
    if isinstance(each, Count):
        inside &= values == np.floor(values)
    return _Cells(values, has, has > inside)


def _flags(name: str, each: Flag, column: Sequence[Any]) -> _Cells:
    if not set(map(type, column)) <= {bool, _NOTHING}:
        raise _wrong_type(name, each, column, (bool, _NOTHING))
    has = np.array([value is not None for value in column])
    return _Cells(np.array(column, dtype=bool), has, False)


def _words(name: str, each: fields.Field[Any], column: Sequence[Any]) -> _Cells:
    try:
        codes = {value: code for code, value in enumerate(dict.fromkeys(column))}
    except TypeError:  # a list or an object in the column
        codes = {0: 0}
    # Values that are equal are of one type, but for numbers, of which there is none here.
    if not set(map(type, codes)) <= {str, _NOTHING}:
        raise _wrong_type(name, each, column, (str, _NOTHING))
    words = Words(
        tuple(codes), np.fromiter(map(codes.__getitem__, column), np.intp, count=len(column))
    )
    refused: Any = False
    if wrong := {value for value in codes if value is not None and _why(each, value)}:
        refused = words.map(wrong.__contains__, bool)
    return _Cells(words, given(words) if None in codes else True, refused)


def _why(each: fields.Field[Any], value: Any) -> str:
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
    return ValidationError({"columns": {name: {row: [_why(each, column[row])]}}})
