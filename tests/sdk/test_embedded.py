"""The service in this process: found by its entry point, called as WSGI wants it."""

import importlib.metadata
import io
from collections.abc import Callable, Iterable, Iterator
from importlib.metadata import EntryPoint
from typing import Any
from wsgiref.validate import validator

import pytest
import requests

import lastvolt
from lastvolt import Client
from lastvolt.embedded import EMBEDDED, ENTRY_POINT_GROUP, WSGIAdapter

from .conftest import WIRE, answer

Install = Callable[[Any], None]
MISSING = EntryPoint("service", "package_that_nobody_installed:create_app", ENTRY_POINT_GROUP)


@pytest.fixture
def install(monkeypatch: pytest.MonkeyPatch) -> Install:
    """Put an application, or what loads one, where the entry point of the service was."""

    def put(entry: Any) -> None:
        class Found:
            def load(self) -> Callable[[], Any]:
                return lambda: entry

        found = [] if entry is None else [entry if isinstance(entry, EntryPoint) else Found()]

        def entry_points(*, group: str) -> list[Any]:
            return found if group == ENTRY_POINT_GROUP else []

        monkeypatch.setattr(importlib.metadata, "entry_points", entry_points)

    return put


class Echo:
    """Answer every request with its own body, and remember it."""

    def __init__(self, body: bytes = b"", status: str = "200 OK") -> None:
        self.body = body
        self.status = status
        self.environs: list[dict[str, Any]] = []

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        self.environs.append(environ)
        body = environ["wsgi.input"].read(int(environ.get("CONTENT_LENGTH") or 0)) or self.body
        start_response(
            self.status, [("Content-Type", "application/json"), ("Set-Cookie", "a=1"),
                          ("Set-Cookie", "b=2"),
                          ("X-Request-ID", environ.get("HTTP_X_REQUEST_ID", ""))]
        )  # fmt: skip
        return [body[:1], body[1:]]


def ask(application: Any, method: str = "POST", path: str = "/", **how: Any) -> requests.Response:
    with requests.Session() as session:
        session.trust_env = False
        session.mount(EMBEDDED, WSGIAdapter(application))
        return session.request(method, EMBEDDED + path, **how)


