"""Many rows of an operation: columns in, columns out, piece by piece.

Columns may be a mapping of lists or of numpy arrays, a pandas DataFrame or an Arrow table; what
comes back is of the same kind. None of these packages is needed. Where orjson is installed, as it
is beside the service, text is written and read with it.
"""

import json
import math
import random
import time
from abc import ABC, abstractmethod
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice
from typing import Any, cast
from urllib.parse import quote

from lastvolt.encoding import encoded, measured
from lastvolt.errors import (
    ConnectionFailed,
    RateLimited,
    ServerUnavailable,
    UnreadableAnswer,
    invalid_field,
)
from lastvolt.lines import circuit_line
from lastvolt.models import ComputedBy

PIECE_ROWS = 16_384
PIECE_CIRCUITS = 50
CONNECTIONS = 4
# Attempts of a piece after the first, beyond those of the session for each request.
PIECE_RETRIES = 2
LONGEST_WAIT_S = 8.0

Progress = Callable[[int, int | None], None]


@dataclass(frozen=True, slots=True)
class RowError:
    """Why a row has no answer.

    Attributes
    ----------
    row : int
        Index of the row among all that were given, from 0.
    field : str
        Name of its column; empty for the row as a whole.
    detail : str
        What it must be, or why there is no answer.
    """

    row: int
    field: str
    detail: str


@dataclass(frozen=True, slots=True)
class BatchPiece:
    """Answers of some rows, in order.

    Attributes
    ----------
    first_row : int
        Index of the first row among all that were given, from 0.
    rows : int
        How many.
    columns : mapping, DataFrame or Table
        Results by name, of the kind that was given; null, None or NaN where a row has none. Those
        that begin with ``check_`` are codes of verdicts; ``verdict`` is the worst of a row.
    verdicts : dict of int to str
        Text of each code.
    errors : tuple of RowError
        Rows at fault; the others are computed.
    basis, cautions : tuple of str
        What the answers rest on, and what can hurt someone here.
    computed_by : ComputedBy
        Versions that reproduce the answers.
    """

    first_row: int
    rows: int
    columns: Any
    verdicts: dict[int, str]
    errors: tuple[RowError, ...]
    basis: tuple[str, ...]
    cautions: tuple[str, ...]
    computed_by: ComputedBy


