"""Errors as problem details (RFC 9457): one payload, and the list of all its types."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from http import HTTPStatus
from itertools import islice
from typing import Any
from urllib.parse import quote

from flask import Response, current_app, request
from marshmallow import ValidationError
from werkzeug.exceptions import HTTPException, InternalServerError

from lastvolt_service.api.answers import to_json
from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.schemas.near import MOST_TOLD, most_like

MEDIA_TYPE = "application/problem+json"
MAX_ERRORS = MOST_TOLD
MAX_INSTANCE = 200
# Says the same as `retryable`, to clients that look no further than the head.
RETRY_HEADER = "Lastvolt-Retry"


@dataclass(frozen=True, slots=True)
class ProblemType:
    """One type of problem; its ``type`` is the path ``/problems/CODE``.

    Attributes
    ----------
    code, title : str
        What programs and people know it by.
    status : int
        HTTP status.
    meaning : str
        What the caller can do.
    retryable : bool
        Whether the very same request may succeed when it is sent again. An answer is a function of
        its request, so what was refused for what it says is refused again, and what took too long
        takes too long again.
    """

    code: str
    status: int
    title: str
    meaning: str
    retryable: bool = False


PROBLEMS = {
    problem.code: problem
    for problem in (
        ProblemType(
            "not-json",
            400,
            "The body is not strict JSON",
            "Send one JSON value in UTF-8: no duplicate keys, no NaN, no Infinity.",
        ),
        ProblemType(
            "bad-request", 400, "The request cannot be read", "Send a well-formed request."
        ),
        ProblemType(
            "no-key",
            401,
            "A key is needed",
            "Send Authorization: Bearer and a key that this service knows.",
        ),
        ProblemType(
            "forbidden",
            403,
            "This key may not ask here",
            "Ask whoever runs the service for a key that covers this path.",
        ),
        ProblemType(
            "not-found", 404, "There is nothing at this path", "GET /openapi.json lists all paths."
        ),
        ProblemType(
            "method-not-allowed",
            405,
            "This path does not take this method",
            "The Allow header lists the methods that it takes.",
        ),
        ProblemType(
            "request-timeout",
            408,
            "The request did not arrive in time",
            "Send the whole request at once; it is safe to send it again.",
            retryable=True,
        ),
        ProblemType(
            "too-large", 413, "The body is too large", "Split the request into smaller ones."
        ),
        ProblemType(
            "link-too-long",
            414,
            "The request in the link is too long",
            "POST the request to the same path.",
        ),
        ProblemType(
            "unsupported-media-type",
            415,
            "The body has the wrong media type",
            "Send uncompressed application/json.",
        ),
        ProblemType(
            "invalid-request",
            422,
            "The request does not fit its schema",
            "Each of `errors` points at a field and says what it must be.",
        ),
        ProblemType(
            "unknown-size", 422, "Unknown conductor size", "GET /v1/conductors lists the sizes."
        ),
        ProblemType(
            "not-covered",
            422,
            "Not covered by the published tables",
            "No publication gives a value for this combination; choose another.",
        ),
        ProblemType(
            "no-operating-point",
            422,
            "No operating point exists",
            "The circuit as described cannot feed its load; the detail says why.",
        ),
        ProblemType(
            "network-fault",
            422,
            "The network has no solution",
            "Its values lie too far apart; give very small resistances as 0.",
        ),
        ProblemType(
            "floating-part",
            422,
            "Part of the network floats",
            "Join the named nodes to the rest of the circuit, or leave them out.",
        ),
        ProblemType(
            "source-short",
            422,
            "A source is shorted",
            "Give the named parts their resistance, or take out the short.",
        ),
        ProblemType(
            "undetermined-current",
            422,
            "The division of the current is not determined",
            "Give one of the parallel parts between the named nodes a resistance.",
        ),
        ProblemType(
            "impossible-load",
            422,
            "No operating point exists",
            "The network cannot feed the load between the named nodes.",
        ),
        ProblemType(
            "no-steady-temperature",
            422,
            "A wire reaches no steady temperature",
            "The wire heats up without end: take a larger size or less current.",
        ),
        ProblemType(
            "conflicting-fields",
            422,
            "Fields contradict each other",
            "Each field is in range, but together they make no sense.",
        ),
        ProblemType(
            "out-of-range",
            422,
            "The result is out of the range of numbers",
            "The inputs are too extreme for the arithmetic.",
        ),
        # Not 503, which proxies and clients send again by themselves: the service is there, and the
        # same work would take as long again, when there is too much of it already.
        ProblemType(
            "deadline-exceeded",
            422,
            "The computation took too long",
            "Split the request into smaller ones: fewer cases, parts, intervals or rows.",
        ),
        ProblemType(
            "rate-limited",
            429,
            "Too many requests",
            "Wait as long as Retry-After says; a batch asks many rows in one request.",
            retryable=True,
        ),
        ProblemType(
            "no-pictures",
            501,
            "This service makes no such picture",
            "Ask for .svg, or whoever runs the service to install what is missing.",
        ),
        ProblemType(
            "unavailable",
            503,
            "The service cannot take this now",
            "Try again, as late as Retry-After says.",
            retryable=True,
        ),
        ProblemType("server-fault", 500, "The service failed", "This is our fault; report it."),
    )
}
_BY_STATUS = {
    404: "not-found",
    405: "method-not-allowed",
    413: "too-large",
    415: "unsupported-media-type",
    429: "rate-limited",
    500: "server-fault",
    503: "unavailable",
}


class Refused(Exception):
    """A request that goes no further.

    Parameters
    ----------
    code : str
        One of `PROBLEMS`.
    detail : str
        One plain sentence for the caller.
    errors : list of dict
        ``pointer`` and ``detail`` of each field at fault.
    headers : mapping of str to str
        Of the answer, such as Retry-After.
    """

    def __init__(
        self,
        code: str,
        detail: str,
        errors: list[dict[str, str]] | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(detail)
        self.problem = PROBLEMS[code]
        self.detail = detail
        self.errors = errors or []
        self.headers = headers or {}


def pointer(path: Path) -> str:
    """Write a path as a JSON Pointer in a URI fragment (RFC 6901, section 6).

    Returns
    -------
    str
        For example ``"#/segments/2/length_m"``.
    """
    parts = (str(part)[:80].replace("~", "~0").replace("/", "~1") for part in path)
    return "#" + "".join(
        "/" + quote(part, safe="~!$&'()*+,;=:@", errors="replace") for part in parts
    )


def invalid(error: ValidationError) -> Refused:
    """Turn what marshmallow says into a refusal that points at each field.

    Parameters
    ----------
    error : ValidationError
        With messages nested as the request is.

    Returns
    -------
    Refused
        With at most `MAX_ERRORS` errors.
    """
    # Pointers of the first only, and the others counted: there may be a million of them.
    told = islice(_flatten(error.messages), MAX_ERRORS)
    found = [{"pointer": pointer(path), "detail": text} for path, text in told]
    first, total = found[0], _count(error.messages)
    more = f" ({total - 1} more)" if total > 1 else ""
    cut = f" Only the first {MAX_ERRORS} are listed." if total > MAX_ERRORS else ""
    return Refused("invalid-request", f"{first['pointer']}: {first['detail']}{more}{cut}", found)


def _flatten(messages: Any, path: Path = ()) -> Iterator[tuple[Path, str]]:
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from _flatten(inner, path if key == "_schema" else (*path, key))
    elif isinstance(messages, list):
        for inner in messages:
            yield from _flatten(inner, path)
    else:
        yield path, str(messages)


def _count(messages: Any) -> int:
    if isinstance(messages, dict):
        return sum(map(_count, messages.values()))
    return sum(map(_count, messages)) if isinstance(messages, list) else 1


def answer_refused(refused: Refused) -> Response:
    """Answer a refusal.

    Returns
    -------
    flask.Response
        Problem details.
    """
    response = _respond(refused.problem, refused.detail, refused.errors)
    response.headers.update(refused.headers)
    return response


def answer_calculation_error(error: CalculationError) -> Response:
    """Answer a request that fits its schema and has no answer.

    Parameters
    ----------
    error : CalculationError
        Why; its class is the type of the problem.

    Returns
    -------
    flask.Response
        Problem details with status 422.
    """
    code = re.sub(r"(?<=[a-z])(?=[A-Z])", "-", type(error).__name__).lower()
    return _respond(
        PROBLEMS[code], error.detail, [{"pointer": pointer(error.path), "detail": error.detail}]
    )


def answer_http_error(error: HTTPException) -> Response:
    """Answer an error that the framework found, keeping its headers, such as Allow.

    Returns
    -------
    flask.Response
        Problem details.
    """
    status = error.code or 500
    problem = PROBLEMS[_BY_STATUS.get(status, "bad-request" if status < 500 else "server-fault")]
    detail = problem.meaning
    if status == HTTPStatus.NOT_FOUND and (like := _path_like(request.path[:MAX_INSTANCE])):
        detail = f"One like it is {like}. {detail}"
    response = _respond(problem, detail, [], status)
    for name, value in error.get_response().headers.items():
        if name in {"Allow", "Retry-After", "WWW-Authenticate"}:
            response.headers[name] = value
    return response


def _path_like(path: str) -> str | None:
    """The path of ours that may have been meant; of a report, a form that it has."""
    ours = [rule.rule for rule in current_app.url_map.iter_rules() if not rule.arguments]
    return most_like(path.lower().replace("_", "-"), ours)


def answer_fault(error: Exception) -> Response:
    """Answer our own mistake without telling its inside; the log has it.

    Returns
    -------
    flask.Response
        Problem details with status 500.
    """
    current_app.logger.error("fault in %s %s", request.method, request.path, exc_info=error)
    return answer_http_error(InternalServerError())


def _respond(
    problem: ProblemType, detail: str, errors: list[dict[str, str]], status: int | None = None
) -> Response:
    status = status or problem.status
    payload: dict[str, Any] = {
        "type": f"/problems/{problem.code}",
        "title": problem.title,
        "status": status,
        "detail": detail,
        "instance": quote(request.path[:MAX_INSTANCE], errors="replace"),
        "retryable": problem.retryable,
    }
    if errors:
        payload["errors"] = errors
    response = Response(to_json(payload), status=status, content_type=MEDIA_TYPE)
    response.headers[RETRY_HEADER] = "yes" if problem.retryable else "no"
    return response
