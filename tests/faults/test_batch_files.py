"""Runs of the batch command killed at every file operation, and on disks that are full: long."""

import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pyarrow as arrow
import pytest
from pyarrow import parquet

from lastvolt_service.operations.circuits.check import CircuitCheckRequest

pytestmark = pytest.mark.long

MEMORY_BYTES = 4 << 30  # of address space, for each process; one or two at a time
PROCESS_S = 60
ROWS = 24
OPERATION = {".csv": "wire-resistance", ".parquet": "wire-resistance", ".ndjson": "circuit-check"}
FORMS = pytest.mark.parametrize("suffix", [".csv", ".parquet", ".ndjson"])
ONLY = pytest.mark.parametrize("only", [(), ("--only", "fail")], ids=["all", "only"])
# Runs the command in a child for each line that it reads: its imports are done once. Counts the
# file operations of the child and kills it at one of them; where that writes, half is written.
RUNNER = """
import json, os, signal, sys
from lastvolt import batch, embedded
from lastvolt.cli import output
from lastvolt.cli.commands import lastvolt
output.NOTED_EVERY_S = 0.0
batch.PIECE_LINES = 4
embedded.application()
left = 0
def counted(name):
    whole = getattr(os, name)
    def call(*given, **named):
        global left
        left -= 1
        if left == 0 and name == "write":
            whole(given[0], given[1][: len(given[1]) // 2])
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return whole(*given, **named)
    setattr(os, name, call)
for line in sys.stdin:
    asked = json.loads(line)
    child = os.fork()
    if not child:
        signal.alarm(asked["seconds"])
        os.dup2(os.open(asked["told"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC), 2)
        left = asked["kill_at"]
        for name in ("open", "write", "fsync", "ftruncate", "link", "unlink", "replace"):
            counted(name)
        try:
            lastvolt(asked["arguments"])
        except SystemExit as ended:
            os._exit(ended.code)
        finally:
            os._exit(99)
    if asked["kill_after"] is not None:
        signal.sigtimedwait([signal.SIGCHLD], asked["kill_after"])
        os.kill(child, signal.SIGKILL)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""


class Runner:
    """Runs of the command, one at a time."""

    def __init__(self, told: Path) -> None:
        self._told = told
        self._process = subprocess.Popen(
            [sys.executable, "-c", RUNNER],
            preexec_fn=limited,
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def run(
        self,
        source: Path,
        target: Path,
        *options: str,
        kill_at: int = 0,
        kill_after: float | None = None,
    ) -> tuple[int, str]:
        asked = {
            "arguments": arguments(source, target, *options),
            "kill_at": kill_at,
            "kill_after": kill_after,
            "told": str(self._told),
            "seconds": PROCESS_S,
        }
        assert self._process.stdin
        assert self._process.stdout
        self._process.stdin.write(json.dumps(asked) + "\n")
        self._process.stdin.flush()
        return int(self._process.stdout.readline()), self._told.read_text()

    def close(self) -> None:
        self._process.communicate(timeout=PROCESS_S)


def limited() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGCHLD])  # for sigtimedwait


def arguments(source: Path, target: Path, *options: str) -> list[str]:
    always = ["--piece-rows", "4", "--connections", "2"]
    return ["batch", OPERATION[source.suffix], str(source), "-o", str(target), *always, *options]


@pytest.fixture
def runner(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Runner]:
    started = Runner(tmp_path_factory.mktemp("told") / "stderr")
    try:
        yield started
    finally:
        started.close()


def make(file: Path, rows: int = ROWS) -> Path:
    sizes = ["12 AWG", "99 AWG", "10 AWG", "14 AWG", "nothing", "16 AWG"]
    if file.suffix == ".ndjson":
        good = json.dumps(CircuitCheckRequest.example)
        lines = [(good, "{}", good, "{", good, good)[row % 6] for row in range(rows)]
        file.write_text("\n".join(lines) + "\n")
        return file
    columns: dict[str, list[Any]] = {
        "size": [sizes[row % 6] for row in range(rows)],
        "length_m": [float(row + 1) for row in range(rows)],  # by which each row is known
    }
    if file.suffix == ".parquet":
        parquet.write_table(arrow.table(columns), file)
    else:
        body = "".join(f"{size},{length}\n" for size, length in zip(*columns.values(), strict=True))
        file.write_text(f"size,length_m\n{body}")
    return file


def lines(file: Path) -> list[str]:
    if file.suffix == ".parquet":
        return [json.dumps(row) for row in parquet.read_table(file).to_pylist()]
    return file.read_text(encoding="utf-8").splitlines()


def is_done(target: Path) -> bool:
    return target.exists() and not any(target.parent.glob(f"{target.name}.*"))


def lost_and_double(file: Path, whole: Path) -> tuple[int, int]:
    wanted, found = Counter(lines(whole)), Counter(lines(file))
    return sum((wanted - found).values()), sum((found - wanted).values())


def assert_same(file: Path, whole: Path) -> None:
    assert lines(file) == lines(whole)
    if file.suffix != ".parquet":
        assert file.read_bytes() == whole.read_bytes()


@ONLY
@FORMS
def test_killed_at_every_file_operation(
    runner: Runner, tmp_path: Path, suffix: str, only: tuple[str, ...]
) -> None:
    source, whole = make(tmp_path / f"in{suffix}"), tmp_path / f"whole{suffix}"
    before = source.read_bytes()
    status, _ = runner.run(source, whole, *only)
    assert status == 1
    figures = Counter[str]()
    for kill_at in range(1, 400):
        target = tmp_path / f"out{suffix}"
        status, told = runner.run(source, target, *only, kill_at=kill_at)
        if status == 1:  # it has no operation of that number
            break
        assert status == -signal.SIGKILL, told
        figures["killed"] += 1
        if not is_done(target):
            # Killed once more, at one of the first operations of the run that goes on.
            runner.run(source, target, "--resume", *only, kill_at=1 + kill_at % 7)
            if not is_done(target):
                status, told = runner.run(source, target, "--resume", *only)
                assert status == 1, told
                figures["resumed"] += 1
        lost, double = lost_and_double(target, whole)
        figures["lost"] += lost
        figures["double"] += double
        assert_same(target, whole)
        assert {path.name for path in tmp_path.iterdir()} == {source.name, whole.name, target.name}
        target.unlink()
    assert source.read_bytes() == before
    print(f"{suffix} {' '.join(only)}: {dict(figures)}")
    assert figures["killed"] > 20
    assert figures["lost"] == figures["double"] == 0


@FORMS
def test_killed_at_any_time(runner: Runner, tmp_path: Path, suffix: str) -> None:
    """Also within the libraries that write: the clock knows no operations."""
    rows = 400 if suffix == ".ndjson" else 40_000
    source, whole = make(tmp_path / f"in{suffix}", rows), tmp_path / f"whole{suffix}"
    options = () if suffix == ".ndjson" else ("--piece-rows", "1000")
    began = time.monotonic()
    status, _ = runner.run(source, whole, *options)
    assert status == 1
    lasted = time.monotonic() - began
    chance, figures = random.Random(1), Counter[str]()
    for turn in range(10):
        target = tmp_path / f"out{turn}{suffix}"
        for attempt in range(6):
            resume = ("--resume",) if attempt else ()
            seconds = chance.uniform(0.1, 1.0) * lasted
            status, _ = runner.run(source, target, *options, *resume, kill_after=seconds)
            figures["killed"] += status == -signal.SIGKILL
            if is_done(target):  # perhaps killed on its way out
                break
        else:
            status, told = runner.run(source, target, "--resume", *options)
            assert status == 1, told
        lost, double = lost_and_double(target, whole)
        figures["lost"] += lost
        figures["double"] += double
        assert_same(target, whole)
    print(f"{suffix}: {rows} rows, {dict(figures)}")
    assert figures["killed"] > 5
    assert figures["lost"] == figures["double"] == 0


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 256 KiB; none without the right to mount."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(disk)]
    if shutil.which("mount") is None or subprocess.run(mount, check=False).returncode:
        pytest.skip("needs the right to mount a file system")
    try:
        yield disk
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@FORMS
def test_full_disk(runner: Runner, tmp_path: Path, small_disk: Path, suffix: str) -> None:
    """Whatever room there is, nothing is lost: the run goes on once there is more."""
    source = make(tmp_path / f"in{suffix}", 100 if suffix == ".ndjson" else 600)
    whole, target = tmp_path / f"whole{suffix}", small_disk / f"out{suffix}"
    ballast = small_disk / "ballast"
    runner.run(source, whole)
    figures = Counter[str]()
    for kib in (252, 248, 240, 228, 212, 192, 0):
        ballast.write_bytes(bytes(kib << 10))
        status, told = runner.run(source, target)
        if status == 2:
            figures["full"] += 1
            assert "No space left on device" in told
            assert len(told.splitlines()) <= 2, told
            assert not target.exists()
            ballast.unlink()
            subprocess.run(["mount", "-o", "remount,size=8m", str(small_disk)], check=True)
            status, told = runner.run(source, target, "--resume")
            assert status == 1, told
        lost, double = lost_and_double(target, whole)
        figures["lost"] += lost
        figures["double"] += double
        assert_same(target, whole)
        assert {path.name for path in small_disk.iterdir()} <= {target.name, ballast.name}
        target.unlink()
        ballast.unlink(missing_ok=True)
        subprocess.run(["mount", "-o", "remount,size=256k", str(small_disk)], check=True)
    print(f"{suffix}: {dict(figures)}")
    assert figures["full"] > 3
    assert figures["lost"] == figures["double"] == 0


def test_read_only_file_system(runner: Runner, small_disk: Path) -> None:
    source, target = make(small_disk / "in.csv"), small_disk / "out.csv"
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    status, told = runner.run(source, target)
    print(told)
    assert (status, len(told.splitlines())) == (2, 1)
    assert "Read-only file system" in told
    subprocess.run(["mount", "-o", "remount,rw", str(small_disk)], check=True)
    assert runner.run(source, target, "--resume")[0] == 1


def start(source: Path, target: Path, *options: str) -> "subprocess.Popen[bytes]":
    program = "from lastvolt.cli import main; main()"
    command = [sys.executable, "-c", program, *arguments(source, target, *options)]
    return subprocess.Popen(
        command,
        preexec_fn=limited,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
    )


@FORMS
def test_two_runs_at_once(runner: Runner, tmp_path: Path, suffix: str) -> None:
    """One of them answers, the other one is refused; both ways, the file is right."""
    source, whole = make(tmp_path / f"in{suffix}", 60), tmp_path / f"whole{suffix}"
    runner.run(source, whole)
    figures = Counter[str]()
    for turn in range(6):
        target = tmp_path / f"out{turn}{suffix}"
        options = ((), ("--resume",), ("--force",))[turn % 3]
        pair = [start(source, target, *options) for _ in range(2)]
        told = [process.communicate(timeout=PROCESS_S)[1].decode() for process in pair]
        ended = sorted(process.returncode for process in pair)
        assert ended[0] == 1, told
        figures["one refused" if ended[1] == 2 else "one after the other"] += 1
        assert_same(target, whole)
    print(f"{suffix}: {dict(figures)}")
    assert figures.total() == 6
