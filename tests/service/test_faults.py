"""Slow clients, stuck work, workers that end: what others notice of it."""

import signal
import socket
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack

import pytest

from lastvolt_service import gunicorn_conf
from lastvolt_service.config import Config

from .conftest import BATCH, PATH, PATIENCE_S, WIRE, Server, raw_request, read_answer, until

BODY = b'{"size": "12 AWG", "length_m": 3.2}'
WHOLE = raw_request(PATH, BODY)
HALF_HEAD = WHOLE[:60]
HALF_BODY = WHOLE[:-10]
CHUNKED = raw_request(PATH, b"8\r\n", "Transfer-Encoding: chunked") + BODY[:5]
LARGE = raw_request(PATH, b" " * 300_000, "Content-Length: 600000")


@pytest.fixture
def opened(short_tempered: Server) -> Iterator[Callable[[bytes], socket.socket]]:
    with ExitStack() as stack:

        def send(data: bytes) -> socket.socket:
            connection = stack.enter_context(short_tempered.connect())
            connection.sendall(data)
            return connection

        yield send


def test_heads_that_stall_hold_threads_for_a_while_only(
    short_tempered: Server, opened: Callable[[bytes], socket.socket]
) -> None:
    """Twice as many as there are threads, on new connections and on kept ones."""
    sent = [HALF_HEAD, WHOLE + HALF_HEAD] * 4
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(until_closed, map(opened, sent)))
    assert short_tempered.post(PATH, WIRE).status_code == 200


def until_closed(connection: socket.socket) -> None:
    while connection.recv(10_000):
        pass
    connection.close()  # else the server waits for that


def test_a_body_that_stalls_gets_408(opened: Callable[[bytes], socket.socket]) -> None:
    for connection in [opened(data) for data in (HALF_BODY, CHUNKED, LARGE)]:
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


@pytest.mark.parametrize(
    "chunks",
    [b"zz\r\n{}\r\n0\r\n\r\n", b"2\r\n{}zz\r\n\r\n", b"-1\r\n\r\n", b"2;\x00\r\n{}\r\n\r\n"],
)
def test_chunks_that_are_none_get_400(
    short_tempered: Server, opened: Callable[[bytes], socket.socket], chunks: bytes
) -> None:
    with opened(raw_request(PATH, chunks, "Transfer-Encoding: chunked")) as connection:
        assert read_answer(connection)[0] == 400
    assert short_tempered.post(PATH, WIRE).status_code == 200


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


@pytest.mark.parametrize(("path", "over"), [(PATH, 1048577), (BATCH, 67108865)])
def test_no_body_is_asked_for_beyond_the_limit(
    opened: Callable[[bytes], socket.socket], path: str, over: int
) -> None:
    lengths = (f"Content-Length: {over - 1}", f"Content-Length: {over}")
    within, beyond = (
        opened(raw_request(path, b"", length, "Expect: 100-continue")) for length in lengths
    )
    assert within.recv(1000) == b"HTTP/1.1 100 Continue\r\n\r\n"
    assert read_answer(beyond)[0] == 417


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
    """64 requests on eight threads, running and waiting."""
    server = serve("slow_app", WORKERS="2")

    def answer(connection: socket.socket) -> int:
        with connection:
            return read_answer(connection)[0]

    with ThreadPoolExecutor(64) as pool:
        sent = [server.connect() for _ in range(64)]
        for connection in sent:
            connection.sendall(raw_request("/v1/slow", b'{"time_s": 0.1}'))
        until(lambda: server.accepted() == 64, "all are accepted")
        server.process.send_signal(signal.SIGTERM)
        assert list(pool.map(answer, sent)) == [200] * 64
    assert server.process.wait(PATIENCE_S) == 0
    with pytest.raises(ConnectionRefusedError):
        server.connect()


def test_probes_say_whether_to_send_requests(serve: Callable[..., Server]) -> None:
    server = serve("slow_app", WORKERS="1")
    assert server.probe("/livez").json() == {"alive": True}
    assert server.probe("/readyz").json()["ready"] is True
    assert server.probe("/v1/conductors").status_code == 404
    with ThreadPoolExecutor(1) as pool:
        slow = pool.submit(server.post, "/v1/slow", {"time_s": 1})
        until(lambda: "slow begins" in server.log.read_text(), "the slow request runs")
        server.process.send_signal(signal.SIGTERM)
        until(lambda: server.probe("/readyz").status_code == 503, "it says that it ends")
        assert server.probe("/livez").status_code == 200
        assert slow.result().status_code == 200
    assert server.process.wait(PATIENCE_S) == 0


def test_probes_are_not_held_up_by_each_other(short_tempered: Server) -> None:
    host, _, port = short_tempered.probes.partition(":")
    with ExitStack() as stack:
        for sent in (b"", b"GET", b"\r\n\r\n", b"\xff" * 5000) * 5:
            connection = stack.enter_context(socket.create_connection((host, int(port))))
            connection.sendall(sent)
        assert short_tempered.probe("/livez").status_code == 200
    assert "A probe failed" not in short_tempered.log.read_text()


@pytest.mark.parametrize(("bind", "told"), [("127.0.0.1:1", 0), ("0.0.0.0:1", 2)])
def test_an_open_address_is_warned_of(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture, bind: str, told: int
) -> None:
    monkeypatch.setattr(gunicorn_conf, "_settings", Config(bind=bind))
    gunicorn_conf.on_starting(None)
    assert len(caplog.records) == told
    assert all(bind in record.getMessage() for record in caplog.records)
