"""Answers on their way into a file: none lost, none twice, and nothing overwritten unasked.

Beside the output stand, until it is whole, the answers so far (``NAME.part``) and a note of what
was asked and how far it has come (``NAME.resume``). Both only grow, a line of the note after the
answers that it speaks of: whenever a run ends, the last whole line tells how much of the answers
counts. When all are there they are moved into place at once.
"""

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Protocol

from lastvolt.cli.journal import Asked, Entry, FileError, Growing, Note, Source, beside

NOTED_EVERY_S = 1.0


class Form(Protocol):
    """How answers stand in a file."""

    def whole(self, part: Path, spare: Path) -> Path:
        """Make a whole file of pieces: this very file, or the other one."""


class Output:
    """A file that answers are added to, and that is put in its place when it is whole.

    Parameters
    ----------
    target : Path
        Where it is put.
    source : Source
        What the answers are to, which nothing may harm.
    asked : mapping of str to str
        As for `Note`.
    resume, force : bool
        Whether to go on with an earlier run, and whether to overwrite an existing file.

    Attributes
    ----------
    progress : dict or None
        What the last entry of the earlier run said; None if there is none.

    Raises
    ------
    FileError
        If that cannot be done without harm; it says what can.
    """

    def __init__(
        self, target: Path, source: Source, asked: Asked, *, resume: bool, force: bool
    ) -> None:
        self._target = target.resolve() if target.is_symlink() else target
        self._part = beside(self._target, "part")
        self._whole = beside(self._target, "whole")
        self._source, self._force = source, force
        note = beside(self._target, "resume")
        for path in (self._target, self._part, self._whole, note):
            if path.exists() and path.samefile(source.path):
                raise FileError(f"{path} is the input itself: name another output.")
        self._refuse_special()
        # Without a note it is nobody knows whose.
        if not os.path.lexists(note) and os.path.lexists(self._part):
            raise FileError(f"{self._part} is in the way, and no note of a run beside it: move it.")
        if not resume or not os.path.lexists(note):
            self._refuse_existing()
        self._note = Note(note, asked)
        self.progress: Entry | None = None
        self._file: Growing | None = None
        self._noted_at = time.monotonic()
        self._moving = False
        try:
            self._begin(resume=resume)
        except BaseException:
            self.close()
            raise

    def _begin(self, *, resume: bool) -> None:
        entries = self._note.begin(resume=resume, force=self._force)
        if entries is None:
            # Never emptied: a run that was killed while it ended may have put this very file
            # in its place already.
            self._part.unlink(missing_ok=True)
            self._note.write_header()
            entries = []
        self.progress = entries[-1] if entries else None
        if self.is_in_place():
            return
        self._refuse_existing()
        size = int(self.progress["size"]) if self.progress else 0
        exists = os.path.lexists(self._part)
        if size and not exists:
            raise FileError(f"{self._part} is not there any more: --force begins anew.")
        self._file = Growing(self._part, new=not exists)
        if self._file.size < size:
            raise FileError(f"{self._part} was cut off: --force begins anew.")
        self._file.cut(size)

    @property
    def kept(self) -> Path | None:
        """The answers of the earlier run; None if there are none."""
        return self._part if self._file is not None and self._file.size else None

    def is_in_place(self) -> bool:
        """Tell whether the earlier run had put the file in its place when it ended."""
        moved = (self.progress or {}).get("moved")
        try:
            return moved is not None and self._target.stat().st_ino == moved
        except FileNotFoundError:
            return False

    def add(self, data: bytes | memoryview) -> None:
        """Add answers."""
        if self._file is not None:
            self._file.add(data)

    def note(self, progress: Entry, *, now: bool = False) -> None:
        """Say how far the answers have come; not each time, for that takes a disk its time."""
        early = time.monotonic() < self._noted_at + NOTED_EVERY_S
        if self._file is None or self._moving or (early and not now):
            return
        self._file.sync()
        self._note.add({**progress, "size": self._file.size})
        self._noted_at = time.monotonic()

    def put_in_place(self, progress: Entry, form: Form) -> None:
        """Make the file whole and move it to where it belongs.

        Parameters
        ----------
        progress : dict
            As for `note`.
        form : Form
            What makes a whole file of the answers.

        Raises
        ------
        FileError
            If another file has come to be there.
        """
        if self._file is not None:
            self._source.refuse_changed()
            self._file.sync()
            ready = form.whole(self._part, self._whole)
            entry = {**progress, "size": self._file.size, "moved": ready.stat().st_ino}
            self._note.add(entry)
            self._moving = True
            move(ready, self._target, force=self._force)
        self.discard()

    def discard(self) -> None:
        """Remove all but what is in its place."""
        self._whole.unlink(missing_ok=True)
        self._part.unlink(missing_ok=True)
        self._note.remove()

    def close(self) -> None:
        """Let go of the files."""
        if self._file is not None:
            self._file.close()
        self._note.close()

    def _refuse_existing(self) -> None:
        if not self._force and os.path.lexists(self._target):
            raise FileError(f"{self._target} exists already: --force overwrites it.")

    def _refuse_special(self) -> None:
        if self._target.exists() and not self._target.is_file():
            raise FileError(f"{self._target} is no ordinary file: name one for the answers.")


def move(ready: Path, target: Path, *, force: bool) -> None:
    """Move a file that is whole and on the disk to where it belongs, at once.

    Raises
    ------
    FileError
        If it may not, and there is one.
    """
    if force:
        ready.replace(target)
    else:
        try:
            os.link(ready, target)  # which, unlike a move, overwrites nothing
        except FileExistsError:
            raise FileError(
                f"{target} has come to be there meanwhile: --resume --force overwrites it, "
                f"with all the answers."
            ) from None
        except OSError:  # no hard links on this file system
            if os.path.lexists(target):
                raise FileError(f"{target} exists already.") from None
            ready.replace(target)
        else:
            ready.unlink()
    with suppress(OSError), _folder(target.parent) as folder:
        os.fsync(folder)


@contextmanager
def _folder(path: Path) -> Iterator[int]:
    folder = os.open(path, os.O_RDONLY)
    try:
        yield folder
    finally:
        os.close(folder)
