"""A scale from values to pixels, with round marks."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Axis:
    """Values from `low` to `high` on pixels from `start` to `end`.

    Attributes
    ----------
    low, high : float
        Ends in values.
    start, end : float
        The same in pixels.
    """

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Tell the pixel of a value; what lies outside is drawn at the end."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + min(max(share, 0.0), 1.0) * (self.end - self.start)

    def marks(self, most: int) -> list[float]:
        """Give round values on the axis, at most so many."""
        rough = (self.high - self.low) / most
        decade = 10.0 ** math.floor(math.log10(rough))
        step = next(m * decade for m in (1, 2, 5, 10) if m * decade >= rough * (1 - 1e-9))
        first = math.ceil(self.low / step - 1e-9)
        last = math.floor(self.high / step + 1e-9)
        return [round(index * step, 9) + 0.0 for index in range(first, last + 1)]


def around(values: list[float], start: float, end: float, room: float = 0.06) -> Axis:
    """Make an axis that holds some values with room at both ends.

    Parameters
    ----------
    values : list of float
        What must be on it.
    start, end : float
        Its ends in pixels.
    room : float
        At each end, as a share of the whole.
    """
    low, high = min(values), max(values)
    width = max(high - low, 0.02 * max(abs(low), abs(high)), 1e-3)
    return Axis(low - room * width, high + room * width, start, end)
