"""Published curves, read between their points."""

from bisect import bisect_right

import numpy as np

from lastvolt_service.laws import by, named, published
from lastvolt_service.physics.interpolation import on_line, on_logarithmic_line
from lastvolt_service.rows import Numbers
from lastvolt_service.tables.curves import Curve


def read_off(
    curve: Curve,
    at: Numbers,
    symbol: str,
    meaning: str,
    *,
    along: str,
    below: float | None = None,
    above: float | None = None,
    logarithmic: bool = False,
) -> Numbers:
    """Read a curve, on straight lines between its points.

    Parameters
    ----------
    curve : Curve
        What is published.
    at : float or ndarray
        Where to read it.
    symbol, meaning : str
        What the value is called in steps, and what it is.
    along : str
        What the curve runs along, for the symbols of its points; its end is the unit.
    below, above : float, optional
        What holds before the first point and after the last one; by default the value there.
    logarithmic : bool
        Whether the lines are straight between the logarithms of both.
    """
    if isinstance(at, np.ndarray):
        if logarithmic:
            logarithms = np.interp(np.log(at), np.log(curve.x), np.log(curve.y))
            return np.exp(logarithms)
        return np.interp(at, curve.x, curve.y, left=below, right=above)
    place = bisect_right(curve.x, at)
    if place in (0, len(curve.x)):
        beyond = below if place == 0 else above if at > curve.x[-1] else None
        end = curve.y[place - bool(place)] if beyond is None else beyond
        return published(symbol, end, f"{meaning}, at the end of the table", curve.citation)
    points = []
    for side, here in (("below", place - 1), ("above", place)):
        cited = (f"point of the table {side}", curve.citation)
        points.append(published(f"{side}_{symbol}_{along}", curve.x[here], *cited))
        points.append(published(f"{side}_{symbol}", curve.y[here], *cited))
    low_at, low, high_at, high = points
    line = on_logarithmic_line if logarithmic else on_line
    value = line(at=at, low_at=low_at, low=low, high_at=high_at, high=high)
    return named(symbol, by(curve.citation, value), meaning)
