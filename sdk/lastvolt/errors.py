"""What can go wrong with a call.

    LastvoltError                 base: catch this one to catch all
    +-- WrongArgument             an argument that makes no sense; a ValueError, too
    +-- NoService                 neither a usable URL nor an installed service
    +-- LinkTooLong               a request that does not fit into a link
    +-- ConnectionFailed          no answer: refused, reset, unknown host, TLS
    |   +-- Timeout               no answer, or not the whole of it, in time
    +-- UnreadableAnswer          an answer that is not ours: HTML, cut off, too large, a redirect
    +-- ErrorAnswer               the server answered with an error status
        +-- RequestRefused        4xx: the same request would be refused again
        |   +-- InvalidRequest    422: a field is wrong, or the circuit has no solution
        |   +-- RateLimited       429: later, perhaps
        +-- ServerFault           5xx: not the caller's doing
            +-- ServerUnavailable 502, 503, 504: later, perhaps

Every error carries the request and the response where there are any. The request id leads the text
of whatever was sent, so that a posted message can be found in the server's log. What a server says
is shown in short and without control characters.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any
from urllib.parse import unquote

import requests

REQUEST_ID_HEADER = "X-Request-ID"
RETRY_HEADER = "Lastvolt-Retry"  # "yes" or "no", on every problem that the service answers

_EXCERPT = 80  # characters of a foreign answer worth quoting
_LONGEST = 1000  # characters of any text of a server; its own are shorter
_PASSWORD = re.compile(r"//[^/@\s]*@")
_MOST_FIELDS = 50  # as many as the service lists


def printable(text: object) -> str:
    """Show what came from outside in one line that does nothing to a terminal or a log.

    Parameters
    ----------
    text : object
        Of a server, of a library below, or a URL.

    Returns
    -------
    str
        Blanks for white space, escapes for control and formatting characters; cut where it is
        long, and without the password of a URL.
    """
    shown = _PASSWORD.sub("//", str(text))
    cut = shown[:_LONGEST]
    if not cut.isprintable():
        cut = "".join(c if c.isprintable() else " " if c.isspace() else ascii(c)[1:-1] for c in cut)
    return cut if len(shown) <= _LONGEST else f"{cut}…"


class LastvoltError(Exception):
    """Base of all errors of this package.

    Parameters
    ----------
    message : str
        One plain sentence.
    request : requests.PreparedRequest, optional
        What was sent; by default that of the response.
    response : requests.Response, optional
        What came back.

    Attributes
    ----------
    request_id : str or None
        By which the server's log names the request.
    retryable : bool
        Whether the same call may succeed when it is made again, as far as the server or the kind
        of failure tells. The client has then made its own attempts already.
    """

    retryable = False

    def __init__(
        self,
        message: str,
        *,
        request: requests.PreparedRequest | None = None,
        response: requests.Response | None = None,
    ) -> None:
        self.response = response
        self.request = response.request if request is None and response is not None else request
        sent = None if self.request is None else self.request.headers.get(REQUEST_ID_HEADER)
        told = None if response is None else response.headers.get(REQUEST_ID_HEADER)
        self.request_id = printable(sent or told) if sent or told else None
        super().__init__(f"Request {self.request_id}: {message}" if self.request_id else message)


class WrongArgument(LastvoltError, ValueError):
    """An argument that makes no sense, such as a time-out below zero; nothing was sent."""


class NoService(LastvoltError):
    """Neither a usable URL nor an installed service."""


class LinkTooLong(LastvoltError):
    """A request that does not fit into a link."""


class ConnectionFailed(LastvoltError):
    """No answer came: refused, reset, unknown host, TLS."""

    retryable = True


class Timeout(ConnectionFailed):
    """No answer came, or not the whole of it, within the time of an attempt or of the call."""


class UnreadableAnswer(LastvoltError):
    """An answer that is not one of this service, or not to this request.

    HTML, cut off, larger than the client takes, packed otherwise than asked, a redirect, a missing
    field, the id of another request.
    """


@dataclass(frozen=True, slots=True)
class FieldError:
    """One thing wrong with one field of a request.

    Attributes
    ----------
    pointer : str
        JSON Pointer to the field, as the server gave it: ``#/segments/2/length_m``.
    detail : str
        What is wrong, in one sentence.
    """

    pointer: str
    detail: str

    @property
    def argument(self) -> str:
        """The field as Python writes it: ``segments[2].length_m``; empty for the whole request."""
        keys = unquote(self.pointer).removeprefix("#").split("/")[1:]
        unescaped = (key.replace("~1", "/").replace("~0", "~") for key in keys)
        return "".join(f"[{key}]" if key.isdecimal() else f".{key}" for key in unescaped).lstrip(
            "."
        )

    def __str__(self) -> str:
        """Write it for people."""
        return f"{self.argument}: {self.detail}" if self.argument else self.detail


class ErrorAnswer(LastvoltError):
    """The server answered with an error status.

    Attributes
    ----------
    status : int or None
        HTTP status; None where the request was found wrong before it was sent.
    type : str
        URI that names the kind of problem; ``about:blank`` where the server names none.
    title : str
        The kind of problem in words.
    detail : str
        What is wrong this time.
    field_errors : tuple of FieldError
        By field, where fields are to blame.
    retry_after_s : float or None
        How long the server asks to wait. [s]
    """

    status: int | None = None
    type: str = "about:blank"
    title: str = ""
    detail: str = ""
    field_errors: tuple[FieldError, ...] = ()
    retry_after_s: float | None = None

    @property
    def code(self) -> str:
        """Last part of `type`, such as ``no-operating-point``, for programs to tell them apart."""
        return self.type.rpartition("/")[2]


class RequestRefused(ErrorAnswer):
    """4xx: the same request would be refused again, unless `retryable` says otherwise."""


class InvalidRequest(RequestRefused):
    """422: a field is wrong, or the circuit has no solution."""


class RateLimited(RequestRefused):
    """429: too many requests; `retry_after_s` tells when to come back, if the server does."""


class ServerFault(ErrorAnswer):
    """5xx: the fault is the server's."""


