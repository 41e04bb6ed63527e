"""Long: where calls are counted is slow, hangs, is gone and comes back, under calls of eight."""

import signal
import statistics
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from socket import create_connection, create_server, socket

import pytest
import requests

from ..service.conftest import WIRE, Server, served
from ..service.test_rates import Redis

pytestmark = pytest.mark.long

CALLERS = 8
PHASE_S = 4
SLOW_S = 0.1
# Whether it is back is asked after 1, 2, 4, 8, 16 and 32 s, and so on from 1 s.
FOUND_AGAIN_S = 70
PATH = "/v1/wire-resistance"


@contextmanager
def slow_way(port: int) -> Iterator[int]:
    """Listen, and hand on what comes to a port and back, each piece a little later."""
    listener = create_server(("127.0.0.1", 0), backlog=64)
    open_now: list[socket] = [listener]

    def hand_on(source: socket, sink: socket) -> None:
        try:
            while piece := source.recv(65536):
                time.sleep(SLOW_S / 2)
                sink.sendall(piece)
        except OSError:
            pass
        finally:
            sink.close()

    def accept() -> None:
        while True:
            try:
                near, _ = listener.accept()
            except OSError:
                return
            far = create_connection(("127.0.0.1", port))
            open_now.extend((near, far))
            for pair in ((near, far), (far, near)):
                threading.Thread(target=hand_on, args=pair, daemon=True).start()

    threading.Thread(target=accept, daemon=True).start()
    try:
        yield listener.getsockname()[1]
    finally:
        for each in open_now:
            each.close()


def called(server: Server, seconds: float = PHASE_S) -> tuple[Counter[str], list[float]]:
    """What eight callers get, and how long each call takes."""
    end, outcomes, took = time.monotonic() + seconds, Counter[str](), list[float]()

    def call(_: int) -> None:
        with requests.Session() as session:
            while time.monotonic() < end:
                begun = time.monotonic()
                answer = session.post(f"{server.url}{PATH}", json=WIRE, timeout=20)
                took.append(time.monotonic() - begun)
                right = answer.status_code != 200 or answer.json()["resistance_ohm"] == RIGHT_OHM
                outcomes[str(answer.status_code) if right else "wrong"] += 1

    with ThreadPoolExecutor(CALLERS) as pool:
        list(pool.map(call, range(CALLERS)))
    return outcomes, took


def told(phase: str, found: tuple[Counter[str], list[float]]) -> Counter[str]:
    outcomes, took = found
    print(
        f"{phase}: {dict(outcomes)}, median {1e3 * statistics.median(took):.1f} ms, "
        f"longest {1e3 * max(took):.0f} ms"
    )
    return outcomes


@pytest.fixture
def redis(tmp_path: Path, programs: Callable[..., tuple[str, ...]]) -> Iterator[Redis]:
    server = Redis(*programs("redis-server", packages="redis-server"), tmp_path)
    yield server
    server.process.send_signal(signal.SIGCONT)
    server.stop()


RIGHT_OHM = 0.0


@pytest.fixture(autouse=True)
def right(run: Callable[..., object]) -> None:
    global RIGHT_OHM
    RIGHT_OHM = run("wire-resistance", **WIRE).resistance_ohm


def test_every_call_is_answered_whatever_the_storage_does(redis: Redis, tmp_path: Path) -> None:
    rate = {"RATE_LIMIT": "1000000/minute", "RATE_STORAGE": redis.url}
    with served(tmp_path / "log", WORKERS="2", **rate) as server:
        assert set(told("as it should be", called(server))) == {"200"}
        redis.process.send_signal(signal.SIGSTOP)
        assert set(told("hanging", called(server))) == {"200"}
        redis.process.send_signal(signal.SIGCONT)
        assert set(told("going on", called(server))) == {"200"}
        redis.stop()
        assert set(told("gone", called(server))) == {"200"}
        redis.start()
        assert set(told("back", called(server))) == {"200"}


def test_a_slow_storage_costs_its_own_time(redis: Redis, tmp_path: Path) -> None:
    with slow_way(redis.port) as port:
        rate = {"RATE_LIMIT": "1000000/minute", "RATE_STORAGE": f"redis://127.0.0.1:{port}/0"}
        with served(tmp_path / "log", WORKERS="2", **rate) as server:
            assert set(told("slow", called(server))) == {"200"}


def test_the_rate_holds_while_it_hangs_and_it_is_found_again(redis: Redis, tmp_path: Path) -> None:
    rate = {"RATE_LIMIT": "20/hour", "RATE_STORAGE": redis.url}
    with served(tmp_path / "log", WORKERS="2", **rate) as server:
        redis.process.send_signal(signal.SIGSTOP)
        # Each worker for itself: at least the rate, at most twice the rate, and what was asked in
        # the moment in which it was found to hang.
        hanging = told("hanging, at a rate", called(server, 2))
        assert set(hanging) == {"200", "429"}
        assert 20 <= hanging["200"] <= 40 + CALLERS
        redis.process.send_signal(signal.SIGCONT)
        end = time.monotonic() + FOUND_AGAIN_S
        while not redis.counted():
            assert time.monotonic() < end, "no worker asks the storage again"
            called(server, 0.1)
            time.sleep(0.4)
        assert set(told("back, at a rate", called(server, 1))) <= {"200", "429"}
