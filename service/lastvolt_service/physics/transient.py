"""Heat of a wire in time: short loads and duty cycles.

The state is the integral of squared current that would bring the conductor to its temperature
without any cooling, `adiabatic_a2s`. In it the heat equation ``C dT/dt = I**2 r(T) - P(T)``
becomes::

    dv/dt = I**2 - w(v),    w = P(T) / r(T)

where w is the squared current that would hold the conductor at that temperature. w does not depend
on the current and is nearly a straight line: it is computed at a few points, and between them the
equation is solved exactly. Long times, no current and runaway need no care of their own.
"""

from typing import Any, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.constants import PI
from lastvolt_service.physics.cooling import Wire, surface_cooling
from lastvolt_service.physics.fusing import adiabatic_a2s, adiabatic_temperature_c
from lastvolt_service.physics.heating import (
    by_blocks,
    conductor_temperature,
    solve_surface_rise,
)

# Points of w over the range of temperature: the temperature is then within 0.1 % of its rise.
_SEGMENTS = 24
_BLOCK_ROWS = 1_024
_FRACTIONS = np.linspace(0.0, 1.0, _SEGMENTS + 1)[:, None]
_MAXIMUM_ITERATIONS = 60
_TINY = 1e-100
_FOR_EVER_S = 1e12

Array: TypeAlias = NDArray[np.float64]


class _Course(NamedTuple):
    """Points on the way between two temperatures, along the first axis; rows along the second."""

    charge_a2s: Array  # v, 0 at the first point
    square: Array  # w, in A2


@law(
    """
    diameter_ratio = max(outer_diameter_mm / conductor_diameter_mm, 1.000001)
        # outer diameter over that of the conductor
    insulation_share = 0.5 / ln(diameter_ratio) - 1 / (diameter_ratio * diameter_ratio - 1)
        # share of the insulation that follows the conductor: Van Wormer
    heat_capacity_j_per_m_k = (metal_j_per_m3_k * area_mm2 + insulation_j_per_m3_k
        * insulation_share * pi / 4 * (outer_diameter_mm ** 2 - conductor_diameter_mm ** 2))
        / 1000000
        # of the metal, and of the insulation that follows it
    """,
    source="IEC 60853-2, cyclic and emergency current rating of cables",
    constants=(PI,),
)
def heat_capacity_j_per_m_k(
    *,
    area_mm2: Real,
    metal_j_per_m3_k: Real,
    conductor_diameter_mm: Real,
    outer_diameter_mm: Real,
    insulation_j_per_m3_k: Real,
) -> Real:
    """Heat capacity that follows the temperature of the conductor.

    Parameters
    ----------
    area_mm2 : float or ndarray
        Section of metal. [mm2]
    metal_j_per_m3_k : float or ndarray
        Heat capacity of the metal. [J/(m3*K)]
    conductor_diameter_mm : float or ndarray
        Over the strands. [mm]
    outer_diameter_mm : float or ndarray
        Over the insulation; that of the conductor for a bare wire. [mm]
    insulation_j_per_m3_k : float or ndarray
        Heat capacity of the insulation. [J/(m3*K)]

    Returns
    -------
    capacity_j_per_m_k : float or ndarray
        Broadcast shape. [J/(m*K)]

    Notes
    -----
    All of the metal, and of the insulation the share, a little less than half, that Van Wormer
    puts at the conductor. The share at the surface is left out, so that a load never comes out
    cooler than it is.

    References
    ----------
    IEC 60853-2, Calculation of the cyclic and emergency current rating of cables.
    """
    ratio = np.maximum(outer_diameter_mm / conductor_diameter_mm, 1.0 + 1e-6)
    share = 0.5 / np.log(ratio) - 1.0 / (ratio * ratio - 1.0)
    insulation_mm2 = np.pi / 4 * (outer_diameter_mm**2 - conductor_diameter_mm**2)
    capacity: Real = 1e-6 * (
        metal_j_per_m3_k * area_mm2 + insulation_j_per_m3_k * share * insulation_mm2
    )
    return capacity


