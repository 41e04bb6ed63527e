"""Imports go down only; the rules stand in pyproject.toml."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_import_rules():
    # In a process of its own: import-linter turns off the loggers of the one that it runs in.
    lint = (
        "from importlinter.cli import lint_imports; raise SystemExit(lint_imports(cache_dir=None))"
    )
    done = subprocess.run(
        [sys.executable, "-c", lint], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
