"""Readings and recordings from files."""

import csv
import inspect
import io
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import click

from lastvolt import Client
from lastvolt.cli import flags, given, show
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

    def recording(operation: str, request: dict[str, Any], *, file: Path, **options: Any) -> None:
        in_words(operation, {**_columns(file), **request}, **options)

    made = flags.command(
        "recording",
        recording,
        given.argument(),
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

    def run(file: Path, **options: Any) -> None:
        answer(operation, given.json_object(file), **options)

    about = (inspect.getdoc(getattr(Client, operation.replace("-", "_"))) or "").partition("\n\n")
    return click.Command(
        name,
        callback=run,
        params=[given.argument(), *how],
        help=f"{about[0]}\n\nFILE is JSON: what is posted to /v1/{operation}.",
    )


def _columns(file: Path) -> dict[str, list[float]]:
    """Read the channels of a recording."""
    rows = csv.reader(io.StringIO(given.text(file), newline=""), strict=True)
    try:
        header = [_channel(file, heading) for heading in next(rows, [])]
        names = [name for name, _ in header]
        if "time_s" not in names or len(names) < 2 or len(set(names)) < len(names):
            show.stop(f"{file}: its first line must head the columns {_HEADINGS}, each once.")
        found: dict[str, list[float]] = {name: [] for name in names}
        for row in rows:
            if row and len(row) != len(header):
                show.stop(f"{file}, line {rows.line_num}: {len(row)} cells, {len(header)} columns.")
            for (name, unit), cell in zip(header, row, strict=False):
                found[name].append(_number(file, rows.line_num, name, unit, cell))
    except csv.Error as error:
        show.stop(f"{file}, line {rows.line_num}: {error}")
    return found


def _channel(file: Path, heading: str) -> tuple[str, str]:
    """The field that a heading means, and the unit of its cells."""
    name, _, unit = (part.strip() for part in heading.partition("/"))
    if heading.strip() in _UNITS:
        return heading.strip(), _UNITS[heading.strip()]
    field = _CHANNELS.get(name.lower())
    if field is None or unit not in ALLOWED[_UNITS[field]]:
        show.stop(f"{file}: {heading[:40]!r} is no heading here: write {_HEADINGS}.")
    return field, unit


def _number(file: Path, line: int, name: str, unit: str, cell: str) -> float:
    try:
        return parse(f"{cell.strip()} {unit}", _UNITS[name])
    except ValueError as error:
        show.stop(f"{file}, line {line}, {name}: {error}")
