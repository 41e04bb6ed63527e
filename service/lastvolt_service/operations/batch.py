"""Many rows of an operation: look texts up once each, compute in arrays, say words once."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.operations.judging import BY_SEVERITY, NOT_ASKED, SEVERITY, VERDICTS
from lastvolt_service.operations.lookup import Refusal
from lastvolt_service.operations.outcome import Outcome
from lastvolt_service.operations.results import ComputedBy, computed_by
from lastvolt_service.rows import Words

TOO_EXTREME = "The inputs are too extreme: a result is not a finite number."
VERDICT_TEXTS = {
    **{str(code): verdict for code, verdict in enumerate(VERDICTS)},
    str(NOT_ASKED): "nothing to check in this row",
}


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


def compute(
    solve: Callable[[Any], Outcome],
    data: Any,
    good: NDArray[np.bool_],
    wanted: Collection[str] | None = None,
) -> Batch:
    """Run an operation over rows and lay its results out.

    Parameters
    ----------
    solve : callable
        Of the operation.
    data : Fields
        Its rows that fit, in columns.
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
        outcome = solve(data)
    columns = {name: _spread(values, count) for name, values in outcome.columns.items()}
    refused = [*outcome.refusals, *_faults(outcome, count), *_extreme(columns, count)]
    # As for one request: what is found first is what is said.
    refusals = [*{refusal.row: refusal for refusal in reversed(refused)}.values()]
    verdicts = {
        each.column: _spread(np.asarray(each.judged.verdict, dtype=np.int8), count)
        for each in outcome.checks
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
        list(dict.fromkeys(outcome.basis)),
        list(outcome.cautions),
        computed_by(),
    )


def _faults(outcome: Outcome, count: int) -> list[Refusal]:
    return [
        Refusal(int(row), fault.path, fault.error(int(row)).detail)
        for fault in outcome.faults
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
