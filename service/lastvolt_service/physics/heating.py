"""Steady heat of a wire: its temperature at a current, and the current at a temperature."""

import math
import sys
from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.laws import JOULE, law, named
from lastvolt_service.physics import Real
from lastvolt_service.physics.blocks import by_blocks
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.cooling import STILL_AIR, Wire, surface_cooling
from lastvolt_service.rows import magnitude, negate, pick, some

# Of the balance, relative: the temperature is then good to about 1e-8 K.
TOLERANCE = 1e-10
# Newton takes 3 to 6 steps; bisection, where Newton leaves the bracket, ends within 60.
MAXIMUM_ITERATIONS = 80

Flag: TypeAlias = bool | NDArray[np.bool_]
Count: TypeAlias = int | NDArray[np.int_]

_TINY = sys.float_info.min


@dataclass(frozen=True, slots=True)
class Equilibrium:
    """Steady state of a wire at a current.

    Attributes
    ----------
    conductor_temperature_c : float or ndarray
        NaN where there is no equilibrium. [degC]
    surface_temperature_c : float or ndarray
        NaN where there is no equilibrium. [degC]
    residual : float or ndarray
        Heat given off less heat released, over the heat released at ambient temperature.
    runaway : bool or ndarray of bool
        True where the wire finds no equilibrium below the ceiling: it heats up without end.
    converged : bool or ndarray of bool
        True where the balance closes within `TOLERANCE`.
    iterations : int or ndarray of int
        Evaluations of the balance.
    """

    conductor_temperature_c: Real
    surface_temperature_c: Real
    residual: Real
    runaway: Flag
    converged: Flag
    iterations: Count


def conductor_temperature(*, current_a: Real, wire: Wire, ceiling_c: Real) -> Equilibrium:
    """Temperature at which a wire settles at a steady current.

    Parameters
    ----------
    current_a : float or ndarray
        Steady current. [A]
    wire : Wire
        The wire.
    ceiling_c : float or ndarray
        Where the search ends: beyond it the wire is no longer a wire, for example because its
        insulation melts. [degC]

    Returns
    -------
    Equilibrium
        Broadcast shape.

    Notes
    -----
    With P the heat per metre, Tc the conductor, Ts the surface and Ta the ambient::

        P = (I/g)**2 r20 (1 + a (Tc - 20)) = (Tc - Ts) / R = pi D (h_c + h_r) (Ts - Ta)

    Tc is eliminated, and ``Ts - Ta`` solved for. The heat given off per kelvin grows with the
    rise, the heat released by the same amount for each kelvin: so there is one solution below the
    ceiling or none, and none is runaway. A second, unstable one would need a resistance that grows
    faster than its linear law.
    """
    return Equilibrium(
        *by_blocks(solve=_conductor_temperature, wire=wire, columns=(current_a, ceiling_c))
    )


@law(
    "heat_in_w_per_m = (current_a / grouping_factor) ** 2 * resistance_20_ohm_per_m"
    " * (1 + temperature_coefficient_per_k * (conductor_c - 20))"
    "  # heat made in each metre; in a loom as if alone with a larger current",
    source=f"{JOULE}; IEC 28 (1913): resistance of copper on a straight line from 20 degC",
)
def released_w_per_m(
    *,
    current_a: Real,
    grouping_factor: Real,
    resistance_20_ohm_per_m: Real,
    temperature_coefficient_per_k: Real,
    conductor_c: Real,
) -> Real:
    """Heat that a conductor releases at a temperature.

    Parameters
    ----------
    current_a : float or ndarray
        Steady current. [A]
    grouping_factor : float or ndarray
        As of `Wire`.
    resistance_20_ohm_per_m : float or ndarray
        As of `Wire`. [ohm/m]
    temperature_coefficient_per_k : float or ndarray
        As of `Wire`. [1/K]
    conductor_c : float or ndarray
        Its temperature. [degC]

    Returns
    -------
    heat_w_per_m : float or ndarray
        Broadcast shape. [W/m]
    """
    ratio = resistance_ratio(
        temperature_c=conductor_c, temperature_coefficient_per_k=temperature_coefficient_per_k
    )
    return (current_a / grouping_factor) ** 2 * resistance_20_ohm_per_m * ratio


