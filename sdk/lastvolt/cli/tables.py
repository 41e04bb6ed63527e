"""Files of rows: read a piece at a time, written so that what is there is always whole."""

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from typing import IO, Any, NamedTuple, Protocol

from lastvolt.units import parse, unit_of

Column = list[Any]
_PLAIN = re.compile(r"[+-]?(?:[0-9]{1,15}(?:\.[0-9]{0,15})?|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?")
_COUNTS = {"grouped_conductors"}
_FLAGS = {"energised_before"}
_BOOLEANS = {"true": True, "false": False}
# Results that are words, by which files of a fixed type per column know them where all are empty.
WORDS = {"standard", "worst_part", "size", "fuse_family", "permissible_from", "errors"}


class FileError(Exception):
    """A file that cannot be read or written as asked."""


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
    text = text.strip()
    if not text:
        return None
    unit = unit_of(name)
    if unit is not None or name in _COUNTS:
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
    for given, position in pieces:
        count = len(next(iter(given.values()), ()))
        if skip >= count:
            skip -= count
            continue
        kept = {name: values[skip:] for name, values in given.items()}
        skip = 0
        cells, faults = _understood(kept)
        yield Piece(kept, cells, faults, position)


def _understood(given: Mapping[str, Column]) -> tuple[dict[str, Column], dict[int, str]]:
    cells: dict[str, Column] = {}
    faults: dict[int, str] = {}
    for name, values in given.items():
        column = cells[name] = []
        for row, value in enumerate(values):
            try:
                column.append(cell(name, value) if isinstance(value, str) else value)
            except ValueError as error:
                column.append(None)
                faults.setdefault(row, f"{name}: {error}")
    return cells, faults


def _csv(file: Path, piece_rows: int) -> Iterator[tuple[dict[str, Column], int]]:
    with file.open("rb") as raw:
        text = io.TextIOWrapper(raw, encoding="utf-8-sig", newline="")
        reader = csv.reader(text, strict=True)
        try:
            header = [name.strip() for name in next(reader, [])]
            if not header or len(set(header)) < len(header):
                raise FileError(f"{file}: the first line must name each column once.")
            rows: list[list[str]] = []
            for row in reader:
                if not row:
                    continue
                if len(row) != len(header):
                    raise FileError(
                        f"{file}, line {reader.line_num}: {len(row)} cells, {len(header)} columns."
                    )
                rows.append(row)
                if len(rows) == piece_rows:
                    yield _columns(header, rows), raw.tell()
                    rows = []
            if rows:
                yield _columns(header, rows), raw.tell()
        except (csv.Error, UnicodeDecodeError) as error:
            raise FileError(f"{file}, line {reader.line_num}: {error}") from error


def _columns(header: Sequence[str], rows: Sequence[Sequence[str]]) -> dict[str, Column]:
    return {
        name: list(column) for name, column in zip(header, zip(*rows, strict=True), strict=True)
    }


def _arrow() -> Any:
    try:
        import_module("pyarrow.parquet")
    except ImportError:
        raise FileError("Parquet needs pyarrow: pip install pyarrow") from None
    return import_module("pyarrow")


def _parquet(file: Path, piece_rows: int) -> Iterator[tuple[dict[str, Column], int]]:
    arrow = _arrow()
    try:
        source = arrow.parquet.ParquetFile(file)
    except (OSError, arrow.ArrowException) as error:
        raise FileError(f"{file}: {error}") from error
    done, total, size = 0, source.metadata.num_rows, file.stat().st_size
    for part in source.iter_batches(piece_rows):
        done += part.num_rows
        yield part.to_pydict(), size * done // max(total, 1)


class Writer(Protocol):
    """A file that rows are added to."""

    def write(self, columns: Mapping[str, Column], keep: Sequence[int] | None = None) -> None:
        """Add rows, or those of these indices."""

    def size(self) -> int:
        """Say how much of the file is whole. [byte]."""

    def close(self) -> None:
        """Leave a whole file behind."""


