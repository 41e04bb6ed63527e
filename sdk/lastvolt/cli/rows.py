"""Rows of a file answered, here or on a worker of a cluster: the same way in both places."""

from collections import Counter, deque
from collections.abc import Generator, Iterator, Mapping
from dataclasses import asdict, dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple
from uuid import uuid4

from lastvolt._generated.service import WORST_FIRST
from lastvolt.batch import BatchPiece
from lastvolt.cli import tables
from lastvolt.cli.forms import rows_form
from lastvolt.cli.journal import FileError, Growing, Source, beside
from lastvolt.cli.output import move
from lastvolt.client import Client
from lastvolt.embedded import EMBEDDED
from lastvolt.errors import ErrorAnswer, LastvoltError

REFUSED = "refused"
VERDICTS = WORST_FIRST
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
    computed_by : str
        Versions of what computed them.
    """

    columns: dict[str, tables.Column]
    keep: list[int] | None
    counts: Counter[str]
    rows: int
    position: int
    computed_by: str


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
            yield Answers(
                side_by_side,
                keep,
                Counter(verdicts),
                answer.rows,
                piece.position,
                versions(asdict(answer.computed_by)),
            )
    finally:
        found.close()


def versions(computed_by: Mapping[str, object]) -> str:
    """Write the versions that computed an answer."""
    return ", ".join(f"{name} {version}" for name, version in computed_by.items())


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
class Outcome:
    """What became of a part.

    Attributes
    ----------
    rows : int
        Rows answered; where there are none, no file is written.
    counts : Counter
        Rows by their worst verdict.
    content : str
        By which the part is known again when it has not changed.
    computed_by : str
        Versions of what computed the answers; empty where there are none.
    fault : str
        Why there is no answer; empty if there is one.
    """

    rows: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    content: str = ""
    computed_by: str = ""
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A file of a set, and where its answers go.

    Attributes
    ----------
    source, target : Path
        As every worker finds them.
    before : Outcome or None
        What became of it in an earlier run.
    """

    source: Path
    target: Path
    before: Outcome | None = None


def answer_part(part: Part, question: Question) -> Outcome:
    """Answer a part by the service in this process; write all of it or nothing.

    Returns
    -------
    Outcome
        That of the earlier run where nothing has changed. What went wrong is in it, as words: not
        every error can travel between processes.
    """
    # A name of its own: a worker that was given up for lost may be at the same part still.
    unfinished = part.target.with_name(f"{UNFINISHED}{uuid4().hex}-{part.target.name}")
    spare = beside(unfinished, "whole")
    try:
        source = Source(part.source)
        before = part.before
        if before and before.content == source.content and _answered(part, before):
            return before
        return _answer_part(part, source, question, (unfinished, spare))
    except LastvoltError as error:
        fields = error.field_errors if isinstance(error, ErrorAnswer) else ()
        return Outcome(fault="; ".join(map(str, (error, *fields))))
    except (FileError, OSError, ValueError) as error:
        return Outcome(fault=str(error))
    finally:
        for rest in (unfinished, spare):
            rest.unlink(missing_ok=True)


def _answered(part: Part, before: Outcome) -> bool:
    return not before.rows or part.target.is_file()


def _answer_part(
    part: Part, source: Source, question: Question, names: tuple[Path, Path]
) -> Outcome:
    if part.target.exists() and part.target.samefile(part.source):
        raise FileError(f"{part.target} is the part itself: name another folder.")
    rows, counts, computed_by = 0, Counter[str](), ""
    form = rows_form(part.target, None, like=part.source)
    file = Growing(names[0], new=True)
    try:
        for found in answers(_client(), question, part.source):
            file.add(form.encode(found.columns, found.keep))
            rows += found.rows
            counts.update(found.counts)
            computed_by = found.computed_by
        file.sync()
    finally:
        file.close()
    source.refuse_changed()
    if rows:
        move(form.whole(*names), part.target, force=True)
    else:
        part.target.unlink(missing_ok=True)  # of an earlier run, when there were rows
    return Outcome(rows, counts, source.content, computed_by)


@cache
def _client() -> Client:
    """One for all parts of a process: the service is built once."""
    return Client(EMBEDDED)
