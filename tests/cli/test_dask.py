"""Sets of files on a cluster of two workers: the same as on one machine, whatever befalls them."""

import csv
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import distributed
import pyarrow as arrow
import pytest
from click.testing import CliRunner, Result
from pyarrow import parquet

from lastvolt import embedded
from lastvolt.cli import parts
from lastvolt.cli.commands import lastvolt

WORKERS = 2
COLUMNS = ("segments_1_size", "segments_1_length_m", "segments_1_temperature_c", "load_current_a")
ROWS = [
    ("12 AWG", "15 ft", "104 degF", "8"),
    ("16 AWG", "9 m", "40", "12"),  # fails
    ("10 AWG", "3.2", "", "500 mA"),
    ("99 AWG", "1", "", "1"),  # refused: no such size
    ("12 AWG", "15 parsec", "", "1"),  # refused: no such unit
]
SETS = [ROWS, ROWS[:1], ROWS[::-1] * 3, ROWS[2:]]
ARGUMENTS = (
    "--set",
    "supply_v=13.2 V",
    "--set",
    "segments_1_kind=wire",
    "--set",
    "segments_1_name=feed",
    "--piece-rows",
    "4",
)


@pytest.fixture(autouse=True)
def fresh_application() -> None:
    embedded.application.cache_clear()


@pytest.fixture(scope="module")
def cluster() -> Iterator[Any]:
    """Two processes on loopback, as a scheduler elsewhere would have them."""
    with (
        parts.local_cluster(WORKERS) as started,
        distributed.Client(started, set_as_default=False) as client,
    ):
        yield client


@pytest.fixture
def scheduler(cluster: Any) -> str:
    address: str = cluster.scheduler.address
    assert address.startswith("tcp://127.0.0.1:")
    return address


def run(file: Path, output: Path, *options: str) -> Result:
    arguments = ["batch", "voltage-drop", str(file), "-o", str(output), *ARGUMENTS, *options]
    return CliRunner().invoke(lastvolt, arguments, env={"LASTVOLT_URL": None})


def write(file: Path, rows: list[tuple[str, ...]]) -> None:
    """Write rows as text; nothing where a cell is empty, as each kind of file says it."""
    if file.suffix == ".parquet":
        cells = {
            name: arrow.array([row[at] or None for row in rows], arrow.string())
            for at, name in enumerate(COLUMNS)
        }
        parquet.write_table(arrow.table(cells), file)
        return
    with file.open("w", newline="", encoding="utf-8") as text:
        csv.writer(text).writerows([COLUMNS, *rows])


def make(folder: Path, suffix: str, sets: list[list[tuple[str, ...]]] = SETS) -> Path:
    """Make a folder of parts, beside one file of all rows."""
    (folder / "in").mkdir()
    for number, rows in enumerate(sets):
        write(folder / "in" / f"part-{number}{suffix}", rows)
    write(folder / f"all{suffix}", [row for rows in sets for row in rows])
    return folder / "in"


def content(file: Path) -> Any:
    return parquet.read_table(file) if file.suffix == ".parquet" else file.read_bytes()


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def assert_as_on_one_machine(folder: Path, result: Result, *options: str) -> None:
    """Each part, and the summary and the exit status of all rows together."""
    assert result.exit_code == 1, result.output
    (folder / "alone").mkdir()
    sources = sorted((folder / "in").iterdir())
    for source in sources:
        run(source, folder / "alone" / source.name, *options)
        assert content(folder / "out" / source.name) == content(folder / "alone" / source.name)
    assert names(folder / "out") == names(folder / "in")
    suffix = sources[0].suffix
    alone = run(folder / f"all{suffix}", folder / f"answers{suffix}", *options)
    assert (result.exit_code, result.stderr) == (alone.exit_code, alone.stderr), result.output
    assert not (folder / "out.resume").exists()


@pytest.mark.parametrize("only", [(), ("--only", "fail")])
@pytest.mark.parametrize("suffix", [".csv", ".parquet"])
def test_equal_to_one_machine(
    tmp_path: Path, scheduler: str, suffix: str, only: tuple[str, ...]
) -> None:
    result = run(make(tmp_path, suffix), tmp_path / "out", *only, "--dask", scheduler)
    assert result.exit_code == 1
    assert "fail" in result.stderr
    assert "refused" in result.stderr
    assert_as_on_one_machine(tmp_path, result, *only)


def test_parts_of_a_set_have_one_schema(tmp_path: Path, scheduler: str) -> None:
    """Also where a column is empty, or no row is kept: the set is read as one table."""
    sets = [[ROWS[0]], [ROWS[2]], [ROWS[1]]]
    source = make(tmp_path, ".parquet", sets)
    run(source, tmp_path / "out", "--only", "fail", "--dask", scheduler)
    schemas = {parquet.read_schema(file) for file in (tmp_path / "out").iterdir()}
    assert len(schemas) == 1
    assert parquet.read_table(tmp_path / "out").num_rows == 1


def test_all_passed_ends_with_0_and_an_empty_part_has_no_answers(
    tmp_path: Path, scheduler: str
) -> None:
    source = make(tmp_path, ".csv", [[ROWS[0]], [], [ROWS[2]]])
    result = run(source / "*.csv", tmp_path / "out", "--dask", scheduler)
    assert (result.exit_code, result.stderr) == (0, "2 rows: 2 pass\n"), result.output
    assert names(tmp_path / "out") == ["part-0.csv", "part-2.csv"]


