"""Servers that answer too much, too slowly, or with what is meant for a terminal."""

import json
import socketserver
import subprocess
import sys
import threading
import time
import zlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

import pytest
import requests

import lastvolt
from lastvolt import Client

MIB = 1024 * 1024
HANG_S = 30  # no call of these tests may take so long
Said = Callable[[], Iterable[bytes]]


@contextmanager
def server(said: Said) -> Iterator[str]:
    """Say the same to whatever is asked, for as long as somebody listens."""
    over = threading.Event()

    class Handler(socketserver.StreamRequestHandler):
        def handle(self) -> None:
            length = 0
            while (line := self.rfile.readline()) not in {b"\r\n", b""}:
                name, _, value = line.partition(b":")
                length = int(value) if name.lower() == b"content-length" else length
            self.rfile.read(length)
            try:
                for piece in said():
                    self.wfile.write(piece)
                    if over.is_set():
                        return
            except OSError:  # nobody listens any more, as it should be
                pass

    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), Handler) as there:
        there.daemon_threads = True
        threading.Thread(target=there.serve_forever, args=(0.01,), daemon=True).start()
        try:
            yield f"http://127.0.0.1:{there.server_address[1]}"
        finally:
            over.set()
            there.shutdown()


@cache
def bomb(size: int) -> bytes:
    """Blanks, packed by gzip to a thousandth."""
    packer = zlib.compressobj(1, zlib.DEFLATED, 16 + zlib.MAX_WBITS)
    return b"".join([*(packer.compress(b" " * MIB) for _ in range(size // MIB)), packer.flush()])


def say(figures: str) -> None:
    sys.stdout.write(f"\n{figures}\n")


def head(status: str, *headers: str) -> bytes:
    return "\r\n".join([f"HTTP/1.1 {status}", *headers, "", ""]).encode()


# Asks under a ceiling of memory, tells what came of it and what it cost.
IN_LITTLE_MEMORY = """
import json, resource, sys
import lastvolt
url, room, options = sys.argv[1], int(sys.argv[2]), json.loads(sys.argv[3])
client = lastvolt.Client(url, retries=0, **options)

def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024

def ask(call):
    try:
        call()
    except lastvolt.LastvoltError as error:
        return type(error).__name__
    except MemoryError:
        return "MemoryError"

warm = lastvolt.Client("http://127.0.0.1:1", retries=0)
ask(lambda: warm.call("x", {}))
before = peak()
with open("/proc/self/statm") as file:
    now = int(file.read().split()[0]) * resource.getpagesize()
resource.setrlimit(resource.RLIMIT_AS, (now + room, now + room))
found = [ask(call) for call in (
    lambda: client.call("x", {}),
    lambda: client.report("x", {}, "svg"),
    lambda: [*client.batch("x", {"length_m": [1]}, connections=1)],
)]
print(json.dumps({"found": found, "cost": peak() - before}))
"""


def in_little_memory(url: str, room: int, **options: Any) -> dict[str, Any]:
    done = subprocess.run(
        [sys.executable, "-c", IN_LITTLE_MEMORY, url, str(room), json.dumps(options)],
        capture_output=True, text=True, check=True, timeout=4 * HANG_S,
    )  # fmt: skip
    told: dict[str, Any] = json.loads(done.stdout)
    return told


@pytest.mark.parametrize("status", ["200 OK", "302 Found"])
def test_a_bomb_is_unpacked_no_further_than_the_limit(status: str) -> None:
    packed = bomb(64 * MIB)
    headers = ["Content-Encoding: gzip", f"Content-Length: {len(packed)}", "Location: /elsewhere"]
    with server(lambda: [head(status, *headers), packed]) as url:
        # A batch starts a thread, whose stack counts as well.
        told = in_little_memory(url, 80 * MIB, max_answer_bytes=MIB)
    assert told["found"] == ["UnreadableAnswer"] * 3
    assert told["cost"] < 40 * MIB


@pytest.mark.parametrize("chunked", [False, True])
def test_an_answer_without_end_costs_no_more(chunked: bool) -> None:
    def endless() -> Iterator[bytes]:
        yield head("200 OK", *["Transfer-Encoding: chunked"] * chunked)
        while True:
            yield b"10000\r\n" + b" " * 0x10000 + b"\r\n" if chunked else b" " * 0x10000

    with server(endless) as url:
        told = in_little_memory(url, 80 * MIB, max_answer_bytes=MIB)
    assert told["found"] == ["UnreadableAnswer"] * 3
    assert told["cost"] < 40 * MIB


@pytest.mark.long
def test_a_bomb_of_400_mb_against_what_is_usual() -> None:
    packed = bomb(400 * MIB)
    with server(lambda: [head("200 OK", "Content-Encoding: gzip"), packed]) as url:
        single = in_little_memory(url, 256 * MIB, max_answer_bytes=64 * MIB)
    say(f"400 MiB in {len(packed):,} bytes: {single['found'][:2]}, "
          f"{single['cost'] / MIB:.0f} MiB at the peak of all")  # fmt: skip
    # A piece of a batch may have five times as much, which here is more than the memory there is.
    assert single["found"][:2] == ["UnreadableAnswer"] * 2


@pytest.mark.parametrize(
    "tail",
    [
        bomb(MIB)[:-9],  # its end is missing
        bomb(MIB) + b"more",
        bomb(MIB) + bomb(MIB),  # one answer, not two
        b"\x1f\x8b",
        b"plain",
    ],
    ids=["cut", "more", "twice", "head only", "plain"],
)
def test_what_is_packed_badly_is_cut_off(tail: bytes) -> None:
    with (
        server(lambda: [head("200 OK", "Content-Encoding: gzip"), tail]) as url,
        Client(url, retries=0) as client,
        pytest.raises(lastvolt.UnreadableAnswer, match="cut off"),
    ):
        client.call("x", {})


@pytest.mark.parametrize("coding", ["br", "deflate", "gzip, gzip", "\x1b[31m"])
def test_what_was_not_asked_for_is_not_unpacked(coding: str) -> None:
    with (
        server(lambda: [head("200 OK", f"Content-Encoding: {coding}"), b"{}"]) as url,
        Client(url, retries=0) as client,
        pytest.raises(lastvolt.UnreadableAnswer, match="not asked for") as caught,
    ):
        client.call("x", {})
    assert str(caught.value).isprintable()


def test_an_answer_that_is_packed_is_read() -> None:
    packer = zlib.compressobj(wbits=16 + zlib.MAX_WBITS)
    packed = packer.compress(b'{"a": 1}') + packer.flush()
    with server(lambda: [head("200 OK", "Content-Encoding: gzip"), packed]) as url:
        assert Client(url).call("x", {}) == {"a": 1}


def drip(before: bytes, drop: bytes, *, pause_s: float = 0.02) -> Said:
    def said() -> Iterator[bytes]:
        yield before
        while True:
            time.sleep(pause_s)
            yield drop

    return said


DRIPS = [
    pytest.param(head("200 OK", "Content-Length: 1000000"), b" ", id="body"),
    pytest.param(head("200 OK"), b" ", id="body without length"),
    pytest.param(head("200 OK", "Transfer-Encoding: chunked"), b"1\r\n \r\n", id="chunks"),
    pytest.param(head("200 OK", "Content-Encoding: gzip") + bomb(MIB)[:20], b"\0", id="gzip"),
    pytest.param(head("200 OK", "Transfer-Encoding: chunked"), b"0", id="size of a chunk"),
    pytest.param(b"", b"H", id="first line"),
    pytest.param(b"HTTP/1.1 200 OK\r\nX-Long: ", b"a", id="header"),
    pytest.param(b"", head("100 Continue"), id="interim answers"),
]


@pytest.mark.parametrize(("before", "drop"), DRIPS)
def test_a_drip_ends_with_the_time_of_the_call(before: bytes, drop: bytes) -> None:
    began = time.monotonic()
    with (
        server(drip(before, drop)) as url,
        Client(url, timeout=0.2, total_timeout=0.3, retries=5) as client,
        pytest.raises(lastvolt.Timeout) as caught,
    ):
        client.call("x", {})
    assert 0.3 <= time.monotonic() - began < HANG_S
    assert caught.value.request is not None


def test_through_a_proxy_a_drip_ends_too(monkeypatch: pytest.MonkeyPatch) -> None:
    with (
        server(drip(b"", b"H")) as url,
        Client("http://lastvolt.test", timeout=0.2, total_timeout=0.3) as client,
    ):
        monkeypatch.setenv("http_proxy", url)
        with pytest.raises(lastvolt.Timeout):
            client.call("x", {})


@pytest.mark.parametrize(("before", "drop"), DRIPS[:4])
def test_over_a_session_of_ones_own_a_body_that_drips_ends_too(before: bytes, drop: bytes) -> None:
    with (
        server(drip(before, drop)) as url,
        requests.Session() as session,
        pytest.raises(lastvolt.Timeout),
    ):
        Client(url, timeout=0.2, total_timeout=0.3, session=session).call("x", {})


@pytest.mark.long
def test_a_byte_a_second() -> None:
    began = time.monotonic()
    with server(drip(DRIPS[0].values[0], b" ", pause_s=1)) as url, Client(url) as client:
        with pytest.raises(lastvolt.Timeout):
            client.call("x", {})
        took = time.monotonic() - began
    say(f"a byte a second, as everything is by default: Timeout after {took:.1f} s")
    assert 60 <= took < 60 + HANG_S


EVIL = "\x1b[31m\u202etxt\u0007\u2028"


@pytest.mark.parametrize(
    "said",
    [
        pytest.param(
            [head("422 Unfit", "X-Request-ID: "),
             json.dumps({"title": EVIL, "detail": EVIL + "\nRequest 0: forged", "type": EVIL,
                         "errors": [{"pointer": f"#/{EVIL}", "detail": EVIL}] * 1000}).encode()],
            id="problem",
        ),
        pytest.param([head(f"500 {EVIL}"), EVIL.encode()], id="reason"),
        pytest.param([head("200 OK", f"X-Request-ID: {EVIL}")], id="id"),
        pytest.param([head("302 Found", f"Location: http://x/{EVIL}")], id="redirect"),
        pytest.param([head("200 OK", f"Content-Type: {EVIL}"), EVIL.encode()], id="media type"),
        pytest.param([f"HTTP/1.1 {EVIL} no".encode() + b"\r\n\r\n"], id="status"),
        pytest.param([EVIL.encode() * 5000], id="first line"),
        pytest.param([head("200 OK", "Transfer-Encoding: chunked"), EVIL.encode()], id="chunk"),
        pytest.param([head("200 OK"), b'{"computed_by": "' + EVIL.encode() + b'"}'], id="field"),
        pytest.param([head("422 No"), json.dumps({"detail": "a" * 10**6}).encode()], id="long"),
    ],
)  # fmt: skip
def test_what_a_server_says_does_nothing_to_a_terminal(
    said: list[bytes], caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level("DEBUG", logger="lastvolt")
    with (
        server(lambda: [piece.replace(b"X-Request-ID: \r\n", b"") for piece in said]) as url,
        Client(url, retries=0) as client,
        pytest.raises(lastvolt.LastvoltError) as caught,
    ):
        client.wire_resistance(size="12 AWG", length_m=1)
    error = caught.value
    parts = (
        [error.detail, error.title, error.type] if isinstance(error, lastvolt.ErrorAnswer) else []
    )
    fields = getattr(error, "field_errors", ())
    for text in (*str(error).split("\n  "), repr(error), *parts, *map(str, fields)):
        assert text.isprintable(), ascii(text)
    assert len(str(error)) < 10_000
    assert all(record.getMessage().isprintable() for record in caplog.records)
