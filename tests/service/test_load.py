"""Many calls at once, and workers that die meanwhile: every call answered, every answer right."""

import os
import random
import signal
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from lastvolt import Client

from .conftest import Server

# A wire of exactly 1 m tells the resistance per metre; resistance is that times the length, which
# is different in every call, so that an answer to another call's question cannot pass.
SIZE = "12 AWG"


def ask(client: Client, per_metre_ohm: float, lengths: range) -> int:
    """Ask for one length after the other, and count right answers."""
    right = 0
    for length_m in lengths:
        found = client.wire_resistance(size=SIZE, length_m=length_m)
        right += abs(found.resistance_ohm / (per_metre_ohm * length_m) - 1) < 1e-9
    return right


def parts(calls: int, callers: int) -> list[range]:
    each = calls // callers
    # 1000 m is the longest wire that the service takes.
    firsts = [1 + each * n % (1000 - each) for n in range(callers)]
    return [range(first, first + each) for first in firsts]


def test_64_connections_are_held(serve: Callable[..., Server]) -> None:
    server = serve(WORKERS="2")
    all_open = threading.Barrier(64)
    with Client(server.url) as client:
        per_metre_ohm = client.wire_resistance(size=SIZE, length_m=1).resistance_ohm

    def call(lengths: range) -> int:
        with Client(server.url, retries=0) as client:
            client.wire_resistance(size=SIZE, length_m=1)  # opens the connection
            all_open.wait()
            return ask(client, per_metre_ohm, lengths)

    with ThreadPoolExecutor(64) as pool:
        assert sum(pool.map(call, parts(1280, 64))) == 1280
    assert not [line for line in server.lines() if line["level"] in {"error", "critical"}]


def test_soak_with_workers_that_are_killed(serve: Callable[..., Server]) -> None:
    """5,000 calls by eight callers, while a worker is killed about three times a second."""
    server = serve(WORKERS="2")
    with Client(server.url) as client:
        per_metre_ohm = client.wire_resistance(size=SIZE, length_m=1).resistance_ohm
    finished = threading.Event()
    chance = random.Random(20261125)
    killed = 0

    def kill() -> None:
        nonlocal killed
        while not finished.wait(chance.uniform(0.1, 0.5)):
            if workers := server.workers():
                os.kill(chance.choice(workers), signal.SIGKILL)
                killed += 1

    def call(lengths: range) -> int:
        with Client(server.url, retries=6) as client:
            return ask(client, per_metre_ohm, lengths)

    killer = threading.Thread(target=kill)
    killer.start()
    try:
        with ThreadPoolExecutor(8) as pool:
            right = sum(pool.map(call, parts(5000, 8)))
    finally:
        finished.set()
        killer.join()
    assert right == 5000
    assert killed >= 5
