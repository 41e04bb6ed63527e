"""The service with one more operation, which takes as long as it is told."""

import logging
import time
from dataclasses import dataclass

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.app import create_app
from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.fields import Quantity


class SlowRequest(Request):
    time_s = Quantity("how long to compute", default=0.0)


@dataclass
class Slow:
    rounds: int


def slow(*, time_s: float) -> Slow:
    """Compute for a while, as a solver does: in many small steps, catching what goes wrong."""
    logging.getLogger("lastvolt_service").info("slow begins")
    end = time.monotonic() + time_s
    rounds = 0
    while time.monotonic() < end:
        try:
            time.sleep(0.001)
            rounds += 1
        except Exception:
            continue
    return Slow(rounds)


application = create_app()
application.register_blueprint(topic("slow", [Operation(slow, SlowRequest())]))
