"""The package as its users meet it: names, weight, types."""

import logging
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest
from mypy import api as mypy

import lastvolt
from lastvolt import Client, errors, types

HERE = Path(__file__).parent
HEAVY = ("flask", "werkzeug", "marshmallow", "apispec", "numpy", "gunicorn", "lastvolt_service")

WRONG_CALLER = """
import lastvolt
client = lastvolt.Client()
client.wire_resistance(size="12 AWG", length_m=[3])  # wrong: a list for a number
client.wire_resistance("12 AWG", 3)  # wrong: arguments have names
client.wire_resistance(size="12 AWG", length_m=3, temperature_c=None)  # wrong: None is not OMIT
client.wire_resistance(size="12 AWG", length_m=3, material="gold")  # wrong: no such metal
client.wire_resistance(size="12 AWG", length_m=3).resistance  # wrong: no such field
lastvolt.Clint()  # wrong: no such class
client.voltage_drop(supply_v=12, segments=[{"kind": "contact", "name": "x"}])  # wrong: no part
client.wire_resistance(size="12 AWG", length_m=3, temperature_c=60)
"""


def test_all_is_complete_and_sorted() -> None:
    names = lastvolt.__all__
    # Constants, then classes, then the rest, each sorted.
    assert names == sorted(names, key=lambda name: (not name.isupper(), name[0].islower(), name))
    assert len(set(names)) == len(names)
    assert all(getattr(lastvolt, name) is not None for name in names)
    exported = {
        name
        for name, value in vars(lastvolt).items()
        if isinstance(value, type) or name in {"OMIT", "EMBEDDED"}
    }
    assert exported == {name for name in names if name[0].isupper()}
    trees = {
        name
        for name, value in vars(errors).items()
        if isinstance(value, type) and issubclass(value, errors.LastvoltError)
    }
    assert trees <= set(names)


def test_every_type_is_found_where_it_is_looked_for() -> None:
    assert len(types.__all__) > 60
    assert dir(types) == types.__all__  # what a notebook offers, though it is not loaded yet
    assert all(getattr(types, name) is not None for name in types.__all__)
    with pytest.raises(AttributeError, match="no attribute 'Nonsense'"):
        types.Nonsense  # noqa: B018  the look-up is the test


def test_version_is_that_of_the_distribution() -> None:
    assert lastvolt.__version__ == metadata.version("lastvolt")
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        lastvolt.nonsense  # noqa: B018  the look-up is the test


def test_a_library_says_nothing_by_itself() -> None:
    handlers = logging.getLogger("lastvolt").handlers
    assert [type(handler) for handler in handlers] == [logging.NullHandler]


def test_importing_loads_nothing_heavy() -> None:
    program = (
        "import sys, lastvolt; lastvolt.Client('http://lastvolt.test');"
        f"print([name for name in {HEAVY} if name in sys.modules]"
        " + [name for name in sys.modules if name.startswith('lastvolt._generated.types.')])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_omit_shows_what_it_means() -> None:
    assert repr(Client.conductors.__kwdefaults__["standard"]) == "OMIT"


def test_a_typed_caller_passes_strict_checking(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong_caller.py"
    wrong.write_text(WRONG_CALLER)
    # One run for both: starting the checker is what takes the time.
    report, trouble, _ = mypy.run(
        ["--strict", "--no-error-summary", "--hide-error-context", "--cache-dir",
         str(tmp_path / "cache"), str(HERE / "typed_caller.py"), str(wrong)]
    )  # fmt: skip
    assert trouble == ""
    lines = report.splitlines()
    assert [line for line in lines if "typed_caller.py" in line] == []
    found = {int(line.split(":")[1]) for line in lines if ": error: " in line}
    marked = {
        number for number, line in enumerate(WRONG_CALLER.splitlines(), 1) if "# wrong" in line
    }
    assert found == marked
