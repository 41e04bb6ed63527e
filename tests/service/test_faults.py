"""Slow clients, stuck work, workers that end: what others notice of it."""

import os
import signal
import socket
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack

import pytest
import requests

from lastvolt import Client

from .conftest import PATIENCE_S, WIRE, Server, raw_request, read_answer, until

PATH = "/v1/wire-resistance"
BODY = b'{"size": "12 AWG", "length_m": 3.2}'
WHOLE = raw_request(PATH, BODY)
HALF_HEAD = WHOLE[:60]
HALF_BODY = WHOLE[:-10]
CHUNKED = raw_request(PATH, b"8\r\n", "Transfer-Encoding: chunked") + BODY[:5]
EXPECTING = raw_request(PATH, b"", f"Content-Length: {len(BODY)}", "Expect: 100-continue")
# More than the event loop waits for: the rest of this body is a thread's.
LARGE = raw_request(PATH, b" " * 300_000, "Content-Length: 600000")

LARGE_CHUNKED = raw_request(PATH, b"90000\r\n" + b" " * 300_000, "Transfer-Encoding: chunked")


@pytest.fixture
def opened(short_tempered: Server) -> Iterator[Callable[[bytes], socket.socket]]:
    with ExitStack() as stack:

        def send(data: bytes) -> socket.socket:
            connection = stack.enter_context(short_tempered.connect())
            connection.sendall(data)
            return connection

        yield send


def test_stalled_clients_hold_up_nobody(
    short_tempered: Server, opened: Callable[[bytes], socket.socket]
) -> None:
    """100 connections that stall, on four threads; all others are answered while they do."""
    kinds = {b"": 0, HALF_HEAD: 408, HALF_BODY: 408, CHUNKED: 408, EXPECTING: 100}
    stalled = [(opened(data), status) for data, status in kinds.items() for _ in range(20)]
    with Client(short_tempered.url, retries=0) as client:
        for _ in range(300):
            assert client.wire_resistance(**WIRE).resistance_ohm > 0
    # None was dismissed before: the calls went past them.
    for connection, status in stalled:
        connection.setblocking(False)
        if status == 100:
            assert read_continue(connection)
        else:
            with pytest.raises(BlockingIOError):
                connection.recv(1)
    for connection, status in stalled:
        connection.settimeout(PATIENCE_S)
        assert read_answer(connection)[0] == (408 if status == 100 else status)


def read_continue(connection: socket.socket) -> bool:
    return connection.recv(25) == b"HTTP/1.1 100 Continue\r\n\r\n"


def test_stalled_second_request_holds_up_nobody(
    short_tempered: Server, opened: Callable[[bytes], socket.socket]
) -> None:
    stalled = [opened(WHOLE + HALF_HEAD) for _ in range(8)]
    for connection in stalled:
        assert read_answer(connection)[0] == 200
    for _ in range(20):
        assert short_tempered.post(PATH, WIRE).status_code == 200


def test_a_body_that_stalls_gets_408(opened: Callable[[bytes], socket.socket]) -> None:
    for connection in [opened(data) for data in (HALF_BODY, CHUNKED, LARGE, LARGE_CHUNKED)]:
        status, body = read_answer(connection)
        assert status == 408
        assert b"/problems/request-timeout" in body


def test_a_body_that_trickles_gets_408(opened: Callable[[bytes], socket.socket]) -> None:
    """Each byte comes in time, the whole does not."""
    connection = opened(LARGE)
    connection.settimeout(0.2)
    answer = b""
    for _ in range(100):
        try:
            connection.sendall(b" ")
            answer = connection.recv(1000)
        except TimeoutError:
            continue
        break
    assert answer.startswith(b"HTTP/1.1 408")


def test_a_client_that_will_not_go_holds_up_nobody(
    short_tempered: Server, opened: Callable[[bytes], socket.socket]
) -> None:
    told_to_go = [opened(b"NONSENSE\r\n\r\n") for _ in range(20)]
    for connection in told_to_go:
        assert read_answer(connection)[0] == 400
    with Client(short_tempered.url, retries=0) as client:
        for _ in range(100):
            assert client.wire_resistance(**WIRE).resistance_ohm > 0
    # The last of them were still waited for.
    told_to_go[-1].sendall(b"more")
    time.sleep(0.1)
    told_to_go[-1].sendall(b"and more")


@pytest.mark.parametrize(
    "chunks",
    [b"zz\r\n{}\r\n0\r\n\r\n", b"2\r\n{}zz\r\n\r\n", b"-1\r\n\r\n", b"2;\x00\r\n{}\r\n\r\n"],
)
def test_chunks_that_are_none_get_400(
    short_tempered: Server, opened: Callable[[bytes], socket.socket], chunks: bytes
) -> None:
    status, _ = read_answer(opened(raw_request(PATH, chunks, "Transfer-Encoding: chunked")))
    assert status == 400
    assert short_tempered.post(PATH, WIRE).status_code == 200


def test_chunks_are_read(opened: Callable[[bytes], socket.socket]) -> None:
    for trailer in (b"", b"X-Trailer: 1\r\n"):
        chunks = b"a\r\n%b\r\n19\r\n%b\r\n0\r\n%b\r\n" % (BODY[:10], BODY[10:], trailer)
        status, body = read_answer(opened(raw_request(PATH, chunks, "Transfer-Encoding: chunked")))
        assert (status, b"resistance_ohm" in body) == (200, True)


