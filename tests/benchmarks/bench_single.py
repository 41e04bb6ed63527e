"""What a single call costs beside an empty view of the framework, side by side in one run.

Run it by hand; it prints rates and ratios of one run, and judges nothing. Both applications run
under the same gunicorn with the same settings, one worker each, the log of requests off, and are
asked in turn, round after round, over connections that stay open. Throughput on a machine with
other work to do scatters; the processor time of the worker for each request does so less.
"""

import argparse
import json
import os
import re
import selectors
import signal
import socket
import statistics
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from flask import Flask

SIX_PARTS = {
    "supply_v": 12.6,
    "load_current_a": 8.0,
    "segments": [
        {"name": "feed", "kind": "wire", "size": "12 AWG", "length_m": 5.0, "temperature_c": 60},
        {"name": "fuse", "kind": "contact", "part": "fuse", "resistance_ohm": 0.003},
        {"name": "middle", "kind": "wire", "size": "2.5 mm2", "length_m": 3, "temperature_c": 50},
        {"name": "switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.004},
        {"name": "return", "kind": "wire", "size": "10 AWG", "length_m": 2, "temperature_c": 60},
        {"name": "ground", "kind": "contact", "part": "ground", "resistance_ohm": 0.001},
    ],
}
IMPORT_REPEATS = 7


def empty_view() -> Flask:
    """Make the application to compare with: one view that says nothing."""
    app = Flask(__name__)
    app.add_url_rule("/", view_func=lambda: "{}", methods=["GET"])
    return app


@dataclass
class Target:
    """One thing that is asked, and what was measured of it."""

    name: str
    port: int
    worker: int
    request: bytes
    rates: list[float] = field(default_factory=list)
    cpu_us: list[float] = field(default_factory=list)
    waits_s: list[float] = field(default_factory=list)


def say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def request_bytes(path: str, body: dict[str, Any] | None = None) -> bytes:
    data = b"" if body is None else json.dumps(body).encode()
    method = "GET" if body is None else "POST"
    head = f"{method} {path} HTTP/1.1\r\nHost: localhost\r\n"
    if body is not None:
        head += f"Content-Type: application/json\r\nContent-Length: {len(data)}\r\n"
    return head.encode() + b"\r\n" + data


@contextmanager
def serving(*application: str) -> Iterator[tuple[int, int]]:
    """Serve on loopback with one worker; give the port and the id of the worker."""
    environment = {
        **os.environ,
        "LASTVOLT_WORKERS": "1",
        "LASTVOLT_BIND": "127.0.0.1:0",
        "LASTVOLT_REQUEST_LOG": "off",
        "PYTHONPATH": str(Path(__file__).parent),
    }
    settings = ["--config", "python:lastvolt_service.gunicorn_conf"]
    with subprocess.Popen(  # our own interpreter
        [sys.executable, "-m", "gunicorn", *settings, *application],
        env=environment,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            port = worker = 0
            stream: Any = process.stderr
            while not (port and worker):
                line = next(stream)
                if found := re.search(r"http://127\.0\.0\.1:(\d+)", line):
                    port = int(found[1])
                if found := re.search(r"Booting worker with pid: (\d+)", line):
                    worker = int(found[1])
            # What it logs further on must go somewhere.
            threading.Thread(target=lambda: [None for _ in stream], daemon=True).start()
            yield port, worker
        finally:
            process.send_signal(signal.SIGTERM)
            process.wait()


def one_answer(connection: socket.socket) -> bytes:
    """Read an answer whose length its head announces."""
    got = b""
    while b"\r\n\r\n" not in got:
        got += connection.recv(65536)
    head, _, rest = got.partition(b"\r\n\r\n")
    length = re.search(rb"content-length: (\d+)", head, re.IGNORECASE)
    if not head.startswith(b"HTTP/1.1 200") or length is None:
        raise SystemExit(got.decode())
    while len(rest) < int(length[1]):
        rest += connection.recv(65536)
    return head + b"\r\n\r\n" + rest


def cpu_s(process: int) -> float:
    """Processor time that a process has used."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def load(target: Target, connections: int, seconds: float) -> None:
    """Ask over some connections at once for a while, each asking again when it has its answer."""
    with ExitStack() as stack:
        poller = stack.enter_context(selectors.DefaultSelector())
        for _ in range(connections):
            connection = socket.create_connection(("127.0.0.1", target.port))
            stack.enter_context(connection)
            connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            connection.sendall(target.request)
            # All answers have one length: head and body are the same but for an id and the time.
            length = len(one_answer(connection))
            poller.register(connection, selectors.EVENT_READ, [0, 0.0])
        began_cpu, began = cpu_s(target.worker), time.perf_counter()
        answers, open_questions = 0, connections
        for key in poller.get_map().values():
            key.data[1] = time.perf_counter()
            key.fileobj.sendall(target.request)
        while open_questions:
            for key, _ in poller.select():
                state, sock = key.data, key.fileobj
                state[0] += len(sock.recv(65536))
                if state[0] < length:
                    continue
                now = time.perf_counter()
                answers += 1
                target.waits_s.append(now - state[1])
                state[0], state[1] = 0, now
                if now - began < seconds:
                    sock.sendall(target.request)
                else:
                    open_questions -= 1
        took = time.perf_counter() - began
        target.rates.append(answers / took)
        target.cpu_us.append((cpu_s(target.worker) - began_cpu) / answers * 1e6)


def measure(connections: int, rounds: int, seconds: float) -> None:
    """Ask everything in turn, and print."""
    from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest

    with serving("bench_single:empty_view()") as bare, serving() as full:
        targets = [
            Target("empty view", *bare, request_bytes("/")),
            Target("voltage-drop, six parts", *full, request_bytes("/v1/voltage-drop", SIX_PARTS)),
            Target(
                "relay-retrofit",
                *full,
                request_bytes("/v1/relay-retrofit", RelayRetrofitRequest.example),
            ),
        ]
        for _ in range(rounds):
            for target in targets:
                load(target, connections, seconds)
    first = targets[0]
    titles = ("req/s", "of empty", "cpu us", "of empty", "p50 ms", "p99 ms")
    say(f"{'':24}" + "".join(f" {title:>8}" for title in titles))
    for target in targets:
        # Within a round both meet the same neighbours.
        share = statistics.median(a / b for a, b in zip(target.rates, first.rates, strict=True))
        cpu = statistics.median(b / a for a, b in zip(target.cpu_us, first.cpu_us, strict=True))
        waits = sorted(target.waits_s)
        say(
            f"{target.name:24} {statistics.median(target.rates):8.0f} {share:8.3f}"
            f" {statistics.median(target.cpu_us):8.0f} {cpu:8.3f}"
            f" {1e3 * waits[len(waits) // 2]:8.2f} {1e3 * waits[len(waits) * 99 // 100]:8.2f}"
        )


def imports() -> None:
    """Print what a fresh interpreter takes to import the SDK, beside requests alone."""
    found: dict[str, list[float]] = {"pass": [], "import requests": [], "import lastvolt": []}
    for _ in range(IMPORT_REPEATS):
        for code, times in found.items():
            began = time.perf_counter()
            subprocess.run([sys.executable, "-c", code], check=True)
            times.append(time.perf_counter() - began)
    bare, alone, sdk = (min(times) for times in found.values())
    say(
        f"cold import: requests {1e3 * (alone - bare):.0f} ms, SDK {1e3 * (sdk - bare):.0f} ms,"
        f" ratio {(sdk - bare) / (alone - bare):.2f}"
    )


def main() -> None:
    """Measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--connections", type=int, default=8)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--seconds", type=float, default=2.0, help="for each target, each round")
    given = parser.parse_args()
    measure(given.connections, given.rounds, given.seconds)
    imports()


if __name__ == "__main__":
    main()
