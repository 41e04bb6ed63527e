"""Connections that keep to a deadline, and answers that are read up to a size."""

import http.client
import io
import math
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

import requests
from requests.adapters import HTTPAdapter
from requests.auth import AuthBase
from urllib3 import HTTPConnectionPool, HTTPSConnectionPool, ProxyManager
from urllib3.connection import HTTPConnection, HTTPSConnection

from lastvolt.errors import UnreadableAnswer, WrongArgument, printable

ACCEPTED_CODING = "gzip"

_PIECE = 64 * 1024  # bytes read at a time
_GZIP = 16 + zlib.MAX_WBITS

# When the call of this thread has to be over, on the clock of `time.monotonic`. [s]
_ends_at: ContextVar[float] = ContextVar("ends_at", default=math.inf)


@contextmanager
def deadline(ends_at: float) -> Iterator[None]:
    """Hold connections to a deadline, down to every wait for bytes.

    Parameters
    ----------
    ends_at : float
        On the clock of `time.monotonic`. [s]
    """
    before = _ends_at.set(ends_at)
    try:
        yield
    finally:
        _ends_at.reset(before)


class _TimedBytes(io.RawIOBase):
    """Bytes of a socket; its own time-out begins anew with each of them, the deadline does not."""

    def __init__(self, raw: io.RawIOBase, sock: Any) -> None:
        self._raw = raw
        self._sock = sock

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int | None:
        left = _ends_at.get() - time.monotonic()
        if left <= 0:
            raise TimeoutError("timed out")
        given = self._sock.gettimeout()
        if left < (math.inf if given is None else given):
            self._sock.settimeout(left)
        return self._raw.readinto(buffer)

    def close(self) -> None:
        self._raw.close()
        super().close()


class _TimedResponse(http.client.HTTPResponse):
    def __init__(self, sock: Any, *args: Any, **kwargs: Any) -> None:
        super().__init__(sock, *args, **kwargs)
        self.fp: Any = io.BufferedReader(_TimedBytes(self.fp.detach(), sock))


class _TimedHTTPConnection(HTTPConnection):
    response_class = _TimedResponse


class _TimedHTTPSConnection(HTTPSConnection):
    response_class = _TimedResponse


class _TimedHTTPPool(HTTPConnectionPool):
    ConnectionCls = _TimedHTTPConnection


class _TimedHTTPSPool(HTTPSConnectionPool):
    ConnectionCls = _TimedHTTPSConnection


_POOLS = {"http": _TimedHTTPPool, "https": _TimedHTTPSPool}


class DeadlineAdapter(HTTPAdapter):
    """Pooled connections that keep to `deadline`; it retries nothing, which is for the call."""

    def init_poolmanager(self, *args: Any, **kwargs: Any) -> None:
        """Make the pools."""
        super().init_poolmanager(*args, **kwargs)
        self.poolmanager.pool_classes_by_scheme = _POOLS

    def proxy_manager_for(self, *args: Any, **kwargs: Any) -> Any:
        """Make the pools of a proxy; those of SOCKS are of another kind."""
        manager = super().proxy_manager_for(*args, **kwargs)
        if isinstance(manager, ProxyManager):
            manager.pool_classes_by_scheme = _POOLS
        return manager


class BearerAuth(AuthBase):
    """Send an API key; as an auth object, because a netrc entry would replace a mere header.

    Parameters
    ----------
    api_key : str
        The key.

    Raises
    ------
    WrongArgument
        If it does not fit into a header.
    """

    def __init__(self, api_key: str) -> None:
        self._api_key = api_key.strip()  # a file or a variable often ends in a line feed
        if not (self._api_key.isascii() and self._api_key.isprintable()):
            raise WrongArgument("An API key consists of printable ASCII characters.")

    def __call__(self, r: requests.PreparedRequest) -> requests.PreparedRequest:
        """Add the header to a request."""
        r.headers["Authorization"] = f"Bearer {self._api_key}"
        return r


def new_session() -> requests.Session:
    """Make a session whose connections are pooled and keep to `deadline`."""
    session = requests.Session()
    for scheme in ("http://", "https://"):
        session.mount(scheme, DeadlineAdapter())
    return session


def read_whole(response: requests.Response, url: str, *, most_bytes: int, ends_at: float) -> bytes:
    """Read an answer that was asked for as a stream, and unpack it no further than it may go.

    Parameters
    ----------
    response : requests.Response
        Its `content` is there afterwards, too.
    url : str
        As errors shall show it.
    most_bytes : int
        Largest size, unpacked.
    ends_at : float
        On the clock of `time.monotonic`. [s]

    Raises
    ------
    UnreadableAnswer
        If it is larger, or packed otherwise than asked.
    TimeoutError
        If it takes too long.
    urllib3.exceptions.HTTPError, zlib.error
        If it breaks off.
    """
    coding = response.headers.get("Content-Encoding", "").strip().lower()
    if coding not in {"", "identity", ACCEPTED_CODING}:
        raise UnreadableAnswer(
            f"The answer of {url} is packed as {printable(coding)}, which was not asked for.",
            response=response,
        )
    unpacker = zlib.decompressobj(_GZIP) if coding == ACCEPTED_CODING else None
    whole, size = io.BytesIO(), 0
    for piece in _pieces(response.raw):
        if time.monotonic() >= ends_at:
            raise TimeoutError("timed out")
        # One byte more than there is room for tells that it is too much.
        size += whole.write(_unpacked(unpacker, piece, most_bytes - size + 1))
        if size > most_bytes:
            raise UnreadableAnswer(
                f"The answer of {url} is larger than {most_bytes} bytes, the limit that "
                "max_answer_bytes of the client sets.",
                response=response,
            )
    if unpacker is not None and not unpacker.eof:
        raise zlib.error("the packed answer was cut off")
    whole.seek(0)
    response.raw = whole
    return whole.getvalue()


def let_go(response: requests.Response) -> None:
    """Close the connection of an answer, so that nobody reads on; its `content` is empty then."""
    response.raw.close()
    response.raw = io.BytesIO()


@contextmanager
def or_let_go(response: requests.Response) -> Iterator[None]:
    """Let go of an answer if something goes wrong with it."""
    try:
        yield
    except BaseException:
        let_go(response)
        raise


def _pieces(raw: Any) -> Iterator[bytes]:
    raw.enforce_content_length = True  # urllib3 1.26 takes half an answer for a whole one
    # Where there is such a thing, it gives what has come and does not wait until a piece is full.
    read = getattr(raw, "read1", raw.read)
    while piece := read(_PIECE, decode_content=False):
        yield piece


def _unpacked(unpacker: Any, piece: bytes, most_bytes: int) -> bytes:
    if unpacker is None:
        return piece
    found: bytes = unpacker.decompress(piece, most_bytes)
    if unpacker.unused_data:
        raise zlib.error("there is more behind the packed answer")
    return found
