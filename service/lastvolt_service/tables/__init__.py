"""Published data: CSV with a unit in every column name, and beside it a TOML with the sources.

A table's TOML holds one section ``[sources.ID]`` for each publication its rows come from, with
title, publisher, edition, item (table or clause) and mark:

    READ      the values were read in a copy or reprint of the publication
    MEM       the values are from memory: shown to the caller as unverified
    PRACTICE  common practice of the trade, with no publication behind it

Rows of a table with more than one source name theirs in the column ``source``.
"""

import csv
import hashlib
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

_FOLDER = files(__name__)


class Unproven(str):
    """A citation that no publication stands behind: practice, memory, an estimate."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value comes from.

    Attributes
    ----------
    title, publisher, edition, item : str
        The publication and the place in it; empty where there is none.
    mark : str
        ``READ``, ``MEM`` or ``PRACTICE``.
    """

    title: str
    publisher: str
    edition: str
    item: str
    mark: str

    @property
    def citation(self) -> str:
        """The source in one line, with a word of warning where it needs one."""
        place = ", ".join(part for part in (self.title, self.edition, self.item) if part)
        if self.mark == "PRACTICE":
            return Unproven(f"common practice: {place}")
        return Unproven(f"{place} (unverified)") if self.mark == "MEM" else place


@cache
def sources(table: str) -> dict[str, Source]:
    """Read the sources of a table.

    Parameters
    ----------
    table : str
        Name of the table, without an ending.

    Returns
    -------
    dict of str to Source
        By the ID that the table's rows use.
    """
    text = _FOLDER.joinpath(f"{table}.toml").read_text(encoding="utf-8")
    return {name: Source(**fields) for name, fields in tomllib.loads(text)["sources"].items()}


@cache
def citation(table: str, source: str) -> str:
    """Cite one source of a table in one line.

    Parameters
    ----------
    table, source : str
        Name of the table and the ID of the source in it.

    Returns
    -------
    str
        See `Source.citation`.
    """
    return sources(table)[source].citation


@cache
def rows(table: str) -> tuple[dict[str, str], ...]:
    """Read the rows of a table as text.

    Parameters
    ----------
    table : str
        Name of the table, without an ending.

    Returns
    -------
    tuple of dict
        One per row, by column name.
    """
    text = _FOLDER.joinpath(f"{table}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def version() -> str:
    """Name the content of all tables, so that an answer can be reproduced.

    Returns
    -------
    str
        First 12 hexadecimal digits of the SHA-256 over all table files.
    """
    digest = hashlib.sha256()
    data = (entry for entry in _FOLDER.iterdir() if entry.name.endswith((".csv", ".toml")))
    for entry in sorted(data, key=lambda entry: entry.name):
        digest.update(entry.name.encode() + b"\0" + entry.read_bytes() + b"\0")
    return digest.hexdigest()[:12]
