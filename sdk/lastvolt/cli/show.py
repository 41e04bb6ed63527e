"""What is printed for people: text and columns that fit, and errors."""

import re
import shutil
import sys
import textwrap
from collections.abc import Collection, Iterator, Sequence
from typing import NoReturn

import click

from lastvolt import ErrorAnswer, LastvoltError

_MARK = re.compile(r"\s*(?:(?:-|\d+\.)\s+)?")
# A number and its unit stay together.
_UNIT = re.compile(r"(?<=\d) (?=\S{1,3}(?:\s|$))")
_TIED = "\N{NO-BREAK SPACE}"
_GAP = 2
# Longer lines are hard to read, however wide the screen is.
_WIDEST = 100
# The first column is no narrower, even where all of it then does not fit.
_LEAST = 12
COULD_NOT_RUN = 2


def width() -> int:
    """How long a line may be."""
    return min(shutil.get_terminal_size().columns, _WIDEST)


def wrapped(text: str, width: int) -> Iterator[str]:
    """Break lines of text at blanks; what belongs to an item stands under it."""
    for line in text.splitlines():
        mark = _MARK.match(line)
        indent = " " * (len(mark[0]) if mark else 0)
        yield from _broken(line, width, indent)


def columns(
    rows: Sequence[Sequence[str]], width: int, *, numbers: Collection[int]
) -> Iterator[str]:
    """Stand rows under each other, the first a heading.

    Parameters
    ----------
    rows : sequence of sequences of str
        Cells; the first is broken where they do not fit.
    width : int
        That they fit in.
    numbers : collection of int
        Columns that stand on the right.
    """
    most = [max(map(len, column)) for column in zip(*rows, strict=True)]
    left = width - sum(most[1:]) - _GAP * (len(most) - 1)
    most[0] = min(most[0], max(left, _LEAST))
    for first, *others in rows:
        for place, line in enumerate(_broken(first, most[0], "")):
            cells = (line, *(others if place == 0 else ("" for _ in others)))
            yield (
                (" " * _GAP)
                .join(
                    cell.rjust(size) if column in numbers else cell.ljust(size)
                    for column, (cell, size) in enumerate(zip(cells, most, strict=True))
                )
                .rstrip()
            )


def _broken(text: str, width: int, indent: str) -> list[str]:
    lines = textwrap.wrap(
        _UNIT.sub(_TIED, text),
        width,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(_TIED, " ") for line in lines] or [""]


def error(found: LastvoltError) -> None:
    """Print an error and the fields that it points at, to standard error."""
    fields = found.field_errors if isinstance(found, ErrorAnswer) else ()
    text = str(found)
    for item in fields:  # they are told below, once and as the file has them
        text = text.replace(f"\n  {item}", "").removesuffix(f": {item}")
    click.echo(f"Could not answer: {text}", err=True)
    for item in fields:
        click.echo(f"  {item.pointer}: {item.detail}", err=True)


def stop(message: str) -> NoReturn:
    """Say in a line why there is no answer, and end."""
    click.echo(message, err=True)
    sys.exit(COULD_NOT_RUN)
