"""Rows of a file answered, here or on a worker of a cluster: the same way in both places."""

from collections import Counter, deque
from collections.abc import Generator, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple
from uuid import uuid4

from lastvolt.batch import BatchPiece
from lastvolt.cli import tables
from lastvolt.client import Client
from lastvolt.embedded import EMBEDDED
from lastvolt.errors import ErrorAnswer, LastvoltError

REFUSED = "refused"
VERDICTS = ("fail", "marginal", "unknown", "pass")
ANSWERED = "answered"  # of operations that check nothing
UNFINISHED = ".unfinished-"  # begins the names of parts that are being written


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of each row.

    Attributes
    ----------
    operation : str
        As in the path: ``"voltage-drop"``.
    constants : dict
        Fields that are the same in all rows.
    only : str or None
        Verdict of the rows to write, beside those refused; None writes all.
    piece_rows : int
        Rows of one request.
    """

    operation: str
    constants: dict[str, Any]
    only: str | None
    piece_rows: int


class Answers(NamedTuple):
    """Some rows of a file with their answers.

    Attributes
    ----------
    columns : dict of str to list
        As they stand there, and their results beside them.
    keep : list of int or None
        Indices of the rows to write; None for all.
    counts : Counter
        Rows by their worst verdict.
    rows : int
        How many.
    position : int
        How much of the file is read. [byte]
    """

    columns: dict[str, tables.Column]
    keep: list[int] | None
    counts: Counter[str]
    rows: int
    position: int


def answers(
    client: Client, question: Question, file: Path, *, skip: int = 0, connections: int = 1
) -> Generator[Answers, None, None]:
    """Answer a file of rows.

    Parameters
    ----------
    client : Client
        Whom to ask.
    question : Question
        What.
    file : Path
        CSV with a header, or Parquet.
    skip : int
        Rows to leave out at the beginning.
    connections : int
        Requests under way at a time.

    Yields
    ------
    Answers
        In the order of the rows.
    """
    pieces: deque[tables.Piece] = deque()

    def columns() -> Iterator[Mapping[str, Any]]:
        for piece in tables.read(file, question.piece_rows, skip):
            pieces.append(piece)
            yield piece.cells

    found = client.batch(
        question.operation,
        columns(),
        constants=question.constants,
        piece_rows=question.piece_rows,
        connections=connections,
    )
    try:
        for answer in found:
            piece = pieces.popleft()
            side_by_side, verdicts = _side_by_side(piece, answer)
            keep = None
            if question.only is not None:
                wanted = {question.only, REFUSED}
                keep = [row for row, verdict in enumerate(verdicts) if verdict in wanted]
            yield Answers(side_by_side, keep, Counter(verdicts), answer.rows, piece.position)
    finally:
        found.close()


def _side_by_side(
    piece: tables.Piece, answer: BatchPiece
) -> tuple[dict[str, tables.Column], list[str]]:
    """Columns of the file with their results beside them, and the verdict of each row."""
    said = dict(piece.faults)
    for error in answer.errors:
        row = error.row - answer.first_row
        if row not in piece.faults:  # what was not understood was not sent either
            words = f"{error.field}: {error.detail}" if error.field else error.detail
            said[row] = f"{said[row]}; {words}" if row in said else words
    columns = dict(piece.given)
    for name, values in answer.columns.items():
        column = list(values)
        if name == "verdict" or name.startswith("check_"):
            column = [None if code is None else answer.verdicts[code] for code in column]
        for row in piece.faults:
            column[row] = None
        columns[f"result_{name}" if name in piece.given else name] = column
    columns["errors"] = [said.get(row) for row in range(answer.rows)]
    verdicts = columns.get("verdict", [ANSWERED] * answer.rows)
    return columns, [REFUSED if row in said else str(v) for row, v in enumerate(verdicts)]


@dataclass(frozen=True, slots=True)
class Part:
    """A file of a set, and where its answers go.

    Attributes
    ----------
    source, target : Path
        As every worker finds them.
    """

    source: Path
    target: Path


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a part.

    Attributes
    ----------
    rows : int
        Rows answered; where there are none, no file is written.
    counts : Counter
        Rows by their worst verdict.
    fault : str
        Why there is no answer; empty if there is one.
    """

    rows: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    fault: str = ""


def answer_part(part: Part, question: Question) -> Outcome:
    """Answer a part by the service in this process; write all of it or nothing.

    Parameters
    ----------
    part : Part
        From where and to where.
    question : Question
        What is asked.

    Returns
    -------
    Outcome
        What went wrong is in it, as words: not every error can travel between processes.
    """
    # A name of its own: a worker that was given up for lost may be at the same part still.
    unfinished = part.target.with_name(f"{UNFINISHED}{uuid4().hex}-{part.target.name}")
    try:
        return _answer_part(part, question, unfinished)
    except LastvoltError as error:
        fields = error.field_errors if isinstance(error, ErrorAnswer) else ()
        return Outcome(fault="; ".join(map(str, (error, *fields))))
    except (tables.FileError, OSError, ValueError) as error:
        return Outcome(fault=str(error))
    finally:
        unfinished.unlink(missing_ok=True)


def _answer_part(part: Part, question: Question, unfinished: Path) -> Outcome:
    rows, counts = 0, Counter[str]()
    writer = tables.writer(unfinished, None, like=part.source)
    try:
        for found in answers(_client(), question, part.source):
            writer.write(found.columns, found.keep)
            rows += found.rows
            counts.update(found.counts)
    finally:
        writer.close()
    if rows:
        unfinished.replace(part.target)
    return Outcome(rows, counts)


@cache
def _client() -> Client:
    """One for all parts of a process: the service is built once."""
    return Client(EMBEDDED)
