"""The service behind its proxy: slow clients, hostile heads, workers and servers that end."""

import json
import os
import signal
import socket
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import pytest
import requests

from lastvolt import Client

from .conftest import BATCH, PATH, PATIENCE_S, WIRE, Proxy, Server, raw_request, read_answer, until

BODY = b'{"size": "12 AWG", "length_m": 3.2}'
WHOLE = raw_request(PATH, BODY)
ROWS = 65_536
# What a client may stall in: its head, a body in memory or on the disk, chunks, a batch.
STALLED = (
    b"",
    WHOLE[:60],
    WHOLE[:-10],
    raw_request(PATH, b" " * 300_000, "Content-Length: 600000"),
    raw_request(PATH, b"90000\r\n" + b" " * 300_000, "Transfer-Encoding: chunked"),
    raw_request(BATCH, b" " * 300_000, "Content-Length: 6000000"),
)


@pytest.fixture
def opened(proxied: Proxy) -> Iterator[Callable[[bytes], socket.socket]]:
    with ExitStack() as stack:

        def send(data: bytes) -> socket.socket:
            connection = stack.enter_context(proxied.connect())
            connection.sendall(data)
            return connection

        yield send


def ask(proxy: Proxy, calls: int) -> None:
    with Client(proxy.url, retries=0) as client:
        for _ in range(calls):
            assert client.wire_resistance(**WIRE).resistance_ohm > 0


def is_open(connection: socket.socket) -> bool:
    """Whether the other side has neither answered nor closed."""
    connection.setblocking(False)
    try:
        connection.recv(1)
    except BlockingIOError:
        return True
    except ConnectionError:
        pass
    return False


def test_clients_that_stall_hold_up_nobody(
    proxied: Proxy, opened: Callable[[bytes], socket.socket]
) -> None:
    """60 of them before four threads; they are closed in the end, which costs no thread either."""
    stalled = [opened(data) for data in STALLED for _ in range(10)]
    ask(proxied, 100)
    assert all(map(is_open, stalled))  # none was dismissed before: the calls went past them
    begun = [connection for connection in stalled[10:] if is_open(connection)]
    until(lambda: not any(map(is_open, begun)), "who stalls is closed")


def test_clients_that_drip_hold_up_nobody(
    proxied: Proxy, opened: Callable[[bytes], socket.socket]
) -> None:
    dripping = [opened(data) for data in STALLED[1:] for _ in range(2)]
    over = threading.Event()

    def drip() -> None:
        while not over.wait(0.2):
            for connection in dripping:
                connection.send(b" ")

    dripper = threading.Thread(target=drip)
    dripper.start()
    try:
        ask(proxied, 100)
    finally:
        over.set()
        dripper.join()
    assert all(map(is_open, dripping[2:]))


def test_clients_that_do_not_read_hold_up_nobody(
    proxied: Proxy, opened: Callable[[bytes], socket.socket]
) -> None:
    """More of them than threads, each with an answer larger than all buffers between."""
    body = json.dumps({"columns": {"size": ["12 AWG"] * ROWS, "length_m": [3.2] * ROWS}}).encode()
    readers = [opened(raw_request(BATCH, body)) for _ in range(6)]
    ask(proxied, 100)
    for connection in readers:
        status, answer = read_answer(connection)
        assert (status, json.loads(answer)["rows"]) == (200, ROWS)


def test_clients_that_will_not_go_hold_up_nobody(
    proxied: Proxy, opened: Callable[[bytes], socket.socket]
) -> None:
    told_to_go = [opened(b"NONSENSE\r\n\r\n") for _ in range(20)]
    for connection in told_to_go:
        assert read_answer(connection)[0] == 400
    ask(proxied, 100)


def test_pieces_of_any_size_are_put_together(opened: Callable[[bytes], socket.socket]) -> None:
    """Two requests on one connection, byte by byte, then several at once; chunks and a trailer."""
    connection = opened(b"")
    for byte in WHOLE * 2:
        connection.sendall(bytes([byte]))
    assert [read_one(connection), read_one(connection)] == [200, 200]
    connection.sendall(WHOLE * 3)
    assert [read_one(connection) for _ in range(3)] == [200, 200, 200]
    chunks = b"a\r\n%b\r\n19\r\n%b\r\n0\r\nX-Trailer: 1\r\n\r\n" % (BODY[:10], BODY[10:])
    connection.sendall(raw_request(PATH, chunks, "Transfer-Encoding: chunked"))
    assert read_one(connection) == 200


