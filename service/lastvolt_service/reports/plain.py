"""Texts from strangers, made fit for a post: they can neither ping, nor link, nor draw."""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any

from lastvolt_service.fields import Fields

LONGEST_NAME = 40
# Of fewer letters both ends say nothing.
BOTH_ENDS = 12
LONGEST_FACT = 400
# The first line ends in what was not judged, a step in how it is made safe: no usual one is cut.
LONGEST_LINE = 1000
ZERO_WIDTH_SPACE = "\u200b"

# Controls, formats (they turn the direction of writing or hide), surrogates, private use and what
# is no character.
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
# What starts a mention, a reference or a link. A backslash does not stop every forum: many look
# for mentions in the finished page, so that the word itself must be broken.
_CATCHES = re.compile(r"(?<=[@#])(?=\S)|(?<=:)(?=\S)|(?<=[^\W\d_])\.(?=[^\W\d_])|(?<=/)(?=/)")
_MARKUP = re.compile(r"[\\`*_\[\]<>|@#~&$]|^[-+=]")
_NUMBERED = re.compile(r"^(\d+)([.)])")  # would start a list


def tidy(text: str) -> str:
    """Take out what cannot be seen, and put the rest on one line."""
    spaced = (" " if character.isspace() else character for character in text)
    seen = (item for item in spaced if item == " " or unicodedata.category(item) not in _UNSEEN)
    return " ".join("".join(seen).split())


def disarm(text: str) -> str:
    """Break mentions, references, links and emoji codes, without a visible change.

    Returns
    -------
    str
        With a zero-width space after each character that starts one.
    """
    return _CATCHES.sub(lambda found: found[0] + ZERO_WIDTH_SPACE, text)


def escaped(text: str) -> str:
    """Write a line so that Markdown shows it as it is."""
    return _NUMBERED.sub(r"\1\\\2", _MARKUP.sub(r"\\\g<0>", text))


def cut(text: str, longest: int = LONGEST_NAME) -> str:
    """Shorten a name in its middle: those of wires often differ at their ends only.

    Returns
    -------
    str
        With an ellipsis where something is missing; that of a few letters has its beginning.
    """
    if len(text) <= longest:
        return text
    tail = (longest - 1) // 2 if longest >= BOTH_ENDS else 0
    head = longest - 1 - tail
    return f"{text[:head].rstrip()}…{text[len(text) - tail :].lstrip()}"


def shorten(text: str, longest: int) -> str:
    """Shorten a sentence at its end, with an ellipsis: read from its begin, it keeps its sense."""
    return text if len(text) <= longest else f"{text[: longest - 1].rstrip()}…"


def long_names(request: object) -> Iterator[str]:
    """Find the labels of a request that are too long for a sentence.

    Yields
    ------
    str
    """
    if isinstance(request, str):
        if len(request) > LONGEST_NAME:
            yield request
    elif isinstance(request, Fields):
        yield from long_names(vars(request))
    elif isinstance(request, Mapping):
        for key, value in request.items():
            yield from long_names(key)
            yield from long_names(value)
    elif isinstance(request, list | tuple):
        for value in request:
            yield from long_names(value)


def with_short_names(text: str, request: Any) -> str:
    """Shorten the labels of a request wherever a text has them."""
    for name in sorted(set(long_names(request)), key=len, reverse=True):
        text = text.replace(name, cut(name))
    return text
