"""The lowest versions that pyproject.toml admits do all that the newest do."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EXTRAS = "cli,dask,metrics,otel,pictures,redis"
PATIENCE_S = 600
COMMITTED = ROOT / "service" / "lastvolt_service" / "openapi.json"


def run(*command, **options):
    found = subprocess.run(
        command, capture_output=True, text=True, timeout=PATIENCE_S, check=False, **options
    )
    assert found.returncode == 0, found.stderr[-3000:]
    return found.stdout


def apispec():
    """What makes the document; the service that serves it has no need of it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    (found,) = (
        each for each in project["optional-dependencies"]["dev"] if each.startswith("apispec")
    )
    return found


@pytest.mark.long
def test_the_lowest_versions_answer_alike(tmp_path):
    """Every operation, its explanation and its reports; the worked answers to the last digit."""
    uv, folder = Path(sys.executable).with_name("uv"), tmp_path / "lowest"
    python = folder / "bin" / "python"
    run(uv, "venv", "--quiet", "--python", sys.executable, folder)
    run(uv, "pip", "install", "--quiet", "--python", python, "--resolution", "lowest-direct",
        f"{ROOT}[{EXTRAS}]", apispec())  # fmt: skip
    environment = {
        name: value for name, value in os.environ.items() if not name.lower().endswith("_proxy")
    }
    document = run(python, Path(__file__).with_name("smoke.py"), cwd=tmp_path, env=environment)
    assert document == COMMITTED.read_text(encoding="utf-8")
    run(folder / "bin" / "lastvolt", "demo", cwd=tmp_path, env=environment)
