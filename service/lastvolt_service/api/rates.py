"""How much a caller may ask: by key where there are keys, else by address."""

from collections.abc import Sequence

from flask import Flask, g, request

from lastvolt_service.api.access import guarded
from lastvolt_service.keys import Key


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

    Limiter(
        caller,
        app=app,
        application_limits=[rate_of_caller],
        application_limits_exempt_when=lambda: not guarded() or not rate_of_caller(),
        # A window that moves with time: the fixed one lets twice the rate through at its edge.
        strategy="moving-window",
        storage_uri=storage,
        storage_options={"socket_connect_timeout": 1, "socket_timeout": 1}
        if storage.startswith("redis")
        else {},
        in_memory_fallback_enabled=True,
        headers_enabled=True,
        retry_after="delta-seconds",
        key_prefix="lastvolt",
    )
