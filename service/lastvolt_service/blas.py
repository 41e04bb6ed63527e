"""Linear algebra on one thread: more only stand in the way of the other workers.

Two processes that solve networks side by side, each with a thread for every core, wait for one
another: matrices of 100 to 400 take 4 to 50 times as long as on one thread, which alone is never
slower at these sizes. numpy's libraries read their number of threads when they are loaded, so this
package sets it before: in a program that embeds the service for all of its linear algebra, and for
its children. Whoever wants more sets one of `VARIABLES`, or imports numpy first.

Where numpy was there first, its threads are the program's own: `one_thread` then holds them back
while a network is solved, one network at a time, and lets them go after. That costs 6 to 12 us of
the 500 us and more that a network takes, so small ones are not told apart.
"""

import os
import sys
import threading
from collections.abc import Callable, MutableMapping
from functools import wraps
from typing import ParamSpec, TypeVar

# OpenBLAS (numpy's wheels for Linux and Windows), Accelerate (macOS), MKL, and whatever is built
# on OpenMP.
VARIABLES = (
    "OPENBLAS_NUM_THREADS",
    "VECLIB_MAXIMUM_THREADS",
    "MKL_NUM_THREADS",
    "OMP_NUM_THREADS",
)
# Of these, the one that the others fall back on.
GENERAL = "OMP_NUM_THREADS"

_Given = ParamSpec("_Given")
_Answer = TypeVar("_Answer")


def prepare(environment: MutableMapping[str, str]) -> bool:
    """Ask for one thread, of libraries that are yet to be loaded.

    Parameters
    ----------
    environment : mutable mapping of str to str
        Where they look. What is set there stays.

    Returns
    -------
    bool
        False where it is too late, and nobody has said how many there shall be.
    """
    told = [name for name in VARIABLES if environment.get(name)]
    if "numpy" in sys.modules:
        return bool(told)
    if GENERAL not in told:
        for name in VARIABLES:
            environment[name] = environment.get(name) or "1"
    return True


_PREPARED = prepare(os.environ)
_LOCK = threading.Lock()
if not _PREPARED and hasattr(os, "register_at_fork"):  # a child finds it free, the threads let go
    os.register_at_fork(
        before=_LOCK.acquire, after_in_parent=_LOCK.release, after_in_child=_LOCK.release
    )


def one_thread(work: Callable[_Given, _Answer]) -> Callable[_Given, _Answer]:
    """Let a function do its linear algebra on one thread.

    Parameters
    ----------
    work : callable
        What does some; it must not be called by another such function.

    Returns
    -------
    callable
        The same, as it is where there is one thread anyway.
    """
    if _PREPARED:
        return work
    # Here: a server never needs it.
    from threadpoolctl import ThreadpoolController  # type: ignore[import-untyped]  # it has no types

    pools = ThreadpoolController()

    @wraps(work)
    def alone(*given: _Given.args, **named: _Given.kwargs) -> _Answer:
        # One at a time: the number is one for the whole process, and the last to let go would set
        # what the first had found.
        with _LOCK, pools.limit(limits=1, user_api="blas"):
            return work(*given, **named)

    return alone
