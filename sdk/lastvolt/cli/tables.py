"""Files of rows, read a piece at a time."""

import csv
import io
import math
import re
from collections.abc import Iterator, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

from lastvolt.cli.journal import FileError
from lastvolt.units import parse, unit_of

Column = list[Any]
_PLAIN = re.compile(r"[+-]?(?:[0-9]{1,15}(?:\.[0-9]{0,15})?|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?")
_BROKEN = re.compile("[\udc80-\udcff]")  # bytes that are no UTF-8, by "surrogateescape"
_COUNT = "grouped_conductors"  # of a wire, or of one of many
_FLAGS = {"energised_before"}
_BOOLEANS = {"true": True, "false": False}
# More than any operation takes: to say of a million of columns that they are unknown takes long.
MOST_COLUMNS = 5000
# What a cell begins with that a spreadsheet takes for a formula, in any script and after a blank.
_FORMULA = frozenset("=+-@\t\r\n＝＋－＠")  # noqa: RUF001  full width on purpose


class Piece(NamedTuple):
    """Some rows of a file.

    Attributes
    ----------
    given : dict of str to list
        As they stand there.
    cells : dict of str to list
        As the service takes them; None where nothing is given, or nothing that is understood.
    faults : dict of int to str
        What is not understood, by index in the piece.
    position : int
        How much of the file is read. [byte]
    """

    given: dict[str, Column]
    cells: dict[str, Column]
    faults: dict[int, str]
    position: int


def cell(name: str, text: str) -> Any:
    """Read a cell.

    Parameters
    ----------
    name : str
        Of its column, which ends in a unit where it is a quantity.
    text : str
        A number in that unit, or with one of its own such as ``"15 ft"``; or a word.

    Returns
    -------
    float, bool, str or None
        None for an empty cell.

    Raises
    ------
    ValueError
        If it is a quantity and not understood.
    """
    if text[:1] == "'" and text[1:2] in _FORMULA:  # as `harmless` wrote it
        text = text[1:]
    text = text.strip()
    if not text:
        return None
    unit = unit_of(name)
    if unit is not None or name.endswith(_COUNT):
        if _PLAIN.fullmatch(text):
            return float(text)
        return parse(text, unit or "1")
    if name in _FLAGS:
        if text.lower() not in _BOOLEANS:
            raise ValueError(f"{text[:40]!r} is not understood: write true or false.")
        return _BOOLEANS[text.lower()]
    return text


def read(file: Path, piece_rows: int, skip: int) -> Iterator[Piece]:
    """Read a file of rows.

    Parameters
    ----------
    file : Path
        CSV with a header, or Parquet.
    piece_rows : int
        Rows of a piece.
    skip : int
        Rows to leave out at the beginning.

    Yields
    ------
    Piece

    Raises
    ------
    FileError
        If it is no such file.
    """
    pieces = _parquet(file, piece_rows) if file.suffix == ".parquet" else _csv(file, piece_rows)
    for given, ragged, position in pieces:
        count = len(next(iter(given.values()), ()))
        if skip >= count:
            skip -= count
            continue
        kept = {name: values[skip:] for name, values in given.items()}
        ragged = {row - skip: fault for row, fault in ragged.items() if row >= skip}
        skip = 0
        cells, faults = _understood(kept)
        for row in ragged:  # whose cells may stand in a column that is not theirs
            for column in cells.values():
                column[row] = None
        faults |= ragged
        yield Piece(kept, cells, faults, position)


def harmless(column: Column) -> Column:
    """Keep spreadsheets from taking text for a formula: an apostrophe before it, as they have it.

    Parameters
    ----------
    column : list
        Text that begins like a formula and is no number gets one.

    Returns
    -------
    list
        `cell` takes the apostrophe off again.
    """
    if str not in set(map(type, column)):
        return column
    formulas = {
        value
        for value in set(column)
        if isinstance(value, str) and value[:1] in _FORMULA and not _PLAIN.fullmatch(value)
    }
    if not formulas:
        return column
    return [f"'{value}" if value in formulas else value for value in column]


