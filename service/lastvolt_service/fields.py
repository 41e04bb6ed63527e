"""Fields of requests: name, unit, bounds, meaning and default of each, told once.

An operation says what it takes as a class of fields. The marshmallow schema, the OpenAPI document,
the columns of batches, the document for agents, the reference page and the SDK are made from that
class; the operation itself reads its instances, in which each field is the value of one request or
the column of many: NaN, None or nothing where it was not given.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, TypeAlias, TypeVar, dataclass_transform

from lastvolt_service.laws import given, is_recording
from lastvolt_service.rows import NOT_GIVEN, Flags, negate
from lastvolt_service.units import Interval

MAX_ITEMS = 100

Groups: TypeAlias = tuple[tuple[str, ...], ...]
# Where a rule is broken, the path of the field at fault, and what to say.
Broken: TypeAlias = tuple[Flags, tuple[str | int, ...], str]


class _Required:
    """Type of `REQUIRED`."""

    def __repr__(self) -> str:
        return "REQUIRED"


REQUIRED = _Required()
"""Default of a field that must be given."""
ABSENT = None
"""Default of a field that may be left out, and then stands for nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field of a request.

    Attributes
    ----------
    meaning : str
        Published description, without the unit, which the field's name ends in.
    default : object
        What holds where it is left out; `REQUIRED` or `ABSENT`.
    """

    meaning: str
    default: Any = REQUIRED

    blank: ClassVar[Any] = None  # value of a field that was not given


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity(Field):
    """A finite number; bounds where they are narrower than those of its unit, inclusive."""

    minimum: float | None = None
    maximum: float | None = None

    blank: ClassVar[float] = NOT_GIVEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Count(Field):
    """A whole number within bounds, or one of a few."""

    minimum: int = 1
    maximum: int = 1
    choices: tuple[int, ...] = ()

    blank: ClassVar[float] = NOT_GIVEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag(Field):
    """True or false."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice(Field):
    """One of a few words."""

    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Name(Field):
    """A label chosen by the caller."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size(Field):
    """A conductor size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Field):
    """An object within the request."""

    fields: "type[Fields]"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kinds(Field):
    """An object whose field ``kind`` says which fields it has.

    Attributes
    ----------
    kinds : mapping of str to type of Fields
        Fields by kind.
    made : type of Fields or None
        What any of them becomes: in columns a part may be of one kind here and of another there.
        By default each kind its own class.
    """

    kinds: "Mapping[str, type[Fields]]"
    made: "type[Fields] | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Many(Field):
    """A list of like objects, of names, or of numbers, whose unit is that of the field."""

    item: Part | Kinds | Name | Quantity
    minimum: int = 1
    maximum: int = MAX_ITEMS


@dataclass(frozen=True, slots=True, kw_only=True)
class ByName(Field):
    """A quantity, or a label, for each of some names that the caller chose."""

    value: Quantity | Name
    maximum: int


def quantity(
    meaning: str,
    *,
    minimum: float | None = None,
    maximum: float | None = None,
    default: Any = REQUIRED,
) -> Any:
    """Describe a number whose unit its name ends in."""
    return Quantity(meaning=meaning, minimum=minimum, maximum=maximum, default=default)


def count(
    meaning: str,
    *,
    minimum: int = 1,
    maximum: int = 1,
    choices: Sequence[int] = (),
    default: Any = REQUIRED,
) -> Any:
    """Describe a whole number."""
    return Count(
        meaning=meaning, minimum=minimum, maximum=maximum, choices=tuple(choices), default=default
    )


def flag(meaning: str, *, default: bool) -> Any:
    """Describe what is true or false."""
    return Flag(meaning=meaning, default=default)


def choice(meaning: str, choices: Sequence[str], *, default: Any = REQUIRED) -> Any:
    """Describe one of a few words."""
    return Choice(meaning=meaning, choices=tuple(choices), default=default)


def name(meaning: str, *, default: Any = REQUIRED) -> Any:
    """Describe a label."""
    return Name(meaning=meaning, default=default)


