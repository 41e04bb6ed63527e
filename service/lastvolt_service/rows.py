"""One row or many: plain numbers and arrays through the same lines.

A number that was not given is NaN. What is true of one row is a bool, of many an array of them. One
row stays plain numbers: a numpy call costs more than all the sums of a circuit.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.laws import Traced

Numbers: TypeAlias = float | NDArray[np.float64]
Flags: TypeAlias = bool | NDArray[np.bool_]

NOT_GIVEN = math.nan


@dataclass(frozen=True, slots=True)
class Words:
    """A column of texts, each different one kept once.

    Attributes
    ----------
    values : tuple of str or None
        The different texts; None stands for one that was not given.
    codes : ndarray of int
        Index into `values`, one per row.
    """

    values: tuple[str | None, ...]
    codes: NDArray[np.intp]

    def map(self, function: Callable[[str | None], Any], kind: type) -> NDArray[Any]:
        """Give each row what a function makes of its text.

        Parameters
        ----------
        function : callable
            Called once for each different text.
        kind : type
            Of the array: float, bool or object.
        """
        made: NDArray[Any] = np.empty(len(self.values), dtype=kind)
        made[:] = [function(value) for value in self.values]
        return made[self.codes]

    def filled(self, default: str) -> "Words":
        """Put a text where none was given."""
        return Words(tuple(default if v is None else v for v in self.values), self.codes)


Texts: TypeAlias = str | Words | None


def given(value: Any) -> Any:
    """Say where something was given."""
    if type(value) is float:  # what most values are
        return value == value
    if isinstance(value, Words):
        return value.map(lambda text: text is not None, bool)
    return value is not None and value == value


def are(texts: Texts, word: str) -> Flags:
    """Say where a text is a word."""
    if isinstance(texts, Words):
        return texts.map(lambda text: text == word, bool)
    return texts == word


def pick(condition: Any, yes: Any, no: Any) -> Any:
    """Take one of two values, row by row, as `numpy.where` does.

    Parameters
    ----------
    condition : bool or ndarray of bool
        Where to take `yes`.
    yes, no : float, bool or ndarray
        Both are there already: neither may fail where it is not taken.
    """
    if condition is True or condition is False:
        return yes if condition else no
    if isinstance(condition, np.ndarray):
        return np.where(condition, yes, no)
    return yes if condition else no


def magnitude(value: Any) -> Any:
    """Give a value without its sign, row by row."""
    return abs(value)


def negate(flags: Any) -> Any:
    """Say where something is not so, row by row."""
    return ~flags if isinstance(flags, np.ndarray) else not flags


def text_if(condition: Any, yes: str, no: str) -> str:
    """Take one of two texts for one row; columns carry no texts of their own and get the second."""
    return no if isinstance(condition, np.ndarray) or not condition else yes


def texts_where(condition: Any, texts: Texts) -> Texts:
    """Keep texts where a condition holds, and no text elsewhere."""
    if not isinstance(condition, np.ndarray):
        return texts if condition else None
    if not isinstance(texts, Words):
        texts = Words((texts,), np.zeros(condition.shape, dtype=np.intp))
    return Words((*texts.values, None), np.where(condition, texts.codes, len(texts.values)))


def one_text(texts: Texts) -> str | None:
    """Give the text of one request; columns carry none."""
    return texts if isinstance(texts, str) else None


def is_sent(value: Any) -> bool:
    """Say whether one request gives a value, or columns have one for it, of whatever cells."""
    return isinstance(value, np.ndarray | Words) or bool(given(value))


def some(flags: Any) -> bool:
    """Say whether something is true of any row."""
    return bool(flags.any()) if isinstance(flags, np.ndarray) else bool(flags)


def plain(value: Any) -> Any:
    """Make one row's result of a numpy function a plain number, faster to go on with."""
    if type(value) is Traced:
        return value
    return value if isinstance(value, np.ndarray) and value.ndim else float(value)


def optional(value: float | None) -> float:
    """Write what may be missing as a number.

    Returns
    -------
    float
        NaN for None.
    """
    return NOT_GIVEN if value is None else value


def number(value: Any) -> float | None:
    """Read the number of one row.

    Returns
    -------
    float or None
        None for NaN.
    """
    found = float(value)
    return found if found == found else None


def count_of(data: Any) -> int | None:
    """Say how many rows the columns of an object have; None of one request, which has none."""
    for value in vars(data).values():
        if isinstance(value, np.ndarray | Words):
            return len(value.codes if isinstance(value, Words) else value)
    return None


def row_of(value: Any, row: int) -> Any:
    """Take one row of a column; what is none is the same in all rows."""
    if isinstance(value, Words):
        return value.values[value.codes[row]]
    return value[row].item() if isinstance(value, np.ndarray) and value.ndim else value


def take(data: Any, rows: NDArray[Any]) -> Any:
    """Take some rows of columns.

    Parameters
    ----------
    data : object
        Columns and constants, in lists and dicts to any depth.
    rows : ndarray of bool or int
        Which.

    Returns
    -------
    object
        In the same shape.
    """
    if isinstance(data, dict):
        return {name: take(value, rows) for name, value in data.items()}
    if hasattr(data, "described"):  # a class of fields
        return type(data)(**{name: take(value, rows) for name, value in vars(data).items()})
    if isinstance(data, list):
        return [take(value, rows) for value in data]
    if isinstance(data, Words):
        return Words(data.values, data.codes[rows])
    return data[rows] if isinstance(data, np.ndarray) else data


def known_texts(data: Any) -> Any:
    """Forget the texts that stand in no row, such as those of rows that were refused.

    Parameters
    ----------
    data : object
        Columns and constants, in lists and dicts to any depth.

    Returns
    -------
    object
        In the same shape.
    """
    if isinstance(data, dict):
        return {name: known_texts(value) for name, value in data.items()}
    if hasattr(data, "described"):
        return type(data)(**{name: known_texts(value) for name, value in vars(data).items()})
    if isinstance(data, list):
        return [known_texts(value) for value in data]
    if isinstance(data, Words):
        used, codes = np.unique(data.codes, return_inverse=True)
        return Words(tuple(data.values[place] for place in used), codes)
    return data
