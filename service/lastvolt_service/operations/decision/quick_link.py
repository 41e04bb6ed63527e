"""A request packed into one query parameter, as links carry it."""

import base64
import json
import zlib
from typing import Any

from lastvolt_service.fields import Fields, known
from lastvolt_service.units import Interval

# With the longest path this stays within the request line of 4094 bytes that the server takes, and
# within what forums and browsers keep of a link.
MAX_LINK = 3800


def link(path: str, asked: Fields) -> str | None:
    """Write the path with the request; None where it is too long for a link."""
    text = json.dumps(shortest(asked), ensure_ascii=False, separators=(",", ":"))
    packed = base64.urlsafe_b64encode(zlib.compress(text.encode(), 9)).decode().rstrip("=")
    return f"{path}?request={packed}" if len(packed) <= MAX_LINK else None


def shortest(value: Any) -> Any:
    """A request as a caller would send it, without what is so by default."""
    if isinstance(value, Fields):
        return {
            key: shortest(each)
            for key, told in value.described.items()
            if known(each := getattr(value, key)) and each != told.default
        }
    if isinstance(value, Interval):
        return value._asdict()
    if isinstance(value, list | tuple):
        return [shortest(each) for each in value]
    if isinstance(value, dict):
        return {key: shortest(each) for key, each in value.items()}
    return value
