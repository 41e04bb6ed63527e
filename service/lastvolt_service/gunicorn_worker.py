"""A worker of threads that slow clients cannot fill.

gunicorn's gthread worker gives a connection a thread as soon as its first byte is there, and that
thread then waits for the rest of the head without any limit: as many clients as there are threads,
each sending half a head, stop the service. Here a connection waits in the worker's event loop,
which costs no thread, until its whole request has arrived, or the first `EARLY_BYTES` of a large
one. The rest of a large body is read by a thread, under the time limits of the application.

At the end gunicorn's worker stops everything for up to two seconds for a client that was told to go
and does not. Here such a client, too, waits in the event loop.
"""

import json
import re
import select
import selectors
import time
from dataclasses import dataclass
from functools import partial
from socket import SHUT_WR, socket
from typing import TYPE_CHECKING, Any

from gunicorn.http import RequestParser
from gunicorn.http.unreader import Unreader
from gunicorn.workers.gthread import TConn, ThreadWorker

from lastvolt_service.api.health import DRAINING
from lastvolt_service.api.problems import MEDIA_TYPE, PROBLEMS
from lastvolt_service.config import Config

if TYPE_CHECKING:
    from concurrent.futures import Future

# A worker holds up to 1,000 connections (gunicorn's worker_connections), so 256 MiB at the worst.
EARLY_BYTES = 256 * 1024
# More than gunicorn reads of a head, see the limits in `gunicorn_conf`.
HEAD_BYTES = 64 * 1024
PIECE_BYTES = 64 * 1024
IDLE_WHILE_STOPPING_S = 2.0
# RFC 9112, section 9.6: read on for a while after the last answer, or its end may be lost.
LINGER_S = 2.0
LINGER_BYTES = 2 * 1024 * 1024

_LENGTH = re.compile(rb"\r\ncontent-length:[ \t]*(\d{1,18})[ \t]*\r\n", re.IGNORECASE)
_CHUNKED = re.compile(rb"\r\ntransfer-encoding:", re.IGNORECASE)
_EXPECTS = re.compile(rb"\r\nexpect:[ \t]*100-continue[ \t]*\r\n", re.IGNORECASE)


