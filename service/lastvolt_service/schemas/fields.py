"""Strict fields: what JSON says is what is taken, or refused."""

import math
import re
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from marshmallow import Schema, ValidationError, fields, missing, validate

from lastvolt_service.errors import UnknownSize
from lastvolt_service.schemas.near import spelt_otherwise
from lastvolt_service.tables.sizes import HOW_WRITTEN, SIZE_PATTERN, spelt
from lastvolt_service.units import Interval, unit_of

MAX_NAME = 80
NOT_TEXT = "This must be text."
NAME_PATTERN = r"^[^\x00-\x1f\x7f]*$"
MAX_ITEMS = 100


def _options(
    description: str, default: object, *, optional: bool, invalid: str = "", pattern: str = ""
) -> dict[str, Any]:
    """Arguments that every field hands to marshmallow's own."""
    required = default is missing and not optional
    options: dict[str, Any] = {
        "required": required,
        "metadata": {"description": description} | ({"pattern": pattern} if pattern else {}),
        "error_messages": {
            "required": "This is required.",
            "null": f"This may not be null{'' if required else ': leave it out'}.",
        }
        | ({"invalid": invalid} if invalid else {}),
    }
    if default is not missing:
        options["load_default"] = default
    return options


def whole(pattern: str, error: str) -> Callable[[str], None]:
    """Make a validator that matches the whole text: "$" alone would let a line feed follow.

    Returns
    -------
    callable
        Raises ValidationError.
    """
    compiled = re.compile(pattern, re.ASCII)

    def check(value: str) -> None:
        if compiled.fullmatch(value) is None:
            raise ValidationError(error)

    return check


def bounds(name: str, minimum: float | None, maximum: float | None) -> tuple[float, float]:
    """Tell the inclusive bounds of a quantity: its own where it has any, else those of its unit."""
    unit = unit_of(name)
    if unit is None:
        raise TypeError(f"{name} ends in no unit of lastvolt_service.units")
    return (
        unit.minimum if minimum is None else minimum,
        unit.maximum if maximum is None else maximum,
    )


def _in_full(value: float) -> str:
    """Write a bound without a power of ten."""
    text = f"{value:g}"
    return f"{Decimal(text):,f}" if "e" in text else text


