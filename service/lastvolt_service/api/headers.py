"""Headers that keep answers from being taken for something else."""

from typing import TYPE_CHECKING, Any

from flask import Flask

if TYPE_CHECKING:
    from collections.abc import Iterable
    from wsgiref.types import StartResponse, WSGIEnvironment

# An answer is data: no browser shall guess another type, run it, frame it or keep it. A view that
# knows better, such as one with an ETag or a page, sets its own.
CACHE_CONTROL = ("Cache-Control", "no-store")
SECURITY = (
    ("X-Content-Type-Options", "nosniff"),
    ("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'"),
    ("Referrer-Policy", "no-referrer"),
)


def secure(app: Flask, *, hsts_s: int) -> None:
    """Add the headers to every answer; around the framework, where they cost next to nothing.

    Parameters
    ----------
    app : flask.Flask
        The application.
    hsts_s : int
        How long browsers shall insist on TLS; 0 says nothing of it. [s]
    """
    strict = (("Strict-Transport-Security", f"max-age={hsts_s}"),) if hsts_s else ()
    fixed = (*SECURITY, *strict)
    inner = app.wsgi_app

    def answer(environ: "WSGIEnvironment", start_response: "StartResponse") -> "Iterable[bytes]":
        def start(status: str, headers: list[tuple[str, str]], *exc_info: Any) -> Any:
            names = {name.lower() for name, _ in headers}
            headers += [pair for pair in fixed if pair[0].lower() not in names]
            if not names & {"etag", "cache-control"}:
                headers.append(CACHE_CONTROL)
            return start_response(status, headers, *exc_info)

        return inner(environ, start)

    app.wsgi_app = answer  # type: ignore[method-assign]  # Flask's own place for a middleware
