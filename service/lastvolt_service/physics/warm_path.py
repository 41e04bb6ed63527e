"""A series path whose own current warms its wires: current and temperatures found together."""

from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.cooling import Wire, surface_cooling
from lastvolt_service.physics.heating import conductor_temperature
from lastvolt_service.physics.path import power_load_voltages
from lastvolt_service.physics.transient import temperature_after_c

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

# A step this small, relative to the current, is the last: the next would be of the order of its
# square, and the temperatures follow it along their slope.
SMALL_STEP = 1e-7
# Where the heat of a wire finds no balance, the current at which it just does is sought this near.
RUNAWAY_WIDTH = 1e-9
# Step of the current for the slope of a temperature after a time: relative, and in amperes at rest.
SLOPE_STEP = 1e-4
SLOPE_STEP_A = 1e-6
# Newton takes 3 to 5 steps; halving towards a runaway 30, and as many at the largest power.
MAXIMUM_STEPS = 100


@dataclass(frozen=True, slots=True, eq=False)
class WarmPath:
    """Wires of paths at rest, rows along the first axis and wires along the last.

    Attributes
    ----------
    temperature_c : ndarray
        Of the conductors; NaN where there is no wire or no rest. [degC]
    runaway : ndarray of bool
        Wires that find no steady temperature at the current of their path.
    exhausted : ndarray of bool, one for each row
        Paths that, warm from their current, cannot deliver the power.
    """

    temperature_c: Array
    runaway: Flags
    exhausted: Flags


class _Heat(NamedTuple):
    """Wires at a current: temperatures and their slopes, and what both make of the path."""

    temperature_c: Array
    slope_k_per_a: Array
    lost: Flags
    ohm: Array
    slope_ohm_per_a: Array


def warm_path(
    *,
    supply_v: Array,
    other_ohm: Array,
    length_m: Array,
    wire: Wire,
    ceiling_c: Array,
    load_current_a: Array,
    load_resistance_ohm: Array,
    load_power_w: Array,
    on_time_s: Array,
) -> WarmPath:
    """Temperatures at which the wires of paths settle, each path with its load at its end.

    Parameters
    ----------
    supply_v, other_ohm : ndarray, shape (rows,)
        Voltage at the start of each path, and the resistance of all that is no warmed wire.
        [V], [ohm]
    length_m, ceiling_c : ndarray, shape (rows, wires)
        Of each wire, and where it is no longer one. [m], [degC]
    wire : Wire
        The wires, likewise; NaN for those that a row does not have.
    load_current_a, load_resistance_ohm, load_power_w : ndarray, shape (rows,)
        The one that the load keeps; the others are NaN. [A], [ohm], [W]
    on_time_s : ndarray, shape (rows,)
        How long the current flows, from wires at their ambient; NaN for without end. [s]

    Returns
    -------
    WarmPath
        The current is that of the path to about `TOLERANCE` of the heat balance, relative.

    Notes
    -----
    Newton with the slope of the heat balance. A path's drop grows faster than its current. With a
    load of constant resistance Newton therefore comes down from the current of the cold path;
    where a wire finds no balance there, the current is halved towards one at which all do. With a
    load of constant power it climbs from the current of the cold path and never passes the one
    sought, so that a wire without a balance, or a path that delivers no more with more current,
    proves that there is none.
    """
    is_power, is_ohm = np.isfinite(load_power_w), np.isfinite(load_resistance_ohm)
    temperature_c = np.full(length_m.shape, np.nan)
    lost = ceiling_c < wire.ambient_c  # at the highest current tried where a wire found no balance
    runaway = lost.copy()
    cold_ohm = other_ohm + _cold_ohm(wire, length_m)
    current_a = _cold_current(supply_v, cold_ohm, load_current_a, load_resistance_ohm, load_power_w)
    exhausted = np.isnan(current_a)
    low_a, high_a = np.zeros_like(current_a), np.full_like(current_a, np.inf)
    live = np.flatnonzero(~exhausted & ~runaway.any(axis=1))
    for _ in range(MAXIMUM_STEPS):
        if not live.size:
            break
        now_a, power, ohm = current_a[live], is_power[live], is_ohm[live]
        heat = _heat(_taken(wire, live), now_a, length_m[live], ceiling_c[live], on_time_s[live])
        path_ohm = other_ohm[live] + heat.ohm
        drop_v, drop_slope_ohm = now_a * path_ohm, path_ohm + now_a * heat.slope_ohm_per_a
        # What the load would have to take less what it takes; rising towards the current sought.
        error = np.where(
            power,
            now_a * (supply_v[live] - drop_v) - load_power_w[live],
            drop_v + now_a * load_resistance_ohm[live] - supply_v[live],
        )
        slope = np.where(
            power,
            supply_v[live] - drop_v - now_a * drop_slope_ohm,
            drop_slope_ohm + load_resistance_ohm[live],
        )
        step_a = np.where((power | ohm) & (slope > 0), -error / slope, 0.0)
        unknown = heat.lost.any(axis=1)
        lost[live[unknown]] = heat.lost[unknown]
        low_a[live] = np.where(unknown | (error > 0), low_a[live], now_a)
        high_a[live] = np.where(unknown | (error > 0), now_a, high_a[live])
        narrow = high_a[live] - low_a[live] <= RUNAWAY_WIDTH * high_a[live]
        spent = power & ~unknown & (error < 0) & ~(slope > 0)
        done = ~unknown & ~spent & (np.abs(step_a) <= SMALL_STEP * now_a)
        gone = ~done & np.where(ohm, narrow, unknown)
        temperature_c[live[done]] = (heat.temperature_c + heat.slope_k_per_a * step_a[:, None])[
            done
        ]
        runaway[live[gone]] = lost[live[gone]]
        exhausted[live[spent]] = True
        next_a = now_a + step_a
        inside = ~unknown & (next_a > low_a[live]) & (next_a < high_a[live])
        current_a[live] = np.where(power | inside, next_a, 0.5 * (low_a[live] + high_a[live]))
        live = live[~(done | gone | spent)]
    runaway[live] = lost[live]  # halved to nothing
    return WarmPath(temperature_c, runaway, exhausted)