def _turned_away(code: str) -> bytes:
    problem = PROBLEMS[code]
    body = json.dumps(
        {
            "type": f"/problems/{code}",
            "title": problem.title,
            "status": problem.status,
            "detail": problem.meaning,
            "instance": "/",
        }
    )
    head = (
        f"HTTP/1.1 {problem.status} {problem.title}\r\nConnection: close\r\n"
        f"Content-Type: {MEDIA_TYPE}\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    return (head + body).encode("ascii")


LATE = _turned_away("request-timeout")
HEAD_TOO_LARGE = b"HTTP/1.1 431 Head too large\r\nConnection: close\r\nContent-Length: 0\r\n\r\n"


class Arrival:
    """A request on its way in.

    Parameters
    ----------
    data : bytes
        What is there already.
    ends_at : float
        When the rest must be there, by the monotonic clock. [s]
    """

    def __init__(self, data: bytes, ends_at: float) -> None:
        self.data = bytearray(data)
        self.ends_at = ends_at
        self._head_end = -1
        self._length = 0
        self._chunked = False
        self.wants_continue = False

    def add(self, piece: bytes) -> None:
        """Take what has come.

        Parameters
        ----------
        piece : bytes
            The next bytes.
        """
        self.data += piece

    @property
    def head_is_whole(self) -> bool:
        """Whether the blank line after the head is there."""
        if self._head_end < 0 and (end := self.data.find(b"\r\n\r\n")) >= 0:
            self._head_end = end + 4
            head = bytes(self.data[: self._head_end])
            length = _LENGTH.search(head)
            self._length = int(length[1]) if length and not _CHUNKED.search(head) else 0
            # Both is an attempt to smuggle, which gunicorn refuses.
            self._chunked = _CHUNKED.search(head) is not None and length is None
            self.wants_continue = _EXPECTS.search(head) is not None
        return self._head_end >= 0

    @property
    def is_whole(self) -> bool:
        """Whether a thread can go to work: it reads what a mistake here leaves out."""
        if not self.head_is_whole:
            return False
        got = len(self.data) - self._head_end
        if self._chunked:  # the last chunk, or a trailer, ends with a blank line
            return got >= EARLY_BYTES or (got > 0 and self.data.endswith(b"\r\n\r\n"))
        return got >= min(self._length, EARLY_BYTES)


@dataclass(slots=True)
class Departure:
    """A client on its way out.

    Attributes
    ----------
    ends_at : float
        When it must be gone, by the monotonic clock. [s]
    bytes_left : int
        How much it may still send.
    """

    ends_at: float
    bytes_left: int = LINGER_BYTES


def _unread(conn: TConn) -> Unreader:
    """Bytes that the parser of a connection has got and not yet used."""
    if not isinstance(conn.parser, RequestParser):
        raise TypeError("This worker speaks HTTP/1 only.")
    return conn.parser.unreader


class BufferingWorker(ThreadWorker):
    """gunicorn's worker of threads; a connection gets one when its request has arrived."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        settings = Config.from_environment()
        self._arrival_s = settings.arrival_s
        self._drain_s = settings.drain_s
        self._stop_at: float | None = None
        self._arriving: dict[TConn, Arrival] = {}  # the longest waiting first
        self._arrived: dict[TConn, bytes] = {}
        self._leaving: dict[TConn, Departure] = {}

    @classmethod
    def check_config(cls, cfg: Any, log: Any) -> None:
        """Refuse what this worker cannot do: its event loop reads no ciphers."""
        super().check_config(cfg, log)
        if cfg.is_ssl:
            raise ValueError("This worker speaks no TLS: let a proxy in front end it.")

    def enqueue_req(self, conn: TConn) -> None:
        """Wait for a request on a connection, new or kept alive."""
        # A client may have sent more than one request; the parser then holds the next.
        data = b"" if conn.parser is None else _unread(conn).take_buffered()
        arrival = Arrival(data, time.monotonic() + self._arrival_s)
        conn.sock.setblocking(False)
        self._arriving[conn] = arrival
        self.poller.register(conn.sock, selectors.EVENT_READ, partial(self._on_bytes, conn))
        if data:
            self._consider(conn, arrival)
        else:
            self._on_bytes(conn, conn.sock)  # most requests are there already

    def _on_bytes(self, conn: TConn, sock: socket) -> None:
        try:
            piece = sock.recv(PIECE_BYTES)
        except BlockingIOError:
            return
        except OSError:
            piece = b""
        if not piece:
            self._dismiss(conn)
            return
        self._arriving[conn].add(piece)
        self._consider(conn, self._arriving[conn])

    def _consider(self, conn: TConn, arrival: Arrival) -> None:
        if arrival.is_whole:
            self._forget(conn)
            self._arrived[conn] = bytes(arrival.data)
            super().enqueue_req(conn)
        elif not arrival.head_is_whole and len(arrival.data) > HEAD_BYTES:
            self._dismiss(conn, HEAD_TOO_LARGE)
        elif arrival.wants_continue:
            arrival.wants_continue = False
            self._send(conn, b"HTTP/1.1 100 Continue\r\n\r\n")

    def _forget(self, conn: TConn) -> None:
        del self._arriving[conn]
        self.poller.unregister(conn.sock)

    def _dismiss(self, conn: TConn, answer: bytes = b"") -> None:
        self._forget(conn)
        self._send(conn, answer)
        self.nr_conns -= 1
        conn.close()

    @staticmethod
    def _send(conn: TConn, answer: bytes) -> None:
        """Send what always fits into the empty buffer of a socket."""
        try:
            conn.sock.send(answer)
        except OSError:
            return

    def handle(self, conn: TConn) -> Any:
        """Answer a request that has arrived. Runs in a thread."""
        conn.sock.setblocking(True)
        conn.init()
        conn.data_ready = True
        _unread(conn).unread(self._arrived.pop(conn))
        return super().handle(conn)

    def finish_request(self, conn: TConn, fs: "Future[Any]") -> None:
        """Take back a connection from a thread."""
        if fs.cancelled() or fs.exception() is not None or fs.result():
            super().finish_request(conn, fs)
            return
        try:
            conn.sock.shutdown(SHUT_WR)
            conn.sock.setblocking(False)
            self.poller.register(conn.sock, selectors.EVENT_READ, partial(self._on_rest, conn))
        except (OSError, ValueError):  # gone already
            self.nr_conns -= 1
            conn.close()
        else:
            self._leaving[conn] = Departure(time.monotonic() + LINGER_S)

    def _on_rest(self, conn: TConn, sock: socket) -> None:
        departure = self._leaving[conn]
        try:
            rest = len(sock.recv(PIECE_BYTES))
        except BlockingIOError:
            return
        except OSError:
            rest = 0
        departure.bytes_left -= rest
        if not rest or departure.bytes_left < 0:
            self._part(conn)

    def _part(self, conn: TConn) -> None:
        del self._leaving[conn]
        self.poller.unregister(conn.sock)
        self.nr_conns -= 1
        conn.close()

    def murder_pending(self) -> None:
        """Dismiss those who take too long; the loop calls this about once a second."""
        super().murder_pending()
        now = time.monotonic()
        for conn, arrival in tuple(self._arriving.items()):
            idle_end = (
                arrival.ends_at - self._arrival_s + IDLE_WHILE_STOPPING_S
                if not self.alive
                else arrival.ends_at
            )
            if arrival.data and now >= arrival.ends_at:
                self._dismiss(conn, LATE)
            elif not arrival.data and now >= idle_end:
                self._dismiss(conn)
        for conn in [conn for conn, left in self._leaving.items() if now >= left.ends_at]:
            self._part(conn)

    def handle_exit(self, sig: int, frame: Any) -> None:
        """Begin to end: say so at ``/readyz``, and go on accepting for a while if told to."""
        DRAINING.set()
        if not self._drain_s:
            super().handle_exit(sig, frame)
        elif self._stop_at is None:
            self._stop_at = time.monotonic() + self._drain_s

    def notify(self) -> None:
        """Tell the master that the loop runs, and end it when its time has come."""
        super().notify()
        if self._stop_at is not None and time.monotonic() >= self._stop_at:
            self.alive = False

    def set_accept_enabled(self, enabled: bool | None) -> None:
        """Accept or not; before the end, accept those whom the kernel has already let in."""
        stopping = not enabled and not self.alive
        if stopping:
            while waiting := select.select(self.sockets, [], [], 0)[0]:
                for listener in waiting:
                    self.accept(listener)
        super().set_accept_enabled(enabled)
        if stopping:
            # A client that comes now is refused at once, and does not wait in vain.
            for listener in self.sockets:
                listener.close()