class TestFinding:
    @pytest.mark.parametrize("entry", [None, MISSING], ids=["no service", "no packages for it"])
    def test_without_service_both_ways_are_told(self, install: Install, entry: Any) -> None:
        install(entry)
        with pytest.raises(lastvolt.NoService) as caught:
            Client()
        assert "pip install 'lastvolt[service]'" in str(caught.value)
        assert "LASTVOLT_URL" in str(caught.value)
        assert "Client('https://" in str(caught.value)

    def test_what_is_missing_is_named(self, install: Install) -> None:
        install(MISSING)
        with pytest.raises(lastvolt.NoService, match="package_that_nobody_installed"):
            Client()

    def test_a_server_needs_no_service(self, install: Install) -> None:
        install(None)
        assert repr(Client("http://lastvolt.test")) == "Client('http://lastvolt.test')"

    def test_the_entry_point_answers(self, install: Install) -> None:
        echo = Echo()
        install(echo)
        with Client() as client:
            assert client.call("x", {"a": 1}) == {"a": 1}
        assert echo.environs[0]["PATH_INFO"] == "/v1/x"

    def test_embedded_whatever_the_environment_says(
        self, install: Install, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setenv("LASTVOLT_URL", "http://127.0.0.1:1")
        install(Echo())
        assert Client(EMBEDDED).call("x", {"a": 1}) == {"a": 1}

    def test_own_session_is_used(self, install: Install) -> None:
        install(Echo())
        with requests.Session() as session:
            session.headers["X-Shop"] = "coach works"
            assert Client(session=session).call("x", {"a": 1}) == {"a": 1}

    def test_the_application_is_built_once(self, install: Install) -> None:
        install(Echo())
        Client()
        install(None)
        assert Client().call("x", {"a": 1}) == {"a": 1}

    def test_typed_answers_and_errors_are_those_of_http(self, install: Install) -> None:
        whole = answer("200 OK", WIRE).partition(b"\r\n\r\n")[2]

        def application(_environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
            start_response("200 OK", [("Content-Type", "application/json")])
            return [whole]

        install(application)
        wire = Client().wire_resistance(size="12 AWG", length_m=6.5)
        assert wire.to_dict() == WIRE

        install(Echo(status="422 UNPROCESSABLE ENTITY"))
        lastvolt.embedded.application.cache_clear()
        with pytest.raises(lastvolt.InvalidRequest, match=r"Request [0-9a-f]{16}: 422"):
            Client().call("x", {})


class TestWSGI:
    @pytest.mark.parametrize(
        ("method", "path", "how"),
        [
            ("GET", "/v1/conductors", {"params": {"standard": "IEC 60228"}}),
            ("POST", "/v1/x", {"json": {"a": 1}}),
            ("POST", "/v1/empty", {}),
            ("POST", "/v1/x", {"data": b"", "headers": {"Content-Type": "application/json"}}),
            ("GET", "/gr%C3%BC%C3%9Fe/%2F?q=%26", {}),
        ],
    )
    def test_the_validator_of_the_standard_library_agrees(
        self, method: str, path: str, how: dict[str, Any]
    ) -> None:
        echo = Echo(b"{}")
        with ask(validator(echo), method, path, **how) as response:
            assert response.status_code == 200

    def test_environ(self) -> None:
        echo = Echo()
        ask(echo, "POST", "/gr%C3%BC%C3%9Fe", params={"q": "a b&c"}, data=b"12345",
            headers={"Content-Type": "text/plain", "X-Two-Parts": "yes"})  # fmt: skip
        (environ,) = echo.environs
        assert environ["PATH_INFO"].encode("latin-1").decode() == "/grüße"
        assert environ["QUERY_STRING"] == "q=a+b%26c"
        assert environ["CONTENT_LENGTH"] == "5"
        assert environ["CONTENT_TYPE"] == "text/plain"
        assert environ["HTTP_X_TWO_PARTS"] == "yes"
        assert "HTTP_CONTENT_TYPE" not in environ
        assert "HTTP_CONTENT_LENGTH" not in environ
        assert environ["HTTP_HOST"] == environ["SERVER_NAME"] == "lastvolt"

    def test_response(self) -> None:
        response = ask(Echo(status="203 Quite Fine"), data=b'{"a": 1}')
        assert (response.status_code, response.reason) == (203, "Quite Fine")
        assert response.json() == {"a": 1}
        assert response.headers["content-type"] == "application/json"
        assert response.raw.headers.getlist("set-cookie") == ["a=1", "b=2"]
        assert response.url == f"{EMBEDDED}/"
        assert response.elapsed.total_seconds() >= 0
        assert response.request.method == "POST"

    def test_the_iterator_is_closed_even_when_it_breaks(self) -> None:
        class Chunks:
            closed = False

            def __iter__(self) -> Iterator[bytes]:
                yield b"half"
                raise RuntimeError("broken")

            def close(self) -> None:
                self.closed = True

        chunks = Chunks()

        def application(_environ: dict[str, Any], start_response: Any) -> Chunks:
            start_response("200 OK", [])
            return chunks

        with pytest.raises(RuntimeError, match="broken"):
            ask(application)
        assert chunks.closed

    def test_a_generator_may_start_late_and_write(self) -> None:
        def application(_environ: dict[str, Any], start_response: Any) -> Iterator[bytes]:
            write = start_response("200 OK", [("Content-Type", "text/plain")])
            write(b"a")
            yield b"b"

        assert ask(application).content == b"ab"

    def test_a_late_error_replaces_the_headers(self) -> None:
        def application(_environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
            start_response("200 OK", [])
            late = RuntimeError("late")
            start_response("500 Oops", [], (type(late), late, None))
            return [b"sorry"]

        assert ask(application).status_code == 500

    def test_starting_twice_is_a_fault(self) -> None:
        def application(_environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
            start_response("200 OK", [])
            start_response("200 OK", [])
            return []

        with pytest.raises(AssertionError, match="twice"):
            ask(application)

    def test_a_body_of_no_known_bytes_is_refused(self) -> None:
        with pytest.raises(lastvolt.WrongArgument, match="bytes"):
            ask(Echo(), data=io.BytesIO(b"stream"))
