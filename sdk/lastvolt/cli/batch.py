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

from lastvolt.batch import PIECE_ROWS
from lastvolt.cli import show, tables
from lastvolt.cli.rows import ANSWERED, REFUSED, VERDICTS, Question, answers
from lastvolt.client import Client
from lastvolt.errors import LastvoltError

PASSED, FAILED, COULD_NOT_RUN, INTERRUPTED = 0, 1, 2, 130
CIRCUITS = "circuit-check"


@click.command()
@click.argument("operation")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path),
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
@click.option(
    "--dask",
    metavar="ADDRESS|local",
    help="Spread the parts of a set over the workers of a Dask scheduler (tcp://…:8786), or over "
    "processes of this machine; FILE and --output are then folders that all workers see.",
)
def batch(operation: str, file: Path, output: Path, dask: str | None, **options: Any) -> None:
    """Answer OPERATION for each row of FILE.

    FILE is CSV with a header, or Parquet; the names of its columns are the fields of the request
    and end in their units, and a cell may carry a unit of its own: "15 ft", "180 degF". For
    circuit-check it is NDJSON, one request a line. With --dask FILE is a folder of such files, or
    a pattern for their names in quotes. Exit status: 0 all passed, 1 a row failed its checks or
    was refused, 2 it could not be run.
    """  # fmt: skip
    try:
        if dask is not None:
            from lastvolt.cli.parts import run_parts  # here: nothing else needs it

            status = run_parts(dask, operation, file, output, **options)
        else:
            run = Run(operation, _existing(file), _no_folder(output), **options)
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
        question = self.question()
        with Client(self.url) as client, self._bar(self.file.stat().st_size) as bar:
            found = answers(
                client, question, self.file, skip=self.done, connections=self.connections
            )
            writer = tables.writer(self.output, kept, like=self.file)
            try:
                for each in found:
                    writer.write(each.columns, each.keep)
                    self.done += each.rows
                    self.counts.update(each.counts)
                    self._note(writer.size())
                    bar(self.done, each.position)
                    if self.interrupted:
                        break
            finally:
                writer.close()
                found.close()
        return self._end()

    def question(self) -> Question:
        """Say what is asked of each row.

        Returns
        -------
        Question
        """
        constants = dict(map(_setting, self.settings))
        return Question(self.operation, constants, self.only, self.piece_rows)

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
            self._bar(self.file.stat().st_size) as bar,
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
    def _bar(self, total: int) -> Iterator[Any]:
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
                task: TaskID = progress.add_task("", total=total, rows=self.done, rate=0.0)

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


def _existing(file: Path) -> Path:
    if not file.exists():
        raise click.BadParameter(f"There is no file {file}.")
    return _no_folder(file)


def _no_folder(file: Path) -> Path:
    if file.is_dir():
        raise click.BadParameter(f"{file} is a folder: a set of files needs --dask.")
    return file


def _setting(text: str) -> tuple[str, Any]:
    name, sign, value = text.partition("=")
    if not sign or not value.strip():
        raise ValueError(f"--set {text}: write NAME=VALUE.")
    return name.strip(), tables.cell(name.strip(), value)


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
