"""Every sentence of the service, by language, operation and code.

Logic yields codes and numbers; what is said of them stands in a module a topic below the folder of
a language, and is put together here. No logic reads what comes out.
"""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from string import Formatter
from typing import Any

from lastvolt_service.units import unit_of
from lastvolt_service.words.amounts import amount, difference
from lastvolt_service.words.catalogue import CheckWords, OperationWords, Text, Weigh

ENGLISH = "en"
TOPICS = ("circuits", "decision", "meter", "relays", "solenoids", "sources", "wires")
SMALL_MARGIN = "The margin is small."

# Value and unit of a name; no value where there is none. What is named in brackets may be among
# the texts that are handed on.
Lookup = Callable[..., tuple[Any, str]]
Names = Mapping[str, str | None]
NO_NAMES: Names = {}


@cache
def catalogue(language: str = ENGLISH) -> Mapping[str, OperationWords]:
    """Give a language's words, by operation as in its path."""
    found: dict[str, OperationWords] = {}
    for topic in TOPICS:
        found |= import_module(f"{__name__}.{language}.{topic}").WORDS
    return found


def values_of(words: OperationWords, *places: Any) -> Lookup:
    """Look names up as fields of the answer, then of the request.

    Parameters
    ----------
    words : OperationWords
        Which name the codes among the values.
    *places : mapping or object
        In the order in which they are asked.
    """

    def look_up(name: str, names: Names = NO_NAMES) -> tuple[Any, str]:
        if words.short_names:
            first, dot, rest = name.partition(".")
            name = words.short_names.get(first, first) + dot + rest
        keys, unit = _parsed(name)
        for place in places:
            value: Any = place
            for key in keys:
                if key[0] == "[":
                    value = _item(value, names.get(key[1:-1]) or _inner(place, key[1:-1]))
                else:
                    value = _inner(value, key)
            if value is not None and value == value:  # NaN is nothing
                return value if type(value) is float else _called(words, value), unit
        return None, ""

    return look_up


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


def _called(words: OperationWords, value: Any) -> Any:
    if isinstance(value, str):
        return words.name(value)
    if isinstance(value, tuple) and value and all(isinstance(each, str) for each in value):
        return ", ".join(map(words.name, value))
    return value


def nothing(_name: str, _names: Names = NO_NAMES) -> tuple[Any, str]:
    """Look names up where there are none."""
    return None, ""


def of_check(
    value: float | None,
    limit: float | None,
    unit: str,
    texts: Names,
    others: Lookup = nothing,
) -> Lookup:
    """Look the numbers and texts of a check up, and every other name as before."""

    def look_up(name: str, names: Names = NO_NAMES) -> tuple[Any, str]:
        if name == "value":
            return value, unit
        if name in texts:
            return texts[name], ""
        if name == "limit":
            return limit, unit
        if name == "apart":
            known = value is not None and limit is not None
            return (difference(value, limit, unit), "") if known else (None, "")  # type: ignore[arg-type]  # known
        return others(name, texts or names)

    return look_up


@cache
def _pieces(template: str) -> tuple[tuple[str, str | None, bool], ...]:
    return tuple(
        (text, name, spec == "size") for text, name, spec, _ in Formatter().parse(template)
    )


def _sentence(template: str, look_up: Lookup, *, us: bool) -> str:
    written: list[str] = []
    for text, name, unsigned in _pieces(template):
        written.append(text)
        if name is None:
            continue
        value, unit = look_up(name)
        if value is None:
            return ""
        if unsigned:
            value = abs(value)
        written.append(value if isinstance(value, str) else amount(value, unit, us=us))
    return "".join(written)


def say(text: Text, look_up: Lookup, *, us: bool = False) -> str:
    """Put numbers into sentences; one whose number is not there is left out."""
    if isinstance(text, str):
        return _sentence(text, look_up, us=us)
    said = []
    for each in text:
        if isinstance(each, str):
            said.append(_sentence(each, look_up, us=us))
        elif isinstance(each, Weigh):
            said.append(_weighed(each, look_up, us=us))
        elif look_up(each.field)[0] == each.value:
            said.append(say(each.say, look_up, us=us))
    return " ".join(filter(None, said))


def _weighed(text: Weigh, look_up: Lookup, *, us: bool) -> str:
    (value, unit), (limit, _) = look_up(text.value), look_up(text.limit)
    if value is None or limit is None:
        return ""
    template = text.short if value < limit else text.enough
    return _sentence(template, of_check(value, limit, unit, {}, look_up), us=us)


def message(words: CheckWords, verdict: str, look_up: Lookup, *, us: bool = False) -> str:
    """Say what a check came to."""
    if verdict == "marginal" and not words.marginal:
        return f"{say(words.passes, look_up, us=us)} {SMALL_MARGIN}"
    texts = {"pass": words.passes, "marginal": words.marginal, "fail": words.fails}
    return say(texts.get(verdict, words.unknown), look_up, us=us)


def headline(words: OperationWords, look_up: Lookup, *, us: bool = False) -> str:
    """Say what an answer comes to, in one sentence that stands alone."""
    verdict = say(words.verdict, look_up, us=us)
    text = after_verdict(words, look_up, us=us)
    return f"{verdict}: {text}" if verdict else text


def after_verdict(words: OperationWords, look_up: Lookup, *, us: bool = False) -> str:
    """Say the same, for those who say the verdict before it."""
    if words.weighs is None:
        return say(words.headline, look_up, us=us)
    (first, unit), (second, _) = map(look_up, words.weighs)
    known = first is not None and second is not None
    text = words.short if known and first < second else words.headline
    return say(text, of_check(first, second, unit, {}, look_up), us=us)
