"""The client: one method per operation, over HTTP or on the service in this process."""

import os
from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from types import TracebackType
from typing import Any, Literal, Self, overload
from urllib.parse import urlsplit

import requests
from requests.utils import urldefragauth

from lastvolt import limits, transport
from lastvolt._generated.methods import Operations
from lastvolt._generated.service import DRAWN, MEDIA_TYPES, TABLES
from lastvolt.answers import Judged
from lastvolt.asking import Answer, request_body
from lastvolt.batch import Batches, in_path
from lastvolt.connections import BearerAuth, new_session
from lastvolt.embedded import EMBEDDED, WSGIAdapter, application
from lastvolt.encoding import encoded, plain, refuse
from lastvolt.errors import LastvoltError, NoService, UnreadableAnswer, WrongArgument, printable
from lastvolt.links import link

URL_VARIABLE = "LASTVOLT_URL"
API_KEY_VARIABLE = "LASTVOLT_API_KEY"


class Client(Operations, Batches):
    """Ask a lastvolt service.

    Without a URL, here or in the environment variable ``LASTVOLT_URL``, the service that is
    installed beside this package answers within this process. It then has no settings of a server,
    needs no key, and asks once.

    One client may serve several threads, as far as its session does. It may be used before a fork
    and after it, in parent and children, each of which gets connections of its own; and it can be
    pickled.

    Parameters
    ----------
    url : str, optional
        Where the service is, for example ``"http://127.0.0.1:8000"``. `lastvolt.EMBEDDED` asks
        for the one in this process, whatever the environment says.
    timeout : float or tuple of float
        For each attempt over HTTP: one for both, or connect and read, which is the wait for the
        next bytes. A piece of a batch is waited for 65 s at least. [s]
    total_timeout : float
        For a whole call over HTTP: all attempts, the waits between them, and reading the answer,
        however slowly it comes; five times as much for a piece of a batch. The look-up of the
        server's name is the system's. [s]
    retries : int
        Attempts over HTTP after the first, with growing waits; every operation is safe to repeat.
        What the server says could not succeed is not repeated. A piece of a batch gets 4 more,
        unless none are wanted.
    max_answer_bytes : int
        Largest answer that is read, unpacked; five times as much for a piece of a batch. What
        Python makes of it takes several times as much memory.
    session : requests.Session, optional
        Your own, which stays yours: it is not closed. Retries of its adapters come on top; a
        head of an answer, or of a chunk, that comes byte by byte holds them beyond
        `total_timeout`. It serves the process that made the client: after a fork, make another
        client with another session.
    api_key : str, optional
        Sent as a bearer token; by default that of ``LASTVOLT_API_KEY``, if set.

    Raises
    ------
    NoService
        If there is neither a usable URL nor an installed service.
    WrongArgument
        If the URL is no text, or a limit or the key makes no sense.

    Examples
    --------
    >>> with Client("http://127.0.0.1:8000") as client:  # doctest: +SKIP
    ...     print(client.wire_resistance(size="12 AWG", length_m=6.5).resistance_ohm)
    """

    def __init__(
        self,
        url: str | None = None,
        *,
        timeout: limits.Timeouts = limits.TIMEOUT_S,
        total_timeout: float = limits.TOTAL_TIMEOUT_S,
        retries: int = limits.RETRIES,
        max_answer_bytes: int = limits.MAX_ANSWER_BYTES,
        session: requests.Session | None = None,
        api_key: str | None = None,
    ) -> None:
        if url is not None and not isinstance(url, str):
            raise WrongArgument(f"The URL of a service is text, not {url!r:.80}.")
        self._url = (url or os.environ.get(URL_VARIABLE) or EMBEDDED).strip().rstrip("/")
        inside = self._url == EMBEDDED
        if not inside and not _is_url(self._url):
            raise NoService(
                f"{printable(self._url)!r} is not the URL of a service: it must begin with http:// "
                "or https://, and a host must follow."
            )
        key = api_key or os.environ.get(API_KEY_VARIABLE)
        self._auth = BearerAuth(key) if key and not inside else None
        given = limits.Limits(timeout, total_timeout, retries, max_answer_bytes)
        self._limits = replace(given, retries=0) if inside else given
        self._own_session = session
        self._connect()

    def _connect(self) -> None:
        session = new_session() if self._own_session is None else self._own_session
        if self._url == EMBEDDED:
            session.mount(EMBEDDED, WSGIAdapter(application()))
            if self._own_session is None:
                session.trust_env = False  # nothing leaves the process: no proxy, no netrc
        self._session = session
        self._process: int | None = os.getpid()  # last: who sees it may use the session

    def _connected(self) -> requests.Session:
        """Give the session of this process: two that share a socket get each other's answers."""
        if self._process != os.getpid():
            if self._own_session is not None and self._url != EMBEDDED:
                raise LastvoltError(
                    "The session that this client was given belongs to the process that made it: "
                    "after a fork, make a client with another."
                )
            # Kept, because to let go of it takes locks that threads of the parent may hold.
            self._session_of_parent = self._session
            self._connect()
        return self._session

    def __getstate__(self) -> dict[str, Any]:
        """Leave connections behind: another process makes its own."""
        return {**vars(self), "_process": None, "_session": None, "_session_of_parent": None}

    def __repr__(self) -> str:
        """Show the URL, without a password that may be in it."""
        return f"Client({printable(self._url)!r})"

    def __enter__(self) -> Self:
        """Begin; `close` ends it."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        """Close the connections."""
        self.close()

    def close(self) -> None:
        """Close the connections; a session of your own stays open."""
        if self._own_session is None and self._process == os.getpid():
            self._session.close()

    def call(self, operation: str, body: Mapping[str, Any]) -> dict[str, Any]:
        """Ask for an operation by name and get the JSON answer as it is.

        Parameters
        ----------
        operation : str
            As in the path: ``"voltage-drop"``.
        body : mapping
            Fields of the request.

        Returns
        -------
        dict
            The answer, with whatever the service may have added since this package was made.

        Raises
        ------
        LastvoltError
            If there is no such answer; its classes are drawn in `lastvolt.errors`.
        """
        return self._request(operation, body)[0]

    @overload
    def report(
        self,
        operation: str,
        body: Mapping[str, Any],
        form: Literal["md", "txt", "svg", "html"] = "md",
        **options: str,
    ) -> str: ...

    @overload
    def report(
        self, operation: str, body: Mapping[str, Any], form: Literal["png"], **options: str
    ) -> bytes: ...

    def report(
        self,
        operation: str,
        body: Mapping[str, Any],
        form: Literal["md", "txt", "svg", "png", "html"] = "md",
        **options: str,
    ) -> str | bytes:
        """Ask for an answer in words that can be posted, or as a picture.

        Parameters
        ----------
        operation : str
            As in the path: ``"voltage-drop"``.
        body : mapping
            Fields of the request.
        form : str
            ``"md"`` or ``"txt"`` for words, and of a work sheet, a plan of readings or a proof all
            that stands on it; ``"svg"`` or ``"png"`` for a picture, ``"html"`` for a page to print.
        **options : str
            ``units="us"`` shows feet and degrees Fahrenheit beside SI in words;
            ``picture="schematic"`` asks for another picture than the usual one.

        Returns
        -------
        str or bytes
            Bytes for ``"png"``.

        Raises
        ------
        LastvoltError
            If there is no such answer; its classes are drawn in `lastvolt.errors`.
        """
        url = self._report_url(self._url, operation, form)
        found, response = transport.fetch(
            self._connected(),
            "POST",
            url,
            MEDIA_TYPES[form],
            limits=self._limits,
            query=_texts(options),
            content=encoded(body),
            auth=self._auth,
        )
        content = transport.report(found, response, url, MEDIA_TYPES[form])
        if form == "png":
            return content
        try:
            return content.decode()
        except UnicodeDecodeError as error:
            raise UnreadableAnswer(
                f"The report is not UTF-8: {error}", response=response
            ) from error

    def report_link(
        self,
        operation: str,
        body: Mapping[str, Any],
        form: Literal["md", "txt", "svg", "png", "html"] = "svg",
        **options: str,
    ) -> str:
        """Make a link to a report that carries the whole request; nothing is sent or stored.

        Parameters
        ----------
        operation : str
            As in the path: ``"voltage-drop"``.
        body : mapping
            Fields of the request.
        form : str
            As for `report`.
        **options : str
            As for `report`.

        Returns
        -------
        str
            Its URL; a password in that of the client is left out.

        Raises
        ------
        NoService
            If the client has no URL that others could open.
        LinkTooLong
            If the request does not fit into a link.
        InvalidRequest
            If a value has no form in JSON.
        """
        if self._url == EMBEDDED:
            raise NoService("A link needs the URL of a server: Client('https://…').report_link(…).")
        url = self._report_url(urldefragauth(self._url), operation, form)
        return link(url, body, _texts(options))

    @staticmethod
    def _report_url(base: str, operation: str, form: str) -> str:
        if not isinstance(form, str) or form not in MEDIA_TYPES:
            raise WrongArgument(f"form must be one of {', '.join(MEDIA_TYPES)}, not {form!r:.80}.")
        return f"{base}/v1/reports/{in_path(operation)}.{form}"

    def _picture(self, operation: str, body: Mapping[str, Any]) -> str | None:
        try:
            return self.report(operation, body, "svg") if operation in DRAWN else None
        except LastvoltError:  # an older service, or none any more: the answer stands without
            return None

    def _request(
        self, operation: str, body: Mapping[str, Any]
    ) -> tuple[dict[str, Any], requests.Response]:
        url = f"{self._url}/v1/{in_path(operation)}"
        how: dict[str, Any] = {"limits": self._limits, "auth": self._auth}
        if operation in TABLES:
            return transport.exchange(self._connected(), "GET", url, query=plain(body), **how)
        return transport.exchange(self._connected(), "POST", url, content=encoded(body), **how)

    def _post(self, path: str, content: bytes, media_type: str) -> bytes:
        return transport.fetch(
            self._connected(),
            "POST",
            f"{self._url}/v1/{path}",
            media_type,
            limits=self._limits.of_a_piece(),
            content=content,
            content_type=media_type,
            auth=self._auth,
        )[0]

    def _ask(self, answer: type[Answer], operation: str, /, **arguments: object) -> Answer:
        body = request_body(arguments)
        given, response = self._request(operation, body)
        try:
            found = answer.from_json(given)
        except ValueError as error:
            raise UnreadableAnswer(
                f"The answer to {operation} does not fit this version of the package: {error}",
                response=response,
            ) from error
        if isinstance(found, Judged):
            found.remember(partial(self._picture, operation, body))
        return found


def _is_url(text: str) -> bool:
    try:
        parts = urlsplit(text)
        port = parts.port
    except ValueError:  # half a pair of brackets, a port that is none
        return False
    return parts.scheme in {"http", "https"} and bool(parts.hostname) and port != 0


def _texts(options: Mapping[str, str]) -> Mapping[str, str]:
    for name, value in options.items():
        if not isinstance(value, str):
            refuse((name,), f"This must be text, not {value!r:.80}.")
    return options
