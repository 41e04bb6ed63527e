"""Real gunicorn on loopback, with the settings that the image and ``lastvolt serve`` use."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import requests

HERE = Path(__file__).parent
PATIENCE_S = 20
WIRE = {"size": "12 AWG", "length_m": 3.2}


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def until(condition: Callable[[], Any], what: str) -> Any:
    """Wait for something to become true, and return it."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        if found := condition():
            return found
        time.sleep(0.02)
    raise AssertionError(f"not within {PATIENCE_S} s: {what}")


class Server:
    """One gunicorn with its workers and its log."""

    def __init__(self, log: Path, application: str, settings: dict[str, str]) -> None:
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.log = log
        environment = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith(("LASTVOLT_", "PROMETHEUS_", "OTEL_"))
            and not name.lower().endswith("_proxy")
        }
        environment |= {"PYTHONPATH": str(HERE), "LASTVOLT_BIND": f"127.0.0.1:{self.port}"}
        environment |= {f"LASTVOLT_{name}": value for name, value in settings.items()}
        with log.open("wb") as stream:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "gunicorn", "--config",
                 "python:lastvolt_service.gunicorn_conf", application],
                env=environment, stdout=stream, stderr=stream,
            )  # fmt: skip
        until(self._is_ready, f"{application} answers:\n{log.read_text()}")
        until(lambda: len(self.workers()) == int(settings["WORKERS"]), "all workers are there")

    def _is_ready(self) -> bool:
        assert self.process.poll() is None, self.log.read_text()
        try:
            return requests.get(f"{self.url}/readyz", timeout=1).status_code == 200
        except requests.RequestException:
            return False

    def lines(self) -> list[dict[str, Any]]:
        """The log so far; a line that is no JSON fails the test."""
        whole, _, _ = self.log.read_text().rpartition("\n")
        return [json.loads(line) for line in whole.splitlines()]

    def workers(self) -> list[int]:
        parent = self.process.pid
        children = Path(f"/proc/{parent}/task/{parent}/children").read_text()
        return [int(pid) for pid in children.split()]

    def connect(self) -> socket.socket:
        connection = socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE_S)
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return connection

    def post(self, path: str, body: Any, **options: Any) -> requests.Response:
        return requests.post(f"{self.url}{path}", json=body, timeout=PATIENCE_S, **options)

    def stop(self) -> int:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        return self.process.wait(PATIENCE_S + 10)


@contextmanager
def served(
    log: Path, application: str = "lastvolt_service.wsgi", **settings: str
) -> Iterator[Server]:
    server = Server(log, f"{application}:application", settings)
    try:
        yield server
    finally:
        server.stop()


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., Server]]:
    """Start servers that end with the test."""
    running: list[Server] = []

    def start(application: str = "lastvolt_service.wsgi", **settings: str) -> Server:
        log = tmp_path / f"server-{len(running)}.log"
        running.append(Server(log, f"{application}:application", settings))
        return running[-1]

    yield start
    for server in running:
        server.stop()


@pytest.fixture(scope="module")
def short_tempered(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One worker of four threads with short limits, and an operation that takes its time."""
    log = tmp_path_factory.mktemp("server") / "log"
    limits = {"DEADLINE_S": "1.5", "ARRIVAL_S": "4", "STALL_S": "1"}
    with served(log, "slow_app", WORKERS="1", **limits) as server:
        yield server


def raw_request(path: str, body: bytes, *headers: str) -> bytes:
    lines = (
        f"POST {path} HTTP/1.1", "Host: lastvolt.test", "Content-Type: application/json",
        *(headers or (f"Content-Length: {len(body)}",)),
    )  # fmt: skip
    return "\r\n".join(lines).encode() + b"\r\n\r\n" + body


def read_answer(connection: socket.socket) -> tuple[int, bytes]:
    """Read one answer; status 0 for a connection that was closed without one."""
    stream = connection.makefile("rb")
    first = stream.readline()
    if not first:
        return 0, b""
    length = 0
    while (line := stream.readline()) not in {b"\r\n", b""}:
        name, _, value = line.partition(b":")
        if name.lower() == b"content-length":
            length = int(value)
    return int(first.split()[1]), stream.read(length)
