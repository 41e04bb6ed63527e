"""A deadline for each request: work that goes on too long is ended, wherever it is."""

import ctypes
import math
import os
import threading
import time
from collections.abc import Callable
from typing import TypeVar
from weakref import WeakSet

from lastvolt_service.api.problems import Refused

TICK_S = 0.1
# Longer than any single call of numpy; then a thread that was interrupted will never notice.
STUCK_S = 10.0

_Answer = TypeVar("_Answer")


class DeadlineExceeded(BaseException):
    """Ends the work of a thread; no ``except Exception`` in that work can hold it up."""


def _interrupt(thread_id: int, exception: type[BaseException] | None) -> None:
    """Raise an exception in a thread at its next step; None takes back what has not landed."""
    ctypes.pythonapi.PyThreadState_SetAsyncExc(
        ctypes.c_ulong(thread_id), None if exception is None else ctypes.py_object(exception)
    )


class _Run:
    __slots__ = ("ends_at", "over", "stuck_at", "thread_id")

    def __init__(self, ends_at: float) -> None:
        self.thread_id = threading.get_ident()
        self.ends_at = ends_at
        self.over = False
        self.stuck_at = math.inf


class Deadlines:
    """Watch over the threads that compute.

    gunicorn's own time-out sees a worker whose main thread is stuck, not a thread that is. Here a
    watching thread raises `DeadlineExceeded` in any that runs too long. It lands between two
    steps of Python: a single call of numpy is over before. (One that is not, and lets no other
    thread run, silences the whole worker, which gunicorn then kills.) The watching thread lives
    while there is something to watch, so that an idle process, or one that forks, has none.

    Attributes
    ----------
    on_stuck : callable
        What to do about a thread that waits outside of Python and so cannot be ended.
    """

    def __init__(self) -> None:
        self.on_stuck: Callable[[], None] = lambda: None
        self._begin_anew()
        _ALL.add(self)

    def _begin_anew(self) -> None:
        self._lock = threading.Lock()
        self._runs: set[_Run] = set()
        self._watcher: threading.Thread | None = None

    def run(self, work: Callable[[], _Answer], *, seconds: float) -> _Answer:
        """Do some work, for so long at most.

        Parameters
        ----------
        work : callable
            What to do.
        seconds : float
            How long it may take. [s]

        Returns
        -------
        object
            What it returns.

        Raises
        ------
        Refused
            422 if it took longer.
        """
        run = _Run(time.monotonic() + seconds)
        try:
            try:
                self._begin(run)
                return work()
            finally:
                self._end(run)
        except DeadlineExceeded as error:
            self._end(run)  # the interrupt may have landed in the first
            raise Refused(
                "deadline-exceeded",
                f"The computation took longer than {seconds:g} s and was ended.",
            ) from error

    def _begin(self, run: _Run) -> None:
        with self._lock:
            self._runs.add(run)
            if self._watcher is None:
                self._watcher = threading.Thread(
                    target=self._watch, name="lastvolt deadlines", daemon=True
                )
                self._watcher.start()

    def _end(self, run: _Run) -> None:
        with self._lock:
            self._runs.discard(run)
            if run.over:  # an interrupt that has not landed yet must hit nothing else
                _interrupt(run.thread_id, None)

    def _watch(self) -> None:
        while True:
            time.sleep(TICK_S)
            with self._lock:
                if not self._runs:
                    self._watcher = None
                    return
                now = time.monotonic()
                for run in self._runs:
                    if now >= run.ends_at and not run.over:
                        run.over = True
                        run.stuck_at = now + STUCK_S
                        _interrupt(run.thread_id, DeadlineExceeded)
                    elif now >= run.stuck_at:
                        self.on_stuck()


_ALL: WeakSet[Deadlines] = WeakSet()


def _after_fork() -> None:
    """Forget, in a child, the threads that it has not got, and the lock that one of them held."""
    for deadlines in _ALL:
        deadlines._begin_anew()


if hasattr(os, "register_at_fork"):  # where there is no fork there is no such function
    os.register_at_fork(after_in_child=_after_fork)
