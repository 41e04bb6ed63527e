"""Quantities as people read them: no more digits than a meter shows, and US units beside."""

import re

from lastvolt_service.words.amounts import DECIMALS, rounded

_SYMBOLS = {"degC": "°C", "ohm": "Ω", "mm2": "mm²", "A2s": "A²s"}
FEET_PER_M = 1 / 0.3048  # the international foot

_WRITTEN = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?) (degC|ohm|mm2|m)(?!\w)")


def amount(value: float, unit: str) -> str:
    """Write a quantity for people.

    Parameters
    ----------
    value : float
        The number.
    unit : str
        Its unit.

    Returns
    -------
    str
        For example ``"0.22 V"`` or ``"86 degC"``; `for_people` gives the unit its symbol.
    """
    text = rounded(value, unit)
    if text == "0" and value and DECIMALS.get(unit):
        text = f"less than {10.0 ** -DECIMALS[unit]:g}"
    return f"{text} {unit}"


def for_people(text: str, *, us: bool) -> str:
    """Give units their symbols, and lengths and temperatures their US units beside.

    Parameters
    ----------
    text : str
        A sentence.
    us : bool
        Whether feet and degrees Fahrenheit stand beside.

    Returns
    -------
    str
    """

    def written(found: re.Match[str]) -> str:
        number, unit = float(found[1]), found[2]
        shown = f"{number:.0f}" if unit == "degC" else found[1]
        beside = ""
        if us and unit == "degC":
            beside = f" ({1.8 * number + 32:.0f} °F)"
        elif us and unit == "m":
            beside = f" ({amount(number * FEET_PER_M, 'm').removesuffix(' m')} ft)"
        return f"{'0' if shown == '-0' else shown} {_SYMBOLS.get(unit, unit)}{beside}"

    return _WRITTEN.sub(written, text)
