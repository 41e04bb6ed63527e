"""Numbers that are guessed: one, or an interval, of four digits."""

from lastvolt_service.units import Interval

Value = float | Interval


def rounded(value: float) -> float:
    """To the four digits that a guess may have."""
    return float(f"{value:.4g}")


def as_number(value: Value) -> Value:
    """A number where both ends are the same."""
    return value.low if isinstance(value, Interval) and value.low == value.high else value


def times(value: Value, factor: float) -> Value:
    """Multiply a number, or both ends of an interval."""
    if isinstance(value, Interval):
        return Interval(rounded(value.low * factor), rounded(value.high * factor))
    return rounded(value * factor)


def over(volts: float, current: Value) -> Value:
    """Ohms of so many volts over a current, or over both ends of one."""
    if isinstance(current, Interval):
        return Interval(rounded(volts / current.high), rounded(volts / current.low))
    return rounded(volts / current)