def temperature_after_c(
    *,
    current_a: Real,
    on_time_s: Real,
    start_c: Real,
    ceiling_c: Real,
    wire: Wire,
    heat_capacity_j_per_m_k: Real,
) -> Real:
    """Temperature of the conductor after a constant current for some time.

    Parameters
    ----------
    current_a : float or ndarray
        Current; 0 to cool down. [A]
    on_time_s : float or ndarray
        How long it flows. [s]
    start_c : float or ndarray
        Temperature of the conductor before. [degC]
    ceiling_c : float or ndarray
        Where the search ends, as in `conductor_temperature`. [degC]
    wire : Wire
        The wire.
    heat_capacity_j_per_m_k : float or ndarray
        Heat capacity that follows the conductor. [J/(m*K)]

    Returns
    -------
    temperature_c : float or ndarray
        Broadcast shape; NaN where the ceiling is passed on the way. [degC]

    Notes
    -----
    ``C dT/dt = I**2 r(T) - P(T)`` with the cooling of `conductor_temperature`, within 0.1 % of
    the change of temperature. Heat flows through the insulation without delay.
    """
    temperature: Real
    (temperature,) = by_blocks(
        solve=_temperature_after,
        wire=wire,
        columns=(current_a, on_time_s, start_c, ceiling_c, heat_capacity_j_per_m_k),
        rows=_BLOCK_ROWS,
    )
    return temperature


def duty_current_a(
    *,
    limit_c: Real,
    on_time_s: Real,
    wire: Wire,
    heat_capacity_j_per_m_k: Real,
    off_time_s: Real = np.inf,
) -> Real:
    """Current that a wire may carry for a time, once or over and over.

    Parameters
    ----------
    limit_c : float or ndarray
        Temperature that the conductor may have at the end of each load. [degC]
    on_time_s : float or ndarray
        How long the current flows. [s]
    wire : Wire
        The wire.
    heat_capacity_j_per_m_k : float or ndarray
        Heat capacity that follows the conductor. [J/(m*K)]
    off_time_s : float or ndarray
        Rest before the next load; infinite for a single load on a wire at ambient. [s]

    Returns
    -------
    current_a : float or ndarray
        Broadcast shape: never below the steady permissible current, infinite for no time at all,
        and 0 where the ambient is at the limit or above it. [A]

    Notes
    -----
    In the periodic state the rest begins at the limit and tells how far the wire cools, whatever
    the current; the current that brings it back to the limit in the on-time is the answer.
    """
    current: Real
    (current,) = by_blocks(
        solve=_duty_current,
        wire=wire,
        columns=(limit_c, on_time_s, heat_capacity_j_per_m_k, off_time_s),
        rows=_BLOCK_ROWS,
    )
    return current


def time_constant_s(
    *, current_a: Real, surface_c: Real, wire: Wire, heat_capacity_j_per_m_k: Real
) -> Real:
    """Time constant of a wire about its steady state.

    Parameters
    ----------
    current_a : float or ndarray
        Steady current. [A]
    surface_c : float or ndarray
        Temperature at which the surface settles; NaN where there is no steady state. [degC]
    wire : Wire
        The wire.
    heat_capacity_j_per_m_k : float or ndarray
        Heat capacity that follows the conductor. [J/(m*K)]

    Returns
    -------
    time_s : float or ndarray
        Broadcast shape. [s]
    """
    cooling = surface_cooling(rise_k=wire.surface_rise_k(surface_c), wire=wire)
    return settling_time_s(
        current_a=current_a,
        cooling_slope_w_per_m_k=cooling.slope_w_per_m_k,
        insulation_k_m_per_w=wire.insulation_k_m_per_w,
        grouping_factor=wire.grouping_factor,
        resistance_20_ohm_per_m=wire.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
        heat_capacity_j_per_m_k=heat_capacity_j_per_m_k,
    )


