"""Readings and recordings from files."""

import csv
import inspect
import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NoReturn

import click

from lastvolt import Client
from lastvolt.cli import flags
from lastvolt.units import ALLOWED, parse

# What a column may be called before its unit, and the field that it is.
_CHANNELS = {
    "time": "time_s", "volts": "volts_v", "voltage": "volts_v", "current": "current_a",
    "amperes": "current_a",
}  # fmt: skip
# Commands whose request is a file of JSON, and what they ask.
_OF_FILES = (("plan", "meter-plan"), ("fit", "circuit-fit"), ("proof", "gain-proof"))
_UNITS = {"time_s": "s", "volts_v": "V", "current_a": "A"}
_HEADINGS = "time/s, volts/V and current/A, or one of the last two; ms, mV and mA are understood"


def group(in_words: Callable[..., None], *how: click.Parameter) -> click.Group:
    """Make the group of commands; `in_words` answers a request, `how` are its flags."""

    def recording(operation: str, request: dict[str, Any], *, file: Path, **given: Any) -> None:
        in_words(operation, {**_columns(file), **request}, **given)

    kind = click.Path(exists=True, dir_okay=False, path_type=Path)
    made = flags.command(
        "recording",
        recording,
        click.Argument(["file"], type=kind),
        *how,
        left_out=frozenset(_UNITS),
    )
    made.help = f"{made.help}\n\nFILE is CSV, its columns headed {_HEADINGS}."
    commands = [made, *(_of_file(*each, in_words, how) for each in _OF_FILES)]
    return click.Group(
        "meter",
        commands=commands,
        help="Plan what a meter is to read, and work out what it read or recorded.",
    )


def _of_file(
    name: str, operation: str, answer: Callable[..., None], how: Sequence[click.Parameter]
) -> click.Command:
    """Make the command of an operation whose request is a file."""

    def run(file: Path, **given: Any) -> None:
        answer(operation, _request(file), **given)

    about = (inspect.getdoc(getattr(Client, operation.replace("-", "_"))) or "").partition("\n\n")
    file = click.Argument(["file"], type=click.Path(exists=True, dir_okay=False, path_type=Path))
    return click.Command(
        name,
        callback=run,
        params=[file, *how],
        help=f"{about[0]}\n\nFILE is JSON: what is posted to /v1/{operation}.",
    )


def _request(file: Path) -> dict[str, Any]:
    """Read what is asked."""
    try:
        found = json.loads(file.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError) as error:
        _refuse(f"{file}: {error}")
    if not isinstance(found, dict):
        _refuse(f"{file}: it must hold an object, as it is posted.")
    return found


def _columns(file: Path) -> dict[str, list[float]]:
    """Read the channels of a recording."""
    try:
        with file.open(encoding="utf-8-sig", newline="") as text:
            rows = csv.reader(text, strict=True)
            header = [_channel(file, heading) for heading in next(rows, [])]
            names = [name for name, _ in header]
            if "time_s" not in names or len(names) < 2 or len(set(names)) < len(names):
                _refuse(f"{file}: its first line must head the columns {_HEADINGS}, each once.")
            found: dict[str, list[float]] = {name: [] for name in names}
            for row in rows:
                if row and len(row) != len(header):
                    _refuse(
                        f"{file}, line {rows.line_num}: {len(row)} cells, {len(header)} columns."
                    )
                for (name, unit), cell in zip(header, row, strict=False):
                    found[name].append(_number(file, rows.line_num, name, unit, cell))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        _refuse(f"{file}: {error}")
    return found


def _channel(file: Path, heading: str) -> tuple[str, str]:
    """The field that a heading means, and the unit of its cells."""
    name, _, unit = (part.strip() for part in heading.partition("/"))
    if heading.strip() in _UNITS:
        return heading.strip(), _UNITS[heading.strip()]
    field = _CHANNELS.get(name.lower())
    if field is None or unit not in ALLOWED[_UNITS[field]]:
        _refuse(f"{file}: {heading[:40]!r} is no heading here: write {_HEADINGS}.")
    return field, unit


def _number(file: Path, line: int, name: str, unit: str, cell: str) -> float:
    try:
        return parse(f"{cell.strip()} {unit}", _UNITS[name])
    except ValueError as error:
        _refuse(f"{file}, line {line}, {name}: {error}")


def _refuse(message: str) -> NoReturn:
    raise click.UsageError(message)
