"""How much a caller may ask: by key where there are keys, else by address."""

import time
from collections.abc import Sequence
from typing import Any

from flask import Flask, Response, g, request

from lastvolt_service.api import problems
from lastvolt_service.api.access import operation_path
from lastvolt_service.config import WrongSetting
from lastvolt_service.keys import Key

# A storage on the same network answers in a millisecond. One that does not holds one request for
# so long, and then one more now and then, which asks whether it is back. [s]
STORAGE_TIMEOUT_S = 0.25


def limit_rates(app: Flask, *, rate: str, storage: str, keys: Sequence[Key]) -> None:
    """Count the calls of each caller, over all operations together.

    Parameters
    ----------
    app : flask.Flask
        The application.
    rate : str
        Of a caller without a rate of its own; empty is no limit.
    storage : str
        Where to count. If it fails, each worker counts for itself until it is back.
    keys : sequence of Key
        Those with a rate of their own are held to it.
    """
    if not rate and not any(key.rate for key in keys):
        return
    from flask_limiter import Limiter  # here: it takes longer to import than all the rest

    def rate_of_caller() -> str:
        return (g.key.rate if "key" in g else "") or rate

    def caller() -> str:
        return f"key {g.key.name}" if "key" in g else f"address {request.remote_addr}"

    try:
        limiter = Limiter(
            caller,
            app=app,
            application_limits=[rate_of_caller],
            application_limits_exempt_when=lambda: operation_path() is None or not rate_of_caller(),
            # A window that moves with time: the fixed one lets twice the rate through at its edge.
            strategy="moving-window",
            storage_uri=storage,
            storage_options=_patience() if storage.startswith("redis") else {},
            in_memory_fallback_enabled=True,
            # Threads that ask the storage in the moment in which another finds that it fails.
            swallow_errors=True,
            key_prefix="lastvolt",
        )
    except ImportError as error:
        raise WrongSetting(
            "LASTVOLT_RATE_STORAGE needs more packages: pip install 'lastvolt[redis]'."
        ) from error
    except Exception as error:  # its text may hold the address, and with it a password
        reason = type(error).__name__
        raise WrongSetting(f"LASTVOLT_RATE_STORAGE cannot be used ({reason}).") from None

    def too_many(_error: Exception) -> Response:
        wait = {"Retry-After": str(_wait_s(limiter))}
        problem = problems.PROBLEMS["rate-limited"]
        return problems.answer_refused(
            problems.Refused(problem.code, problem.meaning, headers=wait)
        )

    app.register_error_handler(429, too_many)


def _patience() -> dict[str, Any]:
    """Options of a client of Redis: by default it asks four times, and waits between."""
    from redis.backoff import NoBackoff
    from redis.retry import Retry

    return {
        "socket_connect_timeout": STORAGE_TIMEOUT_S,
        "socket_timeout": STORAGE_TIMEOUT_S,
        "retry": Retry(NoBackoff(), 0),
    }


def _wait_s(limiter: Any) -> int:
    """Whole seconds until the caller's window has room again."""
    try:
        return max(1, int(limiter.current_limit.reset_at - time.time()))
    except Exception:  # the storage failed since it counted: the next call counts in memory
        return 1
