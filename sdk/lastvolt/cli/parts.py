"""Sets of files on a cluster: part by part, each on the worker that comes to it first."""

import signal
from collections import Counter
from collections.abc import Generator, Iterator, Sequence
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Any

import click

from lastvolt._generated.service import LINED
from lastvolt.cli.batch import COULD_NOT_RUN, INTERRUPTED, Run
from lastvolt.cli.journal import Entry, FileError, Note, beside
from lastvolt.cli.rows import UNFINISHED, Outcome, Part, Question, answer_part

LOCAL = "local"
SUFFIXES = {".csv", ".parquet"}
LOOK_S = 0.2  # how long Ctrl-C may have to wait
FAULTS_SHOWN = 10


def run_parts(where: str, operation: str, file: Path, output: Path, **options: Any) -> int:
    """Answer a set of files on the workers of a cluster.

    Parameters
    ----------
    where : str
        Address of its scheduler, or ``"local"``.
    operation : str
        As in the path: ``"voltage-drop"``.
    file, output : Path
        Folder or pattern of the parts, and the folder for their answers.
    **options : object
        As on the command line.

    Returns
    -------
    int
        Exit status.
    """
    if operation in LINED:
        raise click.UsageError("--dask takes rows; lines of requests go to one service with --url.")
    if options["url"] is not None:
        raise click.UsageError("--dask asks no server: leave --url out.")
    return PartsRun(operation, file, output, **options).parts(where)


@dataclass
class PartsRun(Run):
    """A run over a set of files.

    Attributes
    ----------
    faults : dict of str to str
        Why a part has no answers, by its name.
    finished : dict of str to Outcome
        What became of the others.
    """

    faults: dict[str, str] = field(default_factory=dict)
    finished: dict[str, Outcome] = field(default_factory=dict)

    def parts(self, where: str) -> int:
        """Answer the parts that are not answered yet.

        Returns
        -------
        int
            Exit status.
        """
        sources, question = _sources(self.file, self.output, self.resume), self.question()
        note = Note(beside(self.output, "resume"), self.asked())
        try:
            before = self._begin(note, sources)
            folder = self.output.resolve()
            parts = [Part(each, folder / each.name, before.get(each.name)) for each in sources]
            try:
                with self._bar(len(parts)) as bar, _cluster(where, len(parts)) as cluster:
                    self._spread(cluster, parts, question, note, bar)
                _tidy(self.output)
            finally:
                if len(self.finished) == len(parts) or not (before or self.finished):
                    note.remove()
        finally:
            note.close()
        return self._finish(len(sources))

    def _spread(
        self, cluster: Any, parts: Sequence[Part], question: Question, note: Note, bar: Any
    ) -> None:
        with closing(_outcomes(cluster, parts, question)) as outcomes:
            for found in outcomes:
                if found is not None:
                    self._take(*found, note)
                    bar(self.done, len(self.finished) + len(self.faults))
                if self.interrupted:
                    break

    def _begin(self, note: Note, sources: Sequence[Path]) -> dict[str, Outcome]:
        """Make the folder, or see what of an earlier run is in it."""
        noted = note.path.exists()
        if not noted:
            self._refuse_others(sources)
        entries = note.begin(resume=self.resume, force=self.force)
        if entries is None:
            if noted and not self.resume:
                self._refuse_others(sources)
            for source in sources if self.force and not self.resume else ():
                (self.output / source.name).unlink(missing_ok=True)
            note.write_header()
            entries = []
        self.output.mkdir(parents=True, exist_ok=True)
        _tidy(self.output)
        return dict(map(_outcome_of, entries))

    def _refuse_others(self, sources: Sequence[Path]) -> None:
        """Refuse a folder with anything in it that this run would not have put there."""
        there = {path.name for path in self.output.iterdir()} if self.output.exists() else set()
        if there and not self.force:
            raise FileError(
                f"{self.output} is not empty: name a new folder, or overwrite it with --force."
            )
        others = sorted(
            name
            for name in there - {source.name for source in sources}
            if not name.startswith(UNFINISHED)
        )
        if others:
            raise FileError(
                f"{self.output / others[0]} is no answer to any of these parts: name a new folder."
            )

    def _take(self, part: Part, outcome: Outcome, note: Note) -> None:
        name = part.source.name
        fault = outcome.fault or self._fault_of(outcome)
        if fault:
            self.faults[name] = fault
            return
        if outcome != part.before:
            note.add(_entry(name, outcome))
        if part.before and outcome.content != part.before.content:
            click.echo(f"{name} has changed: it is answered again.", err=True)
        self.finished[name] = outcome
        self.done += outcome.rows
        self.counts.update(outcome.counts)

    def _fault_of(self, outcome: Outcome) -> str:
        if not outcome.computed_by:  # no rows
            return ""
        try:
            self._refuse_other(outcome.computed_by)
        except FileError as error:
            return str(error)
        return ""

    def _finish(self, total: int) -> int:
        if not self.interrupted and not self.faults:
            return self._end()
        click.echo(self._summary(), err=True)
        for name, fault in sorted(self.faults.items())[:FAULTS_SHOWN]:
            click.echo(f"{name}: {fault}", err=True)
        if len(self.faults) > FAULTS_SHOWN:
            click.echo(f"… and {len(self.faults) - FAULTS_SHOWN} more parts.", err=True)
        click.echo(
            f"{'Interrupted: ' if self.interrupted else ''}{len(self.finished)} of {total} parts "
            f"are done, in {self.output}; the same command with --resume does the others.",
            err=True,
        )
        return INTERRUPTED if self.interrupted else COULD_NOT_RUN