class CsvWriter:
    """Rows as CSV.

    Parameters
    ----------
    file : Path
        Where to.
    keep : int or None
        How much of it stays; None begins anew. [byte]
    """

    def __init__(self, file: Path, keep: int | None) -> None:
        self._raw: IO[bytes] = file.open("wb" if keep is None else "r+b")
        if keep is not None:
            self._raw.truncate(keep)
            self._raw.seek(keep)
        self._begun = bool(keep)

    def write(self, columns: Mapping[str, Column], keep: Sequence[int] | None = None) -> None:
        """Add rows, or those of these indices; the first time their names."""
        text = io.StringIO(newline="")
        writer = csv.writer(text)
        if not self._begun:
            writer.writerow(columns)
            self._begun = True
        rows = zip(*columns.values(), strict=True)
        writer.writerows(rows if keep is None else map([*rows].__getitem__, keep))
        self._raw.write(text.getvalue().encode())
        self._raw.flush()

    def size(self) -> int:
        """Say how much of the file is whole. [byte]."""
        return self._raw.tell()

    def close(self) -> None:
        """Leave a whole file behind."""
        self._raw.close()


class ParquetWriter:
    """Rows as Parquet, a group for each piece.

    Parameters
    ----------
    file : Path
        Where to.
    keep : int or None
        Whether its rows stay; None begins anew.
    like : Path
        File that the rows come from. Its columns keep their types, so that neither a piece nor a
        part of a set differs from the others where a column of it is empty.
    """

    def __init__(self, file: Path, keep: int | None, like: Path) -> None:
        self._arrow = _arrow()
        self._types: dict[str, Any] = {}
        if like.suffix == ".parquet":
            schema = self._arrow.parquet.read_schema(like)
            self._types = dict(zip(schema.names, schema.types, strict=True))
        self._file = file
        self._part = file.with_name(file.name + ".part")
        self._writer: Any = None
        if keep is not None:
            before = self._arrow.parquet.ParquetFile(file)
            for group in range(before.num_row_groups):
                self._add(before.read_row_group(group))

    def write(self, columns: Mapping[str, Column], keep: Sequence[int] | None = None) -> None:
        """Add rows, or those of these indices."""
        arrow = self._arrow
        arrays = {name: self._array(name, values) for name, values in columns.items()}
        table = arrow.table(arrays)
        if keep is not None:  # only now: a column has a type, of which its rows have none alone
            table = table.take(arrow.array(keep, arrow.int64()))
        self._add(table if self._writer is None else table.cast(self._writer.schema))

    def _array(self, name: str, values: Column) -> Any:
        if name in self._types:
            return self._arrow.array(values, self._types[name])
        if name in WORDS or name == "verdict" or name.startswith("check_"):
            return self._arrow.array(values, self._arrow.string())
        array = self._arrow.array(values)
        return array.cast(self._arrow.float64()) if array.null_count == len(array) else array

    def _add(self, table: Any) -> None:
        if self._writer is None:
            self._writer = self._arrow.parquet.ParquetWriter(self._part, table.schema)
        self._writer.write_table(table)

    def size(self) -> int:
        """Say that rows are there."""
        return 0

    def close(self) -> None:
        """Leave a whole file behind."""
        if self._writer is not None:
            self._writer.close()
            self._part.replace(self._file)


def writer(file: Path, keep: int | None, *, like: Path) -> Writer:
    """Open a file of rows for writing.

    Parameters
    ----------
    file : Path
        ``.parquet``, or any other name for CSV.
    keep : int or None
        How much of it stays; None begins anew. [byte]
    like : Path
        File that the rows come from.

    Returns
    -------
    Writer
    """
    return ParquetWriter(file, keep, like) if file.suffix == ".parquet" else CsvWriter(file, keep)
