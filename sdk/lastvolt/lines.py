"""Circuits as lines of a batch."""

from collections.abc import Mapping
from typing import Any

from lastvolt.encoding import encoded
from lastvolt.errors import InvalidRequest, invalid_field

# As the service takes in a request for one: a larger one could have its whole piece refused.
MAX_CIRCUIT_BYTES = 1 << 20


def circuit_line(circuit: Mapping[str, Any] | bytes) -> bytes | dict[str, Any]:
    """Write a circuit as a line of a batch, or say as the service would why it cannot be sent.

    Returns
    -------
    bytes or dict
        The line; or an answer to it, with ``status`` and ``problem``.
    """
    try:
        if not isinstance(circuit, bytes):
            line = encoded(circuit)
        elif not (line := circuit.replace(b"\n", b" ").strip()):
            raise invalid_field("#", "This text is empty.")
        if len(line) > MAX_CIRCUIT_BYTES:
            raise invalid_field("#", f"A circuit may have at most {MAX_CIRCUIT_BYTES} bytes.")
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
