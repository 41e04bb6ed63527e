"""The client: one method per operation, over HTTP or on the service in this process."""

import os
from collections.abc import Mapping
from functools import partial
from types import TracebackType
from typing import Any, Literal, Self, overload
from urllib.parse import quote

import requests
from requests.utils import urldefragauth

from lastvolt import transport
from lastvolt._generated.methods import Operations
from lastvolt._generated.service import DRAWN, MEDIA_TYPES, TABLES
from lastvolt.answers import Judged
from lastvolt.asking import Answer, request_body
from lastvolt.batch import Batches
from lastvolt.embedded import EMBEDDED, WSGIAdapter, application
from lastvolt.encoding import encoded
from lastvolt.errors import LastvoltError, NoService, UnreadableAnswer
from lastvolt.links import link

URL_VARIABLE = "LASTVOLT_URL"
API_KEY_VARIABLE = "LASTVOLT_API_KEY"


class Client(Operations, Batches):
    """Ask a lastvolt service.

    Without a URL, here or in the environment variable ``LASTVOLT_URL``, the service that is
    installed beside this package answers within this process. One client may serve several
    threads, as far as its session does.

    Parameters
    ----------
    url : str, optional
        Where the service is, for example ``"http://127.0.0.1:8000"``. `lastvolt.EMBEDDED` asks
        for the one in this process, whatever the environment says.
    timeout : float or tuple of float
        For each attempt over HTTP: one for both, or connect and read. [s]
    retries : int
        Attempts over HTTP after the first, with growing waits; every operation is safe to repeat.
    session : requests.Session, optional
        Your own, which stays yours: it is not closed, and its adapters decide on retries.
    api_key : str, optional
        Sent as a bearer token; by default that of ``LASTVOLT_API_KEY``, if set.

    Raises
    ------
    NoService
        If there is neither a usable URL nor an installed service.

    Examples
    --------
    >>> with Client("http://127.0.0.1:8000") as client:  # doctest: +SKIP
    ...     print(client.wire_resistance(size="12 AWG", length_m=6.5).resistance_ohm)
    """

    def __init__(
        self,
        url: str | None = None,
        *,
        timeout: transport.Timeouts = transport.TIMEOUT_S,
        retries: int = transport.RETRIES,
        session: requests.Session | None = None,
        api_key: str | None = None,
    ) -> None:
        self._url = (url or os.environ.get(URL_VARIABLE) or EMBEDDED).strip().rstrip("/")
        if self._url != EMBEDDED and not self._url.lower().startswith(("http://", "https://")):
            raise NoService(
                f"{self._url!r} is not the URL of a service: it must begin with http:// or https://."
            )
        key = api_key or os.environ.get(API_KEY_VARIABLE)
        self._auth = transport.BearerAuth(key) if key else None
        self._timeout = timeout
        self._owns_session = session is None
        self._session = transport.new_session(retries) if session is None else session
        if self._url == EMBEDDED:
            self._session.mount(EMBEDDED, WSGIAdapter(application()))
            if self._owns_session:
                self._session.trust_env = False  # nothing leaves the process: no proxy, no netrc

    def __repr__(self) -> str:
        """Show the URL, without a password that may be in it."""
        return f"Client({urldefragauth(self._url)!r})"

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
        if self._owns_session:
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
        form: Literal["md", "txt", "svg"] = "md",
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
        form: Literal["md", "txt", "svg", "png"] = "md",
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
            ``"md"`` or ``"txt"`` for words, ``"svg"`` or ``"png"`` for a picture.
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
        url, media_type = self._report_url(self._url, operation, form), MEDIA_TYPES[form]
        response = transport.fetch(
            self._session,
            "POST",
            url,
            media_type,
            query=options,
            content=encoded(body),
            auth=self._auth,
            timeout=self._timeout,
        )
        content = transport.report(response, url, media_type)
        return content if form == "png" else content.decode()

    def report_link(
        self,
        operation: str,
        body: Mapping[str, Any],
        form: Literal["md", "txt", "svg", "png"] = "svg",
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
        return link(url, body, options)

    @staticmethod
    def _report_url(base: str, operation: str, form: str) -> str:
        if form not in MEDIA_TYPES:
            raise ValueError(f"form must be one of {', '.join(MEDIA_TYPES)}, not {form!r}.")
        return f"{base}/v1/reports/{quote(operation, safe='')}.{form}"

    def _picture(self, operation: str, body: Mapping[str, Any]) -> str | None:
        try:
            return self.report(operation, body, "svg") if operation in DRAWN else None
        except LastvoltError:  # an older service, or none any more: the answer stands without
            return None

    def _request(
        self, operation: str, body: Mapping[str, Any]
    ) -> tuple[dict[str, Any], requests.Response]:
        url = f"{self._url}/v1/{quote(operation, safe='')}"
        how: dict[str, Any] = {"auth": self._auth, "timeout": self._timeout}
        if operation in TABLES:
            return transport.exchange(self._session, "GET", url, query=body, **how)
        return transport.exchange(self._session, "POST", url, content=encoded(body), **how)

    def _post(self, path: str, content: bytes, media_type: str) -> bytes:
        response = transport.fetch(
            self._session,
            "POST",
            f"{self._url}/v1/{path}",
            media_type,
            content=content,
            content_type=media_type,
            auth=self._auth,
            timeout=self._timeout,
        )
        return response.content

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
