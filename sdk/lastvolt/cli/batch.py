"""The command for whole lists: a file of rows in, a file with their answers out."""

import signal
import sys
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeRemainingColumn

from lastvolt._generated.service import LINED
from lastvolt._version import version
from lastvolt.batch import PIECE_ROWS
from lastvolt.cli import show, tables
from lastvolt.cli.forms import Lines, fitting, rows_form
from lastvolt.cli.journal import FileError, Source
from lastvolt.cli.output import Output
from lastvolt.cli.requests import requests, worst, written
from lastvolt.cli.rows import ANSWERED, REFUSED, VERDICTS, Question, answers, versions
from lastvolt.client import Client
from lastvolt.errors import LastvoltError

PASSED, FAILED, COULD_NOT_RUN, INTERRUPTED = 0, 1, 2, 130


@click.command()
@click.argument("operation")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path),
    help="Where the answers go: .csv or .parquet (needs pyarrow); of lines .ndjson.",
)
@click.option("--set", "settings", multiple=True, metavar="NAME=VALUE", help="Same in all rows.")
@click.option(
    "--only", type=click.Choice(VERDICTS), help="Write these rows only, and those refused."
)
@click.option(
    "--resume", is_flag=True, help="Go on where an earlier run has ended, if there was one."
)
@click.option("--force", is_flag=True, help="Overwrite the output; begin anew without --resume.")
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
    and end in their units, and a cell may carry a unit of its own: "15 ft", "180 degF". What takes
    more than a row, such as a circuit, comes as NDJSON, one request a line; blank lines are left
    out and not counted. What is wrong with a row, or a line, refuses that one alone. With --dask
    FILE is a folder of files with rows, or a pattern for their names in quotes.

    The answers come into OUTPUT when all are there; before, they are in OUTPUT.part, and
    OUTPUT.resume says how far. After whatever has ended a run the same command with --resume
    goes on, if neither FILE nor the question nor the service has changed. FILE is never touched,
    OUTPUT overwritten with --force only. Both are ordinary files. In CSV, text that a spreadsheet
    would take for a formula (=, +, -, @) gets an apostrophe before it, which FILE may have, too.

    Exit status: 0 all passed, 1 a row failed its checks or was refused, 2 it could not be run,
    130 interrupted.
    """  # fmt: skip
    try:
        if dask is not None:
            from lastvolt.cli.parts import run_parts  # here: nothing else needs it

            status = run_parts(dask, operation, file, output, **options)
        else:
            run = Run(operation, _existing(file), _no_folder(output), **options)
            fitting(operation, file, output)
            status = run.lines() if operation in LINED else run.rows()
    except LastvoltError as error:
        show.error(error)
        status = COULD_NOT_RUN
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        click.echo(f"{where}{error.strerror or error}", err=True)
        status = COULD_NOT_RUN
    except (FileError, ValueError) as error:
        click.echo(str(error), err=True)
        status = COULD_NOT_RUN
    sys.exit(status)


@dataclass
class Run:
    """One run, and how far it has come.

    Attributes
    ----------
    operation, file, output, settings, only, resume, force, url, connections, piece_rows
        As on the command line.
    done : int
        Rows that are answered and written.
    counts : Counter
        Rows by their worst verdict.
    computed_by : str
        Versions of what computed them.
    """

    operation: str
    file: Path
    output: Path
    settings: tuple[str, ...]
    only: str | None
    resume: bool
    force: bool
    url: str | None
    connections: int
    piece_rows: int
    done: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    computed_by: str = ""
    interrupted: bool = False

    def rows(self) -> int:
        """Answer a file of rows.

        Returns
        -------
        int
            Exit status.
        """
        question = self.question()
        with (
            self._run() as output,
            Client(self.url) as client,
            self._bar(self.file.stat().st_size) as bar,
        ):
            form = rows_form(self.output, output.kept, like=self.file)
            found = answers(
                client, question, self.file, skip=self.done, connections=self.connections
            )
            with closing(found):
                for each in found:
                    self._refuse_other(each.computed_by)
                    output.add(form.encode(each.columns, each.keep))
                    self.done += each.rows
                    self.counts.update(each.counts)
                    if not self._goes_on(output, bar, each.position):
                        return self._interrupted()
            output.put_in_place(self._progress(), form)
        return self._end()

    def question(self) -> Question:
        """Say what is asked of each row."""
        constants = dict(map(_setting, self.settings))
        return Question(self.operation, constants, self.only, self.piece_rows)

    def asked(self) -> dict[str, str]:
        """Say what the answers depend on, by the names of the command line."""
        return {
            "OPERATION": self.operation,
            "--set": ", ".join(sorted(self.settings)),
            "--only": self.only or "",
            "lastvolt": version(),
        }

    def lines(self) -> int:
        """Answer a file of requests, one a line.

        Returns
        -------
        int
            Exit status.
        """
        if self.settings:
            raise ValueError("A line has no constants: leave --set out.")
        with (
            self._run() as output,
            Client(self.url) as client,
            self._bar(self.file.stat().st_size) as bar,
            self.file.open("rb") as source,
        ):
            found = client.batch_lines(
                self.operation, requests(source, self.done), connections=self.connections
            )
            with closing(found):
                for answer in found:
                    self._take_line(output, answer)
                    if not self._goes_on(output, bar, source.tell()):
                        return self._interrupted()
            output.put_in_place(self._progress(), Lines())
        return self._end()

    def _take_line(self, output: Output, answer: Mapping[str, Any]) -> None:
        verdict = worst(answer)
        if "answer" in answer:
            self._refuse_other(versions(answer["answer"]["computed_by"]))
        if self.only is None or verdict in {self.only, REFUSED}:
            output.add(written(self.done + 1, answer))
        self.counts[verdict] += 1
        self.done += 1

    @contextmanager
    def _run(self) -> Iterator[Output]:
        """Open the output where the run before has ended; keep what is there when this one ends."""
        source = Source(self.file)
        asked = {**self.asked(), "content of FILE": source.content}
        output = Output(self.output, source, asked, resume=self.resume, force=self.force)
        try:
            if output.progress is not None:
                self._take_up(output.progress)
            yield output
        except BaseException as error:
            self._keep(output, error)
            raise
        finally:
            output.close()

    def _keep(self, output: Output, error: BaseException) -> None:
        """Keep what there is, if there is room for a note of it."""
        with suppress(OSError):
            if not self.done:
                output.discard()
                return
            output.note(self._progress(), now=True)
        if not isinstance(error, FileError):  # else the file is at fault, and no run can go on
            click.echo(f"{self.done:,} rows are answered: --resume goes on after them.", err=True)

    def _progress(self) -> dict[str, Any]:
        return {"rows": self.done, "counts": self.counts, "computed_by": self.computed_by}

    def _take_up(self, progress: Mapping[str, Any]) -> None:
        self.done, self.counts = progress["rows"], Counter(progress["counts"])
        self.computed_by = progress["computed_by"]

    def _goes_on(self, output: Output, bar: Any, position: int) -> bool:
        bar(self.done, position)
        output.note(self._progress(), now=self.interrupted)
        return not self.interrupted

    def _refuse_other(self, computed_by: str) -> None:
        self.computed_by = self.computed_by or computed_by
        if computed_by != self.computed_by:
            raise FileError(
                f"The rows before were computed by {self.computed_by}, these by {computed_by}: "
                "--force begins anew."
            )

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
        return FAILED if self.counts["fail"] or self.counts[REFUSED] else PASSED

    def _interrupted(self) -> int:
        click.echo(self._summary(), err=True)
        click.echo(
            f"Interrupted: the same command with --resume goes on with row {self.done + 1}.",
            err=True,
        )
        return INTERRUPTED

    def _summary(self) -> str:
        words = [word for word in (*VERDICTS, ANSWERED, REFUSED) if self.counts[word]]
        counted = ", ".join(f"{self.counts[word]:,} {word}" for word in words)
        rows = f"{self.done:,} row{'' if self.done == 1 else 's'}"
        return f"{rows}: {counted}" if counted else rows


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
    try:
        return name.strip(), tables.cell(name.strip(), value)
    except ValueError as error:
        raise ValueError(f"--set {name.strip()}: {error}") from None