def _entry(name: str, outcome: Outcome) -> Entry:
    return {
        "part": name,
        "rows": outcome.rows,
        "counts": outcome.counts,
        "content": outcome.content,
        "computed_by": outcome.computed_by,
    }


def _outcome_of(entry: Entry) -> tuple[str, Outcome]:
    counts = Counter[str](entry["counts"])
    return entry["part"], Outcome(entry["rows"], counts, entry["content"], entry["computed_by"])


def _sources(file: Path, output: Path, resume: bool) -> list[Path]:
    """List the files of a folder or of a pattern, as every worker finds them."""
    start = Path(file.anchor)
    found = file.iterdir() if file.is_dir() else start.glob(str(file.relative_to(start)))
    sources = sorted(
        path.resolve()
        for path in found
        if path.suffix in SUFFIXES and path.is_file() and not path.name.startswith(".")
    )
    folder = output.resolve()
    outside = [path for path in sources if folder not in path.parents]
    if len(outside) < len(sources) and not (resume and outside):
        raise FileError(f"There are parts in {output} itself: name another folder.")
    if not outside:
        raise FileError(f"{file}: there is no .csv and no .parquet file.")
    twice = [name for name, count in Counter(path.name for path in outside).items() if count > 1]
    if twice:
        raise FileError(f"{file}: more than one part is named {twice[0]}.")
    return outside


def _tidy(folder: Path) -> None:
    """Remove what workers that were killed have left half written."""
    for rest in folder.glob(f"{UNFINISHED}*"):
        rest.unlink(missing_ok=True)


@contextmanager
def _cluster(where: str, parts: int) -> Iterator[Any]:
    """Connect to a scheduler, or start one here with a worker for each core."""
    try:
        distributed = import_module("distributed")  # here: only who asks for it needs it
    except ImportError:
        raise click.UsageError("--dask needs more packages: pip install 'lastvolt[dask]'") from None
    with ExitStack() as stack:
        scheduler: Any = where
        if where == LOCAL:
            cores = import_module("dask.system").CPU_COUNT
            # Ctrl-C on a terminal reaches all processes; what starts now leaves it to this one.
            before = signal.signal(signal.SIGINT, signal.SIG_IGN)
            try:
                scheduler = stack.enter_context(local_cluster(min(cores, parts)))
            finally:
                signal.signal(signal.SIGINT, before)
        yield stack.enter_context(distributed.Client(scheduler, set_as_default=False))


def local_cluster(workers: int) -> Any:
    """Start a scheduler and workers as processes of this machine, which listen on loopback only.

    Returns
    -------
    LocalCluster
        To be closed, or entered as a context.
    """
    return import_module("distributed").LocalCluster(
        n_workers=workers,
        threads_per_worker=1,  # the work is done in Python, where threads would only queue
        # Nothing to look at. Its server starts all the same: on any port, so that none is taken.
        scheduler_kwargs={"dashboard": False},
        dashboard_address="127.0.0.1:0",
    )


def _outcomes(
    cluster: Any, parts: Sequence[Part], question: Question
) -> Generator[tuple[Part, Outcome] | None, None, None]:
    """Hand parts out and give what becomes of each, or None now and then while nothing comes."""
    done: SimpleQueue[Any] = SimpleQueue()
    # Not pure: the same part may be asked for again, when its file has been put right.
    futures = cluster.map(answer_part, parts, question=question, pure=False)
    left = dict(zip([future.key for future in futures], parts, strict=True))
    for future in futures:
        future.add_done_callback(done.put)
    try:
        while left:
            try:
                future = done.get(timeout=LOOK_S)
            except Empty:
                yield None
            else:
                yield left.pop(future.key), _outcome(future)
    finally:
        cluster.cancel(futures)


def _outcome(future: Any) -> Outcome:
    try:
        found: Outcome = future.result()
    except Exception as error:  # whatever happened to a worker: the other parts go on
        return Outcome(fault=f"{type(error).__name__}: {error}")
    return found