def _cold_current(
    supply_v: Array, path_ohm: Array, load_a: Array, load_ohm: Array, load_w: Array
) -> Array:
    """Current of paths whose wires are as warm as their ambient; NaN where none feeds the load."""
    stable_v, _ = power_load_voltages(
        supply_v=supply_v, path_resistance_ohm=path_ohm, load_power_w=load_w
    )
    found = np.where(np.isfinite(load_ohm), supply_v / (path_ohm + load_ohm), load_w / stable_v)
    return np.where(np.isfinite(load_a), load_a, found)


def _cold_ohm(wire: Wire, length_m: Array) -> Array:
    """Sum of the wires' resistances at their ambients, for each row."""
    ratio = resistance_ratio(
        temperature_c=wire.ambient_c,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
    )
    total: Array = np.nansum(wire.resistance_20_ohm_per_m * ratio * length_m, axis=1)
    return total


def _taken(wire: Wire, rows: NDArray[np.intp] | Flags) -> Wire:
    return Wire(**{field.name: getattr(wire, field.name)[rows] for field in fields(Wire)})


def _heat_in_time(
    wire: Wire, current: Array, ceiling_c: Array, on_time_s: Array
) -> tuple[Array, Array]:
    """Temperatures after a time, and their slopes by a difference. [degC], [K/A]."""
    step_a = SLOPE_STEP * current + SLOPE_STEP_A
    at, above = (
        np.asarray(
            temperature_after_c(
                current_a=amps,
                on_time_s=on_time_s,
                start_c=wire.ambient_c,
                ceiling_c=ceiling_c,
                wire=wire,
            )
        )
        for amps in (current, current + step_a)
    )
    return at, (above - at) / step_a


def _heat(
    wire: Wire, current_a: Array, length_m: Array, ceiling_c: Array, on_time_s: Array
) -> _Heat:
    """Wires at the currents of their paths."""
    current = current_a[:, None]
    rest = conductor_temperature(current_a=current, wire=wire, ceiling_c=ceiling_c)
    hot_c = np.array(rest.conductor_temperature_c)
    # Of the balance of `conductor_temperature`: by how much the heat has to rise for a kelvin.
    surface = surface_cooling(rise_k=rest.surface_temperature_c - wire.ambient_c, wire=wire)
    kelvin_per_w = 1.0 / surface.slope_w_per_m_k + wire.insulation_k_m_per_w
    ohm_per_m_k = wire.resistance_20_ohm_per_m * wire.temperature_coefficient_per_k
    ohm_per_m = wire.resistance_20_ohm_per_m + ohm_per_m_k * (hot_c - 20.0)
    load = current / wire.grouping_factor**2
    feedback = 1.0 - load * current * ohm_per_m_k * kelvin_per_w
    slope_k_per_a = 2.0 * load * ohm_per_m * kelvin_per_w / feedback
    brief = np.isfinite(on_time_s)
    if brief.any():
        short_c, short_k_per_a = _heat_in_time(
            _taken(wire, brief), current[brief], ceiling_c[brief], on_time_s[brief, None]
        )
        hot_c[brief], slope_k_per_a[brief] = short_c, short_k_per_a
        ohm_per_m = wire.resistance_20_ohm_per_m + ohm_per_m_k * (hot_c - 20.0)
    return _Heat(
        hot_c,
        slope_k_per_a,
        np.isnan(hot_c) & ~np.isnan(wire.ambient_c),
        np.nansum(ohm_per_m * length_m, axis=1),
        np.nansum(ohm_per_m_k * slope_k_per_a * length_m, axis=1),
    )
