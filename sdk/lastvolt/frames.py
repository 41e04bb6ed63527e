"""Rows of a DataFrame as the items of a list argument: readings, segments, loads."""

import re
from typing import Any

from lastvolt import columns
from lastvolt.errors import WrongArgument

_COUNTED = re.compile("(.+)_([1-9][0-9]?)")


def records(table: Any) -> list[dict[str, Any]]:
    """Make the items of a list argument from the rows of a table.

    >>> readings = records({"case": ["hot"], "value_v": [0.31],
    ...                  "between_1": ["key out"], "between_2": ["50"]})
    >>> readings
    [{'case': 'hot', 'value_v': 0.31, 'between': ['key out', '50']}]

    Parameters
    ----------
    table : mapping, DataFrame or Table
        A column a field, named as it; what is a list itself has its items counted from 1, as
        ``between_1`` and ``between_2``.

    Returns
    -------
    list of dict
        Without what is nothing in a row: None, NaN, or an empty text.

    Raises
    ------
    WrongArgument
        If it has no columns, or these are of several lengths.
    InvalidRequest
        If a value is none that can be sent; it names column and row.
    """
    length = columns.rows_of(table)
    if length is None:
        raise WrongArgument(f"A {type(table).__name__} has no columns.")
    cells = {
        name: column.tolist() if hasattr(column, "tolist") else column
        for name, column in columns.cells(table, 0).items()
    }
    if any(len(column) != length for column in cells.values()):
        raise WrongArgument("Its columns are of several lengths.")
    return [_record({name: column[row] for name, column in cells.items()}) for row in range(length)]


def _record(cells: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    counted: dict[str, dict[int, Any]] = {}
    for name, value in cells.items():
        if value is None or value == "" or value != value:
            continue
        if (told := _COUNTED.fullmatch(name)) is None:
            found[name] = value
        else:
            counted.setdefault(told[1], {})[int(told[2])] = value
    return found | {name: [some[at] for at in sorted(some)] for name, some in counted.items()}
