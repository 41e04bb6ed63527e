"""The quick way to load an ordinary request; marshmallow decides on every other.

marshmallow walks its general way for each field of each part, which costs more than all the
arithmetic of a circuit. Here functions are made once from the fields of a schema, which take what
is ordinary: the right types, within bounds, no rule broken. They word no error: whatever they do
not take, marshmallow reads anew.
"""

import sys
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, missing

from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.described import Described
from lastvolt_service.schemas.fields import Choice, Flag, Kinded, Many, Name, Part, Quantity, Size

Reader = Callable[[Any], Any]

_UNUSUAL = ValidationError("This is for marshmallow to judge.")
_REQUIRED = object()
_MAX = sys.float_info.max


def load(schema: Schema, data: Any) -> Any:
    """Load a request.

    Parameters
    ----------
    schema : Schema
        What it must be.
    data : object
        As JSON says it.

    Returns
    -------
    dict
        As ``schema.load`` gives it.

    Raises
    ------
    ValidationError
        As ``schema.load`` raises it.
    """
    if isinstance(schema, Described):
        return schema.read(data)
    try:
        return _object_reader(schema)(data)
    except ValidationError:
        return schema.load(data)


@cache
def _object_reader(schema: Schema) -> Reader:
    """Make the reader of a schema; that of marshmallow where the schema is out of the ordinary."""
    hooks = {name: found for name, found in schema._hooks.items() if found}
    checks = hooks.pop("validates_schema", [])
    if (
        not isinstance(schema, Request)
        or hooks
        or schema.many
        or schema.partial
        or schema.unknown != RAISE
        or any(field.data_key or field.attribute for field in schema.load_fields.values())
        or any(many or options.get("pass_original") for _, many, options in checks)
    ):
        return schema.load
    plan = tuple(
        (name, _reader(field), _REQUIRED if field.required else field.load_default)
        for name, field in schema.load_fields.items()
    )
    if any(callable(default) for _, _, default in plan):
        return schema.load
    rules = _rules(schema, [name for name, _, _ in checks])

    def read(data: Any) -> dict[str, Any]:
        if type(data) is not dict:
            raise _UNUSUAL
        found = {}
        known = 0
        for name, reader, default in plan:
            value = data.get(name, missing)
            if value is not missing:
                found[name] = reader(value)
                known += 1
            elif default is _REQUIRED:
                raise _UNUSUAL
            elif default is not missing:
                found[name] = default
        if known < len(data):
            raise _UNUSUAL
        for rule in rules:
            rule(found)
        return found

    return read


def _rules(schema: Request, names: list[str]) -> list[Reader]:
    """The checks of a schema as a whole, without those that have nothing to check."""
    grouped = schema.grouped()

    @lru_cache(maxsize=1024)
    def broken(has: tuple[bool, ...]) -> bool:
        given = dict(zip(grouped, has, strict=True))
        return any(wrong for wrong, _, _ in schema.broken_groups(given))

    def groups(found: dict[str, Any]) -> None:
        if broken(tuple([name in found for name in grouped])):
            raise _UNUSUAL

    rules: list[Reader] = [groups] if grouped else []
    plain = {"_groups"}
    if type(schema).broken_rules is Request.broken_rules:
        plain.add("_rules")
    return rules + [getattr(schema, name) for name in names if name not in plain]


def _reader(field: fields.Field[Any]) -> Reader:
    """Make the reader of a field; that of marshmallow for kinds that are rare."""
    if field.allow_none or field.pre_load or field.post_load:
        return field.deserialize
    if isinstance(field, Quantity):
        return _number(field)
    if isinstance(field, Choice):
        (one_of,) = field.validators
        words = frozenset(one_of.choices)  # type: ignore[attr-defined]  # of validate.OneOf
        return lambda value: (
            value if type(value) is str and value in words else field.deserialize(value)
        )
    if isinstance(field, Name | Size):
        return _text(field)
    if isinstance(field, Flag):
        return lambda value: value if type(value) is bool else field.deserialize(value)
    if isinstance(field, Many):
        return _list(field)
    if isinstance(field, Part) and not field.validators:
        return _object_reader(field.schema)
    if isinstance(field, Kinded) and not field.validators:
        return _kinded(field)
    return field.deserialize


def _number(field: Quantity) -> Reader:
    (bounds,) = field.validators
    # Finite bounds leave out what is not a number and infinity.
    low, high = max(bounds.min, -_MAX), min(bounds.max, _MAX)  # type: ignore[attr-defined]  # of validate.Range

    def read(value: Any) -> Any:
        kind = type(value)
        if (kind is float or kind is int) and low <= value <= high:
            return float(value)
        return field.deserialize(value)

    return read


def _text(field: fields.String) -> Reader:
    checks = tuple(field.validators)

    def read(value: Any) -> Any:
        if type(value) is not str:
            return field.deserialize(value)
        for check in checks:
            check(value)
        return value

    return read


def _list(field: Many) -> Reader:
    (length,) = field.validators
    low, high = length.min, length.max  # type: ignore[attr-defined]  # of validate.Length
    item = _reader(field.inner)

    def read(value: Any) -> list[Any]:
        if type(value) is not list or not low <= len(value) <= high:
            raise _UNUSUAL
        return [item(each) for each in value]

    return read


def _kinded(field: Kinded) -> Reader:
    readers = {kind: _object_reader(schema) for kind, schema in field.schemas.items()}

    def read(value: Any) -> Any:
        kind = value.get("kind") if type(value) is dict else None
        reader = readers.get(kind) if type(kind) is str else None
        if reader is None:
            raise _UNUSUAL
        return reader(value)

    return read
