"""The numbers and texts that sentences name: of a check or change, the answer, the request."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from lastvolt_service.units import unit_of
from lastvolt_service.words.amounts import difference
from lastvolt_service.words.catalogue import OperationWords

Values = Mapping[str, tuple[float | str, str]]
NO_TEXTS: Mapping[str, str | None] = {}
NO_VALUES: Values = {}
UNKNOWN: tuple[Any, str] = (None, "")


class Named:
    """What names stand for.

    Parameters
    ----------
    words : OperationWords, optional
        Which call the codes among the values.
    *places : mapping or object
        Where a name is looked for, in this order: the answer, then the request.
    """

    __slots__ = ("_limit", "_places", "_texts", "_unit", "_value", "_values", "_words")

    def __init__(self, words: OperationWords | None = None, *places: Any) -> None:
        self._words, self._places = words, places
        self._value: float | None = None
        self._limit: float | None = None
        self._unit = ""
        self._texts = NO_TEXTS
        self._values = NO_VALUES

    def of_check(
        self,
        value: float | None,
        limit: float | None,
        unit: str,
        texts: Mapping[str, str | None] = NO_TEXTS,
    ) -> "Named":
        """Give the same with the numbers and texts of a check."""
        found = Named(self._words, *self._places)
        found._value, found._limit, found._unit = value, limit, unit
        found._texts = texts or self._texts
        return found

    def of_change(self, values: Values) -> "Named":
        """Give the same with the numbers of a change, each with its unit, and its texts."""
        found = Named(self._words, *self._places)
        found._values = values
        return found

    def get(self, name: str) -> tuple[Any, str]:
        """Look a name up: value and unit; no value where there is none."""
        if name == "value":
            return self._value, self._unit
        if name == "limit":
            return self._limit, self._unit
        if name in self._values:
            return self._values[name]
        if name in self._texts:
            return self._texts[name], ""
        if name == "apart":
            if self._value is None or self._limit is None:
                return UNKNOWN
            return difference(self._value, self._limit, self._unit), ""
        words = self._words
        if words is not None and words.short_names:
            first, dot, rest = name.partition(".")
            name = words.short_names.get(first, first) + dot + rest
        keys, unit = _parsed(name)
        for place in self._places:
            value: Any = place
            for key in keys:
                if type(value) is dict:
                    value = value.get(key)
                elif key[0] == "[":
                    value = _item(value, self._texts.get(key[1:-1]) or _inner(place, key[1:-1]))
                else:
                    value = _inner(value, key)
            if type(value) is float:
                if value == value:  # NaN is nothing
                    return value, unit
            elif value is not None and value != ():  # of no names nothing is said
                return (value if keys[-1] == "code" else self._called(value)), unit
        return UNKNOWN

    def _called(self, value: Any) -> Any:
        words = self._words
        if words is None:
            return value
        if isinstance(value, str):
            return words.name(value)
        if isinstance(value, tuple) and value and all(isinstance(each, str) for each in value):
            return ", ".join(map(words.name, value))
        return value


@cache
def _parsed(name: str) -> tuple[tuple[str, ...], str]:
    """Take a name apart: keys that lead to it, and its unit."""
    *_, last = keys = tuple(name.split("."))
    unit = unit_of(last)
    return keys, unit.symbol if unit else ""


def _inner(value: Any, key: str) -> Any:
    if type(value) is dict:
        return value.get(key)
    if isinstance(value, tuple | list):
        if key == "count":
            return len(value)
        return value[int(key)] if -len(value) <= int(key) < len(value) else None
    return getattr(value, key, None)


def _item(items: Any, name: object) -> Any:
    """Find the item of a list that has a name, or is about the part that has it.

    Of several names, the first counts.
    """
    if isinstance(name, tuple):
        name = name[0] if name else None
    if name is None:
        return None
    return next(
        (each for each in items or () if name in (_inner(each, "name"), _inner(each, "part"))), None
    )
