"""What tables know of texts, each looked up once, for one request or for many rows."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Generic, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.rows import NOT_GIVEN, Texts, Words

Thing = TypeVar("Thing")


class Refusal(NamedTuple):
    """A row that fits the schema and has no answer.

    Attributes
    ----------
    row : int
        Index of the row among those computed.
    path : tuple
        Leads to the field at fault.
    detail : str
        Why.
    """

    row: int
    path: Path
    detail: str


@dataclass(frozen=True, slots=True)
class Found(Generic[Thing]):
    """What tables know of the texts of many rows.

    Attributes
    ----------
    items : list
        One for each different combination of texts; None where the tables do not know it.
    index : ndarray of int
        Of the item of each row; a single number where all rows have the same.
    refused : dict of int to CalculationError
        Why, by index of the item.
    """

    items: list[Thing | None]
    index: NDArray[np.intp] | int
    refused: dict[int, CalculationError]

    def numbers(self, get: Callable[[Thing], float | None]) -> Any:
        """Give each row a number of its item.

        Returns
        -------
        float or ndarray
            NaN where there is no item, or none in it.
        """
        values = [None if item is None else get(item) for item in self.items]
        if isinstance(self.index, int):  # one request, or one for all rows
            value = values[self.index]
            if value is None:
                return NOT_GIVEN
            return value if isinstance(value, float) else float(value)
        return np.array(values, dtype=np.float64)[self.index]

    def words(self, get: Callable[[Thing], str]) -> Texts:
        """Give each row a text of its item."""
        values = tuple(None if item is None else get(item) for item in self.items)
        if isinstance(self.index, int):
            return values[self.index]
        return Words(values, np.asarray(self.index))

    def basis(self, get: Callable[[Thing], Iterable[str]]) -> list[str]:
        """Collect what all items rest on."""
        return [text for item in self.items if item is not None for text in get(item)]

    def refusals(self, prefix: Path = ()) -> list[Refusal]:
        """Say which rows the tables do not know.

        Parameters
        ----------
        prefix : tuple of str
            Leads to the object whose texts these are.
        """
        return [
            Refusal(int(row), (*prefix, *error.path), error.detail)
            for item, error in self.refused.items()
            for row in np.flatnonzero(np.asarray(self.index) == item)
        ]


def look_up(find: Callable[..., Thing | None], **texts: Texts) -> Found[Thing]:
    """Look every combination of texts up that occurs, once.

    Parameters
    ----------
    find : callable
        Takes the texts by name; None where there is nothing to know.
    **texts : str, None or Words
        Columns or constants.

    Raises
    ------
    CalculationError
        If all are constants that the tables do not know.
    """
    columns = {name: words for name, words in texts.items() if isinstance(words, Words)}
    fixed = {name: text for name, text in texts.items() if name not in columns}
    if not columns:
        return Found([find(**fixed)], 0, {})
    counts = [len(words.values) for words in columns.values()]
    code: Any = 0
    for words, count in zip(columns.values(), counts, strict=True):
        code = code * count + words.codes
    used, index = np.unique(code, return_inverse=True) if len(columns) > 1 else (None, code)
    combinations = np.arange(counts[0]) if used is None else used
    items: list[Thing | None] = []
    refused: dict[int, CalculationError] = {}
    for place, picked in enumerate(zip(*np.unravel_index(combinations, counts), strict=True)):
        values = {
            name: words.values[at]
            for (name, words), at in zip(columns.items(), picked, strict=True)
        }
        try:
            items.append(find(**values, **fixed))
        except CalculationError as error:
            items.append(None)
            refused[place] = error
    return Found(items, index, refused)
