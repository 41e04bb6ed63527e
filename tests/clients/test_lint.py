"""The recommended rules of a linter for OpenAPI documents."""

import subprocess
from pathlib import Path

import pytest

from .conftest import DOCUMENT

pytestmark = pytest.mark.long  # the linter takes a third of a minute

RULES = "extends: spectral:oas\n"
# Valid, but without what the rules ask for.
BARE = '{"openapi": "3.1.0", "info": {"title": "bare", "version": "1"}, "paths": {}}'


def lint(document: Path, folder: Path, node_modules: Path) -> "subprocess.CompletedProcess[str]":
    rules = folder / "rules.yaml"
    rules.write_text(RULES, "utf-8")
    spectral = node_modules / ".bin" / "spectral"
    command = [spectral, "lint", document, "--ruleset", rules, "--fail-severity", "hint"]
    return subprocess.run(command, capture_output=True, text=True, timeout=120)


def test_it_finds_nothing_in_the_document(tmp_path: Path, node_modules: Path) -> None:
    done = lint(DOCUMENT, tmp_path, node_modules)
    assert done.returncode == 0, done.stdout + done.stderr


def test_it_would_find_what_is_missing(tmp_path: Path, node_modules: Path) -> None:
    document = tmp_path / "bare.json"
    document.write_text(BARE, "utf-8")
    done = lint(document, tmp_path, node_modules)
    assert done.returncode == 1, done.stdout + done.stderr
    assert "info-contact" in done.stdout
