"""Many rows of an operation: look texts up once each, compute in arrays, say words once."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import ComputedBy, computed_by
from lastvolt_service.operations.solved import BY_SEVERITY, NOT_ASKED, SEVERITY, VERDICTS, Solved
from lastvolt_service.rows import Texts, Words

TOO_EXTREME = "The inputs are too extreme: a result is not a finite number."
VERDICT_TEXTS = {
    **{str(code): verdict for code, verdict in enumerate(VERDICTS)},
    str(NOT_ASKED): "nothing to check in this row",
}

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

        Parameters
        ----------
        get : callable
            Takes an item.

        Returns
        -------
        float or ndarray
            NaN where there is no item, or none in it.
        """
        values = [None if item is None else get(item) for item in self.items]
        return np.array(values, dtype=np.float64)[self.index]

    def words(self, get: Callable[[Thing], str]) -> Words:
        """Give each row a text of its item.

        Parameters
        ----------
        get : callable
            Takes an item.

        Returns
        -------
        Words
        """
        values = tuple(None if item is None else get(item) for item in self.items)
        return Words(values, np.asarray(self.index))

    def basis(self, get: Callable[[Thing], Iterable[str]]) -> list[str]:
        """Collect what all items rest on.

        Parameters
        ----------
        get : callable
            Takes an item.

        Returns
        -------
        list of str
        """
        return [text for item in self.items if item is not None for text in get(item)]

    def refusals(self, prefix: Path = ()) -> list[Refusal]:
        """Say which rows the tables do not know.

        Parameters
        ----------
        prefix : tuple of str
            Leads to the object whose texts these are.

        Returns
        -------
        list of Refusal
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

    Returns
    -------
    Found

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


@dataclass(slots=True)
class Answered:
    """What an operation gives for many rows.

    Attributes
    ----------
    solved : Solved
        Numbers and verdicts.
    basis, cautions : iterable of str
        Texts for all rows together.
    refusals : list of Refusal
        Rows that the tables do not know.
    """

    solved: Solved
    basis: Iterable[str]
    cautions: Iterable[str]
    refusals: list[Refusal] = field(default_factory=list)

    @classmethod
    def of(cls, outcome: Outcome) -> "Answered":
        """Read an outcome."""
        checks = {each.column.removeprefix("check_"): each.judged for each in outcome.checks}
        solved = Solved(outcome.columns, checks, outcome.faults)
        return cls(solved, outcome.basis, outcome.cautions)


@dataclass(frozen=True, slots=True)
class Batch:
    """Answer of a batch.

    Attributes
    ----------
    rows : int
        How many.
    columns : dict of str to ndarray or list
        Results in the order of the rows.
    verdicts : dict of str to str
        Text of each code in the columns of checks.
    refusals : list of Refusal
        Rows without an answer.
    basis, cautions : list of str
        As of single answers, each once.
    computed_by : ComputedBy
        Versions.
    """

    rows: int
    columns: dict[str, Any]
    verdicts: Mapping[str, str]
    refusals: list[Refusal]
    basis: list[str]
    cautions: list[str]
    computed_by: ComputedBy


def check_column(name: str) -> str:
    """Name the column of a check.

    Parameters
    ----------
    name : str
        Of the check: ``"pick-up, coil at ambient"``.

    Returns
    -------
    str
        ``"check_pick_up_coil_at_ambient"``.
    """
    return "check_" + "_".join(name.replace(",", " ").replace("-", " ").split())


def compute(
    answer: Callable[[Any], Answered],
    data: Any,
    good: NDArray[np.bool_],
    wanted: Collection[str] | None = None,
) -> Batch:
    """Run an operation over rows and lay its results out.

    Parameters
    ----------
    answer : callable
        The operation in columns.
    data : mapping
        Its rows that fit, as the schema's columns give them.
    good : ndarray of bool
        Which of all rows these are.
    wanted : collection of str, optional
        Names of the results to lay out; by default all.

    Returns
    -------
    Batch
        Null where there is no result.
    """
    count = int(good.sum())
    with np.errstate(all="ignore"):  # what is not finite is refused below, row by row
        answered = answer(data)
    solved = answered.solved
    columns = {name: _spread(values, count) for name, values in solved.columns.items()}
    refused = [*answered.refusals, *_faults(solved, count), *_extreme(columns, count)]
    # As for one request: what is found first is what is said.
    refusals = [*{refusal.row: refusal for refusal in reversed(refused)}.values()]
    verdicts = {
        check_column(name): _spread(np.asarray(judged.verdict, dtype=np.int8), count)
        for name, judged in solved.checks.items()
    }
    if verdicts:
        worst = np.maximum.reduce([SEVERITY[codes] for codes in verdicts.values()])
        verdicts = {"verdict": BY_SEVERITY[worst], **verdicts}
    place = np.flatnonzero(good)
    answers = np.ones(count, dtype=bool)
    answers[[refusal.row for refusal in refusals]] = False
    kept = None if count == len(good) and answers.all() else place[answers]
    return Batch(
        len(good),
        {
            name: _lay_out(values, answers, kept, len(good))
            for name, values in {**columns, **verdicts}.items()
            if wanted is None or name in wanted
        },
        VERDICT_TEXTS,
        [Refusal(int(place[row]), path, detail) for row, path, detail in refusals],
        list(dict.fromkeys(answered.basis)),
        list(answered.cautions),
        computed_by(),
    )


def _faults(solved: Solved, count: int) -> list[Refusal]:
    return [
        Refusal(int(row), fault.path, fault.error(int(row)).detail)
        for fault in solved.faults
        for row in np.flatnonzero(np.broadcast_to(fault.where, count))
    ]


def _extreme(columns: Mapping[str, Any], count: int) -> list[Refusal]:
    infinite = np.zeros(count, dtype=bool)
    for values in columns.values():
        if isinstance(values, np.ndarray) and values.dtype.kind == "f":
            infinite |= np.isinf(values)
    return [Refusal(int(row), (), TOO_EXTREME) for row in np.flatnonzero(infinite)]


def _spread(values: Any, count: int) -> Any:
    """One value per row, also where all rows share one."""
    if isinstance(values, Words):
        return Words(values.values, np.broadcast_to(values.codes, count))
    if isinstance(values, str) or values is None:
        return Words((values,), np.zeros(count, dtype=np.intp))
    return np.ascontiguousarray(np.broadcast_to(values, count))


def _lay_out(
    values: Any, answers: NDArray[np.bool_], kept: NDArray[np.intp] | None, count: int
) -> Any:
    """Put results where their rows are, and nothing where there is none."""
    if isinstance(values, Words):
        values = values.map(lambda text: text, object)
    if kept is None:
        return values.tolist() if values.dtype == object else values
    if values.dtype.kind == "f":
        whole = np.full(count, np.nan)
        whole[kept] = values[answers]
        return whole
    mixed: NDArray[Any] = np.full(count, None, dtype=object)
    mixed[kept] = values[answers]
    return mixed.tolist()
