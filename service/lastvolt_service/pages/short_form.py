"""The short form: its inputs are made from the fields of the operation that it asks."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from lastvolt_service.fields import (
    ABSENT,
    REQUIRED,
    Choice,
    Count,
    Field,
    Fields,
    Flag,
    Quantity,
    known,
)
from lastvolt_service.units import Unit, unit_of
from lastvolt_service.words.amounts import M_PER_FOOT, amount
from lastvolt_service.words.labels import called, label_and_hints

_YES_NO = {"yes": True, "no": False}
_NUMBER = re.compile(
    r"((?:[0-9]{1,9}(?:\.[0-9]{1,9}|,[0-9]{1,2})?)|\.[0-9]{1,9}) *([^0-9]{0,12})", re.ASCII
)
# How else people write a unit, and how much of it that is; and how they are told so.
_WRITTEN: Mapping[str, Mapping[str, float]] = {
    "m": {
        **dict.fromkeys(("metre", "metres", "meter", "meters"), 1.0),
        **dict.fromkeys(("ft", "foot", "feet", "'"), M_PER_FOOT),
    },
    "A": dict.fromkeys(("amp", "amps", "ampere", "amperes"), 1.0),
}
_EXAMPLES = {"m": "such as 4.5 or 15 ft", "A": "such as 8.5"}


@dataclass(frozen=True, slots=True)
class Input:
    """One input of the form.

    Attributes
    ----------
    name : str
        Of the field.
    label, hint : str
        The first clause of the field's meaning, and the rest with its bounds.
    unit : str
        Empty where the options carry it, or where there is none.
    required : bool
        Whether the field must be given.
    options : tuple of (str, str)
        What may be chosen, as it is sent and as it is shown; none where text is typed.
    default : str
        What is chosen unless another is.
    """

    name: str
    label: str
    hint: str
    unit: str
    required: bool
    options: tuple[tuple[str, str], ...]
    default: str

    def value(self, typed: Mapping[str, str]) -> str:
        """What stands in it: what was typed, or is chosen unless another is."""
        text = typed.get(self.name) or self.default
        return text if not self.options or text in dict(self.options) else self.default


def inputs(kind: type[Fields]) -> list[Input]:
    """Make an input of every field."""
    return [_input(name, field) for name, field in kind.described.items()]


def request_of(kind: type[Fields], typed: Mapping[str, str]) -> dict[str, Any]:
    """Read what was typed, by field; what cannot be read stays text, which the schema refuses."""
    filled = {name: text.strip() for name, text in typed.items() if text.strip()}
    return {name: _read(name, kind.described.get(name), text) for name, text in filled.items()}


def said(form: list[Input], asked: Fields) -> list[str]:
    """What was asked, as it was understood, defaults included."""
    values = ((each, getattr(asked, each.name)) for each in form)
    return [f"{called(each.name)} {_shown(each, value)}" for each, value in values if known(value)]


def _shown(field: Input, value: Any) -> str:
    if field.unit:
        return amount(value, field.unit, us=True)
    return dict(field.options).get(_text(value), _text(value))


def _input(name: str, field: Field) -> Input:
    label, hints = label_and_hints(field.meaning)
    unit = unit_of(name)
    if isinstance(field, Quantity):
        hints += _bounds(field, unit)
    return Input(
        name=name,
        label=label,
        hint="; ".join(hints),
        unit=unit.symbol if unit and isinstance(field, Quantity) else "",
        required=field.default is REQUIRED,
        options=tuple(_options(field, unit)),
        default="" if field.default in (REQUIRED, ABSENT) else _text(field.default),
    )


def _bounds(field: Quantity, unit: Unit | None) -> Iterator[str]:
    if unit is None:
        return
    low, high = (
        each if own is None else own
        for own, each in ((field.minimum, unit.minimum), (field.maximum, unit.maximum))
    )
    yield f"{low:g} to {high:g} {unit.symbol}"
    if unit.symbol in _EXAMPLES:
        yield _EXAMPLES[unit.symbol]


def _options(field: Field, unit: Unit | None) -> Iterator[tuple[str, str]]:
    words: tuple[Any, ...] = tuple(_YES_NO) if isinstance(field, Flag) else ()
    if isinstance(field, Choice | Count):
        words = field.choices
    if words and field.default in (REQUIRED, ABSENT):
        yield "", "choose" if field.default is REQUIRED else "not known"
    symbol = f" {unit.symbol}" if unit else ""
    yield from ((str(word), str(word).replace("_", " ") + symbol) for word in words)


def _text(value: Any) -> str:
    """Write a value as its option has it."""
    if isinstance(value, bool):
        return next(word for word, meant in _YES_NO.items() if meant is value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _read(name: str, field: Field | None, text: str) -> Any:
    if isinstance(field, Flag):
        return _YES_NO.get(text, text)
    if not isinstance(field, Quantity | Count):
        return text
    unit, found = unit_of(name), _NUMBER.fullmatch(text)
    factor = _factor(unit.symbol if unit else "", found[2]) if found else None
    if found is None or factor is None:
        return text
    if isinstance(field, Count) and found[1].isdigit():
        return int(found[1])
    return float(found[1].replace(",", ".")) * factor


def _factor(unit: str, written: str) -> float | None:
    """How much of a unit a written one is; a bare number is in that unit itself."""
    if written.lower() in ("", unit.lower()):
        return 1.0
    return _WRITTEN.get(unit, {}).get(written.lower())