def _without_broken(given: dict[str, Column]) -> dict[int, str]:
    """Replace what is no UTF-8, as the file was read with, and say in which rows it was."""
    faults: dict[int, str] = {}
    for name, values in given.items():
        for row, value in enumerate(values):
            if isinstance(value, str) and not value.isascii() and _BROKEN.search(value):
                values[row] = _BROKEN.sub("\N{REPLACEMENT CHARACTER}", value)
                faults.setdefault(row, f"{name}: This is not UTF-8 text.")
    return faults


def _understood(given: dict[str, Column]) -> tuple[dict[str, Column], dict[int, str]]:
    cells: dict[str, Column] = {}
    faults = _without_broken(given)
    for name, values in given.items():
        column = cells[name] = []
        endless = math.inf in values or -math.inf in values
        for row, value in enumerate(values):
            try:
                if isinstance(value, str):
                    column.append(cell(name, value))
                elif endless and value in {math.inf, -math.inf}:
                    raise ValueError(f"This must be a finite number, not {value}.")  # noqa: TRY301  told below
                else:
                    column.append(value)
            except ValueError as error:
                column.append(None)
                faults.setdefault(row, f"{name}: {error}")
    return cells, faults


_Part = tuple[dict[str, Column], dict[int, str], int]
"""Columns of some rows, why some of these are refused, and how much of the file is read. [byte]."""


def _csv(file: Path, piece_rows: int) -> Iterator[_Part]:
    with file.open("rb") as raw:
        text = io.TextIOWrapper(
            raw, encoding="utf-8-sig", errors="surrogateescape", newline=""
        )  # what is no UTF-8 is refused in its row
        reader = csv.reader(text, strict=True)
        try:
            header = [name.strip() for name in next(reader, [])]
            if fault := _misread(header):
                raise FileError(f"{file}: {fault}")
            if not header or len(set(header)) < len(header):
                raise FileError(f"{file}: the first line must name each column once.")
            if len(header) > MOST_COLUMNS:
                raise FileError(f"{file}: {len(header)} columns are more than any operation takes.")
            rows: list[list[str]] = []
            ragged: dict[int, str] = {}
            for row in filter(None, reader):
                if len(row) != len(header):
                    ragged[len(rows)] = (
                        f"Line {reader.line_num} has {len(row)} cells, and the first line names "
                        f"{len(header)} columns: leave no cell out, write numbers with a point, "
                        "and put text with a comma into quotes."
                    )
                rows.append([*row[: len(header)], *[""] * (len(header) - len(row))])
                if len(rows) == piece_rows:
                    yield _columns(header, rows), ragged, raw.tell()
                    rows, ragged = [], {}
            if rows:
                yield _columns(header, rows), ragged, raw.tell()
        except csv.Error as error:
            raise FileError(f"{file}, line {reader.line_num}: {error}") from error


def _misread(header: Sequence[str]) -> str:
    """Say what shows in the first line that a spreadsheet has saved another kind of file."""
    text = "".join(header)
    if "\0" in text or text.startswith("PK"):
        return "this is no CSV in UTF-8: save it from the spreadsheet as such."
    for sign, name in ((";", "semicolons"), ("\t", "tabs")):
        if sign in text:
            return f"its columns stand between {name}: commas must, and numbers have a point."
    return ""


def _columns(header: Sequence[str], rows: Sequence[Sequence[str]]) -> dict[str, Column]:
    return {
        name: list(column) for name, column in zip(header, zip(*rows, strict=True), strict=True)
    }


def arrow() -> Any:
    """Import pyarrow with what reads and writes Parquet.

    Raises
    ------
    FileError
        If it is not installed.
    """
    try:
        import_module("pyarrow.parquet")
    except ImportError:
        raise FileError("Parquet needs pyarrow: pip install pyarrow") from None
    return import_module("pyarrow")


def _parquet(file: Path, piece_rows: int) -> Iterator[_Part]:
    pyarrow = arrow()
    try:
        source = pyarrow.parquet.ParquetFile(file)
    except (OSError, pyarrow.ArrowException) as error:
        raise FileError(f"{file}: {error}") from error
    if len(source.schema_arrow) > MOST_COLUMNS:
        raise FileError(
            f"{file}: {len(source.schema_arrow)} columns are more than any operation takes."
        )
    done, total, size = 0, source.metadata.num_rows, file.stat().st_size
    for part in source.iter_batches(piece_rows):
        done += part.num_rows
        yield part.to_pydict(), {}, size * done // max(total, 1)
