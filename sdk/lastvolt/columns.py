"""Columns of many kinds, cut into pieces: lists and arrays out, and by name what is no column."""

import math
from array import array
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from types import NoneType
from typing import Any

from lastvolt.encoding import Path, is_of, plain, refuse
from lastvolt.errors import WrongArgument
from lastvolt.units import unit_of

_PACKAGES = ("numpy", "pandas", "polars", "pyarrow")
_NO_NUMBERS = (
    "cMmV"  # kinds of complex numbers, of times, whose unit hides in their type, of records
)


def pieces(columns: Any, piece_rows: int) -> Iterator[tuple[int, int, Any]]:
    """Cut columns into rows of one request.

    Yields
    ------
    tuple of int, int and columns
        Index of the first row, number of rows, and these rows of the same kind as was given.

    Raises
    ------
    WrongArgument
        If it has no columns.
    InvalidRequest
        If one of them is no column; it names it.
    """
    if not _is_table(columns) and not isinstance(columns, Iterable):
        raise WrongArgument(f"A {type(columns).__name__} has no columns.")
    first = 0
    for table in iter((columns,)) if _is_table(columns) else iter(columns):
        length = rows_of(table)
        if length is None:
            raise WrongArgument(f"A {type(table).__name__} has no columns.")
        for start in range(0, max(length, 1), piece_rows):
            rows = min(piece_rows, length - start)
            yield first + start, rows, _cut(table, start, rows)
        first += length


def rows_of(columns: Any) -> int | None:
    """Count the rows.

    Returns
    -------
    int or None
        None where nobody can know.
    """
    if isinstance(columns, Mapping):
        for name, column in columns.items():
            _refuse_no_column(column, ("columns", name))
        return max(map(len, columns.values()), default=0)
    return len(columns) if is_frame(columns) or is_arrow(columns) else None


def cells(table: Any, first: int) -> dict[str, Any]:
    """Give columns as lists, or as arrays of floats where orjson can write them.

    Parameters
    ----------
    table : mapping, DataFrame or Table
        One piece.
    first : int
        Index of its first row among all.

    Returns
    -------
    dict of str to list or ndarray
        Quantities are numbers in the unit of their column; None or NaN where nothing is given.

    Raises
    ------
    InvalidRequest
        If a value is none that can be sent; it names column and row.
    """
    if isinstance(table, Mapping):
        named: Iterable[tuple[Any, Any]] = table.items()
    elif is_frame(table):
        named = ((str(name), table[name]) for name in table.columns)
    else:
        named = table.to_pydict().items()
    return {name: _cells(column, name, first) for name, column in named}


def is_frame(columns: Any) -> bool:
    """Tell a DataFrame of pandas and its like."""
    return hasattr(columns, "iloc") and hasattr(columns, "columns")


def is_arrow(columns: Any) -> bool:
    """Tell a table of Arrow."""
    return hasattr(columns, "to_pydict") and hasattr(columns, "schema")


@cache
def orjson() -> Any:
    """Give the module where it is installed."""
    try:
        import orjson as found  # here: it is optional, and takes its time to import
    except ImportError:
        return None
    return found


def _is_table(columns: Any) -> bool:
    return isinstance(columns, Mapping) or is_frame(columns) or is_arrow(columns)


def _cut(table: Any, start: int, rows: int) -> Any:
    if is_frame(table):
        return table.iloc[start : start + rows]
    if isinstance(table, Mapping):
        return {name: column[start : start + rows] for name, column in table.items()}
    return table.slice(start, rows)


def _refuse_no_column(column: Any, path: Path) -> None:
    """Refuse what is no column, and what carries a unit that nobody here can read."""
    known = isinstance(column, list | tuple | range | array) or (
        is_of(column, *_PACKAGES)
        and hasattr(column, "__len__")
        and not isinstance(column, str | bytes)
        and not is_frame(column)
        and len(getattr(column, "shape", (0,))) == 1
    )
    if not known:
        refuse(path, f"A {type(column).__name__} is no column: give a list or an array of numpy.")
    dtype = getattr(column, "dtype", None)
    if dtype is None:
        return
    if not is_of(dtype, *_PACKAGES) or getattr(dtype, "kind", "O") in _NO_NUMBERS:
        refuse(path, f"A column of type {str(dtype)[:80]} holds no plain numbers and no texts.")


def _cells(column: Any, name: str, first: int) -> Any:
    path = ("columns", name)
    _refuse_no_column(column, path)
    kind = getattr(getattr(column, "dtype", None), "kind", "O")
    if kind == "f" and orjson() is not None:  # which writes NaN as null
        if hasattr(column, "to_numpy"):
            numbers = column.to_numpy("float64", na_value=math.nan).copy()
        else:
            bare = column.filled(math.nan) if hasattr(column, "filled") else column  # of a mask
            numbers = bare.astype("float64", order="C")
        infinite = abs(numbers) == math.inf
        if infinite.any():  # null, too, and so "nothing is given"
            refuse((*path, first + int(infinite.argmax())), "This must be a finite number.")
        return numbers
    return _listed(column, unit_of(name), path, first)


def _listed(column: Any, unit: str | None, path: Path, first: int) -> list[Any]:
    if hasattr(column, "to_pylist"):
        values = column.to_pylist()
    else:
        values = column.tolist() if hasattr(column, "tolist") else list(column)
    kinds = set(map(type, values))
    if unit is None and kinds <= {str, bool, NoneType}:
        return values  # type: ignore[no-any-return]  # a list, by to_pylist
    if kinds <= {int, float, NoneType} and not (math.inf in values or -math.inf in values):
        return [None if value != value else value for value in values]
    return [
        None if _is_nothing(value) else plain(value, unit=unit, path=(*path, first + row))
        for row, value in enumerate(values)
    ]


def _is_nothing(value: Any) -> bool:
    # Nothing but NaN, and pandas' sign for nothing, differs from itself or is no value at all.
    if value is None or isinstance(value, float):
        return value is None or bool(value != value)
    return type(value).__name__ in {"NAType", "NaTType"}
