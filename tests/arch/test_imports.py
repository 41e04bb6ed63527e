"""Imports go down only; the rules stand in pyproject.toml."""

from pathlib import Path

from importlinter.cli import lint_imports

ROOT = Path(__file__).parents[2]


def test_import_rules(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    status = lint_imports(cache_dir=None)
    assert status == 0, capsys.readouterr().out
