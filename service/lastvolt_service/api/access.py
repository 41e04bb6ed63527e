"""Who may ask: bearer keys, and the pages of other origins."""

from collections.abc import Sequence

from flask import Flask, Response, g, request

from lastvolt_service.api.operations import API_PREFIX
from lastvolt_service.api.problems import Refused
from lastvolt_service.keys import Key, find
from lastvolt_service.operations.decision import quick_step

CHALLENGE = 'Bearer realm="lastvolt"'
PREFLIGHT_AGE_S = 600
START, START_RUNS = "/", f"{API_PREFIX}/{quick_step.NAME}"


def operation_path() -> str | None:
    """Tell the path of the operation that the request runs; probes and explanations are open.

    Returns
    -------
    str or None
        By the rule that matched, which no spelling of the path can get around; the start page runs
        an operation where its form is filled in.
    """
    rule = request.url_rule
    if rule is None or _asks_options():
        return None
    if rule.rule == START and request.query_string:
        return START_RUNS
    return request.path if rule.rule.startswith(f"{API_PREFIX}/") else None


def _asks_options() -> bool:
    return request.method == "OPTIONS"  # computes nothing; browsers ask without a key


def require_keys(app: Flask, keys: Sequence[Key]) -> None:
    """Let only those ask who hold a key."""

    @app.before_request
    def check() -> None:
        path = operation_path()
        if path is None:
            return
        scheme, _, given = request.headers.get("Authorization", "").partition(" ")
        if scheme.lower() != "bearer":
            raise _no_key("This service asks for a key.", CHALLENGE)
        key = find(keys, given.strip())
        if key is None:
            raise _no_key("This key is not known here.", f'{CHALLENGE}, error="invalid_token"')
        g.key = key
        if not key.may_ask(path):
            raise Refused("forbidden", f"The key {key.name} does not cover {path[:80]}.")


def _no_key(detail: str, challenge: str) -> Refused:
    return Refused("no-key", detail, headers={"WWW-Authenticate": challenge})


def allow_origins(app: Flask, origins: Sequence[str]) -> None:
    """Let the pages of some origins ask (CORS); compared whole, so no pattern can match more."""
    allowed = frozenset(origins)

    @app.after_request
    def permit(response: Response) -> Response:
        response.vary.add("Origin")
        origin = request.headers.get("Origin")
        if origin not in allowed:
            return response
        headers = response.headers
        headers["Access-Control-Allow-Origin"] = origin
        headers["Access-Control-Expose-Headers"] = "ETag, Lastvolt-Retry, Retry-After, X-Request-ID"
        if _asks_options() and "Access-Control-Request-Method" in request.headers:
            headers["Access-Control-Allow-Methods"] = response.headers.get("Allow", "")
            headers["Access-Control-Allow-Headers"] = (
                "Authorization, Content-Type, If-None-Match, X-Request-ID, traceparent"
            )
            headers["Access-Control-Max-Age"] = str(PREFLIGHT_AGE_S)
        return response
