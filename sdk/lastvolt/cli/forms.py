"""How answers stand in files: pieces that are added one by one, and a whole file of them."""

import csv
import io
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Protocol

from lastvolt._generated.service import LINED
from lastvolt.cli.journal import FileError
from lastvolt.cli.output import Form
from lastvolt.cli.tables import Column, arrow, harmless

# Results that are words, by which files of a fixed type per column know them where all are empty.
WORDS = {"standard", "worst_segment", "size", "fuse_family", "permissible_from", "errors"}

ROWS, LINES = (".csv", ".parquet"), (".ndjson", ".jsonl")


def fitting(operation: str, file: Path, output: Path) -> None:
    """See that the names of both files say what stands in them.

    Parameters
    ----------
    operation : str
        Tells whether it takes rows, or lines of JSON.
    file : Path
        May end as it likes, but for the other kind.
    output : Path
        Whoever opens it goes by its name.

    Raises
    ------
    FileError
        If one does not.
    """
    lined = operation in LINED
    kind, others = (LINES, ROWS) if lined else (ROWS, LINES)
    if file.suffix.lower() in others:
        raise FileError(
            f"{file}: {operation} takes more than a row: give NDJSON, one request a line."
            if lined
            else f"{file}: {operation} takes rows: give CSV or Parquet, headed by its fields."
        )
    ordinary = output.is_file() or not output.exists()  # of others it is told that they are none
    if ordinary and output.suffix not in kind:
        what = "lines of JSON" if lined else "rows"
        raise FileError(
            f"{output}: the answers are {what}: let its name end in {' or '.join(kind)}."
        )


class RowsForm(Form, Protocol):
    """How rows stand in a file."""

    def encode(
        self, columns: Mapping[str, Column], keep: Sequence[int] | None = None
    ) -> bytes | memoryview:
        """Write rows, or those of these indices, to be added to the file."""


class Lines:
    """Lines one after the other are a whole file as they are."""

    def whole(self, part: Path, _spare: Path) -> Path:
        """Leave it as it is."""
        return part


class CsvForm(Lines):
    """Rows as CSV.

    Parameters
    ----------
    kept : Path or None
        Rows of the same file that are there already.
    """

    def __init__(self, kept: Path | None) -> None:
        self._header: list[str] = []
        if kept is not None:
            with kept.open(encoding="utf-8", newline="") as text:
                self._header = next(csv.reader(text))

    def encode(self, columns: Mapping[str, Column], keep: Sequence[int] | None = None) -> bytes:
        """Write rows, or those of these indices; the first time their names."""
        text = io.StringIO(newline="")
        writer = csv.writer(text)
        if not self._header:
            self._header = list(columns)
            writer.writerow(self._header)
        if self._header != list(columns):
            raise FileError("The answers have other columns than those before.")
        rows = zip(*map(harmless, columns.values()), strict=True)
        writer.writerows(rows if keep is None else map([*rows].__getitem__, keep))
        return text.getvalue().encode()


class ParquetForm:
    """Rows as Parquet, a group for each piece.

    Such a file cannot be added to. Until it is whole each piece is a stream of Arrow's, one after
    the other.

    Parameters
    ----------
    kept : Path or None
        Pieces of the same file that are there already.
    like : Path
        File that the rows come from. Its columns keep their types, so that neither a piece nor a
        part of a set differs from the others where a column of it is empty.
    """

    def __init__(self, kept: Path | None, like: Path) -> None:
        self._arrow = arrow()
        self._types: dict[str, Any] = {}
        if like.suffix == ".parquet":
            schema = self._arrow.parquet.read_schema(like)
            self._types = dict(zip(schema.names, schema.types, strict=True))
        self._schema: Any = None
        if kept is not None:
            with kept.open("rb") as pieces:
                self._schema = self._arrow.ipc.open_stream(pieces).schema

    def encode(
        self, columns: Mapping[str, Column], keep: Sequence[int] | None = None
    ) -> memoryview:
        """Write rows, or those of these indices."""
        arrow = self._arrow
        table = arrow.table({name: self._array(name, values) for name, values in columns.items()})
        if keep is not None:  # only now: a column has a type, of which its rows have none alone
            table = table.take(arrow.array(keep, arrow.int64()))
        if self._schema is None:
            self._schema = table.schema
        sink = arrow.BufferOutputStream()
        with arrow.ipc.new_stream(sink, self._schema) as stream:
            stream.write_table(table.cast(self._schema))
        return memoryview(sink.getvalue())

    def _array(self, name: str, values: Column) -> Any:
        if name in self._types:
            return self._arrow.array(values, self._types[name])
        words = name in WORDS or name.endswith("_temperature_source")
        if words or name == "verdict" or name.startswith("check_"):
            return self._arrow.array(values, self._arrow.string())
        array = self._arrow.array(values)
        return array.cast(self._arrow.float64()) if array.null_count == len(array) else array

    def whole(self, part: Path, spare: Path) -> Path:
        """Join the pieces to a file beside them."""
        try:
            with part.open("rb") as pieces, spare.open("wb") as joined:
                self._join(pieces, joined)
                joined.flush()
                os.fsync(joined.fileno())
        except BaseException:
            with suppress(OSError):
                spare.unlink(missing_ok=True)  # its room may be needed
            raise
        return spare

    def _join(self, pieces: Any, joined: Any) -> None:
        schema = self._schema or self._arrow.schema([])
        size = os.fstat(pieces.fileno()).st_size
        with self._arrow.parquet.ParquetWriter(joined, schema) as writer:
            while pieces.tell() < size:
                writer.write_table(self._arrow.ipc.open_stream(pieces).read_all())


def rows_form(target: Path, kept: Path | None, *, like: Path) -> RowsForm:
    """Choose how rows stand in a file.

    Parameters
    ----------
    target : Path
        ``.csv`` or ``.parquet``.
    kept : Path or None
        Answers that are there already.
    like : Path
        File that the rows come from.
    """
    return ParquetForm(kept, like) if target.suffix == ".parquet" else CsvForm(kept)
