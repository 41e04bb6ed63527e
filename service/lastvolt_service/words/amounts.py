"""Quantities as people read them, rounded in this one place: no more digits than a meter shows."""

from decimal import Decimal

# Decimals that a meter, a data sheet or a tape measure can bear, always the same of a unit, so that
# what is needed, what arrives and what is to spare add up. Other units have three digits. The
# OpenAPI document publishes them, so that the SDK rounds alike.
DECIMALS = {"V": 2, "A": 1, "degC": 0, "K": 0, "%": 0, "m": 1, "s": 1}
SYMBOLS = {"degC": "°C", "ohm": "Ω", "mm2": "mm²", "A2s": "A²s", "ohm/m": "Ω/m", "1": ""}
FEET_PER_M = 1 / 0.3048  # the international foot


def rounded(value: float, unit: str) -> str:
    """Write a number as it is shown, without its unit."""
    decimals = DECIMALS.get(unit)
    if decimals is None:
        return _three_digits(value)
    text = f"{value:.{decimals}f}"
    if decimals and text[-1] == "0":
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _three_digits(value: float) -> str:
    if abs(value) >= 999.5:
        return f"{value:.0f}"
    text = f"{value + 0.0:.3g}"  # there is no -0
    # Small numbers in full, too: nobody reads 1e-05 on a meter.
    return f"{Decimal(text):f}" if "e" in text and abs(value) > 1e-9 else text


def amount(value: float, unit: str, *, us: bool = False) -> str:
    """Write a quantity for people.

    Parameters
    ----------
    value : float
        The number.
    unit : str
        Its unit.
    us : bool
        Whether feet and degrees Fahrenheit stand beside metres and degrees Celsius.

    Returns
    -------
    str
        For example ``"0.22 V"`` or ``"86 °C"``.
    """
    text = rounded(value, unit)
    symbol = SYMBOLS.get(unit, unit)
    if text == "0" and value and DECIMALS.get(unit):
        return f"less than {10.0 ** -DECIMALS[unit]:g} {symbol}"
    if us and unit == "degC":
        return f"{text} {symbol} ({1.8 * value + 32:.0f} °F)"
    if us and unit == "m":
        return f"{text} m ({rounded(value * FEET_PER_M, 'm')} ft)"
    return f"{text} {symbol}" if symbol else text


def difference(larger: float, smaller: float, unit: str) -> str:
    """Write how far two numbers are apart, so that it adds up with the two as they are shown."""
    apart = abs(Decimal(rounded(larger, unit)) - Decimal(rounded(smaller, unit)))
    return f"{apart.normalize():f} {SYMBOLS.get(unit, unit)}".rstrip()
