"""Many rows of an operation: columns in, columns out, piece by piece.

Columns may be a mapping of lists or of numpy arrays, a pandas DataFrame or an Arrow table; what
comes back is of the same kind. None of these packages is needed. Where orjson is installed, as it
is beside the service, text is written and read with it.
"""

import json
import os
from abc import ABC, abstractmethod
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any, cast
from urllib.parse import quote

from lastvolt._generated import types
from lastvolt.columns import cells, is_arrow, is_frame, orjson, pieces, rows_of
from lastvolt.encoding import plain
from lastvolt.errors import (
    LastvoltError,
    UnreadableAnswer,
    WrongArgument,
    printable,
)
from lastvolt.lines import as_line

PIECE_ROWS = 16_384
# A line may take 2 s, and those of a piece have a minute together.
PIECE_LINES = 20
CONNECTIONS = 4

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
    computed_by: "types.ComputedBy"


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
            As in the path, or as its method: ``"voltage-drop"``.
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
            If a column is unknown, of another length or of another type, or carries a unit of its
            own. A row at fault raises nothing: it is named in `BatchPiece.errors`.
        LastvoltError
            If a piece got no answer, after repeated attempts.
        """
        _check_counts(piece_rows=piece_rows, connections=connections)
        same: dict[str, Any] = plain({"constants": {} if constants is None else constants})
        if results is not None:
            same["results"] = plain(list(results), path=("results",))
        path = f"batch/{in_path(operation)}"

        def ask(piece: tuple[int, int, Any]) -> BatchPiece:
            first, rows, part = piece
            body = _written(cells(part, first), same)
            return _read(self._post(path, body, "application/json"), first, rows, part)

        done, total = 0, rows_of(columns)
        for piece in _in_order(ask, pieces(columns, piece_rows), connections):
            done += piece.rows
            if progress is not None:
                progress(done, total)
            yield piece

    def batch_lines(
        self,
        operation: str,
        requests: Iterable[Mapping[str, Any] | bytes],
        *,
        piece_lines: int = PIECE_LINES,
        connections: int = CONNECTIONS,
        progress: Progress | None = None,
    ) -> Generator[dict[str, Any], None, None]:
        """Ask many requests of an operation that takes no columns, such as those about circuits.

        Parameters
        ----------
        operation : str
            As in the path: ``"circuit-check"``, ``"quick-answer"``.
        requests : iterable of mapping or bytes
            As for the operation alone, or their JSON text; read as they are used up.
        piece_lines : int
            Lines of one request, 1000 at most.
        connections : int
            Requests under way at a time.
        progress : callable, optional
            As for `batch`.

        Yields
        ------
        dict
            For each, in order: ``status``, and ``answer``, or ``problem`` as RFC 9457 has it. What
            cannot even be sent, such as a NaN, gets a problem, too, and the others their answers.

        Raises
        ------
        LastvoltError
            If a piece got no answer, after repeated attempts.
        """
        _check_counts(piece_lines=piece_lines, connections=connections)
        if not isinstance(requests, Iterable):
            raise WrongArgument(f"A {type(requests).__name__} holds no requests.")

        path = f"batch/{in_path(operation)}"

        def ask(piece: Sequence[Mapping[str, Any] | bytes]) -> list[dict[str, Any]]:
            lines = [as_line(request) for request in piece]
            sent = [line for line in lines if isinstance(line, bytes)]
            answers: Iterator[dict[str, Any]] = iter(())
            if sent:
                body = b"\n".join(sent)
                text = self._post(path, body, "application/x-ndjson")
                answers = iter(_read_lines(text, len(sent)))
            return [next(answers) if isinstance(line, bytes) else line for line in lines]

        total = len(requests) if isinstance(requests, Sequence) else None
        done = 0
        groups = _grouped(requests, piece_lines)
        for lines in _in_order(ask, groups, connections):
            done += len(lines)
            if progress is not None:
                progress(done, total)
            for line in lines:
                line.pop("line", None)  # of the piece, which the caller knows nothing of
                yield line


def in_path(operation: str) -> str:
    """Write the name of an operation, or its method's, as a part of a path that it cannot leave."""
    if not isinstance(operation, str):
        raise WrongArgument(f"The name of an operation is text, not {operation!r:.80}.")
    return quote(operation.replace("_", "-"), safe="", errors="replace")


def _check_counts(**counts: int) -> None:
    for name, count in counts.items():
        if not isinstance(count, int) or count < 1:
            raise WrongArgument(f"{name} must be a whole number from 1, not {count!r:.80}.")


def _in_order(ask: Callable[[Any], Any], pieces: Iterator[Any], connections: int) -> Iterator[Any]:
    """Ask for pieces a few at a time; hold no more than that."""
    from concurrent.futures import ThreadPoolExecutor  # here: single calls never need it

    process = os.getpid()
    pool = ThreadPoolExecutor(connections, thread_name_prefix="lastvolt batch")
    under_way: deque[Any] = deque()
    try:
        # One more than there are connections: while an answer is used, none of them rests.
        for piece in islice(pieces, connections + 1):
            under_way.append(pool.submit(ask, piece))
        while under_way:
            if os.getpid() != process:  # whose threads are not here: their answers never come
                raise LastvoltError("A batch goes on in the process that began it, and in no fork.")
            found = under_way.popleft().result()
            under_way.extend(pool.submit(ask, piece) for piece in islice(pieces, 1))
            yield found
    finally:
        if os.getpid() == process:
            pool.shutdown(wait=True, cancel_futures=True)


def _grouped(items: Iterable[Any], size: int) -> Iterator[list[Any]]:
    iterator = iter(items)
    while group := list(islice(iterator, size)):
        yield group


def _written(columns: dict[str, Any], same: Mapping[str, Any]) -> bytes:
    body = {"columns": columns, **same}
    fast = orjson()
    if fast is not None:
        try:
            return cast("bytes", fast.dumps(body, option=fast.OPT_SERIALIZE_NUMPY))
        except TypeError:  # integers of more than 64 bits, half a surrogate pair
            pass
    return json.dumps(body, default=_nulls_for_nan, separators=(",", ":")).encode()


def _nulls_for_nan(numbers: Any) -> list[float | None]:
    return [None if number != number else number for number in numbers.tolist()]


def _read(content: bytes, first_row: int, rows: int, like: Any) -> BatchPiece:
    fast = orjson()
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
            types.ComputedBy.from_json(given["computed_by"]),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise UnreadableAnswer(
            f"The answer to a batch is not one: {printable(repr(error))}"
        ) from error


def _read_lines(content: bytes, count: int) -> list[dict[str, Any]]:
    try:
        lines = [json.loads(line) for line in content.splitlines()]
    except (ValueError, RecursionError) as error:
        raise UnreadableAnswer("The answer to a batch of lines is not JSON.") from error
    if len(lines) != count or not all(isinstance(line, dict) for line in lines):
        raise UnreadableAnswer("The answer to a batch of lines was cut off.")
    return lines


def _as_given(columns: dict[str, list[Any]], like: Any) -> Any:
    if is_frame(like):
        frame = type(like)(columns)
        frame.index = like.index
        return frame
    if is_arrow(like):
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
