"""Processes that die or hang under load: nothing lost through the proxy, nothing wrong answered."""

import os
import random
import signal
import socket
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import requests

from lastvolt import Client, LastvoltError

from ..service.conftest import PATH, Door, Proxy, Server, served, until

pytestmark = pytest.mark.long

# A wire of exactly 1 m tells the resistance per metre; resistance is that times the length, which
# is different in every call, so that an answer to another call's question cannot pass.
SIZE = "12 AWG"
CALLERS = 8


@pytest.fixture
def proxied(
    programs: Callable[..., tuple[str, ...]], tmp_path: Path
) -> Iterator[tuple[Server, Proxy]]:
    (nginx,) = programs("nginx", packages="nginx-light")
    with served(tmp_path / "log", "slow_app", WORKERS="2", DEADLINE_S="2") as server:
        front = Proxy(tmp_path, server, nginx)
        yield server, front
        front.stop()


def say(line: str) -> None:
    sys.stdout.write(f"\n{line}\n")


def ask(door: Door, calls: range | None, over: threading.Event, retries: int = 6) -> Counter[str]:
    """Ask for one length after the other, until all are asked or it is over; count what comes."""
    found: Counter[str] = Counter()
    with Client(door.url, retries=0) as client:
        per_metre_ohm = client.wire_resistance(size=SIZE, length_m=1).resistance_ohm
    with Client(door.url, retries=retries) as client:
        for length_m in calls or (1 + n % 999 for n in range(10**6)):
            if over.is_set():
                break
            try:
                answer = client.wire_resistance(size=SIZE, length_m=length_m)
            except LastvoltError:
                found["lost"] += 1
                continue
            right = abs(answer.resistance_ohm / (per_metre_ohm * length_m) - 1) < 1e-9
            found["right" if right else "wrong"] += 1
    return found


def test_soak_with_workers_that_are_killed(proxied: tuple[Server, Proxy]) -> None:
    """5,000 calls by eight callers while a worker dies about three times a second; then bare."""
    for door in reversed(proxied):
        killed, found = soak(proxied[0], door)
        say(f"{type(door).__name__}: {killed} workers killed, {dict(found)}")
        assert found == {"right": 5000}
        assert killed >= 5


def soak(server: Server, door: Door) -> tuple[int, Counter[str]]:
    finished, never = threading.Event(), threading.Event()
    chance = random.Random(20261125)
    killed = 0

    def kill() -> None:
        nonlocal killed
        while not finished.wait(chance.uniform(0.1, 0.5)):
            if workers := server.workers():
                os.kill(chance.choice(workers), signal.SIGKILL)
                killed += 1

    each = 5000 // CALLERS
    # 1000 m is the longest wire that the service takes.
    parts = [range(first, first + each) for first in range(1, 1 + CALLERS * 40, 40)]
    killer = threading.Thread(target=kill)
    with ThreadPoolExecutor(CALLERS) as pool:
        asked = [pool.submit(ask, door, part, never) for part in parts]
        killer.start()
        try:
            found = sum((each.result() for each in asked), Counter[str]())
        finally:
            finished.set()
            killer.join()
    until(lambda: len(server.workers()) == 2, "two workers again")
    return killed, found


def test_a_master_that_is_killed_leaves_nobody_behind(proxied: tuple[Server, Proxy]) -> None:
    """Its workers finish and go; until then they answer, and nothing that they say is wrong."""
    server, front = proxied
    workers = server.workers()
    over = threading.Event()
    with ThreadPoolExecutor(CALLERS) as pool:
        asked = [pool.submit(ask, front, None, over, 0) for _ in range(CALLERS)]
        time.sleep(1)
        assert not is_free(server.port)
        server.process.kill()
        began = time.monotonic()
        until(lambda: is_free(server.port), "the port is free")
        free_s = time.monotonic() - began
        until(lambda: not any(Path(f"/proc/{worker}").exists() for worker in workers), "all gone")
        gone_s = time.monotonic() - began
        refused = front.post(PATH, {"size": SIZE, "length_m": 1})
        over.set()
        found = sum((each.result() for each in asked), Counter[str]())
    say(f"master killed: port free after {free_s:.1f} s, gone after {gone_s:.1f} s, {dict(found)}")
    assert (refused.status_code, refused.headers["Lastvolt-Retry"]) == (502, "yes")
    assert found["wrong"] == 0
    assert found["right"] > 0


def is_free(port: int) -> bool:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
        return True


@pytest.mark.parametrize(
    ("kind", "time_s", "told"),
    [
        ("beside the interpreter", 0, "A thread cannot be ended"),
        ("holding the interpreter", 1, "WORKER TIMEOUT"),
    ],
)
def test_a_native_deadlock_is_seen(
    proxied: tuple[Server, Proxy], kind: str, time_s: int, told: str
) -> None:
    """The worker goes, a new one comes, and others are answered, if need be the second time."""
    server, _ = proxied
    before = set(server.workers())
    over = threading.Event()

    def lock() -> None:
        with pytest.raises(requests.RequestException):
            requests.post(f"{server.url}/v1/stuck", json={"time_s": time_s}, timeout=50)

    with ThreadPoolExecutor(3) as pool:
        locked = pool.submit(lock)
        began = time.monotonic()
        until(lambda: "stuck begins" in server.log.read_text(), "it is stuck")
        asked = [pool.submit(ask, proxied[1], None, over) for _ in range(2)]
        try:
            while time.monotonic() - began < 60 and not before - set(server.workers()):
                time.sleep(0.1)
            seen_s = time.monotonic() - began
            until(lambda: len(server.workers()) == 2, "two workers again")
        finally:
            over.set()
        found = sum((each.result() for each in asked), Counter[str]())
        locked.result()
    say(f"deadlock {kind}: worker replaced after {seen_s:.0f} s, {dict(found)}")
    assert len(before - set(server.workers())) == 1
    assert told in server.log.read_text()
    assert (found["wrong"], found["lost"]) == (0, 0)
