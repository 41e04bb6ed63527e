"""Files that a command reads whole; ``-`` is standard input."""

import json
from pathlib import Path
from typing import Any

import click

from lastvolt.cli import show


def argument() -> click.Argument:
    """Make the argument FILE."""
    kind = click.Path(exists=True, dir_okay=False, allow_dash=True, path_type=Path)
    return click.Argument(["file"], type=kind)


def text(file: Path) -> str:
    """Read a file; a byte order mark, as Windows writes one, is no part of it.

    Raises
    ------
    SystemExit
        If it cannot be read.
    """
    try:
        with click.open_file(str(file), "rb") as source:
            content: bytes = source.read()
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        show.stop(f"{file}: this is not UTF-8 text: save it as such.")
    except OSError as error:
        show.stop(f"{file}: {error.strerror or error}")


def json_object(file: Path) -> dict[str, Any]:
    """Read an object of JSON.

    Raises
    ------
    SystemExit
        If it is none.
    """
    try:
        found = json.loads(text(file))
    except (ValueError, RecursionError) as error:
        show.stop(f"{file}: this is no JSON: {error}")
    if not isinstance(found, dict):
        show.stop(f"{file}: it must hold an object.")
    return found
