"""HTTP for the client: one session, retries with a ceiling, one time-out, errors of our own."""

import json
import logging
import random
from collections.abc import Mapping
from http import HTTPStatus
from typing import TYPE_CHECKING, Any

import requests
from requests.adapters import HTTPAdapter
from requests.auth import AuthBase
from requests.exceptions import ChunkedEncodingError, ContentDecodingError
from requests.utils import default_user_agent, urldefragauth
from urllib3.exceptions import InvalidHeader, MaxRetryError, ReadTimeoutError
from urllib3.util.retry import Retry

from lastvolt._version import version
from lastvolt.errors import (
    REQUEST_ID_HEADER,
    ConnectionFailed,
    LastvoltError,
    Timeout,
    UnreadableAnswer,
    error_answer,
    quoted,
)

if TYPE_CHECKING:  # urllib3 1.26 knows no such name
    from urllib3.response import BaseHTTPResponse

Timeouts = float | tuple[float, float]

TIMEOUT_S = (3.05, 10.0)  # connect, read; connect just above TCP's first retransmission
RETRIES = 3

_log = logging.getLogger("lastvolt")


class CappedRetry(Retry):
    """Retries of requests that are safe to repeat, with a ceiling on every wait.

    Waits double from `FIRST_S` to `BACKOFF_MAX_S`, less up to a half at random, so that the
    clients of a server that comes back do not all come back with it. The server's ``Retry-After``
    goes before, up to `RETRY_AFTER_CEILING_S`: nobody waits for hours in a function call.
    """

    FIRST_S = 0.25
    BACKOFF_MAX_S = 8.0
    RETRY_AFTER_CEILING_S = 30.0

    def get_backoff_time(self) -> float:
        """Wait before the next attempt.

        Returns
        -------
        float
            [s]
        """
        ceiling = min(self.BACKOFF_MAX_S, self.FIRST_S * 2.0 ** (len(self.history) - 1))
        return ceiling * random.uniform(0.5, 1.0)  # noqa: S311  spreads load, guards nothing

    def get_retry_after(self, response: "BaseHTTPResponse") -> float | None:
        """Wait that the server asks for.

        Parameters
        ----------
        response : urllib3.BaseHTTPResponse
            An answer that may carry ``Retry-After``.

        Returns
        -------
        float or None
            None where the header is missing or makes no sense. [s]
        """
        asked = retry_after_s(response.headers)
        return None if asked is None else min(asked, self.RETRY_AFTER_CEILING_S)


def retry_after_s(headers: Mapping[str, str]) -> float | None:
    """Read ``Retry-After``, in seconds or as a date.

    Parameters
    ----------
    headers : mapping of str to str
        Of an answer.

    Returns
    -------
    float or None
        None where the header is missing or makes no sense. [s]
    """
    try:
        return float(Retry(0).parse_retry_after(headers["Retry-After"]))
    except (KeyError, InvalidHeader, ValueError, OverflowError):
        return None


def retry_policy(retries: int) -> CappedRetry:
    """Make the policy of a session.

    Parameters
    ----------
    retries : int
        Attempts after the first.

    Returns
    -------
    CappedRetry
    """
    return CappedRetry(
        total=retries,
        allowed_methods={"GET", "POST"},  # every operation is a pure function of its request
        status_forcelist={429, 502, 503, 504},
        raise_on_status=False,  # the last answer says more than "too many retries"
    )


class WholeAnswerAdapter(HTTPAdapter):
    """Retry, too, an answer that breaks off: urllib3 has let go of it before its body is read."""

    def send(
        self, request: requests.PreparedRequest, *args: Any, **kwargs: Any
    ) -> requests.Response:
        """Send a request and read its answer to the end.

        Parameters
        ----------
        request : requests.PreparedRequest
            What to send.

        Returns
        -------
        requests.Response
        """
        retries = self.max_retries
        while True:
            response = super().send(request, *args, **kwargs)
            try:
                response.content  # noqa: B018  reads it, and keeps it
            except ChunkedEncodingError as error:
                response.close()
                if not retries.total:
                    raise
                retries = retries.increment(request.method, request.url, error=_cause(error))
                retries.sleep()
            else:
                return response


def _cause(error: ChunkedEncodingError) -> Exception:
    return error.args[0] if error.args and isinstance(error.args[0], Exception) else error


class BearerAuth(AuthBase):
    """Send an API key; as an auth object, because a netrc entry would replace a mere header.

    Parameters
    ----------
    api_key : str
        The key.

    Raises
    ------
    ValueError
        If it does not fit into a header.
    """

    def __init__(self, api_key: str) -> None:
        self._api_key = api_key.strip()  # a file or a variable often ends in a line feed
        if not (self._api_key.isascii() and self._api_key.isprintable()):
            raise ValueError("An API key consists of printable ASCII characters.")

    def __call__(self, r: requests.PreparedRequest) -> requests.PreparedRequest:
        """Add the header to a request."""
        r.headers["Authorization"] = f"Bearer {self._api_key}"
        return r


def new_session(retries: int) -> requests.Session:
    """Make a session whose connections are pooled and whose requests are retried.

    Parameters
    ----------
    retries : int
        Attempts after the first.

    Returns
    -------
    requests.Session
    """
    session = requests.Session()
    for scheme in ("http://", "https://"):
        session.mount(scheme, WholeAnswerAdapter(max_retries=retry_policy(retries)))
    return session