@law(
    """
    conductance_w_per_m_k = cooling_slope_w_per_m_k
        / (1 + insulation_k_m_per_w * cooling_slope_w_per_m_k)
        # further heat given off per kelvin of the conductor
    time_constant_s = heat_capacity_j_per_m_k / (grouping_factor ** 2 * conductance_w_per_m_k
        - current_a ** 2 * resistance_20_ohm_per_m * temperature_coefficient_per_k)
        # of the rise about the steady state: cooling less what a hotter conductor adds
    """,
    source="heat balance, linear about the steady state",
)
def settling_time_s(
    *,
    current_a: Real,
    cooling_slope_w_per_m_k: Real,
    insulation_k_m_per_w: Real,
    grouping_factor: Real,
    resistance_20_ohm_per_m: Real,
    temperature_coefficient_per_k: Real,
    heat_capacity_j_per_m_k: Real,
) -> Real:
    """Heat capacity over what is given off for each kelvin, less what is added.

    Parameters
    ----------
    current_a : float or ndarray
        Steady current. [A]
    cooling_slope_w_per_m_k : float or ndarray
        Further heat that the surface gives off per kelvin. [W/(m*K)]
    insulation_k_m_per_w : float or ndarray
        Thermal resistance of the insulation. [K*m/W]
    grouping_factor : float or ndarray
        As of `Wire`.
    resistance_20_ohm_per_m : float or ndarray
        As of `Wire`. [ohm/m]
    temperature_coefficient_per_k : float or ndarray
        As of `Wire`. [1/K]
    heat_capacity_j_per_m_k : float or ndarray
        Heat capacity that follows the conductor. [J/(m*K)]

    Returns
    -------
    time_s : float or ndarray
        Broadcast shape. [s]
    """
    slope = cooling_slope_w_per_m_k
    conductance = slope / (1.0 + insulation_k_m_per_w * slope)
    feedback = current_a**2 * resistance_20_ohm_per_m * temperature_coefficient_per_k
    return heat_capacity_j_per_m_k / (grouping_factor**2 * conductance - feedback)


def _temperature_after(
    wire: Wire,
    current_a: Real,
    on_time_s: Real,
    start_c: Real,
    ceiling_c: Real,
    heat_capacity: Real,
) -> tuple[Any, ...]:
    """Solve one block."""
    steady = conductor_temperature(current_a=current_a, wire=wire, ceiling_c=ceiling_c)
    end_rise = steady.surface_temperature_c - wire.ambient_c
    if np.any(steady.runaway):
        end_rise = np.where(steady.runaway, _rise_at(ceiling_c, wire), end_rise)
    course = _course(_rise_at(start_c, wire), end_rise, wire, heat_capacity)
    charge, _, arrived = _march(course, current_a**2, on_time_s)
    temperature = adiabatic_temperature_c(
        start_c=start_c,
        integral_a2s=charge,
        heat_capacity_j_per_m_k=heat_capacity,
        resistance_20_ohm_per_m=wire.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
    )
    lost = steady.runaway & (arrived | np.greater_equal(start_c, ceiling_c))
    return (np.where(lost, np.nan, temperature)[()],)


def _duty_current(
    wire: Wire, limit_c: Real, on_time_s: Real, heat_capacity: Real, off_time_s: Real
) -> tuple[Any, ...]:
    """Solve one block: Newton for the logarithm of I**2 less the steady square at the limit."""
    warm = np.maximum(limit_c, wire.ambient_c)
    course = _course(0.0 * warm, _rise_at(warm, wire), wire, heat_capacity)
    from_end = course.charge_a2s - course.charge_a2s[-1]
    rest_charge, rest_square, _ = _march(
        _Course(from_end[::-1], course.square[::-1]), 0.0, off_time_s
    )
    charge = np.maximum(from_end, rest_charge)
    square = np.maximum(course.square, rest_square)
    steady = square[-1]
    time = np.where(on_time_s <= 0.0, 1.0, np.minimum(on_time_s, _FOR_EVER_S))
    excess = _excess_square(charge, steady - square, time)
    current = np.where(on_time_s <= 0.0, np.inf, np.sqrt(steady + excess))
    return (np.where(limit_c <= wire.ambient_c, 0.0, current),)


def _excess_square(charge: Array, short: Array, time_s: Real) -> Array:
    """Squared current above the steady one that runs through all of `charge` in the time.

    `short` is the steady square less w along the way. Newton for the logarithm: the time is a
    convex, falling function of it, so Newton comes to the root from above without crossing.
    """
    total = np.maximum(charge[-1] - charge[0], _TINY)
    # Bounds: no cooling at all, and so little that it does not show in the current.
    top = np.log(total / time_s)
    bottom = np.minimum(np.log(np.maximum(short[0], _TINY)) - 60.0, top)
    # First guess: w as one straight line.
    exponent = np.minimum(time_s * short[0] / total, 600.0)
    z = top - np.log(_mean_growth(exponent))
    for _ in range(_MAXIMUM_ITERATIONS):
        z = np.minimum(np.maximum(z, bottom), top)
        excess = np.exp(z)
        gap = short + excess
        error = _seconds(charge, gap).sum(axis=0) - time_s
        if not ((np.abs(error) > 1e-11 * time_s) & (z > bottom)).any():
            break
        slope = excess * (np.diff(charge, axis=0) / (gap[:-1] * gap[1:])).sum(axis=0)
        z = z + error / np.maximum(slope, _TINY)
    return np.where(np.abs(error) <= 1e-9 * time_s, excess, np.where(z <= bottom, 0.0, np.nan))


