"""Where a field lives that was sent to another place of the same request."""

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import islice
from typing import Any

from marshmallow import Schema, fields

from lastvolt_service.schemas.fields import Kinded, Many, Part
from lastvolt_service.schemas.near import (
    MOST_TOLD,
    NO_SUCH_FIELD,
    as_field,
    lives_elsewhere,
    most_like,
)


def tell_where(schema: Schema, messages: dict[Any, Any]) -> None:
    """Say of unknown fields where one like them lives, in the messages of a refused request.

    Those of the request itself live in what it holds; those of what it holds live beside that, or
    in something else that it holds.

    Parameters
    ----------
    schema : Schema
        Of the request, or of an object within it.
    messages : dict
        What is wrong with it, nested as it is; of unknown fields nothing else is known yet.
    """
    below = places_below(type(schema))
    own = (name for name, told in messages.items() if told == [NO_SUCH_FIELD])
    for name in [*islice(own, MOST_TOLD)]:
        _tell(messages, name, below)
    for holder, inner in messages.items():
        beside = {name: f"{name}, beside {holder}" for name in schema.fields}
        for place, name in [*islice(_unknown(inner), MOST_TOLD)]:
            _tell(place, name, {**below, **beside})


def _tell(place: dict[Any, Any], name: Any, where: Mapping[str, str]) -> None:
    like = most_like(as_field(str(name)), where)
    if like is not None:
        place[name] = [lives_elsewhere(like, where[like])]


def _unknown(messages: Any) -> Iterator[tuple[dict[Any, Any], Any]]:
    """Unknown fields of what a request holds, each with the messages that tell of it."""
    if isinstance(messages, dict):
        for name, told in messages.items():
            if told == [NO_SUCH_FIELD]:
                yield messages, name
            else:
                yield from _unknown(told)


@cache
def places_below(schema: type[Schema]) -> Mapping[str, str]:
    """Fields of what a request holds, by name, each with its nearest place: ``parts[].name``."""
    found: dict[str, str] = {}
    level: list[tuple[str, Mapping[str, fields.Field[Any]]]] = [("", schema().fields)]
    while level:
        inner = [each for before, here in level for each in _held(before, here)]
        for before, here in inner:
            for name in here:
                found.setdefault(name, f"{before}{name}")
        level = inner
    return found


def _held(
    before: str, here: Mapping[str, fields.Field[Any]]
) -> Iterator[tuple[str, Mapping[str, fields.Field[Any]]]]:
    """Fields of the objects that some fields hold, with the way there."""
    for name, each in here.items():
        item, way = (each.inner, f"{name}[].") if isinstance(each, Many) else (each, f"{name}.")
        schemas = item.schemas.values() if isinstance(item, Kinded) else ()
        for schema in (item.schema,) if isinstance(item, Part) else schemas:
            yield f"{before}{way}", schema.fields
