"""A whole request packed into a link, so that nobody needs to store it."""

import base64
import zlib
from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from lastvolt.encoding import encoded
from lastvolt.errors import LinkTooLong

MAX_LINK = 3800  # characters of the packed request that the service takes


def pack(body: Mapping[str, Any]) -> str:
    """Pack a request: JSON, compressed by zlib, in base64url.

    Returns
    -------
    str
        Always the same for the same body.

    Raises
    ------
    InvalidRequest
        If a value has no form in JSON.
    LinkTooLong
        If it has more than `MAX_LINK` characters.
    """
    packed = base64.urlsafe_b64encode(zlib.compress(encoded(body), 9)).rstrip(b"=").decode()
    if len(packed) > MAX_LINK:
        raise LinkTooLong(
            f"The request packs into {len(packed)} characters and a link may have {MAX_LINK}: "
            "leave out cases or parts, or post the report itself."
        )
    return packed


def link(url: str, body: Mapping[str, Any], options: Mapping[str, str]) -> str:
    """Make a link that carries a request."""
    return f"{url}?{urlencode({**options, 'request': pack(body)})}"
