"""Files of requests, one a line."""

import json
from codecs import BOM_UTF8
from collections.abc import Iterator, Mapping
from typing import IO, Any

from lastvolt.cli.rows import ANSWERED, REFUSED, VERDICTS
from lastvolt.lines import MAX_LINE_BYTES


def requests(source: IO[bytes], skip: int) -> Iterator[Mapping[str, Any] | bytes]:
    """Read the requests of a file; blank lines are none.

    Yields
    ------
    mapping or bytes
        As it stands there where it is no request: the service says what is wrong with it.
    """
    if source.read(len(BOM_UTF8)) != BOM_UTF8:
        source.seek(0)
    while line := _line(source):
        if not line.strip():
            continue
        if skip:
            skip -= 1
        else:
            yield _request(line)


def _line(source: IO[bytes]) -> bytes:
    """Read a line, and no more of it than shows that it is too long."""
    line = rest = source.readline(MAX_LINE_BYTES + 1)
    while rest and not rest.endswith(b"\n"):
        rest = source.readline(MAX_LINE_BYTES)
    return line


def _request(line: bytes) -> Mapping[str, Any] | bytes:
    try:
        found = json.loads(line.decode(), object_pairs_hook=_each_key_once)
    except (ValueError, RecursionError):
        return line
    return found if isinstance(found, dict) else line


def _each_key_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("A key stands twice.")
    return found


def written(row: int, answer: Mapping[str, Any]) -> bytes:
    """Write an answer as a line."""
    return json.dumps({"row": row, **answer}, ensure_ascii=False).encode() + b"\n"


def worst(answer: Mapping[str, Any]) -> str:
    """Tell the worst verdict of an answer."""
    if "answer" not in answer:
        return REFUSED
    verdicts = {check["verdict"] for check in answer["answer"].get("checks", ())}
    return next((verdict for verdict in VERDICTS if verdict in verdicts), ANSWERED)
