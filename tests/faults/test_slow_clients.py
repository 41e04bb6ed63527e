"""Slow clients by the dozen before the proxy: figures of what the others notice, and none lost."""

import json
import socket
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import pytest

from lastvolt import Client

from ..service.conftest import BATCH, PATH, Proxy, Server, raw_request, served

pytestmark = pytest.mark.long

SIZE = "12 AWG"
ROWS = 65_536
CALLERS = 4
SECONDS = 8
PROCESSES = 2 + 2  # workers of the service and of the proxy
MEMORY_MIB = 1536  # of all of them together
# The whole answer has some megabytes, more than any buffer of a socket.
COLUMNS = json.dumps({"columns": {"size": [SIZE] * ROWS, "length_m": [3.2] * ROWS}}).encode()
HEAD = raw_request(PATH, b"")[:60]
BODY = raw_request(PATH, b" " * 262_144, "Content-Length: 600000")
BATCH_BODY = raw_request(BATCH, b" " * 262_144, "Content-Length: 6000000")


@pytest.fixture(scope="module")
def proxy(
    programs: Callable[..., tuple[str, ...]], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Server, Proxy]]:
    (nginx,) = programs("nginx", packages="nginx-light")
    folder = tmp_path_factory.mktemp("slow")
    with served(folder / "server.log", WORKERS="2", REQUEST_LOG="off") as server:
        front = Proxy(folder, server, nginx)
        yield server, front
        front.stop()


def stall(_connections: list[socket.socket], over: threading.Event) -> None:
    over.wait()


def drip(connections: list[socket.socket], over: threading.Event) -> None:
    """A byte now and then; those whom the proxy has closed are left alone."""
    while not over.wait(0.5):
        for connection in connections:
            try:
                connection.send(b" ")
            except OSError:
                continue


def sip(connections: list[socket.socket], over: threading.Event) -> None:
    """Half a kilobyte now and then."""
    while not over.wait(0.5):
        for connection in connections:
            connection.recv(512)


@pytest.mark.parametrize(
    ("count", "sent", "then"),
    [
        pytest.param(200, HEAD, stall, id="200 heads stop"),
        pytest.param(100, BODY, stall, id="100 bodies stop after 256 KiB"),
        pytest.param(14, BATCH_BODY, stall, id="14 batches stop after 256 KiB"),
        pytest.param(100, HEAD, drip, id="100 heads drip"),
        pytest.param(100, BODY, drip, id="100 bodies drip"),
        pytest.param(14, raw_request(BATCH, COLUMNS), stall, id="14 do not read a long answer"),
        pytest.param(14, raw_request(BATCH, COLUMNS), sip, id="14 read a long answer by drops"),
        pytest.param(50, b"NONSENSE\r\n\r\n", stall, id="50 do not go when told to"),
    ],
)
def test_others_notice_nothing(
    proxy: tuple[Server, Proxy],
    request: pytest.FixtureRequest,
    count: int,
    sent: bytes,
    then: Callable[[list[socket.socket], threading.Event], None],
) -> None:
    server, front = proxy
    over = threading.Event()
    with ExitStack() as stack, ThreadPoolExecutor(CALLERS + 1) as pool:
        slow = [stack.enter_context(front.connect()) for _ in range(count)]
        for connection in slow:
            connection.sendall(sent)
        slowly = pool.submit(then, slow, over)
        try:
            waits = [pool.submit(ask, front) for _ in range(CALLERS)]
            waits_s = sorted(wait for each in waits for wait in each.result())
        finally:
            over.set()
        slowly.result()
        processes = [*server.workers(), *front.children()]
        memory = sum(resident_mib(process) for process in processes)
    answered = len(waits_s)
    name = request.node.callspec.id
    sys.stdout.write(
        f"\n{name}: all {answered} calls of others answered, median"
        f" {1e3 * waits_s[answered // 2]:.1f} ms, worst {1e3 * waits_s[-1]:.0f} ms;"
        f" {len(processes)} processes, {memory:.0f} MiB\n"
    )
    assert len(processes) == PROCESSES
    assert memory < MEMORY_MIB


def ask(front: Proxy) -> list[float]:
    """Ask for a while, a new connection each; one call that fails or is wrong fails the test."""
    waits_s = []
    with Client(front.url, retries=0) as client:
        per_metre_ohm = client.wire_resistance(size=SIZE, length_m=1).resistance_ohm
    end = time.monotonic() + SECONDS
    while (began := time.monotonic()) < end:
        length_m = 1 + len(waits_s) % 999
        with Client(front.url, retries=0) as client:
            found = client.wire_resistance(size=SIZE, length_m=length_m).resistance_ohm
        waits_s.append(time.monotonic() - began)
        assert abs(found / (per_metre_ohm * length_m) - 1) < 1e-9
    return waits_s


def resident_mib(process: int) -> float:
    status = Path(f"/proc/{process}/status").read_text()
    return int(status.partition("VmRSS:")[2].split()[0]) / 1024
