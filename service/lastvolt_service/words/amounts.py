"""Quantities as people read them, rounded in this one place: no more digits than a meter shows.

What may be at most goes down and what must be at least goes up: who keeps to the number that he
reads keeps to the one that was worked out.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from math import ceil, floor, log10

# Decimals that a meter, a data sheet or a tape measure can bear, always the same of a unit, so that
# what is needed, what arrives and what is to spare add up. Other units have three digits. The
# OpenAPI document publishes them, so that the SDK rounds alike.
DECIMALS = {"V": 2, "A": 1, "degC": 0, "K": 0, "%": 0, "m": 2, "ft": 1, "s": 1}
# Below these a number has two digits in place of so many decimals, for 0.05 A are no 0.1 A, down to
# the last digit of a meter.
TWO_DIGITS_BELOW = {"V": 0.01, "A": 1.0, "s": 1.0}
LAST_DECIMALS = 3
SYMBOLS = {"degC": "°C", "ohm": "Ω", "mm2": "mm²", "A2s": "A²s", "ohm/m": "Ω/m", "1": ""}
M_PER_FOOT = 0.3048  # the international foot
FEET_PER_M = 1 / M_PER_FOOT
ROUNDINGS = {"": ROUND_HALF_EVEN, "down": ROUND_FLOOR, "up": ROUND_CEILING}


def rounded(value: float, unit: str, side: str = "", decimals: int | None = None) -> str:
    """Write a number as it is shown, without its unit; `side` and `decimals` as of `amount`."""
    if decimals is None:
        decimals = _decimals(value, unit)
    if side:
        return _to_a_side(value, decimals, side)
    if decimals is None:
        return _three_digits(value)
    text = f"{value:.{decimals}f}"
    if decimals and text[-1] == "0":
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _decimals(value: float, unit: str) -> int | None:
    usual = DECIMALS.get(unit)
    if not value or abs(value) >= TWO_DIGITS_BELOW.get(unit, 0.0):
        return usual
    return min(1 - floor(log10(abs(value))), _least_decimals(unit))


def _least_decimals(unit: str) -> int:
    """Decimals of the least number that is shown."""
    return LAST_DECIMALS if unit in TWO_DIGITS_BELOW else DECIMALS[unit]


def _three_digits(value: float) -> str:
    if abs(value) >= 999.5:
        return f"{value:.0f}"
    text = f"{value + 0.0:.3g}"  # there is no -0
    # Small numbers in full, too: nobody reads 1e-05 on a meter.
    return f"{Decimal(text):f}" if "e" in text and abs(value) > 1e-9 else text


def _to_a_side(value: float, decimals: int | None, side: str) -> str:
    if not value:
        return "0"
    if decimals is None:
        decimals = max(0, 2 - floor(log10(abs(value))))
    # Twelve digits are the number; what comes after them is how a computer writes it.
    exact = Decimal(f"{value:.12g}")
    found = exact.quantize(Decimal(1).scaleb(-decimals), ROUNDINGS[side])
    return f"{found.normalize():f}" if found else "0"


# Nothing less is ever written out.
SMALLEST_SHOWN = 1e-9
# What is nearer than this share of the two is the same number: a computer's last digits.
_SAME = 1e-9


def decimals_apart(value: float, limit: float, unit: str, sides: tuple[str, str]) -> int | None:
    """Count the decimals that two numbers need so that it is seen which of them is the larger.

    Parameters
    ----------
    value, limit : float
        The two, which a sentence weighs.
    unit : str
        Theirs.
    sides : tuple of str
        Of each, as of `amount`.

    Returns
    -------
    int or None
        None where the usual ones do, or where the two are the same.
    """
    apart = abs(value - limit)
    if apart <= _SAME * max(abs(value), abs(limit)):
        return None
    shown, other = (
        Decimal(rounded(each, unit, side)) for each, side in zip((value, limit), sides, strict=True)
    )
    if shown != other and (shown < other) == (value < limit):
        return None
    # Two units of the last decimal: rounding either way leaves one of them.
    return max(0, ceil(-log10(apart / 2.0)))


def decimals_shown(value: float, unit: str) -> int | None:
    """Decimals that show two digits of a number of which the usual ones show none; else None."""
    is_less = DECIMALS.get(unit) and value and rounded(value, unit) == "0"
    if not is_less or abs(value) < SMALLEST_SHOWN:
        return None
    return 1 - floor(log10(abs(value)))


def amount(
    value: float, unit: str, *, us: bool = False, side: str = "", decimals: int | None = None
) -> str:
    """Write a quantity for people.

    Parameters
    ----------
    value : float
        The number.
    unit : str
        Its unit.
    us : bool
        Whether feet and degrees Fahrenheit stand beside metres and degrees Celsius.
    side : str
        ``"down"`` for what may be at most, ``"up"`` for what must be at least; by default what is
        nearest.
    decimals : int, optional
        In place of the usual ones, as `decimals_apart` gives them.

    Returns
    -------
    str
        For example ``"0.22 V"`` or ``"86 °C"``.
    """
    text = rounded(value, unit, side, decimals)
    symbol = SYMBOLS.get(unit, unit)
    if text == "0" and value and DECIMALS.get(unit):
        return _less_than(_least_decimals(unit), unit)
    if us and unit == "degC":
        return f"{text} {symbol} ({rounded(1.8 * value + 32, unit, side, decimals)} °F)"
    if us and unit == "m":
        feet = rounded(value * FEET_PER_M, "ft", side, decimals)
        return f"{text} m ({feet} ft)"
    return f"{text} {symbol}" if symbol else text


def _less_than(decimals: int, unit: str) -> str:
    return f"less than {10.0**-decimals:g} {SYMBOLS.get(unit, unit)}"


def difference(larger: float, smaller: float, unit: str, decimals: int | None = None) -> str:
    """Write how far two numbers are apart, so that it adds up with the two as they are shown."""
    shown = (Decimal(rounded(each, unit, "", decimals)) for each in (larger, smaller))
    apart = abs(next(shown) - next(shown))
    if not apart and larger != smaller and DECIMALS.get(unit):
        return _less_than(DECIMALS[unit], unit)
    return f"{apart.normalize():f} {SYMBOLS.get(unit, unit)}".rstrip()
