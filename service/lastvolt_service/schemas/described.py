"""Schemas made from the fields that operations describe; marshmallow decides on requests."""

from collections.abc import Iterator, Mapping
from functools import cache, singledispatch
from typing import Any, ClassVar

from marshmallow import missing
from marshmallow.fields import Field as SchemaField

from lastvolt_service import fields as told
from lastvolt_service.fields import Broken
from lastvolt_service.schemas import fields as strict
from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.ordinary import OutOfTheOrdinary, reader

_RULES = (
    "exactly_one_of",
    "at_least_one_of",
    "at_most_one_of",
    "together",
    "needs",
    "toleranced",
    "bound",
)


class Described(Request):
    """A schema that was made from a class of fields, and makes its instances.

    Attributes
    ----------
    fields_class, made_class : type of Fields
        What it reads, and what that becomes.
    """

    fields_class: ClassVar[type[told.Fields]]
    made_class: ClassVar[type[told.Fields]]

    def made(self, data: Mapping[str, Any]) -> told.Fields:
        """Make an instance of what was read, from one request or from columns."""
        values = dict(data)
        for name, field in self.fields_class.described.items():
            if isinstance(field, told.Part) and isinstance(values.get(name), Mapping):
                values[name] = field.fields(**values[name])  # a default, as a caller writes it
        return self.made_class(**values)

    def broken_rules(self, data: Mapping[str, Any]) -> Iterator[Broken]:
        """Hold fields against each other, as their class says."""
        return self.made(data).broken_rules()

    def load(self, data: Any, **options: Any) -> Any:
        """Check a request and make an instance of its fields."""
        return self.made(super().load(data, **options))

    def read(self, data: Any) -> Any:
        """Check a request the short way if it is an ordinary one, else as `load` does."""
        kind = _any(self.fields_class)
        try:
            return reader(kind)(data)
        except OutOfTheOrdinary:
            return self.load(data)


def schema_class(
    fields: type[told.Fields], makes: type[told.Fields] | None = None
) -> type[Described]:
    """Make the schema of a class of fields; its instances, unless it is to make another's."""
    made: type[Described] = _made(_any(fields), _any(makes or fields))
    return made


def _any(fields: type[told.Fields]) -> Any:
    """Give a class as it is: mypy takes the hash of its instances for its own."""
    return fields


@cache
def _made(fields: Any, makes: Any) -> Any:
    members: dict[str, Any] = {name: getattr(fields, name) for name in _RULES}
    members |= {name: _field(each) for name, each in fields.described.items()}
    members |= {"__doc__": fields.__doc__, "fields_class": fields, "made_class": makes}
    if hasattr(fields, "example"):
        members["example"] = fields.example
    return type(fields.__name__, (Described,), members)


def _options(field: told.Field) -> dict[str, Any]:
    return {
        "default": missing if field.default in (told.REQUIRED, told.ABSENT) else field.default,
        "optional": field.default is told.ABSENT,
    }


@singledispatch
def _field(each: told.Field) -> SchemaField[Any]:
    """Make the field of a schema."""
    raise TypeError(f"{type(each).__name__} has no field in a schema")


@_field.register
def _(each: told.Quantity) -> SchemaField[Any]:
    return strict.Quantity(
        each.meaning, minimum=each.minimum, maximum=each.maximum, **_options(each)
    )


@_field.register
def _(each: told.Count) -> SchemaField[Any]:
    return strict.Count(
        each.meaning,
        minimum=each.minimum,
        maximum=each.maximum,
        choices=each.choices,
        **_options(each),
    )


@_field.register
def _(each: told.Flag) -> SchemaField[Any]:
    return strict.Flag(each.meaning, default=each.default)


@_field.register
def _(each: told.Choice) -> SchemaField[Any]:
    return strict.Choice(each.meaning, each.choices, **_options(each))


@_field.register
def _(each: told.Name) -> SchemaField[Any]:
    return strict.Name(each.meaning, optional=each.default is told.ABSENT)


@_field.register
def _(each: told.ByName) -> SchemaField[Any]:
    return strict.ByName(each.meaning, _field(each.value), each.maximum)


@_field.register
def _(each: told.Size) -> SchemaField[Any]:
    return strict.Size(each.meaning, optional=each.default is told.ABSENT)


@_field.register
def _(each: told.Part) -> SchemaField[Any]:
    return strict.Part(schema_class(each.fields), each.meaning, **_options(each))


@_field.register
def _(each: told.Many) -> SchemaField[Any]:
    inner: SchemaField[Any]
    if isinstance(each.item, told.Name | told.Quantity):
        inner = _field(each.item)
    elif isinstance(each.item, told.Kinds):
        inner = strict.Kinded(
            {kind: schema_class(f, each.item.made) for kind, f in each.item.kinds.items()}
        )
    else:
        inner = strict.Part(schema_class(each.item.fields), each.item.meaning)
    made = strict.Many(
        inner,
        each.meaning,
        minimum=each.minimum,
        maximum=each.maximum,
        optional=each.default == () and not each.minimum,
    )
    made.required = each.default is told.REQUIRED
    return made
