"""Requests as lines of a batch."""

from collections.abc import Mapping
from typing import Any

from lastvolt.encoding import encoded
from lastvolt.errors import InvalidRequest, invalid_field

# As the service takes in a request for one: a larger one could have its whole piece refused.
MAX_LINE_BYTES = 1 << 20


def as_line(request: Mapping[str, Any] | bytes) -> bytes | dict[str, Any]:
    """Write a request as a line of a batch, or say as the service would why it cannot be sent.

    Returns
    -------
    bytes or dict
        The line; or an answer to it, with ``status`` and ``problem``.
    """
    try:
        if not isinstance(request, bytes):
            line = encoded(request)
        elif not (line := request.replace(b"\n", b" ").strip()):
            raise invalid_field("#", "This text is empty.")
        if len(line) > MAX_LINE_BYTES:
            raise invalid_field("#", f"A line may have at most {MAX_LINE_BYTES} bytes.")
    except InvalidRequest as error:
        fields = [{"pointer": each.pointer, "detail": each.detail} for each in error.field_errors]
        first = fields[0]
        problem = {
            "type": "/problems/invalid-request",
            "title": error.title,
            "status": 422,
            "detail": f"{first['pointer']}: {first['detail']}",
            "errors": fields,
        }
        return {"status": 422, "problem": problem}
    return line
