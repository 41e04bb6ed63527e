"""Faults put in by hand: that they are what they should be, and that no test misses one."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from .explained import explained, unheld
from .faults import SERVICE, faults_of
from .seen import Seen

ROOT = Path(__file__).parents[2]
HANGS_S = 3600

SOURCE = '''
"""It says if a < b."""

LIMIT_V = 0.5
FAR = ("x",)


def judge(value, limit, sure=True):
    """Not a fault: a - b."""
    if value < limit and sure:
        raise ValueError(f"{value + 1}")
    return pick(value == 0, -value, limit * 2)
'''
MADE = {
    ("LIMIT_V = 0.5", "LIMIT_V = 0.75"),
    ("def judge(value, limit, sure=True):", "def judge(value, limit, sure=False):"),
    ("if value < limit and sure:", "if value >= limit and sure:"),
    ("if value < limit and sure:", "if value < limit or sure:"),
    ("if value < limit and sure:", "if not (value < limit and sure):"),
    ("return pick(value == 0, -value, limit * 2)", "return pick(value != 0, -value, limit * 2)"),
    ("return pick(value == 0, -value, limit * 2)", "return pick(value == 1, -value, limit * 2)"),
    ("return pick(value == 0, -value, limit * 2)", "return pick(value == 0, value, limit * 2)"),
    ("return pick(value == 0, -value, limit * 2)", "return pick(value == 0, -value, limit / 2)"),
    ("return pick(value == 0, -value, limit * 2)", "return pick(value == 0, -value, limit * 3)"),
    ("return pick(value == 0, -value, limit * 2)", "return pick(value == 0, limit * 2, -value)"),
}
SAID = """
SAYS = CheckWords(
    name="a hold",
    passes="It holds {value} down to {limit}.",
    fails="It does not hold: {limit} needed.",
)
"""
CHANGED = {
    ('passes="It holds {value} down to {limit}.",', 'passes="It does not hold: {limit} needed.",'),
    ('passes="It holds {value} down to {limit}.",', 'passes="It holds {limit} down to {value}.",'),
    ('passes="It holds {value} down to {limit}.",', 'passes="It holds {value} up to {limit}.",'),
    ('fails="It does not hold: {limit} needed.",', 'fails="It does hold: {limit} needed.",'),
    ('fails="It does not hold: {limit} needed.",', 'fails="It does not hold: {value} needed.",'),
}
LAW = """
@law("drop_v = current_a * (wire_ohm + contact_ohm)  # lost - on the way", source="Ohm")
def drop(*, current_a, wire_ohm, contact_ohm):
    return current_a * (wire_ohm + contact_ohm)
"""
TABLE = "size,area_mm2\n14 AWG,2.08\n"


def made(folder: Path, name: str, text: str) -> set[tuple[str, str]]:
    file = folder / SERVICE / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text)
    return {fault.told(text) for fault in faults_of(file, folder)}


def test_code_and_its_conditions(tmp_path: Path) -> None:
    assert made(tmp_path, "operations/judge.py", SOURCE) == MADE


def test_words(tmp_path: Path) -> None:
    assert made(tmp_path, "words/en/holds.py", SAID) == CHANGED


def test_laws(tmp_path: Path) -> None:
    changed = {after for before, after in made(tmp_path, "physics/drop.py", LAW) if "@" in before}
    assert changed == {
        '@law("drop_v = current_a / (wire_ohm + contact_ohm)  # lost - on the way", source="Ohm")',
        '@law("drop_v = current_a * (wire_ohm - contact_ohm)  # lost - on the way", source="Ohm")',
    }


def test_tables(tmp_path: Path) -> None:
    ((before, after),) = made(tmp_path, "tables/sizes.csv", TABLE)
    assert before == "14 AWG,2.08"
    assert after != before
    assert len([1 for one, other in zip(before, after, strict=True) if one != other]) == 1


READ = """
class Load(Fields):
    copper: bool = flag("a winding", default=False)

@law("factor = 1 + rise_k * 0.5", source="a law")
def factor(*, rise_k):
    return 1 + rise_k * 0.5

def warm(load):
    if load.copper:
        return factor(rise_k=100)
"""


@pytest.mark.parametrize(
    ("line", "tests"), [("copper: bool", {"reads"}), ("@law", {"reads", "by another way"})]
)
def test_what_is_made_at_import_is_seen_where_it_is_used(
    tmp_path: Path, line: str, tests: set[str]
) -> None:
    file = tmp_path / SERVICE / "physics/warm.py"
    file.parent.mkdir(parents=True)
    file.write_text(READ)
    path = str(file.relative_to(tmp_path))
    seen = {"7": ["reads", "by another way"], "10": ["reads"], "11": ["reads"], "1": ["imports"]}
    known = {"seconds": {}, "failed": [], "modules": [], "seen": {path: seen}}
    (tmp_path / "map.json").write_text(json.dumps(known))
    looked = Seen(tmp_path / "map.json", tmp_path)
    found = [fault for fault in faults_of(file, tmp_path) if line in fault.told(READ)[0]]
    assert found
    assert all(set(looked.by(fault)) == tests for fault in found)


def test_only_what_was_read_in_print_must_be_held() -> None:
    """The first rows of these tables, and the fourth of one that mixes its sources."""
    tables = ROOT / SERVICE / "tables"
    assert "memory" in unheld(tables / "iso6722.csv", 2)
    assert "practice" in unheld(tables / "walls.csv", 2)
    assert "memory" in unheld(tables / "outer_diameters.csv", 2)
    assert unheld(tables / "outer_diameters.csv", 5) == ""
    assert unheld(tables / "ampacity.csv", 2) == ""
    assert unheld(tables / "sizes.py", 2) == ""


def test_what_is_explained_is_still_there() -> None:
    """A reason whose fault cannot be made any more explains nothing."""
    for path in {path for path, _, _ in explained()}:
        text = (ROOT / path).read_text("utf-8")
        said = {each[1:] for each in explained() if each[0] == path}
        of_these = faults_of(ROOT / path, ROOT, before={line for line, _ in said})
        told = [fault.told(text) for fault in of_these]
        can_be = {*told, *((before, "") for before, _ in told)}
        assert said <= can_be


@pytest.mark.long
def test_no_fault_survives_unexplained(capfd: pytest.CaptureFixture[str]) -> None:
    run = subprocess.run([sys.executable, "-m", "tests.mutation"], cwd=ROOT, timeout=HANGS_S)
    assert run.returncode == 0, capfd.readouterr().out