def balance(
    *, current_a: Real, conductor_c: Real, wire: Wire, surface_c: Real | None = None
) -> tuple[Real, Real]:
    """What is left over of the balances of a wire: nothing in its steady state.

    Parameters
    ----------
    current_a, conductor_c : float or ndarray
        Of the conductor. [A], [degC]
    wire : Wire
        The wire.
    surface_c : float or ndarray, optional
        Of the insulation; by default what lets the heat through to it. [degC]

    Returns
    -------
    heat_w_per_m : float or ndarray
        Heat released less heat given off by the surface. [W/m]
    conductor_k : float or ndarray
        Conductor above surface less what drives the heat through the insulation. [K]
    """
    released = released_w_per_m(
        current_a=current_a,
        grouping_factor=wire.grouping_factor,
        resistance_20_ohm_per_m=wire.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
        conductor_c=conductor_c,
    )
    drives_k = released * wire.insulation_k_m_per_w
    if surface_c is None:
        surface_c = named(
            "surface_temperature_c",
            conductor_c - drives_k,
            "of the insulation, colder by what drives the heat through it",
        )
    rise = wire.surface_rise_k(surface_c)
    off = named(
        "heat_out_w_per_m",
        rise * surface_cooling(rise_k=rise, wire=wire).w_per_m_k,
        "heat that the surface of each metre gives off",
        STILL_AIR,
    )
    return released - off, conductor_c - surface_c - drives_k


def permissible_current_a(*, limit_c: Real, wire: Wire) -> Real:
    """Steady current at which the conductor settles at a temperature.

    Parameters
    ----------
    limit_c : float or ndarray
        Temperature that the conductor may have. [degC]
    wire : Wire
        The wire.

    Returns
    -------
    current_a : float or ndarray
        Broadcast shape; 0 where the ambient is at the limit or above it. [A]

    Notes
    -----
    The balance of `conductor_temperature` with Tc known: the surface temperature closes it, and
    the current follows from the heat.
    """
    current: Real
    (current,) = by_blocks(solve=_permissible_current, wire=wire, columns=(limit_c,))
    return current


@law(
    "factor = sqrt(max((limit_c - ambient_c) / (limit_c - reference_ambient_c), 0))"
    "  # permissible current at an ambient over that at another",
    source="NFPA 70, National Electrical Code, 310.15(B)",
)
def ambient_factor(*, limit_c: Real, ambient_c: Real, reference_ambient_c: Real) -> Real:
    """Permissible current at an ambient over that at another, as the published tables have it.

    Parameters
    ----------
    limit_c : float or ndarray
        Temperature that the conductor may have. [degC]
    ambient_c : float or ndarray
        Ambient asked for. [degC]
    reference_ambient_c : float or ndarray
        Ambient of the published value, below the limit. [degC]

    Returns
    -------
    factor : float or ndarray
        Broadcast shape; 0 where the ambient is at the limit or above it.

    Notes
    -----
    Heat in proportion to the rise. For published currents only; `permissible_current_a` needs no
    such factor.

    References
    ----------
    NFPA 70, National Electrical Code, 310.15(B).
    """
    ratio = (limit_c - ambient_c) / (limit_c - reference_ambient_c)
    factor: Real = pick(ratio > 0.0, ratio, 0.0) ** 0.5
    return factor


def _conductor_temperature(wire: Wire, current_a: Real, ceiling_c: Real) -> tuple[Any, ...]:
    """Solve one block.

    P (1 - q a R) - q a rise = q (1 + a (Ta - 20)), with q the heat at 20 degC: Tc eliminated.
    """
    heat_20 = (current_a / wire.grouping_factor) ** 2 * wire.resistance_20_ohm_per_m
    feedback = heat_20 * wire.temperature_coefficient_per_k
    resistance = wire.insulation_k_m_per_w
    source = heat_20 * resistance_ratio(
        temperature_c=wire.ambient_c,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
    )
    headroom = ceiling_c - wire.ambient_c
    rise, heat, error, iterations = solve_surface_rise(
        weight=1.0 - feedback * resistance,
        linear=-feedback,
        source=source,
        span_k=pick(headroom > 0.0, headroom, 0.0),
        wire=wire,
    )
    conductor_rise = rise + heat * resistance
    closed = magnitude(error) <= TOLERANCE * magnitude(source)
    runaway = ((error < 0.0) & negate(closed)) | (conductor_rise > headroom) | (headroom < 0.0)
    converged = closed & negate(runaway)
    return (
        pick(converged, wire.ambient_c + conductor_rise, math.nan),
        pick(converged, wire.ambient_c + rise, math.nan),
        error / pick(magnitude(source) > _TINY, magnitude(source), _TINY),
        runaway,
        converged,
        iterations,
    )