def by_name(meaning: str, value: Quantity | Name, *, maximum: int) -> Any:
    """Describe a quantity or a label for each of some names; its unit is that of the field."""
    return ByName(meaning=meaning, value=value, maximum=maximum, default={})


def size(meaning: str, *, default: Any = REQUIRED) -> Any:
    """Describe a conductor size."""
    return Size(meaning=meaning, default=default)


def part(fields: "type[Fields]", meaning: str, *, default: Any = REQUIRED) -> Any:
    """Describe an object within the request; its default is what a caller would have sent."""
    return Part(meaning=meaning, fields=fields, default=default)


def many(
    fields: "type[Fields] | Mapping[str, type[Fields]] | Name | Quantity",
    meaning: str,
    *,
    minimum: int = 1,
    maximum: int = MAX_ITEMS,
    optional: bool | None = None,
    made: "type[Fields] | None" = None,
) -> Any:
    """Describe a list of names, of numbers, or of objects of one class or of several kinds.

    It may be left out if it may be empty, unless `optional` says otherwise.
    """
    item: Part | Kinds | Name | Quantity
    if isinstance(fields, Name | Quantity):
        item = fields
    elif isinstance(fields, Mapping):
        item = Kinds(meaning="", kinds=fields, made=made)
    else:
        item = Part(meaning="", fields=fields)
    return Many(
        meaning=meaning,
        item=item,
        minimum=minimum,
        maximum=maximum,
        default=() if (not minimum if optional is None else optional) else REQUIRED,
    )


class Grouped:
    """Fields that are held against each other in groups.

    Attributes
    ----------
    exactly_one_of, at_least_one_of, at_most_one_of, together : tuple of tuple of str
        Groups of fields of which exactly one, at least one, at most one, or all or none must be
        given.
    needs : tuple of tuple of str
        Groups whose first field, where it is given, needs one of the others.
    """

    exactly_one_of: ClassVar[Groups] = ()
    at_least_one_of: ClassVar[Groups] = ()
    at_most_one_of: ClassVar[Groups] = ()
    together: ClassVar[Groups] = ()
    needs: ClassVar[Groups] = ()

    @classmethod
    def rules(cls) -> str:
        """Put the groups into words."""
        said = [f"Give exactly one of {', '.join(names)}." for names in cls.exactly_one_of]
        said += [f"Give at least one of {', '.join(names)}." for names in cls.at_least_one_of]
        said += [f"Give at most one of {', '.join(names)}." for names in cls.at_most_one_of]
        said += [f"{' and '.join(names)} belong together." for names in cls.together]
        said += [f"{first} needs {' or '.join(others)}." for first, *others in cls.needs]
        return " ".join(said)

    @classmethod
    def grouped(cls) -> tuple[str, ...]:
        """List the fields that stand in any group."""
        groups = (
            cls.exactly_one_of + cls.at_least_one_of + cls.at_most_one_of + cls.together + cls.needs
        )
        return tuple(dict.fromkeys(name for names in groups for name in names))

    @classmethod
    def broken_groups(cls, has: Mapping[str, Any]) -> Iterator[Broken]:
        """Hold what is given against the groups, for one request or for columns of them.

        Parameters
        ----------
        has : mapping of str to bool or ndarray of bool
            Whether each field of `grouped` is given.

        Yields
        ------
        tuple
            See `Broken`; without a path where nothing of a group is given.
        """
        for names in cls.exactly_one_of + cls.at_least_one_of:
            yield negate(_any(has, names)), (), f"Give one of: {', '.join(names)}."
        for names in cls.exactly_one_of + cls.at_most_one_of:
            for place, name in enumerate(names[1:], 1):
                twice = has[name] & _any(has, names[:place])
                yield twice, (name,), f"Give only one of: {', '.join(names)}."
        for names in cls.together:
            for name in names:
                absent = _any(has, names) & negate(has[name])
                yield absent, (name,), f"These belong together: {', '.join(names)}."
        for first, *others in cls.needs:
            wanting = has[first] & negate(_any(has, others))
            yield wanting, (others[0],), f"{first} needs {' or '.join(others)}."