def test_pieces_of_any_size_are_put_together(opened: Callable[[bytes], socket.socket]) -> None:
    """Two requests on one connection, byte by byte, then both at once."""
    connection = opened(b"")
    for byte in WHOLE * 2:
        connection.sendall(bytes([byte]))
    assert [read_one(connection), read_one(connection)] == [200, 200]
    connection.sendall(WHOLE * 3)
    assert [read_one(connection) for _ in range(3)] == [200, 200, 200]


def read_one(connection: socket.socket) -> int:
    """Read exactly one answer, and no byte of the next."""
    head = b""
    while not head.endswith(b"\r\n\r\n"):
        head += connection.recv(1)
    length = int(head.lower().split(b"content-length: ")[1].split(b"\r\n")[0])
    while length:
        length -= len(connection.recv(length))
    return int(head.split()[1])


def test_a_head_without_end_gets_431(opened: Callable[[bytes], socket.socket]) -> None:
    assert read_answer(opened(b"GET / HTTP/1.1\r\nX: " + b"x" * 70_000))[0] == 431


@pytest.mark.parametrize(
    ("head", "status"),
    [
        (b"GET /" + b"x" * 5000 + b" HTTP/1.1\r\n\r\n", 414),
        (b"GET / HTTP/1.1\r\nX: " + b"x" * 5000 + b"\r\n\r\n", 431),
        (b"GET / HTTP/1.1\r\n" + b"X: x\r\n" * 60 + b"\r\n", 431),
        (
            WHOLE.replace(b"Content-Length: ", b"Transfer-Encoding: chunked\r\nContent-Length: "),
            400,
        ),
        (WHOLE.replace(b"Content-Length: 35", b"Content-Length: 35\r\nContent-Length: 34"), 400),
        (WHOLE.replace(b"Content-Length: 35", b"Content-Length: +35"), 400),
        (WHOLE.replace(b"Content-Length: 35", b"Content-Length: 35\r\n : 1"), 400),
    ],
)
def test_the_server_refuses_what_is_too_long_or_ambiguous(
    opened: Callable[[bytes], socket.socket], head: bytes, status: int
) -> None:
    assert read_answer(opened(head))[0] == status


def test_stuck_work_is_ended_and_its_thread_goes_on(short_tempered: Server) -> None:
    """More stuck requests than threads, one after the other four; then all threads are free."""
    with ThreadPoolExecutor(4) as pool:
        stuck = [pool.submit(short_tempered.post, "/v1/slow", {"time_s": 60}) for _ in range(4)]
        for each in stuck:
            response = each.result()
            assert response.status_code == 422
            assert response.headers["Lastvolt-Retry"] == "no"
            assert response.json()["type"] == "/problems/deadline-exceeded"
        free = [pool.submit(short_tempered.post, "/v1/slow", {"time_s": 0.2}) for _ in range(4)]
        assert {each.result().status_code for each in free} == {200}


def test_ending_loses_no_accepted_request(serve: Callable[..., Server]) -> None:
    """64 requests on eight threads: running, waiting, and not yet taken from the kernel."""
    server = serve("slow_app", WORKERS="2")
    body = b'{"time_s": 0.1}'
    with ExitStack() as stack:
        sent = [stack.enter_context(server.connect()) for _ in range(64)]
        for connection in sent:
            connection.sendall(raw_request("/v1/slow", body))
        server.process.send_signal(signal.SIGTERM)
        assert [read_answer(connection)[0] for connection in sent] == [200] * 64
    assert server.process.wait(PATIENCE_S) == 0
    with pytest.raises(ConnectionRefusedError):
        server.connect()


def test_readyz_fails_while_draining(serve: Callable[..., Server]) -> None:
    server = serve("slow_app", WORKERS="2", DRAIN_S="2")
    with requests.Session() as kept:
        assert kept.get(f"{server.url}/readyz", timeout=5).status_code == 200
        server.process.send_signal(signal.SIGTERM)
        until(
            lambda: requests.get(f"{server.url}/readyz", timeout=5).status_code == 503, "draining"
        )
        # It still accepts, on old connections and on new ones.
        assert kept.get(f"{server.url}/readyz", timeout=5).json()["ready"] is False
        assert requests.get(f"{server.url}/livez", timeout=5).status_code == 200
        assert server.post(PATH, WIRE).status_code == 200
    assert server.process.wait(PATIENCE_S) == 0


def test_a_killed_worker_costs_its_own_requests_only(serve: Callable[..., Server]) -> None:
    server = serve("slow_app", WORKERS="2")
    lost: list[Exception] = []

    def lose() -> None:
        try:
            server.post("/v1/slow", {"time_s": 8})
        except requests.ConnectionError as error:
            lost.append(error)

    slow = threading.Thread(target=lose)
    slow.start()
    (its,) = until(
        lambda: [line["process"] for line in server.lines() if line["message"] == "slow begins"],
        "the slow request runs",
    )
    (other,) = set(server.workers()) - {its}
    with ThreadPoolExecutor(4) as pool:
        answers = [pool.submit(ask, server) for _ in range(4)]
        time.sleep(0.2)
        os.kill(its, signal.SIGKILL)
        assert all(answer.result() for answer in answers)
    slow.join()
    assert len(lost) == 1
    until(lambda: len(server.workers()) == 2, "a new worker")
    assert other in server.workers()


def ask(server: Server) -> bool:
    """Ask through the SDK, which hides what a dying worker leaves behind."""
    with Client(server.url) as client:
        found = [client.call("slow", {"time_s": 0.05}) for _ in range(20)]
    return all(answer["rounds"] > 0 for answer in found)