def test_a_part_that_cannot_be_answered_is_named_and_done_later(
    tmp_path: Path, scheduler: str
) -> None:
    source = make(tmp_path, ".csv")
    broken = source / "part-1.csv"
    right = broken.read_bytes()
    broken.write_bytes(right + b'"12 AWG,1\n')
    unknown = source / "part-2.csv"
    also_right = unknown.read_bytes()
    unknown.write_bytes(b"color" + also_right)
    out = tmp_path / "out"
    result = run(source, out, "--dask", scheduler)
    assert result.exit_code == 2
    assert "part-1.csv, line 3: unexpected end of data" in result.stderr
    assert "colorsegments_1_size: There is no such field" in result.stderr
    assert "2 of 4 parts are done" in result.stderr
    assert names(out) == ["part-0.csv", "part-3.csv"]
    written = {file.name: file.stat().st_mtime_ns for file in out.iterdir()}
    again = run(source, out, "--dask", scheduler)
    assert (again.exit_code, "--resume goes on" in again.stderr) == (2, True)

    broken.write_bytes(right)
    unknown.write_bytes(also_right)
    result = run(source, out, "--dask", scheduler, "--resume")
    for name, at in written.items():
        assert (out / name).stat().st_mtime_ns == at
    assert_as_on_one_machine(tmp_path, result)


def test_an_interrupted_run_goes_on(
    tmp_path: Path, scheduler: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    source = make(tmp_path, ".csv")
    take = parts.PartsRun._take

    def take_and_stop(self: Any, *found: Any) -> None:
        take(self, *found)
        os.kill(os.getpid(), signal.SIGINT)

    with monkeypatch.context() as patch:
        patch.setattr(parts.PartsRun, "_take", take_and_stop)
        result = run(source, tmp_path / "out", "--dask", scheduler)
    assert result.exit_code == 130
    assert "Interrupted: 1 of 4 parts" in result.stderr
    with (tmp_path / "out.resume").open("a") as note:
        note.write('{"part": "part-')  # as if killed while it was written
    result = run(source, tmp_path / "out", "--dask", scheduler, "--resume")
    assert_as_on_one_machine(tmp_path, result)


def test_a_worker_that_is_killed_is_replaced(tmp_path: Path, cluster: Any, scheduler: str) -> None:
    source = make(tmp_path, ".csv", [ROWS * 100] * 4)
    out = tmp_path / "out"
    victim = next(iter(cluster.run(os.getpid).values()))

    def kill() -> None:
        end = time.monotonic() + 20
        while time.monotonic() < end:
            # Both are at work: each has begun a part, and there is more to do.
            if len([*out.glob(f"{parts.UNFINISHED}*")]) == WORKERS:
                os.kill(victim, signal.SIGKILL)
                return
            time.sleep(0.001)

    killer = threading.Thread(target=kill)
    killer.start()
    result = run(source, out, "--dask", scheduler)
    killer.join()
    assert_as_on_one_machine(tmp_path, result)
    cluster.wait_for_workers(WORKERS, timeout=20)
    assert victim not in cluster.run(os.getpid).values()


def test_processes_of_this_machine(tmp_path: Path) -> None:
    result = run(make(tmp_path, ".csv", SETS[:2]), tmp_path / "out", "--dask", "local")
    assert_as_on_one_machine(tmp_path, result)


def test_without_the_extra(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    result = run(make(tmp_path, ".csv"), tmp_path / "out", "--dask", "local")
    assert result.exit_code == 2
    assert "pip install 'lastvolt[dask]'" in result.stderr


def test_nobody_else_loads_dask() -> None:
    program = (
        "import sys, lastvolt.cli.commands, lastvolt.cli.parts;"
        "print({'dask', 'distributed', 'pandas', 'pyarrow'} & set(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "set()"


def test_workers_need_nothing_of_the_command_line() -> None:
    program = "import sys, lastvolt.cli.rows; print({'click', 'rich'} & set(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "set()"


@pytest.mark.parametrize(
    ("file", "options", "words"),
    [
        pytest.param("in", (), "a set of files needs --dask", id="folder alone"),
        pytest.param("nowhere", (), "There is no file", id="no file"),
        pytest.param("nowhere", ("--dask", "local"), "there is no .csv", id="no parts"),
        pytest.param("**/part-0.csv", ("--dask", "local"), "more than one", id="name twice"),
        pytest.param("in", ("--dask", "local", "--url", "http://lastvolt.test"), "--url", id="url"),
        pytest.param("in", ("--dask", "nowhere://1"), "nowhere", id="no such address"),
    ],
)
def test_what_cannot_be_run_ends_with_2(
    tmp_path: Path, file: str, options: tuple[str, ...], words: str
) -> None:
    source = make(tmp_path, ".csv")
    (source / "more").mkdir()
    write(source / "more" / "part-0.csv", ROWS)
    result = run(tmp_path / file, tmp_path / "out", *options)
    assert result.exit_code == 2, result.output
    assert words in result.stderr


def test_lines_stay_with_a_service(tmp_path: Path) -> None:
    arguments = ["batch", "circuit-check", str(tmp_path), "-o", "out", "--dask", "local"]
    result = CliRunner().invoke(lastvolt, arguments)
    assert result.exit_code == 2
    assert "lines" in result.stderr
