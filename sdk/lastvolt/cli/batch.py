"""The command for whole lists: a file of rows in, a file with their answers out."""

import json
import signal
import sys
import time
from collections import Counter, deque
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeRemainingColumn

from lastvolt.batch import PIECE_ROWS, BatchPiece
from lastvolt.cli import show, tables
from lastvolt.client import Client
from lastvolt.errors import LastvoltError

PASSED, FAILED, COULD_NOT_RUN, INTERRUPTED = 0, 1, 2, 130
CIRCUITS = "circuit-check"
REFUSED = "refused"
VERDICTS = ("fail", "marginal", "unknown", "pass")
ANSWERED = "answered"  # of operations that check nothing


@click.command()
@click.argument("operation")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(dir_okay=False, path_type=Path),
    help="Where the answers go: .csv, .parquet (needs pyarrow), or .ndjson for circuits.",
)
@click.option("--set", "settings", multiple=True, metavar="NAME=VALUE", help="Same in all rows.")
@click.option(
    "--only", type=click.Choice(VERDICTS), help="Write these rows only, and those refused."
)
@click.option("--resume", is_flag=True, help="Go on where an interrupted run has ended.")
@click.option("--url", help="Service to ask; by default LASTVOLT_URL, else none but this process.")
@click.option("--connections", type=click.IntRange(1, 64), default=4, help="At a time.")
@click.option("--piece-rows", type=click.IntRange(1), default=PIECE_ROWS, help="In one request.")
def batch(operation: str, file: Path, output: Path, **options: Any) -> None:
    """Answer OPERATION for each row of FILE.

    FILE is CSV with a header, or Parquet; the names of its columns are the fields of the request
    and end in their units, and a cell may carry a unit of its own: "15 ft", "180 degF". For
    circuit-check it is NDJSON, one request a line. Exit status: 0 all passed, 1 a row failed its
    checks or was refused, 2 it could not be run.
    """  # fmt: skip
    run = Run(operation, file, output, **options)
    try:
        status = run.circuits() if operation == CIRCUITS else run.rows()
    except LastvoltError as error:
        show.error(error)
        status = COULD_NOT_RUN
    except (tables.FileError, OSError, ValueError) as error:
        click.echo(str(error), err=True)
        status = COULD_NOT_RUN
    sys.exit(status)


