"""Sentences of a work sheet, by code."""

from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named


def sentence(code: str, **values: float | str | bool | None) -> str:
    """Put one into words; what it says of a value that is None is left out."""
    return say(catalogue()["work-sheet"].reasons[code], Named(None, values))