def _rise_at(conductor_c: Real, wire: Wire) -> Real:
    """Rise of the surface at which the conductor has a temperature."""
    rise = conductor_c - wire.ambient_c
    if not np.any(rise):
        return rise
    surface, *_ = solve_surface_rise(
        weight=wire.insulation_k_m_per_w, linear=1.0, source=rise, span_k=rise, wire=wire
    )
    return surface


def _course(first_rise: Real, last_rise: Real, wire: Wire, heat_capacity: Real) -> _Course:
    """Points between two rises of the surface."""
    rise = first_rise + (last_rise - first_rise) * _FRACTIONS
    heat = rise * surface_cooling(rise_k=rise, wire=wire).w_per_m_k
    conductor_c = wire.ambient_c + rise + heat * wire.insulation_k_m_per_w
    ohm_per_m = wire.resistance_20_ohm_per_m * resistance_ratio(
        temperature_c=conductor_c, temperature_coefficient_per_k=wire.temperature_coefficient_per_k
    )
    charge = adiabatic_a2s(
        start_c=conductor_c[0],
        end_c=conductor_c,
        heat_capacity_j_per_m_k=heat_capacity,
        resistance_20_ohm_per_m=wire.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
    )
    return _Course(np.asarray(charge), wire.grouping_factor**2 * heat / ohm_per_m)


def _march(course: _Course, square: Real, time_s: Real) -> tuple[Array, Array, Array]:
    """Follow ``dv/dt = square - w(v)`` for a time: v, w, and whether the last point is passed.

    Towards a steady state the last point is the steady state itself, where the way takes for
    ever: there the gap is held a trace above zero, and v stays at the last point.
    """
    charge = course.charge_a2s
    direction = np.where(charge[-1] < 0.0, -1.0, 1.0)
    trace = 1e-12 * (square + np.abs(course.square).max(axis=0)) + _TINY
    gap = direction * np.maximum(direction * (square - course.square), trace)
    passed = np.cumsum(_seconds(charge, gap), axis=0)
    arrived = passed[-1] <= time_s
    segment = np.minimum((passed <= time_s).sum(axis=0), _SEGMENTS - 1)

    def pick(values: Array) -> Array:
        picked: Array = values[segment, np.arange(values.shape[1])]
        return picked

    begin, length = pick(charge), pick(np.diff(charge, axis=0))
    gap_begin, gap_change = pick(gap), pick(np.diff(gap, axis=0))
    duration = pick(np.diff(passed, axis=0, prepend=0.0))
    within = np.minimum(time_s, passed[-1]) - (pick(passed) - duration)
    moving = np.where(length == 0.0, 1.0, length)
    decay = -gap_change / moving * within
    here = begin + gap_begin * within * _mean_growth(-decay)
    here = np.where(arrived, charge[-1], here)
    there = np.where(arrived, course.square[-1], square - gap_begin * np.exp(-decay))
    return here, there, arrived


def _seconds(charge: Array, gap: Array) -> Array:
    """Time through each segment, with w a straight line in it."""
    ratio = gap[1:] / gap[:-1]
    change = np.diff(gap, axis=0) / gap[:-1]
    small = np.abs(change) < 1e-9
    # Each form of the logarithm where it is exact: the gap may close by twenty powers of ten.
    logarithm = np.where(ratio < 0.5, np.log(ratio), np.log1p(np.maximum(change, -0.5)))
    mean = np.where(small, 1.0, logarithm / np.where(small, 1.0, change))
    return np.diff(charge, axis=0) / gap[:-1] * mean


def _mean_growth(x: Array) -> Array:
    """``(exp(x) - 1) / x``, 1 at 0."""
    small = np.abs(x) < 1e-9
    safe = np.where(small, 1.0, x)
    return np.where(small, 1.0, np.expm1(safe) / safe)