class Batches(ABC):
    """Ask for many rows."""

    @abstractmethod
    def _post(self, path: str, content: bytes, media_type: str) -> bytes:
        """Send a body below ``/v1`` and give back that of the answer, of the same type."""

    def batch(
        self,
        operation: str,
        columns: Any,
        *,
        constants: Mapping[str, Any] | None = None,
        results: Sequence[str] | None = None,
        piece_rows: int = PIECE_ROWS,
        connections: int = CONNECTIONS,
        progress: Progress | None = None,
    ) -> Generator[BatchPiece, None, None]:
        """Compute many rows of an operation.

        Parameters
        ----------
        operation : str
            As in the path: ``"voltage-drop"``.
        columns : mapping, DataFrame, Table, or iterator of these
            One column per field; None or NaN where nothing is given. An iterator is read as it is
            used up, so that any number of rows goes through in flat memory.
        constants : mapping, optional
            Fields that are the same in all rows.
        results : sequence of str, optional
            Names of the results that are wanted, which saves time; by default all.
        piece_rows : int
            Rows of one request.
        connections : int
            Requests under way at a time.
        progress : callable, optional
            Called after each piece with the rows done so far, and with all rows where their
            number is known.

        Yields
        ------
        BatchPiece
            In the order of the rows.

        Raises
        ------
        InvalidRequest
            If a column is unknown, of another length or of another type. A row at fault raises
            nothing: it is named in `BatchPiece.errors`.
        LastvoltError
            If a piece got no answer, after repeated attempts.
        """
        same: dict[str, Any] = {"constants": dict(constants or {})}
        if results is not None:
            same["results"] = list(results)
        pieces = _pieces(columns, piece_rows)

        def ask(piece: tuple[int, int, Any]) -> BatchPiece:
            first, rows, part = piece
            body = _written({"columns": _cells(part), **same})
            path = f"batch/{quote(operation, safe='')}"
            return _read(self._repeatedly(path, body, "application/json"), first, rows, part)

        done, total = 0, _length(columns)
        for piece in _in_order(ask, pieces, connections):
            done += piece.rows
            if progress is not None:
                progress(done, total)
            yield piece

    def batch_circuits(
        self,
        circuits: Iterable[Mapping[str, Any] | bytes],
        *,
        piece_circuits: int = PIECE_CIRCUITS,
        connections: int = CONNECTIONS,
        progress: Progress | None = None,
    ) -> Generator[dict[str, Any], None, None]:
        """Check many circuits.

        Parameters
        ----------
        circuits : iterable of mapping or bytes
            Requests as for `circuit_check`, or their JSON text; read as they are used up.
        piece_circuits : int
            Circuits of one request, 1000 at most.
        connections : int
            Requests under way at a time.
        progress : callable, optional
            As for `batch`.

        Yields
        ------
        dict
            For each circuit, in order: ``status``, and ``answer``, or ``problem`` as RFC 9457 has
            it. A circuit that cannot even be sent, such as one with NaN in it, gets a problem, too,
            and the others their answers.

        Raises
        ------
        LastvoltError
            If a piece got no answer, after repeated attempts.
        """
        media_type = "application/x-ndjson"

        def ask(piece: Sequence[Mapping[str, Any] | bytes]) -> list[dict[str, Any]]:
            lines = [circuit_line(circuit) for circuit in piece]
            sent = [line for line in lines if isinstance(line, bytes)]
            text = b""
            if sent:
                text = self._repeatedly("batch/circuit-check", b"\n".join(sent), media_type)
            answers = [json.loads(line) for line in text.splitlines()]
            if len(answers) != len(sent):
                raise UnreadableAnswer("The answer to a batch of circuits was cut off.")
            given = iter(answers)
            return [next(given) if isinstance(line, bytes) else line for line in lines]

        total = len(circuits) if isinstance(circuits, Sequence) else None
        done = 0
        for lines in _in_order(ask, _grouped(circuits, piece_circuits), connections):
            done += len(lines)
            if progress is not None:
                progress(done, total)
            for line in lines:
                line.pop("line", None)  # of the piece, which the caller knows nothing of
                yield line

    def _repeatedly(self, path: str, body: bytes, media_type: str) -> bytes:
        for attempt in range(PIECE_RETRIES):
            try:
                return self._post(path, body, media_type)
            except (ConnectionFailed, ServerUnavailable, RateLimited):
                wait = min(LONGEST_WAIT_S, 0.5 * 2.0**attempt)
                time.sleep(wait * random.uniform(0.5, 1.0))  # noqa: S311  spreads load
        return self._post(path, body, media_type)


def _in_order(ask: Callable[[Any], Any], pieces: Iterator[Any], connections: int) -> Iterator[Any]:
    """Ask for pieces a few at a time; hold no more than that."""
    from concurrent.futures import ThreadPoolExecutor  # here: single calls never need it

    pool = ThreadPoolExecutor(connections, thread_name_prefix="lastvolt batch")
    under_way: deque[Any] = deque()
    try:
        # One more than there are connections: while an answer is used, none of them rests.
        for piece in islice(pieces, connections + 1):
            under_way.append(pool.submit(ask, piece))
        while under_way:
            found = under_way.popleft().result()
            under_way.extend(pool.submit(ask, piece) for piece in islice(pieces, 1))
            yield found
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _grouped(items: Iterable[Any], size: int) -> Iterator[list[Any]]:
    iterator = iter(items)
    while group := list(islice(iterator, size)):
        yield group


def _pieces(columns: Any, piece_rows: int) -> Iterator[tuple[int, int, Any]]:
    """Cut columns: index of the first row, number of rows, columns."""
    tables = iter((columns,)) if _is_table(columns) else iter(columns)
    first = 0
    for table in tables:
        length = _length(table)
        if length is None:
            raise TypeError(f"A {type(table).__name__} has no columns.")
        for start in range(0, max(length, 1), piece_rows):
            rows = min(piece_rows, length - start)
            yield first + start, rows, _cut(table, start, rows)
        first += length


def _is_table(columns: Any) -> bool:
    return isinstance(columns, Mapping) or _is_frame(columns) or _is_arrow(columns)


def _is_frame(columns: Any) -> bool:
    return hasattr(columns, "iloc") and hasattr(columns, "columns")


