"""What a run over a set of files does to files; its work is done here, in place of a cluster."""

import json
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from lastvolt import embedded
from lastvolt.cli import parts
from lastvolt.cli.commands import lastvolt
from lastvolt.cli.journal import Growing
from lastvolt.cli.rows import Outcome, Part, Question, answer_part

HEADER = "size,length_m\n"


@pytest.fixture(autouse=True)
def in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Workers of processes are in tests/cli/test_dask.py."""
    embedded.application.cache_clear()

    @contextmanager
    def no_cluster(_where: str, _parts: int) -> Iterator[None]:
        yield None

    def outcomes(_: Any, given: Sequence[Part], question: Question) -> Iterator[Any]:
        for part in given:
            yield part, answer_part(part, question)

    monkeypatch.setattr(parts, "_cluster", no_cluster)
    monkeypatch.setattr(parts, "_outcomes", outcomes)


def run(source: Path, output: Path, *options: str) -> Result:
    arguments = ["batch", "wire-resistance", str(source), "-o", str(output), "--dask", "local"]
    return CliRunner().invoke(lastvolt, [*arguments, *options])


def make(folder: Path, count: int = 3) -> Path:
    folder.mkdir(exist_ok=True)
    for number in range(count):
        (folder / f"part-{number}.csv").write_text(f"{HEADER}12 AWG,{number + 1}\n")
    return folder


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def stop_after(monkeypatch: pytest.MonkeyPatch, count: int) -> None:
    take = parts.PartsRun._take

    def take_some(self: Any, *found: Any) -> None:
        take(self, *found)
        self.interrupted = len(self.finished) >= count

    monkeypatch.setattr(parts.PartsRun, "_take", take_some)


@pytest.mark.parametrize("options", [(), ("--force",), ("--resume",), ("--resume", "--force")])
@pytest.mark.parametrize("way", ["same", "above", "pattern", "link", "hard link"])
def test_the_parts_are_never_harmed(tmp_path: Path, way: str, options: tuple[str, ...]) -> None:
    folder = make(tmp_path / "in")
    source, output = folder, folder
    if way == "above":  # the folder of the answers holds that of the parts
        output = tmp_path
    elif way == "pattern":
        source, output = folder / "**" / "*.csv", folder
    elif way == "link":
        output = tmp_path / "link"
        output.symlink_to(folder)
    elif way == "hard link":
        output = make(tmp_path / "out", 0)
        (output / "part-0.csv").hardlink_to(folder / "part-0.csv")
    before = contents(folder)
    result = run(source, output, *options)
    assert contents(folder) == before
    if way != "hard link" or "--force" not in options:
        assert result.exit_code == 2, result.output


def test_answers_may_lie_below_the_parts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = make(tmp_path / "in")
    with monkeypatch.context() as patch:
        stop_after(patch, 1)
        assert run(folder / "**" / "*.csv", folder / "out").exit_code == 130
    assert run(folder / "**" / "*.csv", folder / "out", "--resume").exit_code == 0
    assert set(contents(folder / "out")) == {f"part-{number}.csv" for number in range(3)}


def test_force_overwrites_answers_to_these_parts_and_nothing_else(tmp_path: Path) -> None:
    folder, output = make(tmp_path / "in"), tmp_path / "out"
    assert run(folder, output).exit_code == 0
    right = contents(output)
    assert run(folder, output).exit_code == 2
    (output / "part-1.csv").write_text("old")
    assert run(folder, output, "--force").exit_code == 0
    assert contents(output) == right
    (output / "other.csv").write_text("mine")
    result = run(folder, output, "--force")
    assert (result.exit_code, "other.csv" in result.stderr) == (2, True)
    assert contents(output) == {**right, "other.csv": b"mine"}


def test_another_question_is_not_resumed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, output = make(tmp_path / "in"), tmp_path / "out"
    with monkeypatch.context() as patch:
        stop_after(patch, 1)
        assert run(folder, output).exit_code == 130
    kept = contents(output)
    assert "An earlier run" in run(folder, output).stderr
    for options, words in (
        (("--set", "temperature_c=40"), "--set was none and is temperature_c=40"),
        (("--only", "fail"), "--only was none and is fail"),
    ):
        result = run(folder, output, "--resume", *options)
        assert (result.exit_code, words in result.stderr) == (2, True), result.stderr
        assert contents(output) == kept
    assert run(folder, output, "--resume").exit_code == 0
    assert len(contents(output)) == 3


def test_a_part_that_has_changed_is_answered_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, output = make(tmp_path / "in"), tmp_path / "out"
    with monkeypatch.context() as patch:
        stop_after(patch, 2)
        run(folder, output)
    kept = output / "part-0.csv"
    at = kept.stat().st_mtime_ns
    (folder / "part-1.csv").write_text(f"{HEADER}10 AWG,7\n")
    result = run(folder, output, "--resume")
    assert result.exit_code == 0
    assert "part-1.csv has changed: it is answered again." in result.stderr
    assert "3 rows" in result.stderr
    assert kept.stat().st_mtime_ns == at
    assert b"10 AWG,7" in (output / "part-1.csv").read_bytes()


def test_parts_of_another_version_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, output = make(tmp_path / "in"), tmp_path / "out"
    with monkeypatch.context() as patch:
        stop_after(patch, 1)
        run(folder, output)
    note = tmp_path / "out.resume"
    note.write_text(note.read_text().replace("tables ", "tables 0"))
    result = run(folder, output, "--resume")
    assert result.exit_code == 2
    assert "part-1.csv: The rows before were computed by" in result.stderr
    assert "1 of 3 parts are done" in result.stderr


def test_two_runs_do_not_write_one_set(tmp_path: Path) -> None:
    folder, output = make(tmp_path / "in"), tmp_path / "out"
    with closing(Growing(tmp_path / "out.resume", new=True)):
        for options in ((), ("--resume",), ("--force",)):
            result = run(folder, output, *options)
            assert (result.exit_code, "Another run" in result.stderr) == (2, True)
    assert run(folder, output, "--resume").exit_code == 0


def test_a_note_that_was_cut_off_counts_as_far_as_it_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, output, note = make(tmp_path / "in"), tmp_path / "out", tmp_path / "out.resume"
    with monkeypatch.context() as patch:
        stop_after(patch, 2)
        run(folder, output)
    whole = note.read_bytes()
    ends = [at + 1 for at, byte in enumerate(whole) if byte == ord("\n")]
    assert len(ends) == 3
    for size in (0, 1, *ends, *(end - 1 for end in ends)):
        note.write_bytes(whole[:size])
        assert run(folder, output, "--resume").exit_code == 0, size
        assert len(contents(output)) == 3
        assert not note.exists()


def test_an_outcome_is_known_again() -> None:
    from collections import Counter

    outcome = Outcome(3, Counter({"pass": 2, "fail": 1}), "abc", "service 1, tables 2")
    entry = json.loads(json.dumps(parts._entry("part-1.csv", outcome)))
    assert parts._outcome_of(entry) == ("part-1.csv", outcome)