def _permissible_current(wire: Wire, limit_c: Real) -> tuple[Any, ...]:
    """Solve one block."""
    resistance = wire.insulation_k_m_per_w
    conductor_rise = limit_c - wire.ambient_c
    _, heat, error, _ = solve_surface_rise(
        weight=resistance, linear=1.0, source=conductor_rise, span_k=conductor_rise, wire=wire
    )
    closed = magnitude(error) <= TOLERANCE * magnitude(conductor_rise)
    ohm_per_m = wire.resistance_20_ohm_per_m * resistance_ratio(
        temperature_c=limit_c, temperature_coefficient_per_k=wire.temperature_coefficient_per_k
    )
    current = wire.grouping_factor * (pick(heat > 0.0, heat, 0.0) / ohm_per_m) ** 0.5
    return (pick(closed, current, math.nan),)


def solve_surface_rise(
    *, weight: Real, linear: Real, source: Real, span_k: Real, wire: Wire
) -> tuple[Real, Real, Real, Count]:
    """Solve ``weight * P(rise) + linear * rise = source`` for the rise of the surface.

    Parameters
    ----------
    weight, linear, source : float or ndarray
        Of the balance; P is the heat that `surface_cooling` gives.
    span_k : float or ndarray
        The root is sought between 0 and this. [K]
    wire : Wire
        The wire.

    Returns
    -------
    rise_k : float or ndarray
        Of the surface above ambient; `span_k` where the root lies beyond it. [K]
    heat_w_per_m : float or ndarray
        P at that rise. [W/m]
    error : float or ndarray
        Left side less right side.
    iterations : int or ndarray of int
        Evaluations of the balance.

    Notes
    -----
    Newton inside a bracket. P is convex but for surfaces that hardly radiate: Newton then crosses
    the root at most once, and comes down to it. A step out of the bracket is replaced by the end
    of the span where that is untried, else by the middle of the bracket.
    """
    low, top = pick(span_k < 0.0, span_k, 0.0), pick(span_k > 0.0, span_k, 0.0)
    high = top
    # First guess: P of about (0.065 + 0.05 D) W/(m K) at a rise of 60 K, and as rise**1.2.
    steepness = weight * (0.065 + 0.05 * wire.outer_diameter_mm)
    guess = source / _steep(steepness, linear)
    steepness = steepness * (magnitude(guess) / 60.0) ** 0.2
    guess = source / _steep(steepness, linear)
    rise = pick(guess < low, low, pick(guess > top, top, guess))
    tolerance = TOLERANCE * magnitude(source)
    iterations: Any = 1
    for _ in range(MAXIMUM_ITERATIONS):
        cooling = surface_cooling(rise_k=rise, wire=wire)
        error = rise * (weight * cooling.w_per_m_k + linear) - source
        below = error < 0.0
        unsolved = (magnitude(error) > tolerance) & negate(below & (rise >= top))
        iterations = iterations + unsolved
        if not some(unsolved):
            break
        low, high = pick(below, rise, low), pick(below, high, rise)
        slope = weight * cooling.slope_w_per_m_k + linear
        step = rise - error / pick(slope == 0.0, _TINY, slope)
        outside = (step <= low) | (step >= high)
        if some(outside):
            untried = below & (high >= top)
            step = pick(outside, pick(untried, top, 0.5 * (low + high)), step)
        rise = pick(unsolved, step, rise)
    return rise, rise * cooling.w_per_m_k, error, iterations


def _steep(steepness: Any, linear: Any) -> Any:
    """Slope of the left side, kept from zero where the two parts nearly cancel."""
    least = pick(0.3 * steepness > 1e-9, 0.3 * steepness, 1e-9)
    return pick(steepness + linear > least, steepness + linear, least)