def _is_arrow(columns: Any) -> bool:
    return hasattr(columns, "to_pydict") and hasattr(columns, "schema")


def _length(columns: Any) -> int | None:
    if isinstance(columns, Mapping):
        return max(map(len, columns.values()), default=0)
    return len(columns) if _is_frame(columns) or _is_arrow(columns) else None


def _cut(table: Any, start: int, rows: int) -> Any:
    if _is_frame(table):
        return table.iloc[start : start + rows]
    if isinstance(table, Mapping):
        return {name: column[start : start + rows] for name, column in table.items()}
    return table.slice(start, rows)


def _cells(table: Any) -> dict[str, Any]:
    """Columns as lists, or as arrays of floats where orjson can write them."""
    if isinstance(table, Mapping):
        return {name: _list(column) for name, column in table.items()}
    if _is_frame(table):
        return {str(name): _list(table[name]) for name in table.columns}
    return {name: _list(values) for name, values in table.to_pydict().items()}


def _list(column: Any) -> Any:
    kind = getattr(getattr(column, "dtype", None), "kind", "O")
    if kind == "f" and _orjson() is not None:  # which writes NaN as null
        if hasattr(column, "to_numpy"):
            return column.to_numpy("float64", na_value=float("nan")).copy()
        return column.astype("float64", order="C")
    values = column.tolist() if hasattr(column, "tolist") else list(column)
    if kind in "Uiub" and type(column).__module__.partition(".")[0] == "numpy":
        return values  # there is always something
    # Nothing but NaN, and pandas' sign for nothing, differs from itself or is no value at all.
    return [None if value is None or _is_nothing(value) else value for value in values]


def _is_nothing(value: Any) -> bool:
    if isinstance(value, float):
        return value != value
    return type(value).__name__ in {"NAType", "NaTType"}


@cache
def _orjson() -> Any:
    try:
        import orjson  # here: it is optional, and takes its time to import
    except ImportError:
        return None
    return orjson


def _written(body: Mapping[str, Any]) -> bytes:
    fast = _orjson()
    if fast is None:
        return encoded(body)
    try:
        _refuse_endless(body["columns"])
        return cast("bytes", fast.dumps(measured(body), option=fast.OPT_SERIALIZE_NUMPY))
    except (TypeError, ValueError):
        return encoded(body)  # which takes more, or says what is wrong


def _refuse_endless(columns: Mapping[str, Any]) -> None:
    """Refuse what orjson would write as null: as if nothing were given there."""
    for name, column in columns.items():
        for value in (math.inf, -math.inf):
            if value in column:
                pointer = f"#/columns/{name}/{list(column).index(value)}"
                raise invalid_field(pointer, f"This must be a finite number, not {value}.")


def _read(content: bytes, first_row: int, rows: int, like: Any) -> BatchPiece:
    fast = _orjson()
    try:
        given = (json if fast is None else fast).loads(content)
        if given["rows"] != rows:
            raise UnreadableAnswer(f"The answer has {given['rows']} rows and not {rows}.")
        return BatchPiece(
            first_row,
            rows,
            _as_given(given["columns"], like),
            {int(code): text for code, text in given["verdicts"].items()},
            tuple(
                RowError(first_row + each["row"], each["field"], each["detail"])
                for each in given["errors"]
            ),
            tuple(given["basis"]),
            tuple(given["cautions"]),
            ComputedBy.from_json(given["computed_by"]),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise UnreadableAnswer(f"The answer to a batch is not one: {error!r}") from error


def _as_given(columns: dict[str, list[Any]], like: Any) -> Any:
    if _is_frame(like):
        frame = type(like)(columns)
        frame.index = like.index
        return frame
    if _is_arrow(like):
        return type(like).from_pydict(columns)
    if any(hasattr(column, "dtype") for column in like.values()):
        return {name: _array(values) for name, values in columns.items()}
    return columns


def _array(values: list[Any]) -> Any:
    import numpy as np  # here: the caller has it

    if values and isinstance(values[0], str):
        return np.array(values, dtype=object)
    found = np.array(values)
    if found.dtype.kind == "O":  # with None in it
        try:
            return np.array(values, dtype=float)
        except (TypeError, ValueError):
            return found
    return found.astype(object) if found.dtype.kind == "U" else found
