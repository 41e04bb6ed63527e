"""One line of log for each request, and the ids by which it is found again."""

import logging
import random
import re
import time
from http import HTTPStatus
from typing import TYPE_CHECKING, Any

from flask import Flask, g, request

if TYPE_CHECKING:
    from collections.abc import Iterable
    from wsgiref.types import StartResponse, WSGIEnvironment

REQUEST_ID = "X-Request-ID"
ENVIRON_ID = "lastvolt.request_id"
ENVIRON_BEGAN = "lastvolt.began"

_ID = re.compile(r"[A-Za-z0-9._-]{1,64}", re.ASCII)
# W3C Trace Context, section 3.2: version, trace-id, parent-id, flags; later versions may add more.
_TRACEPARENT = re.compile(
    r"(?!ff)[0-9a-f]{2}-(?!0{32})([0-9a-f]{32})-(?!0{16})[0-9a-f]{16}-[0-9a-f]{2}(?:-.*)?", re.ASCII
)
_log = logging.getLogger("lastvolt_service.requests")


def trace_id(traceparent: str) -> str:
    """Read the id of a trace from the header of W3C Trace Context.

    Returns
    -------
    str
        Empty if the header is missing or makes no sense.
    """
    found = _TRACEPARENT.fullmatch(traceparent)
    return found[1] if found else ""


def operation() -> str:
    """Name what was asked by the rule that matched: paths are without number, rules are not.

    Returns
    -------
    str
        Such as ``/v1/wire-resistance``; ``unmatched`` for a path that there is not.
    """
    return request.url_rule.rule if request.url_rule else "unmatched"


def watch(app: Flask) -> None:
    """Give each request an id, and write its line; around the framework, where it costs least."""
    inner = app.wsgi_app

    def answer(environ: "WSGIEnvironment", start_response: "StartResponse") -> "Iterable[bytes]":
        given = environ.get("HTTP_X_REQUEST_ID", "")
        # Anything else than a plain word could forge lines of log.
        request_id = given if _ID.fullmatch(given) else f"{random.getrandbits(64):016x}"
        environ[ENVIRON_ID] = request_id
        environ[ENVIRON_BEGAN] = time.perf_counter()

        def start(status: str, headers: list[tuple[str, str]], *exc_info: Any) -> Any:
            headers.append((REQUEST_ID, request_id))
            if _log.isEnabledFor(logging.INFO):
                _write_line(environ, int(status[:3]))
            return start_response(status, headers, *exc_info)

        return inner(environ, start)

    app.wsgi_app = answer  # type: ignore[method-assign]  # Flask's own place for a middleware


def rows(status: int) -> int:
    """Count what was computed.

    Returns
    -------
    int
        What a batch noted in ``flask.g.rows``, 1 for any other operation, 0 if it failed.
    """
    if status != HTTPStatus.OK or not operation().startswith("/v1/"):
        return 0
    found: int = g.get("rows", 1)
    return found


def duration_s() -> float:
    """Tell how long the request has taken so far.

    Returns
    -------
    float
        [s]
    """
    began: float = request.environ[ENVIRON_BEGAN]
    return time.perf_counter() - began


def _write_line(environ: "WSGIEnvironment", status: int) -> None:
    # The framework starts its answer while its request is at hand.
    line = {
        "request_id": environ[ENVIRON_ID],
        "method": environ["REQUEST_METHOD"][:16],
        "operation": operation(),
        "status": status,
        "duration_ms": round(duration_s() * 1000, 3),
    }
    if count := rows(status):
        line["rows"] = count
    if trace := trace_id(environ.get("HTTP_TRACEPARENT", "")):
        line["trace_id"] = trace
    if "key" in g:
        line["key"] = g.key.name
    _log.info("%s %s %d", line["method"], line["operation"], status, extra={"request": line})