def user_agent() -> str:
    """Name this package and its HTTP library.

    Returns
    -------
    str
    """
    return f"lastvolt/{version()} {default_user_agent()}"


def exchange(
    session: requests.Session,
    method: str,
    url: str,
    *,
    query: Mapping[str, str] | None = None,
    content: bytes | None = None,
    auth: AuthBase | None = None,
    timeout: Timeouts = TIMEOUT_S,
) -> tuple[dict[str, Any], requests.Response]:
    """Send one request and read the JSON object that answers it.

    Parameters
    ----------
    session : requests.Session
        Its adapters connect and retry.
    method, url : str
        Of the request.
    query : mapping of str to str, optional
        Query parameters.
    content : bytes, optional
        JSON text.
    auth : requests.auth.AuthBase, optional
        Takes the place of the session's own.
    timeout : float or tuple of float
        For each attempt: connect and read. [s]

    Returns
    -------
    tuple of dict and requests.Response
        The object, and the answer that it came in.

    Raises
    ------
    LastvoltError
        Of the class that fits what went wrong.
    """
    response = fetch(
        session,
        method,
        url,
        "application/json",
        query=query,
        content=content,
        auth=auth,
        timeout=timeout,
    )
    answer = _json_object(response.content)
    if answer is None:
        raise _not_ours(response, urldefragauth(url), "not a JSON object")
    return answer, response


def fetch(
    session: requests.Session,
    method: str,
    url: str,
    media_type: str,
    *,
    query: Mapping[str, str] | None = None,
    content: bytes | None = None,
    content_type: str = "application/json",
    auth: AuthBase | None = None,
    timeout: Timeouts = TIMEOUT_S,
) -> requests.Response:
    """Send one request and see that it was answered well; parameters as in `exchange`.

    Parameters
    ----------
    session : requests.Session
        Its adapters connect and retry.
    method, url : str
        Of the request.
    media_type : str
        Of the answer that is wanted.
    query : mapping of str to str, optional
        Query parameters.
    content : bytes, optional
        The body.
    content_type : str
        Its media type.
    auth : requests.auth.AuthBase, optional
        Takes the place of the session's own.
    timeout : float or tuple of float
        For each attempt: connect and read. [s]

    Returns
    -------
    requests.Response
        With a status below 300.

    Raises
    ------
    LastvoltError
        Of the class that fits what went wrong.
    """
    headers = {"Accept": media_type, "User-Agent": user_agent()}
    if content is not None:
        headers["Content-Type"] = content_type
    try:
        response = session.request(
            method,
            url,
            params=query,
            data=content,
            headers=headers,
            auth=auth,
            timeout=timeout,
            allow_redirects=False,  # a redirected POST becomes a GET; and a key would travel along
        )
    except requests.RequestException as error:
        raise _failure(error, urldefragauth(url)) from error
    shown = urldefragauth(url)
    _log.debug(
        "%s %s: %s in %.3f s, request %s",
        method,
        shown,
        response.status_code,
        response.elapsed.total_seconds(),
        response.headers.get(REQUEST_ID_HEADER, "without id"),
    )
    if response.status_code >= HTTPStatus.BAD_REQUEST:
        problem = _json_object(response.content)
        raise error_answer(response, problem, retry_after_s(response.headers))
    if response.status_code >= HTTPStatus.MULTIPLE_CHOICES:
        target = response.headers.get("Location", "somewhere else")
        raise UnreadableAnswer(
            f"{shown} redirects to {target}: give the client the URL where the service really is.",
            response=response,
        )
    return response


def report(response: requests.Response, url: str, media_type: str) -> bytes:
    """Take a report out of its answer.

    Parameters
    ----------
    response : requests.Response
        The answer.
    url, media_type : str
        What was asked for.

    Returns
    -------
    bytes

    Raises
    ------
    UnreadableAnswer
        If the answer is of another type, such as a proxy's page.
    """
    if response.headers.get("Content-Type", "").partition(";")[0].strip() != media_type:
        raise _not_ours(response, urldefragauth(url), f"not {media_type}")
    return response.content


def _not_ours(response: requests.Response, url: str, what: str) -> UnreadableAnswer:
    return UnreadableAnswer(
        f"The answer of {url} is {what} ({quoted(response)}): "
        "is this the URL of a lastvolt service?",
        response=response,
    )


def _json_object(content: bytes) -> dict[str, Any] | None:
    try:
        answer = json.loads(content)
    except (ValueError, RecursionError):
        return None
    return answer if isinstance(answer, dict) else None


def _failure(error: requests.RequestException, url: str) -> LastvoltError:
    """Translate what requests raised; the last cause counts, not that retries ran out."""
    sent = error.request if isinstance(error.request, requests.PreparedRequest) else None
    cause: object = error.args[0] if error.args else error
    if isinstance(cause, MaxRetryError):
        cause = cause.reason
    if isinstance(error, requests.Timeout) or isinstance(cause, ReadTimeoutError):
        return Timeout(f"No answer from {url} in time.", request=sent)
    if isinstance(error, ChunkedEncodingError | ContentDecodingError):
        return UnreadableAnswer(f"The answer of {url} was cut off: {cause}", request=sent)
    return ConnectionFailed(f"No answer from {url}: {cause}", request=sent)
