"""What the command does to files: nothing to its input, nothing to others unless it is told to."""

import csv
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pyarrow as arrow
import pytest
from click.testing import CliRunner, Result
from pyarrow import parquet

from lastvolt import embedded
from lastvolt.cli.commands import lastvolt
from lastvolt.cli.journal import Growing
from lastvolt_service.operations.circuits.check import CircuitCheckRequest

SIZES = ["12 AWG", "10 AWG", "99 AWG", "14 AWG", "16 AWG", "2.5 mm2"]
OPERATION = {".csv": "wire-resistance", ".parquet": "wire-resistance", ".ndjson": "circuit-check"}


@pytest.fixture(autouse=True)
def fresh_application() -> None:
    embedded.application.cache_clear()


def run(source: Path, target: Path, *options: str) -> Result:
    arguments = ["batch", OPERATION.get(source.suffix, "wire-resistance"), str(source)]
    if source.suffix != ".ndjson":
        options = (*options, "--piece-rows", "2")
    return CliRunner().invoke(lastvolt, [*arguments, "-o", str(target), *options])


def make(file: Path) -> Path:
    """Six rows, the third of which is refused."""
    if file.suffix == ".parquet":
        parquet.write_table(arrow.table({"size": SIZES, "length_m": [1.0] * 6}), file)
    elif file.suffix == ".ndjson":
        good = json.dumps(CircuitCheckRequest.example)
        file.write_text("\n".join([good, good, "{}", good, good, good]) + "\n")
    else:
        file.write_text("size,length_m\n" + "".join(f"{size},1\n" for size in SIZES))
    return file


