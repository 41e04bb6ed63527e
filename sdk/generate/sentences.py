"""Descriptions of the document as sentences of a docstring: meaning, bounds, default, unit."""

import json
import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

Schema = Mapping[str, Any]

_NULL = re.compile(r"\bnull\b")
_FIELD = re.compile(r"(?<![`'\"\w./])[a-z][a-z0-9]*(?:_[a-z0-9]+)+(?![`'\"\w])")
_NUMBERS = {"number", "integer"}


def sentence(schema: Schema) -> str:
    """Say all that a schema says of its field."""
    meaning = prose(schema.get("description", ""))
    facts = ", ".join(_facts(schema, meaning))
    unit = unit_of(schema)
    said = (_finished(meaning), _finished(facts), f"[{unit}]" if unit else "")
    return " ".join(part for part in said if part)


def prose(text: str) -> str:
    """Bring a text to Python's words: None for null, names of fields in backticks."""
    return _FIELD.sub(r"`\g<0>`", _NULL.sub("None", " ".join(text.split())))


def unit_of(schema: Schema) -> str:
    """Find the unit of a field, or of what it lists; a plain number has none to show."""
    below = schema.get("x-unit") or next((unit_of(each) for each in _below(schema)), "")
    return "" if below == "1" else str(below)


def _finished(text: str) -> str:
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _facts(schema: Schema, meaning: str) -> Iterator[str]:
    yield from _bounds(schema)
    if "default" in schema and "by default" not in meaning:
        yield f"by default {_default(schema['default'])}"


def _bounds(schema: Schema) -> Iterator[str]:
    for number in (schema, *schema.get("oneOf", ()), *schema.get("anyOf", ())):
        kind = number.get("type")
        if _NUMBERS & set([kind] if isinstance(kind, str) else kind or ()):
            yield from _between(number, "imum", "")
            break
    yield from _between(schema, "Length", " characters")
    yield from _between(schema, "Items", " of them")
    yield from _between(schema, "Properties", " of them")
    for listed in _below(schema):
        # What is said of a text in a list is said of such texts anywhere.
        yield from (f"each {bound}" for bound in _bounds(listed) if "character" not in bound)


def _between(schema: Schema, what: str, things: str) -> Iterator[str]:
    """Say the bounds whose keywords end in `what`; no fewer than none is none."""
    capitals = what[0].isupper()
    least, most = schema.get("min" + what), schema.get("max" + what)
    if capitals and not least:
        least = None
    if least is not None and least == most:
        yield f"exactly {_number(least)}{things}"
    elif least is not None and most is not None:
        yield f"from {_number(least)} to {_number(most)}{things}"
    elif least is not None:
        yield f"at least {_number(least)}{things}"
    elif most is not None:
        yield f"at most {_number(most)}{things}"


def _below(schema: Schema) -> Iterator[Schema]:
    """What a list or a map holds."""
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), Mapping):
            yield schema[key]


def _number(value: float) -> str:
    """Write a number without an exponent and without a superfluous fraction."""
    text = format(Decimal(repr(value)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _default(value: object) -> str:
    if value in ([], {}):
        return "none"
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _number(value)
    return f"``{json.dumps(value, ensure_ascii=False) if isinstance(value, str) else value}``"
