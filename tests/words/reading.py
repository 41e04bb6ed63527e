"""Sentences read back: which should stand there, and what number should stand where.

It shares the templates with the service, and nothing else: names are looked up, numbers rounded and
units written by rules of its own.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from string import Formatter
from typing import Any

from lastvolt_service.words.catalogue import OperationWords, Text, Weigh, When

# Decimals of each unit as it is written, by the end of a name; None is three digits.
UNITS: dict[str, tuple[str, int | None]] = {
    "_ohm_per_m": ("Ω/m", None), "_percent": ("%", 0), "_mm2": ("mm²", None), "_a2s": ("A²s", None),
    "_ohm": ("Ω", None), "_mm": ("mm", None), "_v": ("V", 2), "_a": ("A", 1), "_c": ("°C", 0),
    "_k": ("K", 0), "_w": ("W", None), "_m": ("m", 2), "_s": ("s", 1), "_n": ("N", None),
}  # fmt: skip
# The same of a check, by its unit as answers write it.
OF_CHECKS: dict[str, tuple[str, int | None]] = {
    "V": ("V", 2), "A": ("A", 1), "degC": ("°C", 0), "K": ("K", 0), "W": ("W", None),
    "mm2": ("mm²", None), "ohm": ("Ω", None), "s": ("s", 1), "%": ("%", 0), "1": ("", None),
    "A2s": ("A²s", None), "m": ("m", 2),
}  # fmt: skip
PLAIN: tuple[str, int | None] = ("", None)
# Below these a meter's two digits, and thousandths at the least: symbol, decimals that others have.
SMALL = {("V", 2): 0.01, ("A", 1): 1, ("s", 1): 1}


SIDES = {"down": ROUND_FLOOR, "up": ROUND_CEILING}
WIDE = Context(prec=800, rounding=ROUND_HALF_EVEN)  # all digits of any double


def digits(value: float, decimals: int | None) -> str:
    """The number as it should be printed; what lies half way goes to the even digit."""
    exact = Decimal(value)
    if decimals is None and value and abs(exact) < Decimal("1e-9"):
        return f"{value:.3g}"  # less than anything that a meter shows
    if decimals is None:
        # Three digits, of thousands all that stand before the point.
        place = -2 if not exact else exact.adjusted() - 2
        found = exact.quantize(Decimal(1).scaleb(min(place, 0)), context=WIDE)
        if abs(found) >= 1000:
            found = exact.quantize(Decimal(1), context=WIDE)
        elif found and found.adjusted() > exact.adjusted():  # 9.996 is 10.0
            found = found.quantize(Decimal(1).scaleb(min(found.adjusted() - 2, 0)), context=WIDE)
    else:
        found = exact.quantize(Decimal(1).scaleb(-decimals), context=WIDE)
    return f"{found.normalize(WIDE):f}" if found else "0"


def to_a_side(value: float, decimals: int | None, side: str) -> str:
    """The number as it should be printed where it may be that at most, or must be at least."""
    exact = Decimal(f"{value:.12g}")
    if decimals is None:
        decimals = max(0, 2 - exact.adjusted()) if exact else 0
    found = exact.quantize(Decimal(1).scaleb(-decimals), SIDES[side], context=WIDE)
    return f"{found.normalize(WIDE):f}" if found else "0"


def finer(value: float, unit: tuple[str, int | None]) -> int | None:
    """Decimals of a number: of a small one as many as its two digits need, three at most."""
    if not value or not abs(value) < SMALL.get(unit, 0):
        return unit[1]
    return min(1 - Decimal(value).adjusted(), 3)


def printed(value: float, unit: tuple[str, int | None], side: str = "") -> str:
    symbol, usual = unit
    decimals = finer(value, unit)
    number = to_a_side(value, decimals, side) if side else digits(value, decimals)
    if number == "0" and value and usual:
        return less_than_shown((symbol, 3 if unit in SMALL else usual))
    return f"{number} {symbol}".rstrip()


def less_than_shown(unit: tuple[str, int | None]) -> str:
    symbol, decimals = unit
    return f"less than {Decimal(1).scaleb(-(decimals or 0))} {symbol}"


def told_apart(
    value: float, limit: float, unit: tuple[str, int | None], sides: tuple[str, str]
) -> int | None:
    """Decimals of two numbers that a sentence weighs: enough to see which is the larger."""

    def shown() -> list[Decimal]:
        pair = zip((value, limit), sides, strict=True)
        return [
            Decimal(
                to_a_side(each, finer(each, unit), side)
                if side
                else digits(each, finer(each, unit))
            )
            for each, side in pair
        ]

    one, other = shown()
    same = abs(value - limit) <= 1e-9 * max(abs(value), abs(limit))
    if same or (one != other and (one < other) == (value < limit)):
        return unit[1]
    decimals = 0
    while abs(value - limit) < 2 * 10.0**-decimals:
        decimals += 1
    return decimals


@dataclass(frozen=True)
class Place:
    """Where a sentence is said: of an answer and its request, and perhaps of a check."""

    words: OperationWords
    answer: Any
    asked: Any
    value: float | None = None
    limit: float | None = None
    unit: tuple[str, int | None] = PLAIN
    texts: tuple[tuple[str, str | None], ...] = ()

    def of_check(self, check: Any) -> "Place":
        return replace(
            self,
            value=check.value,
            limit=check.limit,
            unit=OF_CHECKS[check.unit],
            texts=(("part", check.part), ("case", check.case), ("detail", check.detail)),
        )

    def look(self, name: str) -> Any:
        """What a name stands for; None where there is nothing."""
        if name in {"value", "limit"}:
            return getattr(self, name)
        texts = dict(self.texts)
        if name in texts:
            return texts[name]
        first, dot, rest = name.partition(".")
        keys = (self.words.short_names.get(first, first) + dot + rest).split(".")
        for place in (self.answer, self.asked):
            found = place
            for key in keys:
                if key.startswith("["):
                    found = _called_so(found, texts.get(key[1:-1]) or _in(place, key[1:-1]))
                else:
                    found = _in(found, key)
            if found is not None and found != () and found == found:
                return found
        return None

    def text(self, name: str) -> str | None:
        """What should be printed for it."""
        name, _, spec = name.partition(":")
        if name == "apart":
            if self.value is None or self.limit is None:
                return None
            both = (self.value, self.limit)
            shown = [Decimal(digits(each, finer(each, self.unit))) for each in both]
            apart = abs(WIDE.subtract(*shown))
            if not apart and self.value != self.limit and self.unit[1]:
                return less_than_shown(self.unit)
            number = f"{apart.normalize(WIDE):f}" if apart else "0"
            return f"{number} {self.unit[0]}".rstrip()
        found = self.look(name)
        if name.split("_")[-1].split(".")[-1] == "case" and "," in (found or ""):
            return f'"{found}"'  # else what follows reads as a part of the name
        if found is None or name in dict(self.texts):
            return found
        if isinstance(found, str):
            return self.words.name(found)
        if isinstance(found, tuple):
            return ", ".join(self.words.name(each) for each in found)
        unit = self.unit if name in {"value", "limit"} else unit_of(name)
        side = spec if spec in SIDES else ""
        return printed(abs(found) if spec == "size" else found, unit, side)


def unit_of(name: str) -> tuple[str, int | None]:
    last = name.rpartition(".")[2]
    return next((unit for end, unit in UNITS.items() if last.endswith(end)), PLAIN)


def _in(value: Any, key: str) -> Any:
    if isinstance(value, tuple | list):
        if key == "count":
            return len(value)
        place = int(key)
        return value[place] if -len(value) <= place < len(value) else None
    return value.get(key) if isinstance(value, dict) else getattr(value, key, None)


def _called_so(items: Any, name: Any) -> Any:
    name = name[0] if isinstance(name, tuple) and name else name
    if not name:
        return None
    found = [each for each in items or () if name in (_in(each, "name"), _in(each, "part"))]
    return found[0] if found else None


def names_in(template: str) -> list[str]:
    return [
        f"{name}:{spec}" if spec else name
        for _, name, spec, _ in Formatter().parse(template)
        if name is not None
    ]


def sentences(text: Text, place: Place) -> Iterator[tuple[str, Place]]:
    """The sentences that belong there."""
    for each in (text,) if isinstance(text, str) else text:
        if isinstance(each, When):
            if each.holds(place.look(each.field)):
                yield from sentences(each.say, place)
        elif isinstance(each, Weigh):
            value, limit = place.look(each.value), place.look(each.limit)
            if value is not None and limit is not None:
                unit = place.unit if each.value in {"value", "limit"} else unit_of(each.value)
                here = replace(place, value=value, limit=limit, unit=unit)
                yield from sentences(each.short if value < limit else each.enough, here)
        elif all(place.text(name) is not None for name in names_in(each)):
            yield each, place


def two_digits(place: Place, name: str) -> str | None:
    """A number after "than" in full, for it is not "less than less than"; None of next to none."""
    exact = Decimal(place.look(name))
    if abs(exact) < Decimal("1e-9"):
        return None
    unit = place.unit if name in {"value", "limit"} else unit_of(name)
    found = exact.quantize(Decimal(1).scaleb(exact.adjusted() - 1), context=WIDE)
    return f"{found.normalize(WIDE):f} {unit[0]}"


def sides_of(template: str) -> dict[str, str]:
    """To which side a sentence rounds value and limit, if it names them."""
    found = (name.partition(":") for name in names_in(template))
    return {n: side if side in SIDES else "" for n, _, side in found if n in {"value", "limit"}}


def read_back(said: str, text: Text, place: Place) -> int:
    """Hold what is said against what it is about; how many numbers and names stand in it."""
    wanted, count = [], 0
    for template, here in sentences(text, place):
        written, sides = "", sides_of(template)
        if len(sides) > 1 and here.value is not None and here.limit is not None:
            pair = (sides["value"], sides["limit"])
            finer = told_apart(here.value, here.limit, here.unit, pair)
            here = replace(here, unit=(here.unit[0], finer))
        for literal, name, spec, _ in Formatter().parse(template):
            written += literal
            if name is not None:
                shown = str(here.text(f"{name}:{spec}" if spec else name))
                if written.endswith("than ") and shown.startswith("less than "):
                    shown = two_digits(here, name) or shown
                written += shown
                count += 1
        wanted.append(written)
    should = " ".join(filter(None, wanted))
    assert said == should, f"said: {said}\nshould be: {should}"
    return count
