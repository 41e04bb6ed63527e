"""Columns of requests: the fields of a schema, applied to many rows at once.

Names of nested fields are joined by ``_``, items of lists are counted from 1: ``suppression_kind``,
``segments_2_size``. Rows may have items of different kinds, and different numbers of them. A cell
may be null: nothing is given in that row. What a field of a schema refuses is refused here, in the
same words; the row is named, and its neighbours are computed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, NamedTuple

import numpy as np
from marshmallow import ValidationError, fields, missing
from numpy.typing import NDArray

from lastvolt_service.rows import (
    NOT_GIVEN,
    Words,
    are,
    given,
    known_texts,
    negate,
    pick,
    some,
    take,
)
from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.cells import as_sent, refused, why
from lastvolt_service.schemas.column_names import Items, names, numbered
from lastvolt_service.schemas.fields import Count, Flag, Many, Part, Quantity
from lastvolt_service.schemas.near import MOST_TOLD, NO_SUCH_FIELD

_UNKNOWN = [NO_SUCH_FIELD]  # one for all: there may be a million
_GAP = "This is left out and the next one is given: number items from 1 without a gap."


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
        wrong[place] = {name: _UNKNOWN for name in values if not known.knows(name)}
        for name in [*islice(wrong[place], MOST_TOLD)]:
            wrong[place][name] = [known.no_such_field(name)]
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
    # Columns by name, which fields of several kinds may read.
    arrays: dict[str, tuple[Any, Any]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.bad = np.zeros(self.count, dtype=bool)

    def read(self, schema: Any, prefix: str, present: Any) -> tuple[Any, Any]:
        """Read the columns of an object, which is there in some rows; and say in which."""
        values, present = self.values(schema, prefix, present)
        return schema.made(values), present

    def values(self, schema: Any, prefix: str, present: Any) -> tuple[dict[str, Any], Any]:
        cells = {
            name: self.cells(prefix + name, each)
            for name, each in schema.fields.items()
            if not isinstance(each, Part | Many)
        }
        if present is None:  # there where anything of it is
            present = False
            for column in cells.values():
                present = present | column.given
        data: dict[str, Any] = {}
        has: dict[str, Any] = {}
        for name, each in schema.fields.items():
            if isinstance(each, Part):
                data[name], has[name] = self.part(each, f"{prefix}{name}_", present)
            elif isinstance(each, Many):
                data[name], has[name] = self.many(each, prefix + name, present)
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
                cells = data[name] if isinstance(data, dict) else getattr(data, name)
                filled = (
                    cells.filled(value)
                    if isinstance(cells, Words)
                    else pick(given(cells), cells, value)
                )
                (data if isinstance(data, dict) else vars(data))[name] = filled
        return data, there

    def many(self, each: Many, name: str, present: Any) -> tuple[list[Any], Any]:
        """Read the items of a list, as many as any row has; those of a row follow each other."""
        if not isinstance(each.inner, Items):
            return [], False
        sent = self.sent(f"{name}_")
        items: list[Any] = []
        number: Any = 0
        before: Any = True
        for place in range(1, max(sent, default=0) + 1):
            item, there = self.item(each.inner, f"{name}_{place}_", sent.get(place, ()))
            self.refuse_where(there & negate(before), f"{name}_{place - 1}", _GAP)
            items.append(item)
            number, before = number + there, there
        if each.required:
            wanting = present & (number == 0)
            self.refuse_where(wanting, name, each.error_messages["required"])
        self.refuse_where((number > 0) & (number < each.minimum), name, each.which)
        return items, True

    def sent(self, before: str) -> dict[int, list[str]]:
        """Names that columns and constants have behind a number, by that number."""
        found: dict[int, list[str]] = {}
        for name in (*self.columns, *self.constants):
            if name.startswith(before) and (taken := numbered(name.removeprefix(before))):
                place, rest = taken
                found.setdefault(place, []).append(rest)
        return found

    def item(self, inner: Items, prefix: str, sent: Sequence[str]) -> tuple[Any, Any]:
        if isinstance(inner, Part):
            return self.read(inner.schema, prefix, None)
        # Of one kind in some rows and of another in others: fields of the same name share a
        # column, and have the same default.
        schemas: Mapping[str, Any] = inner.schemas
        data: dict[str, Any] = {}
        has: dict[str, Any] = {}
        there: Any = False
        for name in sent:
            each = next(n.single[name] for n in map(names, schemas.values()) if name in n.single)
            data[name], has[name] = self.as_sent(prefix + name, each)
            there = there | has[name]
        lost = there
        for kind, schema in schemas.items():
            here = there & are(data.get("kind"), kind)
            lost = lost & negate(here)
            if some(here):
                for alien in has.keys() - names(schema).single.keys():
                    self.refuse_where(here & has[alien], prefix + alien, _UNKNOWN[0])
                data |= self.values(schema, prefix, here)[0]
        self.refuse_where(lost, f"{prefix}kind", inner.which)
        return next(iter(schemas.values())).made(data), there

    def completed(
        self, name: str, each: fields.Field[Any], cells: _Cells, present: Any
    ) -> tuple[Any, Any]:
        """Refuse what is wrong, ask for what is required, put the default where there is one."""
        values, has, wrong = cells
        if some(wrong):
            for row in np.flatnonzero(wrong & present):
                self.refuse(row, name, why(each, self.columns[name][row]))
        if each.required:
            self.refuse_where(present & negate(has), name, each.error_messages["required"])
        if each.load_default is not missing:
            if isinstance(values, Words):
                values = values.filled(each.load_default)
            elif each.load_default is not None:
                values = pick(has, values, each.load_default)
            has = True
        return values, has

    def refuse_where(self, rows: Any, name: str, detail: Any) -> None:
        if some(rows):
            for row in np.flatnonzero(np.broadcast_to(rows, self.count)):
                self.refuse(row, name, detail)

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
            inner = [str(key + 1) if isinstance(key, int) else key for key in path]
            self.refuse_where(wrong & where & ~before, prefix + "_".join(inner), detail)

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
        values, has = self.as_sent(name, each)
        return _Cells(values, has, refused(each, values, has))

    def as_sent(self, name: str, each: fields.Field[Any]) -> tuple[Any, Any]:
        """Values of a column or a constant as they are, and where they are given."""
        if name in self.constants:
            return self.constants[name], True
        if name not in self.arrays:
            self.arrays[name] = as_sent(name, each, self.columns[name])
        return self.arrays[name]