def read_one(connection: socket.socket) -> int:
    """Read exactly one answer, and no byte of the next."""
    head = b""
    while not head.endswith(b"\r\n\r\n"):
        head += connection.recv(1)
    length = int(head.lower().split(b"content-length: ")[1].split(b"\r\n")[0])
    while length:
        length -= len(connection.recv(length))
    return int(head.split()[1])


CHUNKED = "Transfer-Encoding: chunked"
EXPECT = "Expect: 100-continue"


@pytest.mark.parametrize(
    ("request_", "status"),
    [
        (b"GET /" + b"x" * 5000 + b" HTTP/1.1\r\nHost: x\r\n\r\n", 414),
        (b"GET / HTTP/1.1\r\nHost: x\r\nX: " + b"x" * 5000 + b"\r\n\r\n", 431),
        (b"GET / HTTP/1.1\r\nX: " + b"x" * 70_000, 431),
        (raw_request(PATH, BODY, CHUNKED, "Content-Length: 35"), 400),
        (raw_request(PATH, BODY, "Content-Length: 35", "Content-Length: 34"), 400),
        (raw_request(PATH, BODY, "Content-Length: +35"), 400),
        (raw_request(PATH, BODY, "Content-Length: 35", " : 1"), 400),
        (raw_request(PATH, BODY, "Transfer-Encoding: gzip"), 501),
        (raw_request(PATH, b"zz\r\n{}\r\n0\r\n\r\n", CHUNKED), 400),
        (raw_request(PATH, b"2\r\n{}zz\r\n\r\n", CHUNKED), 400),
        (raw_request(PATH, b"-1\r\n\r\n", CHUNKED), 400),
        (b"TRACE / HTTP/1.1\r\nHost: x\r\n\r\n", 405),
        (b"GET /proxy-problem HTTP/1.1\r\nHost: x\r\n\r\n", 404),
        # Before any of the body is asked for.
        (raw_request(PATH, b"", "Content-Length: 1048577"), 413),
        (raw_request(PATH, b"", "Content-Length: 1048577", EXPECT), 413),
        (raw_request(BATCH, b"", "Content-Length: 67108865", EXPECT), 413),
        (raw_request(PATH, b"110000\r\n" + b" " * 0x110000, CHUNKED), 413),
    ],
)
def test_the_proxy_refuses_as_the_service_does(
    proxied: Proxy, opened: Callable[[bytes], socket.socket], request_: bytes, status: int
) -> None:
    found, body = read_answer(opened(request_))
    problem = json.loads(body)
    assert (found, problem["status"], problem["retryable"]) == (status, status, False)
    assert problem.keys() == {"type", "title", "detail", "status", "instance", "retryable"}
    ask(proxied, 1)


@pytest.mark.parametrize(("path", "size"), [(PATH, 1024**2), (BATCH, 64 * 1024**2)])
def test_a_body_at_the_limit_is_asked_for(
    opened: Callable[[bytes], socket.socket], path: str, size: int
) -> None:
    connection = opened(raw_request(path, b"", f"Content-Length: {size}", EXPECT))
    assert connection.recv(1000) == b"HTTP/1.1 100 Continue\r\n\r\n"


def test_answers_of_the_service_pass_as_they_are(proxied: Proxy) -> None:
    told = {"X-Request-ID": "mine"}
    wrong = proxied.post(PATH, {"size": "12 AWG"}, headers=told)
    assert (wrong.status_code, wrong.headers["X-Request-ID"]) == (422, "mine")
    assert wrong.json()["errors"][0]["pointer"] == "#/length_m"


def test_a_service_that_is_gone_gets_502_that_may_be_repeated(
    serve: Callable[..., Server], front: Callable[..., Proxy]
) -> None:
    server = serve(WORKERS="1")
    proxy = front(server)
    ask(proxy, 1)
    assert server.stop() == 0
    gone = proxy.post(PATH, WIRE, headers={"X-Request-ID": "mine"})
    assert gone.status_code == 502
    assert gone.headers["Content-Type"] == "application/problem+json"
    assert (gone.headers["Lastvolt-Retry"], gone.headers["X-Request-ID"]) == ("yes", "mine")
    assert gone.json()["retryable"] is True
    large = proxy.post(BATCH, {"columns": {"size": ["12 AWG"] * 200_000}})
    assert (large.status_code, large.json()["status"]) == (502, 502)