class Quantity(fields.Float):
    """A finite number whose unit and bounds follow from the field's name.

    In a schema that is `toleranced` it may also be ``{"low": …, "high": …}``.
    """

    def __init__(
        self,
        description: str,
        *,
        minimum: float | None = None,
        maximum: float | None = None,
        default: object = missing,
        optional: bool = False,
    ) -> None:
        super().__init__(
            **_options(description, default, optional=optional, invalid="This must be a number.")
        )
        self.minimum = minimum
        self.maximum = maximum
        self.toleranced = False

    def _bind_to_schema(self, field_name: str, parent: Schema | fields.Field[Any]) -> None:
        super()._bind_to_schema(field_name, parent)
        low, high = bounds(field_name, self.minimum, self.maximum)
        unit = unit_of(field_name)
        symbol = unit.symbol if unit else "1"
        self.metadata = {**self.metadata, "x-unit": symbol}
        symbol = "" if symbol == "1" else f" {symbol}"
        error = f"This must be from {_in_full(low)} to {_in_full(high)}{symbol}."
        self.validators = [validate.Range(low, high, error=error)]
        self.toleranced = getattr(parent, "toleranced", False)

    def _validate(self, value: float | Interval) -> None:
        for end in value if isinstance(value, Interval) else (value,):
            super()._validate(end)

    def _deserialize(  # type: ignore[override]  # an interval only where the schema asks for one
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> float | Interval:
        if self.toleranced and isinstance(value, dict | list):
            return self._interval(value)
        return self._finite(value)

    def _interval(self, value: Mapping[str, Any] | Sequence[Any]) -> Interval:
        if not isinstance(value, Mapping) or set(value) != set(Interval._fields):
            raise ValidationError("This must be a number or an object of low and high.")
        ends = Interval(**{name: self._finite(end) for name, end in value.items()})
        if ends.low > ends.high:
            raise ValidationError({"low": ["This must not exceed high."]})
        return ends

    def _finite(self, value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.make_error("invalid")
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if not math.isfinite(number):
            raise ValidationError("This number is too large.")
        return number


class Count(fields.Integer):
    """A whole number; 3.0 is one, 3.5 and "3" are not."""

    def __init__(
        self,
        description: str,
        *,
        minimum: int = 1,
        maximum: int = 1,
        choices: Sequence[int] = (),
        default: object = missing,
        optional: bool = False,
    ) -> None:
        allowed: validate.Validator = (
            validate.OneOf(choices, error="This must be one of: {choices}.")
            if choices
            else validate.Range(
                minimum, maximum, error=f"This must be from {minimum} to {maximum}."
            )
        )
        super().__init__(
            validate=allowed,
            **_options(description, default, optional=optional),
        )

    def _bind_to_schema(self, field_name: str, parent: Schema | fields.Field[Any]) -> None:
        super()._bind_to_schema(field_name, parent)
        if unit := unit_of(field_name):
            self.metadata = {**self.metadata, "x-unit": unit.symbol}

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> int:
        whole = not isinstance(value, bool) and (
            isinstance(value, int) or (isinstance(value, float) and value.is_integer())
        )
        if not whole:
            raise ValidationError("This must be a whole number.")
        return int(value)


class Flag(fields.Boolean):
    """true or false, and no word or number for it."""

    def __init__(self, description: str, *, default: bool) -> None:
        super().__init__(**_options(description, default, optional=True))

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> bool:
        if not isinstance(value, bool):
            raise ValidationError("This must be true or false.")
        return value


class OneOfWords(validate.OneOf):
    """Holds a word to those that are offered, and names one that is only written otherwise."""

    def __call__(self, value: Any) -> Any:
        """Take it, or say what there is."""
        try:
            return super().__call__(value)
        except ValidationError as error:
            meant = spelt_otherwise(value, self.choices)
            if meant is None:
                raise
            raise ValidationError(f"{error.messages[0]} Did you mean {meant!r}?") from None


class Choice(fields.String):
    """One of a few words."""

    def __init__(
        self,
        description: str,
        choices: Sequence[str],
        *,
        default: object = missing,
        optional: bool = False,
    ) -> None:
        super().__init__(
            validate=OneOfWords(choices, error="This must be one of: {choices}."),
            **_options(description, default, optional=optional, invalid=NOT_TEXT),
        )


class Name(fields.String):
    """A label chosen by the caller, shown in answers."""

    def __init__(self, description: str, *, optional: bool = False) -> None:
        super().__init__(
            validate=[
                validate.Length(
                    1, MAX_NAME, error=f"This must have from 1 to {MAX_NAME} characters."
                ),
                whole(NAME_PATTERN, "This must have no control characters."),
            ],
            **_options(
                description, missing, optional=optional, invalid=NOT_TEXT, pattern=NAME_PATTERN
            ),
        )


class Size(fields.String):
    """A conductor size; whether its standard has it is for the tables to say."""

    def __init__(
        self,
        description: str = f"conductor size: {HOW_WRITTEN}",
        *,
        optional: bool = False,
    ) -> None:
        super().__init__(
            **_options(
                description, missing, optional=optional, invalid=NOT_TEXT, pattern=SIZE_PATTERN
            ),
        )

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> str:
        text: str = super()._deserialize(value, attr, data, **kwargs)
        try:
            return spelt(text)
        except UnknownSize as no_size:
            raise ValidationError(str(no_size)) from None


class Many(fields.List[Any]):
    """A list of like things."""

    def __init__(
        self,
        inner: fields.Field[Any],
        description: str,
        *,
        minimum: int = 1,
        maximum: int = MAX_ITEMS,
        optional: bool = False,
    ) -> None:
        self.minimum, self.maximum = minimum, maximum
        bounds = f"from {minimum} to {maximum}" if minimum < maximum else str(minimum)
        self.which = f"This must list {bounds} items."
        super().__init__(
            inner,
            validate=validate.Length(minimum, maximum, error=self.which),
            **_options(
                description,
                [] if optional else missing,
                optional=False,
                invalid="This must be a list.",
            ),
        )

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> list[Any]:
        # The length first: a list of a million items is refused unread.
        if isinstance(value, list):
            self._validate(value)
        return super()._deserialize(value, attr, data, **kwargs)


class ByName(fields.Dict):
    """A quantity, or a label, for each of some names."""

    def __init__(self, description: str, value: fields.Field[Any], maximum: int) -> None:
        super().__init__(
            keys=Name("a name"),
            values=value,
            # apispec would publish a length, which is for lists and texts.
            metadata={"description": description, "maxProperties": maximum},
            load_default=dict,
            error_messages={"invalid": "This must be an object."},
        )
        self.maximum = maximum
        self.toleranced = False

    def _bind_to_schema(self, field_name: str, parent: Schema | fields.Field[Any]) -> None:
        self.toleranced = getattr(parent, "toleranced", False)  # its values ask for it
        super()._bind_to_schema(field_name, parent)  # type: ignore[no-untyped-call]  # as below

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> Any:
        if isinstance(value, dict) and len(value) > self.maximum:
            raise ValidationError(f"This may have {self.maximum} names at most.")
        try:
            return super()._deserialize(value, attr, data, **kwargs)  # type: ignore[no-untyped-call]  # marshmallow is untyped here
        except ValidationError as error:
            if not isinstance(error.messages, dict):
                raise
            # marshmallow says whether the key or the value is wrong; both are at the name.
            found = {name: wrong.popitem()[1] for name, wrong in error.messages.items()}
            raise ValidationError(found) from error


class Part(fields.Nested):
    """An object within the request."""

    def __init__(
        self,
        schema: type[Schema],
        description: str,
        *,
        default: object = missing,
        optional: bool = False,
    ) -> None:
        super().__init__(
            schema,
            **_options(description, default, optional=optional),
        )


class Kinded(fields.Field[dict[str, Any]]):
    """An object whose field ``kind`` says which schema it follows."""

    def __init__(self, schemas: Mapping[str, type[Schema]]) -> None:
        super().__init__(error_messages={"null": "This must be an object."})
        self.schemas = {kind: schema() for kind, schema in schemas.items()}
        self.which = f"This must be one of: {', '.join(self.schemas)}."

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> dict[str, Any]:
        if not isinstance(value, dict):
            raise ValidationError("This must be an object.")
        kind = value.get("kind")
        schema = self.schemas.get(kind) if isinstance(kind, str) else None
        if schema is None:
            which = self.which if "kind" in value else f"This is required. {self.which}"
            raise ValidationError({"kind": [which]})
        loaded: dict[str, Any] = schema.load(value)
        return loaded

    def __deepcopy__(self, memo: dict[int, Any]) -> "Kinded":
        # marshmallow copies fields into every schema instance; the inner schemas hold no state.
        return self.__copy__()

    def __copy__(self) -> "Kinded":
        twin = Kinded.__new__(Kinded)
        twin.__dict__.update(self.__dict__)
        return twin
