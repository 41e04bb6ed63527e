"""Elements whose voltage is no straight line: wires that heat themselves, and filaments.

Each law is written once, for one element in plain numbers or for many in arrays.
"""

import math
from collections.abc import Callable
from typing import Any, NamedTuple

from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.rows import Flags, negate, pick, some

# Step of the current for the slope of a wire's temperature: relative, and in amperes at rest.
_SLOPE_STEP = 1e-3
_SLOPE_STEP_A = 1e-6
_HALVINGS = 60
# A wire whose current falls back to this close to the one before creeps up to its runaway: it
# would go on for ever.
_CREEP = 1e-4
# A filament at this many times its rated current is a search that went astray, and no lamp.
_MOST_RATED = 1e3
# Of the rated resistance: a filament without current has no slope, and a loop of such no answer.
_LEAST_SLOPE = 1e-3

# Magnitudes of currents in, a little more current in, temperatures of both out.
Warmth = Callable[[Any, Any], tuple[Any, Any]]


class Line(NamedTuple):
    """An element at a current, and the straight line that touches it there.

    Attributes
    ----------
    current_a : float or ndarray
        Where the line touches; not what was asked where there is nothing to touch. [A]
    drop_v : float or ndarray
        Voltage of start against end there. [V]
    slope_ohm : float or ndarray
        Change of the drop with the current. [ohm]
    temperature_c : float or ndarray
        Of a wire's conductor. [degC]
    resistance_ohm : float or ndarray
        Drop over current. [ohm]
    lost : bool or ndarray of bool
        Of wires that have no steady temperature at the current that was asked: the line goes on
        from the last current that has one.
    """

    current_a: Any
    drop_v: Any
    slope_ohm: Any
    temperature_c: Any
    resistance_ohm: Any
    lost: Flags


def wire_line(
    *,
    current_a: Any,
    before: Line | None,
    resistance_20_ohm: Any,
    temperature_coefficient_per_k: Any,
    warmth: Warmth,
) -> Line:
    """Find temperature, drop and slope of wires at their currents.

    Parameters
    ----------
    current_a : float or ndarray
        Currents. [A]
    before : Line, optional
        At currents with a steady temperature, to fall back towards where there is none; by default
        at no current.
    resistance_20_ohm, temperature_coefficient_per_k : float or ndarray
        Of each wire. [ohm], [1/K]
    warmth : callable
        Temperatures at two currents; NaN where there is no steady one.

    Returns
    -------
    Line
        At `current_a`, or where that has no steady temperature at a current nearer to the one
        before. `lost` and the line before where there is none but within `_CREEP` of it.
    """
    if before is None:
        none = 0.0 * current_a
        before = Line(none, none, resistance_20_ohm, math.nan, resistance_20_ohm, False)
    asked_a, fallen = current_a, False
    gone: Any = False
    for _ in range(_HALVINGS):
        magnitude: Any = abs(current_a)
        step = _SLOPE_STEP * magnitude + _SLOPE_STEP_A
        warm, warmer = warmth(magnitude, magnitude + step)
        cold: Any = negate((abs(warm) < math.inf) & (abs(warmer) < math.inf)) & negate(gone)
        if not some(cold):
            break
        fallen = fallen | cold
        current_a = pick(cold, 0.5 * (current_a + before.current_a), current_a)
        gone = gone | (cold & _creeps(current_a, before.current_a))
    else:
        gone = gone | cold
    if some(fallen):
        gone = gone | (fallen & _creeps(current_a, before.current_a))
    ohm = resistance_20_ohm * resistance_ratio(
        temperature_c=warm, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    above = resistance_20_ohm * resistance_ratio(
        temperature_c=warmer, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    slope = ohm + magnitude * (above - ohm) / step
    line = Line(current_a, ohm * current_a, slope, warm, ohm, gone)
    if not some(gone):
        return line
    kept = Line(*(pick(gone, old, new) for old, new in zip(before, line, strict=True)))
    return kept._replace(lost=gone & (abs(asked_a) >= abs(kept.current_a)))


def _creeps(current_a: Any, before_a: Any) -> Any:
    return abs(current_a - before_a) <= _CREEP * abs(current_a)


def lamp_line(*, current_a: Any, rated_v: Any, rated_a: Any, exponent: Any) -> Line:
    """Find drop and slope of filaments at their currents.

    Parameters
    ----------
    current_a : float or ndarray
        Currents. [A]
    rated_v, rated_a : float or ndarray
        As of `Lamps`. [V], [A]
    exponent : float or ndarray
        As of `Lamps`.

    Returns
    -------
    Line
        At `current_a`, or at `_MOST_RATED` times the rated current where that is more. The slope
        is nowhere below `_LEAST_SLOPE` of the rated resistance.

    Notes
    -----
    ``v = rated_v * (i / rated_a) ** (1 / exponent)``, odd in i: a filament's current grows with a
    power of its voltage that is below one. What power is not known here.
    """
    share = abs(current_a) / rated_a
    beyond = share > _MOST_RATED
    current_a = pick(beyond, pick(current_a > 0, 1.0, -1.0) * _MOST_RATED * rated_a, current_a)
    share = pick(beyond, _MOST_RATED, share)
    ohm = rated_v / rated_a * share ** (1.0 / exponent - 1.0)
    least = _LEAST_SLOPE * rated_v / rated_a
    slope = ohm / exponent
    return Line(current_a, ohm * current_a, pick(slope > least, slope, least), math.nan, ohm, False)