def test_more_batches_than_there_is_room_for_get_503(
    short_tempered: Server, front: Callable[..., Proxy]
) -> None:
    proxy = front(short_tempered)
    half = raw_request(BATCH, b"{", "Content-Length: 100")
    with ExitStack() as stack:
        batches = [stack.enter_context(proxy.connect()) for _ in range(17)]
        for connection in batches:
            connection.sendall(half)
        until(lambda: not all(map(is_open, batches)), "one is refused")
        assert sum(map(is_open, batches)) == 16
        more = proxy.post(BATCH, {})
        assert (more.status_code, more.headers["Lastvolt-Retry"]) == (503, "yes")
        ask(proxy, 1)


def test_a_proxy_without_room_says_so(
    short_tempered: Server, front: Callable[..., Proxy], tmp_path: Path
) -> None:
    proxy = front(short_tempered)
    (bodies,) = tmp_path.glob("proxy-*/bodies")
    bodies.rmdir()
    full = proxy.post(BATCH, {"columns": {"size": ["12 AWG"] * 10_000}})
    assert (full.status_code, full.headers["Lastvolt-Retry"]) == (500, "yes")
    ask(proxy, 1)


def test_a_worker_that_dies_costs_nobody_an_answer(
    serve: Callable[..., Server], front: Callable[..., Proxy]
) -> None:
    """The proxy asks another worker; of four requests that run in the one that is killed."""
    server = serve("slow_app", WORKERS="2")
    proxy = front(server)

    def began() -> list[int]:
        return [line["process"] for line in server.lines() if line["message"] == "slow begins"]

    with ThreadPoolExecutor(4) as pool:
        slow = [pool.submit(proxy.post, "/v1/slow", {"time_s": 2}) for _ in range(4)]
        victims = until(lambda: len(began()) == 4 and began(), "the slow requests run")
        os.kill(victims[0], signal.SIGKILL)
        assert [each.result().status_code for each in slow] == [200] * 4
    assert len(began()) == 4 + victims.count(victims[0])


def test_ending_loses_no_accepted_request(
    serve: Callable[..., Server], front: Callable[..., Proxy]
) -> None:
    """64 requests on eight threads, the proxy told to end, then the service: as the pod does."""
    server = serve("slow_app", WORKERS="2")
    proxy = front(server)
    with ExitStack() as stack:
        sent = [stack.enter_context(proxy.connect()) for _ in range(64)]
        for connection in sent:
            connection.sendall(raw_request("/v1/slow", b'{"time_s": 0.1}'))
        # The kernel's queue is not the proxy's yet; the pod waits five seconds for that.
        until(lambda: proxy.accepted() == 64, "all are accepted")
        proxy.process.send_signal(signal.SIGQUIT)
        assert [read_answer(connection)[0] for connection in sent] == [200] * 64
    assert proxy.process.wait(PATIENCE_S) == 0
    assert server.stop() == 0
    with pytest.raises(ConnectionRefusedError):
        proxy.connect()


def test_probes_are_answered_while_all_threads_are_busy(
    serve: Callable[..., Server], front: Callable[..., Proxy]
) -> None:
    threads = 4
    server = serve("slow_app", WORKERS="1", THREADS=str(threads), DEADLINE_S="60")
    proxy = front(server)

    def lose() -> None:
        with pytest.raises(requests.ConnectionError):
            server.post("/v1/busy", {"time_s": 60})

    with ThreadPoolExecutor(threads) as pool:
        busy = [pool.submit(lose) for _ in range(threads)]
        try:
            until(lambda: server.log.read_text().count("busy begins") == threads, "all compute")
            for _ in range(5):
                assert server.probe("/livez").json() == {"alive": True}
                assert requests.get(f"{proxy.url}/readyz", timeout=3).json()["ready"] is True
            assert not any(each.done() for each in busy)
        finally:
            for worker in server.workers():
                os.kill(worker, signal.SIGKILL)
        for each in busy:
            each.result()
