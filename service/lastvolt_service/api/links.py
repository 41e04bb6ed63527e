"""A whole request in one query parameter, for links that need no storage."""

import base64
import binascii
import re
import zlib
from typing import Any

from marshmallow import ValidationError

from lastvolt_service.api.body import parse
from lastvolt_service.api.problems import Refused, invalid
from lastvolt_service.operations.decision.quick_link import MAX_LINK

PARAMETER = "request"
MAX_UNPACKED = 64 * 1024
PATTERN = r"^[A-Za-z0-9_-]+={0,2}$"

_WRITTEN = re.compile(r"[A-Za-z0-9_-]+={0,2}", re.ASCII)


def unpack(text: str) -> Any:
    """Read a request out of a link.

    Parameters
    ----------
    text : str
        Its JSON text in UTF-8, as it is or compressed by zlib (RFC 1950), in base64url (RFC 4648,
        section 5).

    Returns
    -------
    object
        As JSON says it.

    Raises
    ------
    Refused
        414 for a text that is too long, 413 for one that unpacks to too much, 422 for one that is
        not packed so, 400 for one that holds no strict JSON.
    """
    if len(text) > MAX_LINK:
        raise Refused(
            "link-too-long",
            f"The request in the link has {len(text)} characters and may have {MAX_LINK}: "
            "POST it instead.",
        )
    if _WRITTEN.fullmatch(text) is None:
        raise _garbled()
    try:
        packed = base64.urlsafe_b64decode(text.rstrip("=") + "=" * (-len(text.rstrip("=")) % 4))
    except binascii.Error as error:
        raise _garbled() from error
    return parse(packed if packed[:1] == b"{" else _inflate(packed))


def _inflate(packed: bytes) -> bytes:
    stream = zlib.decompressobj()
    try:
        # Never more than one byte beyond the limit, however much it would unpack to.
        plain = stream.decompress(packed, MAX_UNPACKED + 1)
    except zlib.error as error:
        raise _garbled() from error
    if len(plain) > MAX_UNPACKED:
        raise Refused(
            "too-large", f"The request in the link unpacks to more than {MAX_UNPACKED} bytes."
        )
    if not stream.eof or stream.unused_data:
        raise _garbled()
    return plain


def _garbled() -> Refused:
    return invalid(
        ValidationError(
            {PARAMETER: ["This must be JSON, as it is or compressed by zlib, in base64url."]}
        )
    )
