"""Real gunicorn on loopback, with the settings that the image and ``lastvolt serve`` use; and nginx
before it, with the configuration that is deployed."""

import json
import os
import re
import resource
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
NGINX_CONF = HERE.parents[1] / "service" / "deploy" / "nginx.conf"
PATIENCE_S = 20
MEMORY_BYTES = 2 * 1024**3  # of address space, for every process that is started here
PATH = "/v1/wire-resistance"
BATCH = "/v1/batch/wire-resistance"
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


class Door:
    """Where requests go in: a server, or the proxy before it."""

    def __init__(self) -> None:
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"

    def connect(self) -> socket.socket:
        connection = socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE_S)
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return connection

    def post(self, path: str, body: Any, **options: Any) -> requests.Response:
        return requests.post(f"{self.url}{path}", json=body, timeout=PATIENCE_S, **options)

    def start(self, command: list[str], log: Path, environment: dict[str, str]) -> None:
        self.log = log
        with log.open("wb") as stream:
            self.process = subprocess.Popen(
                command, env=environment, stdout=stream, stderr=stream, preexec_fn=_bounded
            )

    def children(self) -> list[int]:
        parent = self.process.pid
        children = Path(f"/proc/{parent}/task/{parent}/children").read_text()
        return [int(pid) for pid in children.split()]

    def accepted(self) -> int:
        """How many connections were accepted and are open, as the kernel lists them."""
        fields = [line.split() for line in Path("/proc/net/tcp").read_text().splitlines()[1:]]
        own, established = f":{self.port:04X}", "01"
        # One that still waits in the queue is no process's yet: its inode is 0.
        return sum(
            each[1].endswith(own) and each[3] == established and each[9] != "0" for each in fields
        )

    def end(self, sign: signal.Signals) -> int:
        if self.process.poll() is None:
            self.process.send_signal(sign)
        try:
            return self.process.wait(PATIENCE_S + 10)
        except subprocess.TimeoutExpired:
            for process in (*self.children(), self.process.pid):
                os.kill(process, signal.SIGKILL)
            raise


def _bounded() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))


class Server(Door):
    """One gunicorn with its workers and its log."""

    def __init__(self, log: Path, application: str, settings: dict[str, str]) -> None:
        super().__init__()
        self.probes = f"127.0.0.1:{free_port()}"
        environment = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith(("LASTVOLT_", "PROMETHEUS_", "OTEL_"))
            and not name.lower().endswith("_proxy")
        }
        environment |= {"PYTHONPATH": str(HERE)}
        settings = {"BIND": f"127.0.0.1:{self.port}", "PROBES": self.probes} | settings
        environment |= {f"LASTVOLT_{name}": value for name, value in settings.items()}
        options = ["--config", "python:lastvolt_service.gunicorn_conf", application]
        self.start([sys.executable, "-m", "gunicorn", *options], log, environment)
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
        return self.children()

    def probe(self, path: str) -> requests.Response:
        return requests.get(f"http://{self.probes}{path}", timeout=3)

    def stop(self) -> int:
        return self.end(signal.SIGTERM)


class Proxy(Door):
    """One nginx before a server, with the deployed configuration but for ports and some times."""

    def __init__(self, folder: Path, server: Server, program: str, **times: str) -> None:
        super().__init__()
        text = NGINX_CONF.read_text()
        changes = {
            "listen 8080;": f"listen 127.0.0.1:{self.port};",
            "127.0.0.1:8752": f"127.0.0.1:{server.port}",
            "127.0.0.1:8753": server.probes,
        }
        for old, new in changes.items():
            assert old in text
            text = text.replace(old, new)
        for name, time_s in times.items():
            text, changed = re.subn(rf"(?m)^( *{name}) \d+s;", rf"\g<1> {time_s};", text)
            assert changed
        config = folder / "nginx.conf"
        config.write_text(text)
        command = [program, "-e", "stderr", "-p", str(folder), "-c", str(config)]
        if os.geteuid() == 0:  # it would become another user, who may not write here
            command += ["-g", "user root;"]
        self.start(command, folder / "nginx.log", {})
        until(self._listens, "nginx listens")

    def _listens(self) -> bool:
        assert self.process.poll() is None, self.log.read_text()
        with socket.socket() as connection:
            return connection.connect_ex(("127.0.0.1", self.port)) == 0

    def stop(self) -> int:
        return self.end(signal.SIGQUIT)


@contextmanager
def served(
    log: Path, application: str = "lastvolt_service.wsgi", **settings: str
) -> Iterator[Server]:
    server = Server(log, f"{application}:application", settings)
    try:
        yield server
    finally:
        server.end(signal.SIGQUIT)


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
        server.end(signal.SIGQUIT)  # at once


@pytest.fixture(scope="module")
def short_tempered(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One worker of four threads with short limits, and an operation that takes its time."""
    log = tmp_path_factory.mktemp("server") / "log"
    limits = {"DEADLINE_S": "1.5", "STALL_S": "1"}
    with served(log, "slow_app", WORKERS="1", **limits) as server:
        yield server


@pytest.fixture(scope="session")
def nginx(programs: Callable[..., tuple[str, ...]]) -> str:
    """Where nginx is."""
    return programs("nginx", packages="nginx-light")[0]


@pytest.fixture(scope="module")
def proxied(
    short_tempered: Server, nginx: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Proxy]:
    """The proxy, less patient, before a server of four threads."""
    times = dict.fromkeys(("client_header_timeout", "client_body_timeout"), "3s")
    proxy = Proxy(tmp_path_factory.mktemp("proxy"), short_tempered, nginx, **times)
    yield proxy
    proxy.stop()


@pytest.fixture
def front(nginx: str, tmp_path: Path) -> Iterator[Callable[..., Proxy]]:
    """Put proxies before servers; they end with the test, before the servers do."""
    running: list[Proxy] = []

    def start(server: Server, **times: str) -> Proxy:
        folder = tmp_path / f"proxy-{len(running)}"
        folder.mkdir()
        running.append(Proxy(folder, server, nginx, **times))
        return running[-1]

    yield start
    for proxy in running:
        proxy.stop()


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
