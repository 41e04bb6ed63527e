"""Files that only grow, under a lock, and what a run is known by."""

import hashlib
import json
import os
from collections.abc import Mapping
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any

_CHUNK_BYTES = 1 << 20
Asked = Mapping[str, str]
Entry = dict[str, Any]


class FileError(Exception):
    """A file that cannot be read or written as asked."""


class Growing:
    """A file that is added to, under a lock that ends with its process.

    Parameters
    ----------
    path : Path
        The file.
    new : bool
        Whether it must not exist yet.

    Raises
    ------
    FileError
        If another process has it open so.
    """

    def __init__(self, path: Path, *, new: bool) -> None:
        self.path = path
        flags = os.O_RDWR | (os.O_CREAT | os.O_EXCL if new else 0)
        try:
            self._file = os.open(path, flags | getattr(os, "O_BINARY", 0), 0o666)
        except FileExistsError:
            raise _other_run(path) from None
        if not _locked(self._file) or not self._is_there():  # or it was moved before the lock
            os.close(self._file)
            raise _other_run(path)
        self.size = os.fstat(self._file).st_size

    def _is_there(self) -> bool:
        try:
            return os.path.samestat(os.fstat(self._file), self.path.stat())
        except FileNotFoundError:
            return False

    def read(self) -> bytes:
        """Read all of it."""
        with self.path.open("rb") as file:
            return file.read()

    def cut(self, size: int) -> None:
        """Forget what is beyond a size. [byte]."""
        os.ftruncate(self._file, size)
        os.lseek(self._file, size, os.SEEK_SET)
        self.size = size

    def add(self, data: bytes | memoryview) -> None:
        """Add all of the data, or nothing where there is no room for it."""
        left = memoryview(data)
        try:
            while left:
                left = left[os.write(self._file, left) :]
        except BaseException:
            with suppress(OSError):
                self.cut(self.size)
            raise
        self.size += len(data)

    def sync(self) -> None:
        """See that it is on the disk."""
        os.fsync(self._file)

    def close(self) -> None:
        """Let go of it."""
        os.close(self._file)


class Note:
    """What was asked, and how far a run has come: a file of lines.

    Parameters
    ----------
    path : Path
        The file.
    asked : mapping of str to str
        What answers depend on, by the name that the caller knows it by.
    """

    def __init__(self, path: Path, asked: Asked) -> None:
        self.path = path
        self._asked = dict(asked)
        self._file: Growing | None = None

    def begin(self, *, resume: bool, force: bool) -> list[Entry] | None:
        """Open the note, and see what an earlier run has left there.

        Returns
        -------
        list of dict or None
            Entries of the earlier run; None where all begins anew: then `write_header` is next.

        Raises
        ------
        FileError
            If there is an earlier run and neither is asked for, or it was asked something else.
        """
        if not os.path.lexists(self.path):
            self._file = Growing(self.path, new=True)
            return None
        self._file = Growing(self.path, new=False)
        lines = self._file.read().splitlines(keepends=True)
        whole = [line for line in lines if line.endswith(b"\n")]  # the last may be cut off
        try:
            entries = [dict(json.loads(line)) for line in whole]
            before = None if not entries else dict(entries.pop(0)["asked"])
        except (ValueError, KeyError, TypeError) as error:
            raise FileError(f"{self.path} is no note of a run: move it out of the way.") from error
        if not resume and not force:
            raise FileError(
                f"An earlier run has not ended, as {self.path} says: --resume goes on with it, "
                "--force begins anew."
            )
        if not resume or before is None:
            self._file.cut(0)
            return None
        self._compare(before)
        self._file.cut(sum(map(len, whole)))
        return entries

    def _compare(self, before: Mapping[str, Any]) -> None:
        names = dict.fromkeys((*before, *self._asked))
        differ = [
            f"{name} was {before.get(name) or 'none'} and is {self._asked.get(name) or 'none'}"
            for name in names
            if before.get(name) != self._asked.get(name)
        ]
        if differ:
            raise FileError(
                f"--resume goes on with the same question only: {'; '.join(differ)}. "
                "--force begins anew."
            )

    def write_header(self) -> None:
        """Say what is asked."""
        self.add({"asked": self._asked})

    def add(self, entry: Entry) -> None:
        """Add an entry."""
        if self._file is not None:
            self._file.add(json.dumps(entry).encode() + b"\n")
            self._file.sync()

    def remove(self) -> None:
        """Remove it: the run has ended."""
        self.path.unlink(missing_ok=True)

    def close(self) -> None:
        """Let go of it."""
        if self._file is not None:
            self._file.close()


class Source:
    """A file to be answered, known by its content.

    Parameters
    ----------
    path : Path
        An ordinary file.

    Attributes
    ----------
    content : str
        Hash of the content.

    Raises
    ------
    FileError
        If it is none, such as a pipe, which can be read only once.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._state = self._look()
        if not path.is_file():
            raise FileError(f"{path} is no ordinary file that can be read twice: save it first.")
        content = hashlib.blake2b(digest_size=16)
        with path.open("rb") as file:
            while chunk := file.read(_CHUNK_BYTES):
                content.update(chunk)
        self.content = content.hexdigest()

    def _look(self) -> tuple[int, int, int]:
        found = self.path.stat()
        return found.st_ino, found.st_size, found.st_mtime_ns

    def refuse_changed(self) -> None:
        """Refuse a file that has changed since.

        Raises
        ------
        FileError
            If it has.
        """
        if self._look() != self._state:
            raise FileError(f"{self.path} was changed while it was read: begin anew.")


def beside(path: Path, suffix: str) -> Path:
    """Name a file of a run beside its output."""
    return path.with_name(f"{path.name}.{suffix}")


def _other_run(path: Path) -> FileError:
    return FileError(f"Another run is writing {path}: wait for it, or end it.")


def _locked(file: int) -> bool:
    try:
        fcntl: Any = import_module("fcntl")
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except (ImportError, OSError):  # a system or a file system without locks
        return True
    return True