class ServerUnavailable(ServerFault):
    """502, 503, 504: the service is down, starting or overloaded, or its proxy says so."""


_WORTH_REPEATING = frozenset(
    {
        HTTPStatus.TOO_MANY_REQUESTS,
        HTTPStatus.BAD_GATEWAY,
        HTTPStatus.SERVICE_UNAVAILABLE,
        HTTPStatus.GATEWAY_TIMEOUT,
    }
)
_BY_STATUS: Mapping[int, type[ErrorAnswer]] = {
    HTTPStatus.UNPROCESSABLE_ENTITY: InvalidRequest,
    HTTPStatus.TOO_MANY_REQUESTS: RateLimited,
    HTTPStatus.BAD_GATEWAY: ServerUnavailable,
    HTTPStatus.SERVICE_UNAVAILABLE: ServerUnavailable,
    HTTPStatus.GATEWAY_TIMEOUT: ServerUnavailable,
}


def error_answer(
    response: requests.Response, problem: Mapping[str, Any] | None, retry_after_s: float | None
) -> ErrorAnswer:
    """Make the error that an answer of status 400 or more stands for.

    Parameters
    ----------
    response : requests.Response
        The answer.
    problem : mapping or None
        Its problem details (RFC 9457); None where it carries none, as from a proxy.
    retry_after_s : float or None
        What its ``Retry-After`` says. [s]

    Returns
    -------
    ErrorAnswer
        Of the class that fits the status.
    """
    status = response.status_code
    given = problem or {}
    title = printable(given.get("title") or response.reason or "Error")
    detail = (
        printable(given.get("detail") or "") if problem else f"The answer is {quoted(response)}."
    )
    listed = given.get("errors")
    field_errors = tuple(
        FieldError(printable(item.get("pointer", "")), printable(item.get("detail", "")))
        for item in (listed[:_MOST_FIELDS] if isinstance(listed, list) else ())
        if isinstance(item, dict)
    )
    fault = RequestRefused if status < HTTPStatus.INTERNAL_SERVER_ERROR else ServerFault
    error = _BY_STATUS.get(status, fault)(
        _text(f"{status} {title}", detail, field_errors), response=response
    )
    error.status = status
    error.type = printable(given.get("type") or ErrorAnswer.type)
    error.title = title
    error.detail = detail
    error.field_errors = field_errors
    error.retry_after_s = retry_after_s
    error.retryable = may_be_repeated(response)
    return error


def may_be_repeated(response: requests.Response) -> bool:
    """Tell whether asking again may help: the server knows, and a proxy's status lets it guess.

    Parameters
    ----------
    response : requests.Response
        Of status 400 or more.
    """
    said = response.headers.get(RETRY_HEADER, "").strip().lower()
    return said == "yes" if said in {"yes", "no"} else response.status_code in _WORTH_REPEATING


def invalid_field(pointer: str, detail: str) -> InvalidRequest:
    """Make the error for a value that cannot be sent at all.

    Parameters
    ----------
    pointer : str
        JSON Pointer to the value.
    detail : str
        What is wrong with it.
    """
    field_errors = (FieldError(pointer, detail),)
    title = "The request cannot be sent"
    error = InvalidRequest(_text(title, "", field_errors))
    error.title = title
    error.field_errors = field_errors
    return error


def quoted(response: requests.Response) -> str:
    """Describe an answer that is not JSON in a few words.

    Parameters
    ----------
    response : requests.Response
        Any answer, for example a proxy's page.

    Returns
    -------
    str
        Media type and beginning of the text, tags taken out.
    """
    kind = printable(response.headers.get("Content-Type", "no media type").partition(";")[0])
    text = re.sub(r"<[^>]*>", " ", response.content[:2000].decode("utf-8", "replace"))
    words = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if not words:
        return f"empty ({kind})"
    return f"{kind}: {words[:_EXCERPT]}{'…' if len(words) > _EXCERPT else ''}"


def _text(headline: str, detail: str, field_errors: tuple[FieldError, ...]) -> str:
    """Put the sentences together; a detail that only repeats those of the fields is left out."""
    sentences = [str(error) for error in field_errors]
    if detail and not any(error.detail in detail for error in field_errors):
        sentences.insert(0, detail)
    if len(sentences) == 1:
        return f"{headline}: {sentences[0]}"
    return "\n  ".join([headline, *sentences])