def content(file: Path) -> Any:
    return parquet.read_table(file).to_pylist() if file.suffix == ".parquet" else file.read_bytes()


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@contextmanager
def stopped_after(rows: int, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let the run end as if by a fault of its own once so many rows are there."""
    from lastvolt.cli import output

    note = output.Output.note

    def note_and_stop(self: Any, progress: Any, *, now: bool = False) -> None:
        note(self, progress, now=True)
        if progress["rows"] >= rows and not now:
            raise OSError(5, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(output.Output, "note", note_and_stop)
        yield


@pytest.mark.parametrize("force", [(), ("--force",), ("--resume", "--force")])
@pytest.mark.parametrize("way", ["same", "relative", "symlink", "hard link", "dotted", "part"])
@pytest.mark.parametrize("suffix", [".csv", ".parquet", ".ndjson"])
def test_the_input_is_never_harmed(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    suffix: str,
    way: str,
    force: tuple[str, ...],
) -> None:
    source = make(tmp_path / f"same{suffix}")
    before, target = source.read_bytes(), source
    if way == "relative":
        monkeypatch.chdir(tmp_path)
        target = Path(source.name)
    elif way == "dotted":
        (tmp_path / "sub").mkdir()
        target = tmp_path / "sub" / ".." / source.name
    elif way == "symlink":
        target = tmp_path / f"link{suffix}"
        target.symlink_to(source)
    elif way == "hard link":
        target = tmp_path / f"link{suffix}"
        target.hardlink_to(source)
    elif way == "part":  # a name that the run would take for a file of its own
        target = tmp_path / f"other{suffix}"
        (tmp_path / f"{target.name}.part").symlink_to(source)
    result = run(source, target, *force)
    assert result.exit_code == 2, result.output
    assert source.read_bytes() == before
    assert len(result.stderr.splitlines()) == 1


@pytest.mark.parametrize("suffix", [".csv", ".parquet", ".ndjson"])
def test_an_existing_output_is_overwritten_only_when_told(tmp_path: Path, suffix: str) -> None:
    source, target = make(tmp_path / f"in{suffix}"), tmp_path / f"out{suffix}"
    assert run(source, target).exit_code == 1
    right, written = content(target), target.read_bytes()
    assert names(tmp_path) == {source.name, target.name}
    for options in ((), ("--resume",)):
        result = run(source, target, *options)
        assert (result.exit_code, "--force" in result.stderr) == (2, True)
        assert target.read_bytes() == written
    target.write_bytes(b"old")
    assert run(source, target, "--force").exit_code == 1
    assert content(target) == right
    assert names(tmp_path) == {source.name, target.name}


def test_a_link_is_written_through(tmp_path: Path) -> None:
    source, link = make(tmp_path / "in.csv"), tmp_path / "latest.csv"
    link.symlink_to(tmp_path / "out.csv")
    assert run(source, link).exit_code == 1
    assert link.is_symlink()
    assert len((tmp_path / "out.csv").read_text().splitlines()) == 7


def test_an_output_that_appears_meanwhile_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from lastvolt.cli import output

    source, target = make(tmp_path / "in.csv"), tmp_path / "out.csv"
    move = output.move

    def appear_and_move(ready: Path, where: Path, *, force: bool) -> None:
        where.write_bytes(b"of somebody else")
        move(ready, where, force=force)

    with monkeypatch.context() as patch:
        patch.setattr(output, "move", appear_and_move)
        result = run(source, target)
    assert result.exit_code == 2
    assert target.read_bytes() == b"of somebody else"
    assert run(source, target, "--resume").exit_code == 2
    assert target.read_bytes() == b"of somebody else"
    assert run(source, target, "--resume", "--force").exit_code == 1
    assert len(target.read_text().splitlines()) == 7
    assert names(tmp_path) == {source.name, target.name}


@pytest.mark.parametrize("suffix", [".csv", ".parquet", ".ndjson"])
def test_what_does_not_match_is_not_resumed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, suffix: str
) -> None:
    source, target = make(tmp_path / f"in{suffix}"), tmp_path / f"out{suffix}"
    with stopped_after(4, monkeypatch):
        assert run(source, target).exit_code == 2
    kept = {name: (tmp_path / name).read_bytes() for name in names(tmp_path)}
    assert set(kept) == {source.name, f"{target.name}.part", f"{target.name}.resume"}

    def refused(*options: str) -> str:
        result = run(source, target, *options)
        assert result.exit_code == 2, result.output
        assert {name: (tmp_path / name).read_bytes() for name in names(tmp_path)} == kept
        return result.stderr

    assert "An earlier run" in refused()
    assert "--only was none and is fail" in refused("--resume", "--only", "fail")
    if suffix != ".ndjson":
        assert "--set was none and is temperature_c=40" in refused(
            "--resume", "--set", "temperature_c=40"
        )
    make_other = make(tmp_path / f"other{suffix}").read_bytes()[:-1] + b" "
    (tmp_path / f"other{suffix}").unlink()
    kept[source.name], right = make_other, kept[source.name]
    source.write_bytes(make_other)  # of the same size
    assert "content of FILE was" in refused("--resume")
    kept[source.name] = right
    source.write_bytes(right)
    monkeypatch.setattr("lastvolt.cli.batch.version", lambda: "9.9.9")
    assert "lastvolt was" in refused("--resume")
    monkeypatch.undo()
    assert run(source, target, "--resume").exit_code == 1
    whole = tmp_path / f"whole{suffix}"
    run(source, whole)
    assert content(target) == content(whole)


@pytest.mark.parametrize("suffix", [".csv", ".ndjson"])
def test_answers_of_two_versions_do_not_stand_in_one_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, suffix: str
) -> None:
    source, target = make(tmp_path / f"in{suffix}"), tmp_path / f"out{suffix}"
    with stopped_after(4, monkeypatch):
        assert run(source, target).exit_code == 2
    part = (tmp_path / f"{target.name}.part").read_bytes()
    note = tmp_path / f"{target.name}.resume"
    note.write_text(note.read_text().replace("tables ", "tables 0"))
    result = run(source, target, "--resume")
    assert result.exit_code == 2
    assert "were computed by" in result.stderr
    assert (tmp_path / f"{target.name}.part").read_bytes() == part
    assert not target.exists()


def test_an_input_that_changes_meanwhile_is_not_answered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from lastvolt.cli import output

    source, target = make(tmp_path / "in.csv"), tmp_path / "out.csv"
    add = output.Output.add

    def add_and_change(self: Any, data: bytes) -> None:
        add(self, data)
        os.utime(source)

    monkeypatch.setattr(output.Output, "add", add_and_change)
    result = run(source, target)
    assert (result.exit_code, "was changed" in result.stderr) == (2, True)
    assert not target.exists()


@pytest.mark.parametrize("options", [(), ("--resume",), ("--force",)])
def test_two_runs_do_not_write_one_file(tmp_path: Path, options: tuple[str, ...]) -> None:
    source, target = make(tmp_path / "in.csv"), tmp_path / "out.csv"
    with closing(Growing(tmp_path / "out.csv.resume", new=True)):  # as the other run has it
        result = run(source, target, *options)
    assert (result.exit_code, "Another run" in result.stderr) == (2, True)
    assert run(source, target, "--resume").exit_code == 1  # the other has been killed: no lock


def test_files_of_others_are_left_alone(tmp_path: Path) -> None:
    source, target = make(tmp_path / "in.csv"), tmp_path / "out.csv"
    for name in ("out.csv.part", "out.csv.resume"):
        other = tmp_path / name
        other.write_text("mine\n")
        for options in ((), ("--resume",), ("--force",)):
            assert run(source, target, *options).exit_code == 2
            assert other.read_text() == "mine\n"
        other.unlink()


def test_a_run_that_answers_nothing_leaves_nothing(tmp_path: Path) -> None:
    source = tmp_path / "in.csv"
    source.write_text("sise,length_m\n12 AWG,1\n")
    assert run(source, tmp_path / "out.csv").exit_code == 2
    assert names(tmp_path) == {"in.csv"}


@pytest.mark.parametrize("special", ["pipe", "null"])
@pytest.mark.parametrize("where", ["in", "out"])
def test_pipes_and_devices_are_refused(tmp_path: Path, special: str, where: str) -> None:
    pipe = Path(os.devnull)
    if special == "pipe":
        os.mkfifo(pipe := tmp_path / "pipe.csv")
    source = make(tmp_path / "in.csv")
    files = (pipe, tmp_path / "out.csv") if where == "in" else (source, pipe)
    result = run(*files)
    assert (result.exit_code, "no ordinary file" in result.stderr) == (2, True)


def test_a_full_disk_costs_nothing_that_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each write in turn finds no room, or room for half of it."""
    source, write = make(tmp_path / "in.csv"), os.write
    run(source, tmp_path / "whole.csv")
    monkeypatch.setattr("lastvolt.cli.output.NOTED_EVERY_S", 0.0)
    full = 0
    for room in range(40):
        target, left = tmp_path / f"out{room}.csv", room

        def write_some(file: int, data: Any) -> int:
            nonlocal left
            left -= 1
            if left == 0:
                return write(file, data[: len(data) // 2])
            if left < 0:
                raise OSError(28, "No space left on device")
            return write(file, data)

        with monkeypatch.context() as patch:
            patch.setattr(os, "write", write_some)
            result = run(source, target)
        if result.exit_code == 1:
            break
        full += 1
        assert result.exit_code == 2, result.output
        assert "No space left on device" in result.stderr
        assert len(result.stderr.splitlines()) <= 2
        assert run(source, target, "--resume").exit_code == 1
        assert target.read_bytes() == (tmp_path / "whole.csv").read_bytes()
    assert full > 5


def test_where_nothing_may_be_written(tmp_path: Path) -> None:
    source = make(tmp_path / "in.csv")
    for target in (tmp_path / "nowhere" / "out.csv", Path("/proc/out.csv")):
        result = run(source, target)
        assert result.exit_code == 2
        assert len(result.stderr.splitlines()) == 1
        assert "Traceback" not in result.output


def test_text_does_not_leave_as_a_formula(tmp_path: Path) -> None:
    formulas = [
        '=HREF("x")',
        "+1+2",
        "-1+2",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "\uff1d1",
        "-40 degC",
    ]
    with (tmp_path / "in.csv").open("w", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["size", "length_m", "temperature_c"])
        writer.writerows([formula, "+2", "-3.2"] for formula in formulas[:-1])
        writer.writerow(["12 AWG", ".5", formulas[-1]])
    run(tmp_path / "in.csv", tmp_path / "out.csv")
    with (tmp_path / "out.csv").open(newline="", encoding="utf-8") as file:
        found = [*csv.DictReader(file)]
    assert [row["size"] for row in found] == [*(f"'{text}" for text in formulas[:-1]), "12 AWG"]
    assert {(row["length_m"], row["temperature_c"]) for row in found[:-1]} == {("+2", "-3.2")}
    assert found[-1]["temperature_c"] == "'-40 degC"
    for row in found:
        assert not any(cell.startswith(tuple("=@\t\r\uff1d")) for cell in row.values())

    with (tmp_path / "again.csv").open("w", newline="") as file:  # its own answers as questions
        again = csv.DictWriter(file, ["size", "length_m", "temperature_c"], extrasaction="ignore")
        again.writeheader()
        again.writerows(found)
    run(tmp_path / "again.csv", tmp_path / "out2.csv")
    assert (tmp_path / "out2.csv").read_bytes() == (tmp_path / "out.csv").read_bytes()
    assert found[-1]["errors"] == ""


RUNNER = """
import os, signal, sys
from lastvolt.cli import output
from lastvolt.cli.commands import lastvolt
output.NOTED_EVERY_S = 0.0
left = int(sys.argv.pop(1))
def counted(name):
    whole = getattr(os, name)
    def call(*given, **named):
        global left
        left -= 1
        if left == 0 and name == "write":
            whole(given[0], given[1][: len(given[1]) // 2])
        if left <= 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return whole(*given, **named)
    setattr(os, name, call)
for name in ("open", "write", "fsync", "ftruncate", "link", "unlink", "replace"):
    counted(name)
lastvolt()
"""


@pytest.mark.parametrize("suffix", [".csv", ".parquet", ".ndjson"])
def test_killed_at_some_writes_and_resumed(tmp_path: Path, suffix: str) -> None:
    """At every file operation: tests/faults/test_batch_files.py, a long test."""
    source = make(tmp_path / f"in{suffix}")
    run(source, tmp_path / f"whole{suffix}")
    for left in (2, 5, 9):
        target = tmp_path / f"out{left}{suffix}"
        command = [sys.executable, "-c", RUNNER, str(left), "batch", OPERATION[suffix]]
        command += [str(source), "-o", str(target), "--piece-rows", "2"]
        assert subprocess.run(command, timeout=60).returncode == -9
        assert not target.exists()
        assert run(source, target, "--resume").exit_code == 1
        assert content(target) == content(tmp_path / f"whole{suffix}")
        assert not {f"{target.name}.part", f"{target.name}.resume"} & names(tmp_path)


@pytest.mark.parametrize(
    ("operation", "source", "target", "says"),
    [
        ("wire-resistance", "in.csv", "out.xlsx", "the answers are rows: let its name end in .csv"),
        ("wire-resistance", "in.csv", "out.ndjson", "the answers are rows"),
        ("wire-resistance", "in.csv", "out", "the answers are rows"),
        ("wire-resistance", "in.ndjson", "out.csv", "takes rows: give CSV or Parquet"),
        ("circuit-check", "in.csv", "out.ndjson", "give NDJSON, one request a line"),
        ("circuit-check", "in.ndjson", "out.csv", "the answers are lines of JSON"),
    ],
)
def test_a_name_says_what_stands_in_the_file(
    tmp_path: Path, operation: str, source: str, target: str, says: str
) -> None:
    make(tmp_path / source)
    arguments = ["batch", operation, str(tmp_path / source), "-o", str(tmp_path / target)]
    result = CliRunner().invoke(lastvolt, arguments)
    assert result.exit_code == 2
    assert says in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert names(tmp_path) == {source}


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"size;length_m\n12 AWG;5,5\n", "semicolons"),
        (b"size\tlength_m\n12 AWG\t5.5\n", "tabs"),
        ("size,length_m\n12 AWG,5.5\n".encode("utf-16"), "no CSV in UTF-8"),
        (b"PK\x03\x04\x14\0\x06\0,x", "no CSV in UTF-8"),  # as a workbook begins, which is a ZIP
    ],
)
def test_what_a_spreadsheet_saves_otherwise_is_told(
    tmp_path: Path, content: bytes, says: str
) -> None:
    (tmp_path / "in.csv").write_bytes(content)
    result = run(tmp_path / "in.csv", tmp_path / "out.csv")
    assert result.exit_code == 2
    assert says in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert names(tmp_path) == {"in.csv"}


def test_a_setting_that_is_not_understood_is_named(tmp_path: Path) -> None:
    source = make(tmp_path / "in.csv")
    result = run(source, tmp_path / "out.csv", "--set", "temperature_c=hot")
    assert result.exit_code == 2
    assert "--set temperature_c: 'hot'" in result.stderr