@dataclass
class Run:
    """One run, and how far it has come.

    Attributes
    ----------
    operation, file, output, settings, only, resume, url, connections, piece_rows
        As on the command line.
    done : int
        Rows that are answered and written.
    counts : Counter
        Rows by their worst verdict.
    """

    operation: str
    file: Path
    output: Path
    settings: tuple[str, ...]
    only: str | None
    resume: bool
    url: str | None
    connections: int
    piece_rows: int
    done: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    interrupted: bool = False

    @property
    def note(self) -> Path:
        """File that says how far an unfinished run has come."""
        return self.output.with_name(self.output.name + ".resume")

    def rows(self) -> int:
        """Answer a file of rows.

        Returns
        -------
        int
            Exit status.
        """
        kept = self._begin()
        pieces: deque[tables.Piece] = deque()

        def columns() -> Iterator[Mapping[str, Any]]:
            for piece in tables.read(self.file, self.piece_rows, self.done):
                pieces.append(piece)
                yield piece.cells

        constants = dict(map(_setting, self.settings))
        with Client(self.url) as client, self._bar() as bar:
            found = client.batch(
                self.operation,
                columns(),
                constants=constants,
                piece_rows=self.piece_rows,
                connections=self.connections,
            )
            writer = tables.writer(self.output, kept)
            try:
                for answer in found:
                    piece = pieces.popleft()
                    self._write(writer, piece, answer)
                    self._note(writer.size())
                    bar(self.done, piece.position)
                    if self.interrupted:
                        break
            finally:
                writer.close()
                found.close()
        return self._end()

    def _write(self, writer: tables.Writer, piece: tables.Piece, answer: BatchPiece) -> None:
        columns, verdicts = _side_by_side(piece, answer)
        self.counts.update(verdicts)
        if self.only is not None:
            wanted = {self.only, REFUSED}
            keep = [row for row, verdict in enumerate(verdicts) if verdict in wanted]
            columns = {name: [values[row] for row in keep] for name, values in columns.items()}
        writer.write(columns)
        self.done += answer.rows

    def circuits(self) -> int:
        """Answer a file of circuits.

        Returns
        -------
        int
            Exit status.
        """
        if self.settings:
            raise ValueError("A circuit has no constants: leave --set out.")
        kept = self._begin()
        told: deque[str] = deque()  # what is wrong with each line, nothing where it is sent

        def requests(lines: Iterator[bytes]) -> Iterator[dict[str, Any]]:
            for line in lines:
                request, wrong = _request(line)
                told.append(wrong)
                if not wrong:
                    yield request

        with (
            Client(self.url) as client,
            self._bar() as bar,
            self.file.open("rb") as source,
            self.output.open("wb" if kept is None else "r+b") as target,
        ):
            target.truncate(kept or 0)
            target.seek(kept or 0)
            lines = (line for line in source if line.strip())
            for _ in range(self.done):
                next(lines, b"")
            answers = client.batch_circuits(requests(lines), connections=self.connections)
            for answer in _with_the_others(answers, told):
                self._write_circuit(target, answer)
                self._note(target.tell())
                bar(self.done, source.tell())
                if self.interrupted:
                    break
            answers.close()
        return self._end()

    def _write_circuit(self, target: Any, answer: Mapping[str, Any]) -> None:
        verdict = _worst(answer)
        self.counts[verdict] += 1
        if self.only is None or verdict in {self.only, REFUSED}:
            line = json.dumps({"row": self.done + 1, **answer}, ensure_ascii=False)
            target.write(line.encode() + b"\n")
            target.flush()
        self.done += 1

    def _begin(self) -> int | None:
        """Go on where the note says, or begin anew."""
        if not self.resume:
            self.note.unlink(missing_ok=True)
            return None
        try:
            note = json.loads(self.note.read_text(encoding="utf-8"))
            self.done, self.counts = int(note["rows"]), Counter(note["counts"])
            kept = int(note["size"])
        except (OSError, ValueError, KeyError, TypeError) as error:
            raise tables.FileError(f"There is nothing to resume: {error}") from error
        return kept

    def _note(self, size: int) -> None:
        note = {"rows": self.done, "size": size, "counts": self.counts}
        beside = self.note.with_name(self.note.name + ".new")
        beside.write_text(json.dumps(note), encoding="utf-8")
        beside.replace(self.note)  # at once, so that it is never half a note

    @contextmanager
    def _bar(self) -> Iterator[Any]:
        """Show how far it is, on a terminal; let Ctrl-C end the run after the piece at hand."""

        def stop(_signal: int, _frame: FrameType | None) -> None:
            if self.interrupted:
                raise KeyboardInterrupt
            self.interrupted = True

        before = signal.signal(signal.SIGINT, stop)
        console = Console(stderr=True)
        began, first = time.monotonic(), self.done
        columns = (
            BarColumn(),
            TextColumn("{task.fields[rows]:,} rows"),
            TextColumn("{task.fields[rate]:,.0f} rows/s"),
            TimeRemainingColumn(),
        )
        try:
            with Progress(*columns, console=console, disable=not console.is_terminal) as progress:
                task: TaskID = progress.add_task(
                    "", total=self.file.stat().st_size, rows=self.done, rate=0.0
                )

                def show_it(rows: int, position: int) -> None:
                    rate = (rows - first) / max(time.monotonic() - began, 1e-6)
                    progress.update(task, completed=position, rows=rows, rate=rate)

                yield show_it
        finally:
            signal.signal(signal.SIGINT, before)

    def _end(self) -> int:
        click.echo(self._summary(), err=True)
        if self.interrupted:
            click.echo(
                f"Interrupted: {self.done} rows are written to {self.output}; the same command "
                f"with --resume goes on with row {self.done + 1}.",
                err=True,
            )
            return INTERRUPTED
        self.note.unlink(missing_ok=True)
        return FAILED if self.counts["fail"] or self.counts[REFUSED] else PASSED

    def _summary(self) -> str:
        words = [word for word in (*VERDICTS, ANSWERED, REFUSED) if self.counts[word]]
        counted = ", ".join(f"{self.counts[word]:,} {word}" for word in words)
        return f"{self.done:,} rows: {counted}" if counted else f"{self.done:,} rows"


def _setting(text: str) -> tuple[str, Any]:
    name, sign, value = text.partition("=")
    if not sign or not value.strip():
        raise ValueError(f"--set {text}: write NAME=VALUE.")
    return name.strip(), tables.cell(name.strip(), value)


def _side_by_side(
    piece: tables.Piece, answer: BatchPiece
) -> tuple[dict[str, list[Any]], list[str]]:
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


def _request(line: bytes) -> tuple[dict[str, Any], str]:
    try:
        found = json.loads(line)
    except (ValueError, RecursionError) as error:
        return {}, f"This line is not JSON: {error}"
    return (found, "") if isinstance(found, dict) else ({}, "This line is no JSON object.")


def _with_the_others(
    answers: Iterator[dict[str, Any]], told: deque[str]
) -> Iterator[dict[str, Any]]:
    """Answers in the order of the lines, those that were not sent among them."""
    for answer in answers:
        while told[0]:
            yield _not_sent(told.popleft())
        told.popleft()
        yield answer
    while told:
        yield _not_sent(told.popleft())


def _not_sent(wrong: str) -> dict[str, Any]:
    return {"status": 400, "problem": {"title": "The line is not strict JSON", "detail": wrong}}


def _worst(answer: Mapping[str, Any]) -> str:
    if "answer" not in answer:
        return REFUSED
    verdicts = {check["verdict"] for check in answer["answer"].get("checks", ())}
    return next((verdict for verdict in VERDICTS if verdict in verdicts), ANSWERED)
