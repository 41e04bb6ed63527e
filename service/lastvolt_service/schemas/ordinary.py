"""The short way to read a request in which nothing is out of the ordinary.

marshmallow walks its general way for each field of each part, which costs more than all the
arithmetic of a circuit. The readers here are made once from the same described fields. They take
what has the right types, lies within bounds and breaks no rule, and word no error: whatever they
do not take, marshmallow reads anew and decides.
"""

import contextlib
import re
from collections.abc import Callable
from functools import cache, lru_cache, singledispatch
from typing import Any

from lastvolt_service import fields as told
from lastvolt_service.errors import UnknownSize
from lastvolt_service.schemas.fields import MAX_NAME, NAME_PATTERN, bounds
from lastvolt_service.tables.sizes import spelt

Reader = Callable[[Any], Any]


class OutOfTheOrdinary(Exception):
    """Something for marshmallow to judge."""


@cache
def reader(fields: Any, makes: Any = None) -> Reader:
    """Make the reader of a class of fields.

    Parameters
    ----------
    fields : type of Fields
        What to read.
    makes : type of Fields, optional
        What it becomes, where that is another class with the same fields.
    """
    readers = {name: _reader(each, name) for name, each in fields.described.items()}
    defaults = {
        name: readers[name](each.default) if isinstance(each, told.Part) else each.default
        for name, each in fields.described.items()
        if each.default is not told.REQUIRED and each.default is not told.ABSENT
    }
    required = {n for n, each in fields.described.items() if each.default is told.REQUIRED}
    breaks_groups = _groups(fields) if fields.grouped() else None
    has_rules = fields.broken_rules is not told.Fields.broken_rules
    make = makes or fields

    def read(data: Any) -> Any:
        if type(data) is not dict or not required <= data.keys():
            raise OutOfTheOrdinary
        values = dict(defaults)
        for name, value in data.items():
            if name not in readers:
                raise OutOfTheOrdinary
            values[name] = readers[name](value)
        if breaks_groups is not None and breaks_groups(frozenset(data)):
            raise OutOfTheOrdinary
        made = make(**values)
        if has_rules and any(wrong for wrong, _, _ in made.broken_rules()):
            raise OutOfTheOrdinary
        return made

    return read


def _groups(fields: type[told.Fields]) -> Callable[[frozenset[str]], bool]:
    """Say whether a set of given fields breaks a rule of groups; each set is judged once."""

    @lru_cache(maxsize=1024)
    def broken(given: frozenset[str]) -> bool:
        has = {name: name in given for name in fields.described}
        return any(wrong for wrong, _, _ in fields.broken_groups(has))

    return broken


@singledispatch
def _reader(each: told.Field, _name: str) -> Reader:
    """Make the reader of a field."""
    raise TypeError(f"{type(each).__name__} has no reader")


@_reader.register
def _(each: told.Quantity, name: str) -> Reader:
    # Finite bounds leave out what is not a number, and infinity.
    low, high = bounds(name, each.minimum, each.maximum)

    def read(value: Any) -> float:
        kind = type(value)
        if (kind is float or kind is int) and low <= value <= high:
            return float(value)
        raise OutOfTheOrdinary  # an interval, too

    return read


@_reader.register
def _(each: told.Count, _name: str) -> Reader:
    allowed = each.choices or range(each.minimum, each.maximum + 1)

    def read(value: Any) -> int:
        if type(value) is int and value in allowed:
            return value
        raise OutOfTheOrdinary

    return read


@_reader.register
def _(_each: told.Flag, _name: str) -> Reader:
    def read(value: Any) -> bool:
        if type(value) is bool:
            return value
        raise OutOfTheOrdinary

    return read


@_reader.register
def _(each: told.Choice, _name: str) -> Reader:
    words = frozenset(each.choices)

    def read(value: Any) -> str:
        if type(value) is str and value in words:
            return value
        raise OutOfTheOrdinary

    return read


def _matching(pattern: str, longest: int) -> Reader:
    compiled = re.compile(pattern, re.ASCII)

    def read(value: Any) -> str:
        if type(value) is str and 0 < len(value) <= longest and compiled.fullmatch(value):
            return value
        raise OutOfTheOrdinary

    return read


@_reader.register
def _(_each: told.Name, _name: str) -> Reader:
    return _matching(NAME_PATTERN, MAX_NAME)


@_reader.register
def _(each: told.ByName, name: str) -> Reader:
    key, number = _matching(NAME_PATTERN, MAX_NAME), _reader(each.value, name)

    def read(value: Any) -> dict[str, Any]:
        if type(value) is not dict or len(value) > each.maximum:
            raise OutOfTheOrdinary
        return {key(one): number(other) for one, other in value.items()}

    return read


@_reader.register
def _(_each: told.Size, _name: str) -> Reader:
    def read(value: Any) -> str:
        if type(value) is str and len(value) <= MAX_NAME:
            with contextlib.suppress(UnknownSize):
                return spelt(value)
        raise OutOfTheOrdinary

    return read


@_reader.register
def _(each: told.Part, _name: str) -> Reader:
    inner: Any = each.fields  # mypy takes the hash of instances for that of a class
    return reader(inner)


@_reader.register
def _(each: told.Kinds, _name: str) -> Reader:
    kinds: dict[str, Any] = dict(each.kinds)
    made: Any = each.made
    readers = {kind: reader(inner, made) for kind, inner in kinds.items()}

    def read(value: Any) -> Any:
        kind = value.get("kind") if type(value) is dict else None
        found = readers.get(kind) if type(kind) is str else None
        if found is None:
            raise OutOfTheOrdinary
        return found(value)

    return read


@_reader.register
def _(each: told.Many, name: str) -> Reader:
    item = _reader(each.item, name)

    def read(value: Any) -> list[Any]:
        if type(value) is not list or not each.minimum <= len(value) <= each.maximum:
            raise OutOfTheOrdinary
        return [item(one) for one in value]

    return read
