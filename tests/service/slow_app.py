"""The service with operations that take as long as they are told, or never end."""

import ctypes
import logging
import time
from dataclasses import dataclass

import numpy as np

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.app import create_app
from lastvolt_service.fields import Fields, quantity
from lastvolt_service.schemas.described import schema_class


class SlowRequest(Fields):
    time_s: float = quantity("how long to compute", default=0.0)


@dataclass
class Slow:
    rounds: int


def slow(asked: SlowRequest) -> Slow:
    """Compute for a while, as a solver does: in many small steps, catching what goes wrong."""
    logging.getLogger("lastvolt_service").info("slow begins")
    end = time.monotonic() + asked.time_s
    rounds = 0
    while time.monotonic() < end:
        try:
            time.sleep(0.001)
            rounds += 1
        except Exception:
            continue
    return Slow(rounds)


def busy(asked: SlowRequest) -> Slow:
    """Compute for a while in numpy."""
    logging.getLogger("lastvolt_service").info("busy begins")
    end = time.monotonic() + asked.time_s
    values = np.linspace(0.0, 1.0, 20_000)
    rounds = 0
    while time.monotonic() < end:
        values = np.sort(np.sin(values))
        rounds += 1
    return Slow(rounds)


def stuck(asked: SlowRequest) -> Slow:
    """Wait for ever outside of Python, where no exception lands: a lock that is taken twice."""
    logging.getLogger("lastvolt_service").info("stuck begins")
    library = (
        ctypes.PyDLL(None) if asked.time_s else ctypes.CDLL(None)
    )  # holding the interpreter, or not
    mutex = ctypes.create_string_buffer(256)
    library.pthread_mutex_lock(mutex)
    library.pthread_mutex_lock(mutex)
    return Slow(0)


application = create_app()
application.register_blueprint(
    topic("slow", [Operation(work, schema_class(SlowRequest)()) for work in (slow, busy, stuck)])
)
