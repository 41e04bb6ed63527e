"""One call over HTTP: attempts with a ceiling, one end for all of them, errors of our own."""

import json
import logging
import os
import random
import re
import ssl
import time
import zlib
from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

import requests
from requests.auth import AuthBase
from requests.exceptions import ChunkedEncodingError, ContentDecodingError
from requests.utils import default_user_agent, urldefragauth
from urllib3.exceptions import (
    HTTPError,
    InvalidHeader,
    MaxRetryError,
    ProtocolError,
    ReadTimeoutError,
)
from urllib3.util.retry import Retry

from lastvolt._version import version
from lastvolt.connections import ACCEPTED_CODING, deadline, let_go, or_let_go, read_whole
from lastvolt.errors import (
    REQUEST_ID_HEADER,
    ConnectionFailed,
    ErrorAnswer,
    LastvoltError,
    Timeout,
    UnreadableAnswer,
    error_answer,
    printable,
    quoted,
)
from lastvolt.limits import Limits

FIRST_WAIT_S = 0.25
LONGEST_WAIT_S = 8.0
LONGEST_ASKED_WAIT_S = 30.0  # nobody waits for hours in a function call

# What urllib3 puts before its reason: an object of ours.
_OURS = re.compile(r"^\w*HTTPS?Connection(Pool)?\(.*?\): ")
_log = logging.getLogger("lastvolt")


def retry_after_s(headers: Mapping[str, str]) -> float | None:
    """Read ``Retry-After``, in seconds or as a date.

    Returns
    -------
    float or None
        None where the header is missing or makes no sense. [s]
    """
    try:
        return float(Retry(0).parse_retry_after(headers["Retry-After"]))
    except (KeyError, InvalidHeader, ValueError, OverflowError):
        return None


def user_agent() -> str:
    """Name this package and its HTTP library."""
    return f"lastvolt/{version()} {default_user_agent()}"


def exchange(
    session: requests.Session,
    method: str,
    url: str,
    *,
    limits: Limits,
    query: Mapping[str, str] | None = None,
    content: bytes | None = None,
    auth: AuthBase | None = None,
) -> tuple[dict[str, Any], requests.Response]:
    """Send one request and read the JSON object that answers it.

    Parameters
    ----------
    session : requests.Session
        Its adapters connect.
    method, url : str
        Of the request.
    limits : Limits
        What it may cost.
    query : mapping of str to str, optional
        Query parameters.
    content : bytes, optional
        JSON text.
    auth : requests.auth.AuthBase, optional
        Takes the place of the session's own.

    Returns
    -------
    tuple of dict and requests.Response
        The object, and the answer that it came in.

    Raises
    ------
    LastvoltError
        Of the class that fits what went wrong.
    """
    body, response = fetch(
        session,
        method,
        url,
        "application/json",
        limits=limits,
        query=query,
        content=content,
        auth=auth,
    )
    answer = _json_object(body)
    if answer is None:
        raise _not_ours(response, urldefragauth(url), "not a JSON object")
    return answer, response


def fetch(
    session: requests.Session,
    method: str,
    url: str,
    media_type: str,
    *,
    limits: Limits,
    query: Mapping[str, str] | None = None,
    content: bytes | None = None,
    content_type: str = "application/json",
    auth: AuthBase | None = None,
) -> tuple[bytes, requests.Response]:
    """Send one request, again where that may help, and see that it was answered well.

    Waits between attempts double from `FIRST_WAIT_S` to `LONGEST_WAIT_S`, less up to a half at
    random, so that the clients of a server that comes back do not all come back with it. The
    server's ``Retry-After`` goes before, up to `LONGEST_ASKED_WAIT_S`.

    Parameters
    ----------
    session : requests.Session
        Its adapters connect.
    method, url : str
        Of the request.
    media_type : str
        Of the answer that is wanted.
    limits : Limits
        What it may cost.
    query : mapping of str to str, optional
        Query parameters.
    content : bytes, optional
        The body.
    content_type : str
        Its media type.
    auth : requests.auth.AuthBase, optional
        Takes the place of the session's own.

    Returns
    -------
    tuple of bytes and requests.Response
        The whole answer, with a status below 300.

    Raises
    ------
    LastvoltError
        Of the class that fits what went wrong.
    """
    headers = {
        "Accept": media_type,
        "Accept-Encoding": ACCEPTED_CODING,
        "User-Agent": user_agent(),
        REQUEST_ID_HEADER: os.urandom(8).hex(),
    }
    if content is not None:
        headers["Content-Type"] = content_type
    sent = {"params": query, "data": content, "headers": headers, "auth": auth}
    ends_at = time.monotonic() + limits.total_timeout
    attempts = 0
    while True:
        try:
            with deadline(ends_at):
                return _attempt(session, method, url, limits, ends_at, sent)
        except LastvoltError as error:
            wait = _wait_s(error, attempts)
            attempts += 1
            late = time.monotonic() + wait >= ends_at
            if not error.retryable or attempts > limits.retries or late:
                raise
        time.sleep(wait)