def _any(has: Mapping[str, Any], names: Iterable[str]) -> Any:
    found: Any = False
    for name in names:
        found = found | has[name]
    return found


@dataclass_transform(
    kw_only_default=True,
    field_specifiers=(quantity, count, flag, choice, name, by_name, size, part, many),
)
class Fields(Grouped):
    """A request, or an object within one.

    Attributes
    ----------
    example : dict
        A worked example, published in the document and posted by a test; of whole requests only.
    bound : str
        How much one request may ask for beyond the bounds of its fields, in words for the
        description of the operation.
    toleranced : bool
        Whether every quantity may be given as an interval (`lastvolt_service.units.Interval`).
    """

    example: ClassVar[dict[str, Any]]
    bound: ClassVar[str] = ""
    toleranced: ClassVar[bool] = False
    described: ClassVar[Mapping[str, Field]] = {}
    _blank: ClassVar[Mapping[str, Any]] = {}

    def __init_subclass__(cls) -> None:
        # What is said first stands first, also where a class has the fields of several others.
        found: dict[str, Field] = {}
        for base in reversed(cls.__mro__):
            found |= {key: each for key, each in vars(base).items() if isinstance(each, Field)}
        cls.described = found
        cls._blank = {
            key: () if isinstance(each, Many) else each.blank for key, each in found.items()
        }

    def __init__(self, **values: Any) -> None:
        self.__dict__.update(self._blank)
        self.__dict__.update(values)

    def __repr__(self) -> str:
        told = ", ".join(f"{key}={value!r}" for key, value in vars(self).items() if known(value))
        return f"{type(self).__name__}({told})"

    def broken_rules(self) -> Iterator[Broken]:
        """Hold the fields of one request, or of columns of them, against each other."""
        return iter(())


def known(value: Any) -> bool:
    """Say whether one request gives a value."""
    if isinstance(value, float):
        return not math.isnan(value)
    return value is not None and value != () and value != []


FieldsClass = TypeVar("FieldsClass", bound="Fields")


def changed(asked: FieldsClass, **values: Any) -> FieldsClass:
    """Make a copy of a request, or of an object within one, with other values in some fields."""
    return type(asked)(**{**vars(asked), **values})


def with_defaults(kind: type[FieldsClass], /, **values: Any) -> FieldsClass:
    """Make an instance as if a caller had sent these values and left out the rest."""
    usual = {
        key: each.default
        for key, each in kind.described.items()
        if each.default is not REQUIRED and each.default is not ABSENT
    }
    return kind(**(usual | values))


def as_sent(asked: Fields) -> dict[str, Any]:
    """Write an instance as a caller would send it, without what was not given.

    A list that is empty was given; what stands for none is an empty tuple.
    """
    given = {key: getattr(asked, key) for key in asked.described}
    found = {key: each for key, each in given.items() if known(each) or isinstance(each, list)}
    return {key: _sent(each) for key, each in found.items()}


def _sent(value: Any) -> Any:
    """Write an interval, of a field or of one of its names, as a caller would send it."""
    if isinstance(value, Interval):
        return value._asdict()
    if isinstance(value, Mapping):
        return {key: _sent(each) for key, each in value.items()}
    return value


def recorded(asked: "Fields", prefix: str = "") -> Any:
    """Let the numbers of a request remember that they were given, if anyone is recording."""
    if not is_recording():
        return asked
    values = dict(vars(asked))
    for key, each in asked.described.items():
        value = values[key]
        if isinstance(each, Quantity | Count) and known(value):
            values[key] = given(prefix + key, value, each.meaning)
        elif isinstance(each, Part) and value is not None:
            values[key] = recorded(value, f"{prefix}{key}_")
        elif isinstance(each, Many) and not isinstance(each.item, Name | Quantity):
            values[key] = [
                recorded(item, f"{prefix}{key}_{place}_") for place, item in enumerate(value, 1)
            ]
    return type(asked)(**values)
