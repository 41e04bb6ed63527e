"""Answers for people who read a terminal."""

from collections.abc import Iterable, Mapping
from typing import Any

import click
from rich import box
from rich.console import Console
from rich.markup import escape
from rich.padding import Padding
from rich.table import Table

from lastvolt import ErrorAnswer, LastvoltError
from lastvolt.display import UNITS, number
from lastvolt.types import Check, VoltageDrop

# A word and a style each: the word alone must do, for grey screens and screen readers.
_STYLES = {
    "pass": "green",
    "marginal": "yellow",
    "undecided": "bold yellow",
    "fail": "bold red",
    "unknown": "dim",
}
_COMMON = {"checks", "basis", "cautions", "computed_by"}


def checks(console: Console, found: Iterable[Check]) -> None:
    """Print checks, one a line: verdict, then what to know or do."""
    table = Table.grid(padding=(0, 2))
    for check in found:
        word = f"[{_STYLES.get(check.verdict, '')}]{check.verdict}[/]"
        table.add_row(word, escape(check.name), escape(check.message))
    console.print(Padding(table, (0, 0, 0, 2)))


def path(console: Console, supply_v: float, drop: VoltageDrop) -> None:
    """Print a path part by part with the voltage left behind each.

    Parameters
    ----------
    console : Console
        Where to.
    supply_v : float
        Voltage at its start. [V]
    drop : VoltageDrop
        The answer.
    """
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("part")
    for heading in ("resistance", "drop", "share", "left"):
        table.add_column(heading, justify="right")
    left = supply_v
    table.add_row("supply", "", "", "", f"{left:.2f} V")
    for part in drop.segments:
        left -= part.drop_v
        table.add_row(
            escape(part.name),
            f"{1000 * part.resistance_ohm:.1f} mohm",
            f"{part.drop_v:.2f} V",
            f"{part.share_percent:.0f} %",
            f"{left:.2f} V",
        )
    console.print(Padding(table, (0, 0, 0, 2)))
    console.print(
        f"  {number(drop.current_a, 'A')} flow; {drop.load_voltage_v:.2f} V of "
        f"{supply_v:.2f} V reach the load."
    )


def answer(console: Console, operation: str, given: Mapping[str, Any]) -> None:
    """Print any answer: its checks, its numbers, what it rests on, its cautions."""
    console.print(f"[bold]{escape(operation)}[/]")
    checks(console, [Check.from_json(item) for item in given.get("checks", ())])
    table = Table.grid(padding=(0, 2))
    for name, value in given.items():
        if name not in _COMMON:
            for label, text in _lines(name, value):
                table.add_row(escape(label), escape(text))
    console.print(Padding(table, (1, 0, 1, 2)))
    for title in ("basis", "cautions"):
        for text in given.get(title, ()):
            console.print(f"  {title}: {text}", style="dim", markup=False)


def _lines(name: str, value: Any) -> Iterable[tuple[str, str]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _lines(f"{name}.{key}", inner)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _lines(f"{name}[{index}]", inner)
    elif isinstance(value, float | int) and not isinstance(value, bool):
        unit = next((unit for end, unit in UNITS.items() if name.endswith(end)), "")
        yield name, number(value, unit)
    else:
        yield name, "not known" if value is None else str(value)


def error(found: LastvoltError) -> None:
    """Print an error and the fields that it points at, to standard error."""
    click.echo(f"Could not answer: {found}", err=True)
    if isinstance(found, ErrorAnswer):
        for item in found.field_errors:
            click.echo(f"  {item.pointer}: {item.detail}", err=True)
