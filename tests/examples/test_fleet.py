"""The fleet script: a list of circuits in, a line for each out."""

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from .conftest import EXAMPLES

FLEET = EXAMPLES / "fleet.csv"


def run(path: Path) -> "subprocess.CompletedProcess[str]":
    command = [sys.executable, str(EXAMPLES / "fleet.py"), str(path)]
    return subprocess.run(command, capture_output=True, text=True)


def changed(folder: Path, **cells: str) -> Path:
    """The list with other cells in its first line."""
    with FLEET.open(newline="", encoding="utf-8") as lines:
        first, *others = csv.DictReader(lines)
    path = folder / "fleet.csv"
    with path.open("w", newline="", encoding="utf-8") as lines:
        writer = csv.DictWriter(lines, list(first))
        writer.writeheader()
        writer.writerows([{**first, **cells}, *others])
    return path


def test_every_circuit_has_a_line_and_the_worst_stand_first() -> None:
    done = run(FLEET)
    assert done.stderr == ""
    verdicts = [line.split()[0] for line in done.stdout.splitlines()]
    assert len(verdicts) == len(FLEET.read_text("utf-8").splitlines()) - 1
    assert verdicts == sorted(verdicts, key=["fail", "marginal", "unknown", "pass"].index)
    assert done.returncode == 1

    # 16 AWG has 4.016 ohm in 1000 ft at 20 degC: NBS Circular 31, copper wire tables; strands
    # add 2 %: NEC Chapter 9 Table 8 shows 1.8 to 2.5 %. The limit of 0.5 V for a continuous load
    # at 14 V: FAA AC 43.13-1B, Change 1, Tables 11-7 and
    # 11-8.
    drop = 6 * (4.016e-3 * 28 * 1.02 + 0.008)
    assert drop == pytest.approx(0.736, abs=0.001)
    lamps = next(line for line in done.stdout.splitlines() if "reading lamps" in line)
    assert lamps.startswith("fail")
    assert lamps.endswith(f"{12.4 - drop:.1f} V arrive, {drop:.2f} V of 0.50 V are lost")


def test_a_circuit_without_an_answer_does_not_spoil_the_others(tmp_path: Path) -> None:
    done = run(changed(tmp_path, segments_1_size="99 AWG"))
    assert "unknown  coach 1 starter solenoid: AWG has no '99 AWG'" in done.stdout
    assert done.stdout.count("arrive") == 5
    assert done.returncode == 1


def test_a_cell_that_is_no_quantity_is_named(tmp_path: Path) -> None:
    done = run(changed(tmp_path, segments_1_length_m="34 parsec"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "columns.segments_1_length_m[0]: '34 parsec'" in done.stderr
