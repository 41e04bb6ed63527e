"""Many calls at once: every call answered, every answer right."""

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
