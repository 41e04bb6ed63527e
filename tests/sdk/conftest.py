"""A clean environment, a stage server on loopback, and waits that do not wait."""

import json
import os
import socketserver
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import IO

import pytest

from lastvolt import embedded

URL = "http://lastvolt.test"

COMPUTED_BY = {"service": "1.2.3", "tables": "0123abcd"}
WIRE = {
    "size": "12 AWG",
    "standard": "AWG",
    "area_mm2": 3.3,
    "temperature_c": 20.0,
    "temperature_source": "given",
    "resistance_ohm_per_m": 0.0053,
    "resistance_ohm": 0.0345,
    "headline": "6.5 m of 12 AWG have 0.0345 Ω.",
    "verdict": "unknown",
    "checks": [],
    "basis": ["a formula"],
    "not_judged": [],
    "cautions": ["mind your fingers"],
    "computed_by": COMPUTED_BY,
}
HANG = b"hang"
RESET = b""
KEPT = b"Connection: keep-alive"


@pytest.fixture(autouse=True)
def clean_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither proxies nor settings of the machine reach a test."""
    for name in os.environ:
        if name.lower().endswith("_proxy") or name.startswith("LASTVOLT_") or name == "NETRC":
            monkeypatch.delenv(name)


@pytest.fixture(autouse=True)
def fresh_application() -> Iterator[None]:
    """An application built for one test is not met by the next."""
    embedded.application.cache_clear()
    yield
    embedded.application.cache_clear()


@pytest.fixture
def waits(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Seconds that would have been slept, in order; nothing sleeps."""
    slept: list[float] = []
    monkeypatch.setattr(time, "sleep", slept.append)
    return slept


def answer(status: str, body: bytes | dict[str, object], *headers: str) -> bytes:
    """Write an HTTP answer as bytes on the wire."""
    content = body if isinstance(body, bytes) else json.dumps(body).encode()
    if KEPT.decode() not in headers:
        headers = (*headers, "Connection: close")
    lines = (f"HTTP/1.1 {status}", f"Content-Length: {len(content)}", *headers, "", "")
    return "\r\n".join(lines).encode() + content


@dataclass
class Stage:
    """A server that says its lines in order, whatever it is asked."""

    url: str
    lines: list[bytes]
    heard: list[bytes] = field(default_factory=list)
    connections: int = 0


@pytest.fixture
def stage() -> Iterator[Callable[..., Stage]]:
    """Start a `Stage` on loopback; RESET hangs up without an answer, HANG never answers."""
    over = threading.Event()
    servers: list[socketserver.ThreadingTCPServer] = []

    def start(*lines: bytes) -> Stage:
        class Handler(socketserver.StreamRequestHandler):
            def handle(self) -> None:
                there.connections += 1
                while request := _read_request(self.rfile):
                    there.heard.append(request)
                    said = there.lines.pop(0)
                    if said == HANG:
                        over.wait(5)
                        return
                    self.wfile.write(said)
                    if KEPT not in said:
                        return

        server = socketserver.ThreadingTCPServer(("127.0.0.1", 0), Handler)
        there = Stage(f"http://127.0.0.1:{server.server_address[1]}", list(lines))
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        servers.append(server)
        return there

    yield start
    over.set()
    for server in servers:
        server.shutdown()
        server.server_close()


def _read_request(stream: IO[bytes]) -> bytes:
    head = b""
    length = 0
    while line := stream.readline():
        head += line
        name, _, value = line.partition(b":")
        if name.lower() == b"content-length":
            length = int(value)
        if line == b"\r\n":
            break
    return head + stream.read(length)
