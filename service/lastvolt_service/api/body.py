"""Read JSON from strangers: what is ambiguous or outside of JSON is refused, not repaired."""

import json
import math
from collections import Counter
from socket import SHUT_RD
from typing import Any, NoReturn

from flask import Request
from werkzeug.exceptions import ClientDisconnected, HTTPException

from lastvolt_service.api.deadline import DeadlineExceeded
from lastvolt_service.api.problems import Refused

MAX_DEPTH = 32
MAX_DIGITS = 30


def read_json(request: Request) -> Any:
    """Read the body of a request as JSON.

    Returns
    -------
    object
        What the JSON text says.

    Raises
    ------
    Refused
        As `read_bytes` and `parse`.
    """
    return parse(read_bytes(request))


def read_bytes(request: Request, mimetype: str = "application/json") -> bytes:
    """Read the body of a request.

    Parameters
    ----------
    request : flask.Request
        The request; its body is read whole, up to the configured limit.
    mimetype : str
        The one media type that is taken.

    Raises
    ------
    Refused
        415 for another media type or a compressed body, 413 for too large a body, 408 for one
        that does not arrive.
    """
    if request.content_type != mimetype and request.mimetype != mimetype:
        raise Refused("unsupported-media-type", f"Send the body as Content-Type: {mimetype}.")
    if request.environ.get("HTTP_CONTENT_ENCODING", "identity").lower() != "identity":
        raise Refused("unsupported-media-type", "Send the body uncompressed.")
    data = _receive(request)
    limit = request.max_content_length
    # A chunked body announces no length and is cut at the limit: a full one may be a torn one.
    if request.content_length is None and limit is not None and len(data) >= limit:
        raise Refused("too-large", f"The body may have at most {limit} bytes.")
    return data


def _receive(request: Request) -> bytes:
    try:
        return request.get_data()
    except DeadlineExceeded as error:  # it came, but byte by byte
        raise _late(request) from error
    except ClientDisconnected as error:
        if isinstance(error.__context__, TimeoutError):  # nothing came for too long
            raise _late(request) from error
        raise
    except HTTPException:
        raise
    except Exception as error:  # the server's own: a chunk that is none
        raise Refused("bad-request", "The body cannot be read.") from error


def _late(request: Request) -> Refused:
    connection = request.environ.get("gunicorn.socket")
    if connection is not None:  # gunicorn would wait on, to tell the rest from the next request
        connection.shutdown(SHUT_RD)
    return Refused("request-timeout", "The body did not arrive in time.")


def parse(data: bytes) -> Any:
    """Parse strict JSON.

    Returns
    -------
    object
        What the text says.

    Raises
    ------
    Refused
        400 for bad UTF-8, bad syntax, duplicate keys, NaN and Infinity, numbers too large for a
        double, integers of more than `MAX_DIGITS` digits, nesting deeper than `MAX_DEPTH`, and
        lone surrogates.
    """
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _refuse("The body is not UTF-8 text.") from error
    # Only text with that many brackets can be too deep, and only escapes make lone surrogates:
    # ordinary requests skip both walks.
    if text.count("[") + text.count("{") > MAX_DEPTH and _depth(text) > MAX_DEPTH:
        raise _refuse(f"The body is nested deeper than {MAX_DEPTH} levels.")
    try:
        value = _DECODER.decode(text)
    except json.JSONDecodeError as error:
        raise _refuse(
            f"The body is not JSON: {error.msg} at line {error.lineno}, column {error.colno}."
        ) from error
    if "\\ud" in text.lower():
        _refuse_surrogates(value)
    return value


def _refuse(detail: str) -> Refused:
    return Refused("not-json", detail)


def _depth(text: str) -> int:
    depth = deepest = 0
    in_string = escaped = False
    for character in text:
        if in_string:
            in_string = escaped or character != '"'
            escaped = character == "\\" and not escaped
        elif character == '"':
            in_string = True
        elif character in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif character in "]}":
            depth -= 1
    return deepest


def _refuse_surrogates(value: Any) -> None:
    try:
        json.dumps(value, ensure_ascii=False).encode("utf-8")
    except UnicodeEncodeError as error:
        raise _refuse("A text holds half of a surrogate pair.") from error


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        counts = Counter(name for name, _ in pairs)
        twice = next(name for name, count in counts.items() if count > 1)
        raise _refuse(f"The key {twice[:80]!r} stands twice in one object.")
    return found


def _integer(text: str) -> int:
    if len(text) > MAX_DIGITS:
        raise _refuse(f"An integer has more than {MAX_DIGITS} digits.")
    return int(text)


def _float(text: str) -> float:
    number = float(text)
    if math.isinf(number):
        raise _refuse(f"The number {text[:40]} is too large.")
    return number


def _constant(text: str) -> NoReturn:
    raise _refuse(f"{text} is not JSON.")


_DECODER = json.JSONDecoder(
    object_pairs_hook=_object, parse_int=_integer, parse_float=_float, parse_constant=_constant
)
