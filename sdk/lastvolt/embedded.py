"""The service in this very process: a requests adapter that calls a WSGI application.

No socket, no server: the same requests, the same validation, the same answers. The application
comes through the entry point group ``lastvolt.embedded``, so this package imports no service.
"""

import io
import sys
from collections.abc import Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote_to_bytes, urlsplit

import requests
from requests.adapters import HTTPAdapter
from urllib3 import HTTPResponse

from lastvolt.errors import NoService, WrongArgument

if TYPE_CHECKING:
    from wsgiref.types import WSGIApplication

# To requests a scheme that begins with "http" is one whose query it may encode.
EMBEDDED = "http+wsgi://lastvolt"
ENTRY_POINT_GROUP = "lastvolt.embedded"

TWO_WAYS = (
    "install the service beside this package (pip install 'lastvolt[service]'), or name a running "
    "one: Client('https://…'), or its URL in the environment variable LASTVOLT_URL."
)


class WSGIAdapter(HTTPAdapter):
    """Answer requests by a WSGI application (PEP 3333) in this process.

    Parameters
    ----------
    application : WSGIApplication
        What answers. An exception that it lets out passes through to the caller.
    """

    def __init__(self, application: "WSGIApplication") -> None:
        super().__init__()
        self.application = application

    def send(
        self, request: requests.PreparedRequest, *_args: Any, **_kwargs: Any
    ) -> requests.Response:
        """Answer one request; time-outs, proxies and certificates have no meaning here.

        Raises
        ------
        WrongArgument
            If the body is no bytes.
        """
        started: dict[str, Any] = {}
        written = io.BytesIO()

        def start_response(
            status: str, headers: list[tuple[str, str]], exc_info: Any = None
        ) -> Any:
            # All is held back until the end, so a late error may still replace the headers.
            if started and exc_info is None:
                raise AssertionError("start_response was called twice without exc_info")
            started.update(status=status, headers=headers)
            return written.write

        chunks: Iterable[bytes] = self.application(_environ(request), start_response)
        try:
            for chunk in chunks:
                written.write(chunk)
        finally:
            if hasattr(chunks, "close"):
                chunks.close()
        code, _, reason = started["status"].partition(" ")
        answer = HTTPResponse(
            body=io.BytesIO(written.getvalue()),
            status=int(code),
            reason=reason,
            preload_content=False,
        )
        for name, value in started["headers"]:  # one by one: a name may come twice
            answer.headers.add(name, value)
        return self.build_response(request, answer)


def _environ(request: requests.PreparedRequest) -> dict[str, Any]:
    url = urlsplit(request.url or "")
    body = request.body or b""
    if not isinstance(body, bytes):
        raise WrongArgument("The embedded service takes a body of bytes.")
    environ: dict[str, Any] = {
        "REQUEST_METHOD": request.method or "GET",
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote_to_bytes(url.path).decode("latin-1"),
        "QUERY_STRING": url.query,
        "SERVER_NAME": url.hostname or "",
        "SERVER_PORT": "80",
        "SERVER_PROTOCOL": "HTTP/1.1",
        "REMOTE_ADDR": "127.0.0.1",
        "HTTP_HOST": url.netloc,
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": "http",
        "wsgi.input": io.BytesIO(body),
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
    }
    headers: Mapping[str, str] = request.headers
    for name, value in headers.items():
        key = name.upper().replace("-", "_")
        environ[key if key in {"CONTENT_TYPE", "CONTENT_LENGTH"} else f"HTTP_{key}"] = value
    return environ


@cache
def application() -> "WSGIApplication":
    """Build the service that is installed beside this package, once, with its plain settings.

    Raises
    ------
    NoService
        If none is installed, or not with the packages that it needs.
    """
    from importlib.metadata import entry_points  # here: who talks to a server never needs it

    found = tuple(entry_points(group=ENTRY_POINT_GROUP))
    if not found:
        raise NoService(f"There is no service to ask: {TWO_WAYS}")
    try:
        factory = found[0].load()
    except ImportError as error:
        raise NoService(f"There is no service to ask ({error}): {TWO_WAYS}") from error
    built: WSGIApplication = factory()
    return built