def _wait_s(error: LastvoltError, waited: int) -> float:
    asked = error.retry_after_s if isinstance(error, ErrorAnswer) else None
    if asked:
        return min(asked, LONGEST_ASKED_WAIT_S)
    ceiling = min(LONGEST_WAIT_S, FIRST_WAIT_S * 2.0 ** min(waited, 10))
    return ceiling * random.uniform(0.5, 1.0)  # noqa: S311  spreads load, guards nothing


def _attempt(
    session: requests.Session,
    method: str,
    url: str,
    limits: Limits,
    ends_at: float,
    sent: dict[str, Any],
) -> tuple[bytes, requests.Response]:
    shown = urldefragauth(url)
    timeout = limits.attempt(max(ends_at - time.monotonic(), 1e-3))
    own = session.hooks.get("response") or ()
    hooks = [_refuse_redirect, *((own,) if callable(own) else own)]
    response = None
    try:
        response = session.request(
            method,
            url,
            **sent,
            timeout=timeout,
            hooks={"response": hooks},
            allow_redirects=False,  # a redirected POST becomes a GET; and a key would travel along
            stream=True,
        )
        with or_let_go(response):
            _check_id(response, shown)
            body = read_whole(response, shown, most_bytes=limits.max_answer_bytes, ends_at=ends_at)
    except LastvoltError:
        raise
    except (requests.RequestException, HTTPError, TimeoutError, zlib.error, ValueError) as error:
        raise _failure(error, shown, response) from error
    _log.debug(
        "%s %s: %s in %.3f s, request %s",
        method,
        shown,
        response.status_code,
        response.elapsed.total_seconds(),
        printable(response.headers.get(REQUEST_ID_HEADER, "without id")),
    )
    if response.status_code >= HTTPStatus.BAD_REQUEST:
        raise error_answer(response, _json_object(body), retry_after_s(response.headers))
    if response.status_code >= HTTPStatus.MULTIPLE_CHOICES:
        raise _not_ours(response, shown, f"of status {response.status_code}")
    return body, response


def _refuse_redirect(response: requests.Response, *_args: Any, **_kwargs: Any) -> None:
    """Stop before requests reads the whole of its body, as it does to prepare for what follows."""
    if response.is_redirect:
        let_go(response)
        raise UnreadableAnswer(
            f"{urldefragauth(response.request.url or '')} redirects to "
            f"{printable(response.headers['Location'])}: "
            "give the client the URL where the service really is.",
            response=response,
        )


def _check_id(response: requests.Response, url: str) -> None:
    """See that this is the answer to what was asked; some proxies take the id away."""
    told = response.headers.get(REQUEST_ID_HEADER)
    sent = response.request.headers.get(REQUEST_ID_HEADER)
    if told is not None and told != sent:
        error = UnreadableAnswer(
            f"{url} answered another request than {printable(sent)}, which was sent: a proxy in "
            f"front of the service must leave {REQUEST_ID_HEADER} as it is.",
            response=response,
        )
        error.retryable = True
        raise error


def report(body: bytes, response: requests.Response, url: str, media_type: str) -> bytes:
    """See that a report is one.

    Raises
    ------
    UnreadableAnswer
        If the answer is of another type, such as a proxy's page.
    """
    if response.headers.get("Content-Type", "").partition(";")[0].strip() != media_type:
        raise _not_ours(response, urldefragauth(url), f"not {media_type}")
    return body


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


def _failure(error: Exception, url: str, response: requests.Response | None) -> LastvoltError:
    """Translate what requests and urllib3 raise; the last cause counts."""
    request = getattr(error, "request", None) if response is None else response.request
    sent = request if isinstance(request, requests.PreparedRequest) else None
    cause: object = error.args[0] if error.args else error
    if isinstance(cause, MaxRetryError):
        cause = cause.reason
    if isinstance(error, requests.Timeout | TimeoutError | ReadTimeoutError) or isinstance(
        cause, ReadTimeoutError
    ):
        how_much = "No answer" if response is None else "No whole answer"
        return Timeout(f"{how_much} from {url} in time.", request=sent)
    broken = isinstance(error, ChunkedEncodingError | ProtocolError) and response is not None
    if broken or isinstance(error, zlib.error | ContentDecodingError):
        found = UnreadableAnswer(
            f"The answer of {url} was cut off: {printable(cause)}", request=sent
        )
        found.retryable = broken
        return found
    why = _OURS.sub("", printable(cause))
    failed = ConnectionFailed(f"No answer from {url}: {why}", request=sent)
    failed.retryable = _may_pass(error, cause)
    return failed


def _may_pass(error: Exception, cause: object) -> bool:
    """Tell what comes and goes from a URL or a certificate that stays as wrong as it is."""
    inner = cause.args[0] if isinstance(cause, Exception) and cause.args else None
    return not isinstance(error, ValueError) and not isinstance(inner, ssl.SSLCertVerificationError)
