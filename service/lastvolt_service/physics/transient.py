"""Heat of a wire in time: short loads and duty cycles.

Metal and insulation are followed apart, as `heat_layers` has them: in a short load the metal is
much hotter than what is round it.
"""

from typing import Any, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.laws import law
from lastvolt_service.physics import Real
from lastvolt_service.physics.blocks import by_blocks
from lastvolt_service.physics.constants import PI
from lastvolt_service.physics.cooling import Wire, surface_cooling
from lastvolt_service.physics.heat_layers import LayeredWires, Modes, Surface
from lastvolt_service.physics.heating import conductor_temperature

_BLOCK_ROWS = 1_024
# Of the search for a duty: it ends, is given up, takes its first slopes, keeps them from zero, and
# takes its longest steps so.
_CLOSE = 1e-10
_ALLOWED = 1e-3
_SMALL = 1e-4
_NO_ZERO = 1e-9
_LARGEST_STEP = 2.0
_MOST_ITERATIONS = 40
_TINY = 1e-100

Array: TypeAlias = NDArray[np.float64]


@law(
    """
    metal_j_per_m_k = metal_j_per_m3_k * area_mm2 / 1000000  # heat capacity of the metal
    insulation_j_per_m_k = insulation_j_per_m3_k * pi / 4
        * (outer_diameter_mm ** 2 - conductor_diameter_mm ** 2) / 1000000
        # heat capacity of the insulation
    """,
    source="heat capacity of a material times its volume",
    constants=(PI,),
    results=2,
)
def heat_capacities_j_per_m_k(
    *,
    area_mm2: Real,
    metal_j_per_m3_k: Real,
    conductor_diameter_mm: Real,
    outer_diameter_mm: Real,
    insulation_j_per_m3_k: Real,
) -> tuple[Real, Real]:
    """Heat capacities of the metal and of the insulation of a wire.

    Parameters
    ----------
    area_mm2 : float or ndarray
        Section of metal. [mm2]
    metal_j_per_m3_k, insulation_j_per_m3_k : float or ndarray
        Of the materials. [J/(m3*K)]
    conductor_diameter_mm, outer_diameter_mm : float or ndarray
        Over the strands, and over the insulation. [mm]

    Returns
    -------
    metal_j_per_m_k, insulation_j_per_m_k : float or ndarray
        Broadcast shape. [J/(m*K)]
    """
    metal = metal_j_per_m3_k * area_mm2 / 1e6
    ring_mm2 = np.pi / 4 * (outer_diameter_mm**2 - conductor_diameter_mm**2)
    return metal, insulation_j_per_m3_k * ring_mm2 / 1e6


def temperature_after_c(
    *, current_a: Real, on_time_s: Real, start_c: Real, ceiling_c: Real, wire: Wire
) -> Real:
    """Temperature of the conductor after a constant current for some time.

    Parameters
    ----------
    current_a : float or ndarray
        Current; 0 to cool down. [A]
    on_time_s : float or ndarray
        How long it flows. [s]
    start_c : float or ndarray
        Temperature of the conductor before, at which it rests. [degC]
    ceiling_c : float or ndarray
        Where the search ends, as in `conductor_temperature`. [degC]
    wire : Wire
        The wire, with its heat capacities.

    Returns
    -------
    temperature_c : float or ndarray
        Broadcast shape; NaN where the ceiling is passed on the way. [degC]

    Notes
    -----
    With the cooling of `conductor_temperature`. Against the equation of heat on a fine grid the
    rise is between 2 % too small and 15 % too large.
    """
    temperature: Real
    (temperature,) = by_blocks(
        solve=_temperature_after,
        wire=wire,
        columns=(current_a, on_time_s, start_c, ceiling_c),
        rows=_BLOCK_ROWS,
    )
    return temperature


def duty_current_a(
    *, limit_c: Real, on_time_s: Real, wire: Wire, off_time_s: Real = np.inf
) -> Real:
    """Current that a wire may carry for a time, once or over and over.

    Parameters
    ----------
    limit_c : float or ndarray
        Temperature that the conductor may have at the end of each load. [degC]
    on_time_s : float or ndarray
        How long the current flows. [s]
    wire : Wire
        The wire, with its heat capacities.
    off_time_s : float or ndarray
        Rest before the next load; infinite for a single load on a wire at ambient. [s]

    Returns
    -------
    current_a : float or ndarray
        Broadcast shape: never below the steady permissible current, infinite for no time at all,
        and 0 where the ambient is at the limit or above it. [A]

    Notes
    -----
    Cycles are followed from a wire that rests at the limit, which is hotter than any that repeats,
    down to the one that repeats.
    """
    current: Real
    (current,) = by_blocks(
        solve=_duty_current,
        wire=wire,
        columns=(limit_c, on_time_s, off_time_s),
        rows=_BLOCK_ROWS,
    )
    return current


def time_constant_s(*, current_a: Real, surface_c: Real, wire: Wire) -> Real:
    """Time constant of a wire about its steady state.

    Parameters
    ----------
    current_a : float or ndarray
        Steady current. [A]
    surface_c : float or ndarray
        Temperature at which the surface settles; NaN where there is no steady state. [degC]
    wire : Wire
        The wire, with its heat capacities.

    Returns
    -------
    time_s : float or ndarray
        Broadcast shape. [s]
    """
    cooling = surface_cooling(rise_k=wire.surface_rise_k(surface_c), wire=wire)
    return settling_time_s(
        current_a=current_a,
        cooling_slope_w_per_m_k=cooling.slope_w_per_m_k,
        conductor_diameter_mm=wire.conductor_diameter_mm,
        outer_diameter_mm=wire.outer_diameter_mm,
        insulation_k_m_per_w=wire.insulation_k_m_per_w,
        grouping_factor=wire.grouping_factor,
        resistance_20_ohm_per_m=wire.resistance_20_ohm_per_m,
        temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
        metal_j_per_m_k=wire.metal_j_per_m_k,
        insulation_j_per_m_k=wire.insulation_j_per_m_k,
    )


@law(
    """
    diameter_ratio = max(outer_diameter_mm / conductor_diameter_mm, 1.000001)
        # outer diameter over that of the conductor
    outer_share = 0.5 / ln(diameter_ratio) - 1 / (diameter_ratio * diameter_ratio - 1)
        # share of its resistance outside the middle of the insulation's heat capacity: Van Wormer
    surface_k_m_per_w = 1 / cooling_slope_w_per_m_k
        # thermal resistance from the surface to the air, about the steady state
    heat_capacity_j_per_m_k = metal_j_per_m_k + insulation_j_per_m_k
        * (outer_share * insulation_k_m_per_w + surface_k_m_per_w)
        / (insulation_k_m_per_w + surface_k_m_per_w)
        # heat stored for each kelvin of the conductor
    time_constant_s = heat_capacity_j_per_m_k / (grouping_factor ** 2
        / (insulation_k_m_per_w + surface_k_m_per_w)
        - current_a ** 2 * resistance_20_ohm_per_m * temperature_coefficient_per_k)
        # of the rise about the steady state: cooling less what a hotter conductor adds
    """,
    source="heat balance, linear about the steady state; IEC 60853-2 for the share",
)
def settling_time_s(
    *,
    current_a: Real,
    cooling_slope_w_per_m_k: Real,
    conductor_diameter_mm: Real,
    outer_diameter_mm: Real,
    insulation_k_m_per_w: Real,
    grouping_factor: Real,
    resistance_20_ohm_per_m: Real,
    temperature_coefficient_per_k: Real,
    metal_j_per_m_k: Real,
    insulation_j_per_m_k: Real,
) -> Real:
    """Heat stored for each kelvin over what is given off for it, less what is added.

    Parameters
    ----------
    current_a : float or ndarray
        Steady current. [A]
    cooling_slope_w_per_m_k : float or ndarray
        Further heat that the surface gives off per kelvin. [W/(m*K)]
    conductor_diameter_mm, outer_diameter_mm, grouping_factor : float or ndarray
        As of `Wire`. [mm], [1]
    insulation_k_m_per_w : float or ndarray
        Thermal resistance of the insulation. [K*m/W]
    resistance_20_ohm_per_m : float or ndarray
        As of `Wire`. [ohm/m]
    temperature_coefficient_per_k : float or ndarray
        As of `Wire`. [1/K]
    metal_j_per_m_k, insulation_j_per_m_k : float or ndarray
        As of `Wire`. [J/(m*K)]

    Returns
    -------
    time_s : float or ndarray
        Broadcast shape. [s]

    References
    ----------
    IEC 60853-2, Calculation of the cyclic and emergency current rating of cables.
    """
    ratio = np.maximum(outer_diameter_mm / conductor_diameter_mm, 1.0 + 1e-6)
    share = 0.5 / np.log(ratio) - 1.0 / (ratio * ratio - 1.0)
    surface = 1.0 / cooling_slope_w_per_m_k
    whole = insulation_k_m_per_w + surface
    stored = insulation_j_per_m_k * (share * insulation_k_m_per_w + surface) / whole
    feedback = current_a**2 * resistance_20_ohm_per_m * temperature_coefficient_per_k
    return (metal_j_per_m_k + stored) / (grouping_factor**2 / whole - feedback)


@law(
    "duty_multiple = sqrt((1 - exp(0 - (on_time_s + off_time_s) / time_constant_s))"
    " / (1 - exp(0 - on_time_s / time_constant_s)))"
    "  # current permissible for the time over that for ever, of one heat capacity",
    source="heat of a body of one heat capacity, the rise at the end of each load the same",
)
def duty_multiple(*, on_time_s: Real, off_time_s: Real, time_constant_s: Real) -> Real:
    """Permissible current of a duty over that for ever, of a body that heats as one.

    Parameters
    ----------
    on_time_s, off_time_s : float or ndarray
        How long the current flows, and the rest before the next; infinite for a single load. [s]
    time_constant_s : float or ndarray
        Of the body. [s]

    Returns
    -------
    multiple : float or ndarray
        Broadcast shape, at least 1.
    """
    left_of_cycle = np.exp(0.0 - (on_time_s + off_time_s) / time_constant_s)
    left_of_load = np.exp(0.0 - on_time_s / time_constant_s)
    multiple: Real = np.sqrt((1.0 - left_of_cycle) / (1.0 - left_of_load))
    return multiple


def _temperature_after(
    wire: Wire, current_a: Real, on_time_s: Real, start_c: Real, ceiling_c: Real
) -> tuple[Any, ...]:
    """Solve one block."""
    steady = conductor_temperature(current_a=current_a, wire=wire, ceiling_c=ceiling_c)
    last_c = np.where(steady.runaway, ceiling_c, steady.conductor_temperature_c)
    rows = LayeredWires(wire, current_a, on_time_s, start_c, ceiling_c)
    settled_k = steady.surface_temperature_c - wire.ambient_c
    surface = rows.surface(start_c, last_c, steady.runaway, settled_k)
    start = rows.at_rest(start_c, surface.heat_w_per_m[0])
    square = rows.each((current_a / wire.grouping_factor) ** 2)
    rises = rows.at(square, surface).after(start, rows.each(on_time_s))
    found_c = wire.ambient_c + rises[:, 0]
    passed = (found_c - last_c) * np.sign(last_c - start_c) >= 0.0
    lost = steady.runaway & (passed | np.greater_equal(start_c, ceiling_c))
    return (np.where(lost, np.nan, np.where(passed, last_c, found_c)),)


def _duty_current(wire: Wire, limit_c: Real, on_time_s: Real, off_time_s: Real) -> tuple[Any, ...]:
    """Solve one block."""
    warm_c = np.maximum(limit_c, wire.ambient_c)
    rows = LayeredWires(wire, limit_c, on_time_s, off_time_s)
    cycle = _Cycle(
        rows,
        rows.surface(wire.ambient_c, warm_c),
        rows.at(rows.each(0.0), rows.surface(warm_c, wire.ambient_c)),
        rows.each(np.where(on_time_s <= 0.0, 1.0, on_time_s)),
        rows.each(off_time_s),
    )
    peak = rows.at_rest(warm_c, cycle.surface.heat_w_per_m[-1])
    current = wire.grouping_factor * np.exp(0.5 * cycle.log_square_a2(peak))
    current = np.where(on_time_s <= 0.0, np.inf, current)
    return (np.where(limit_c <= wire.ambient_c, 0.0, current),)


class _Cycle(NamedTuple):
    """A load and a rest, over and over.

    Attributes
    ----------
    rows : LayeredWires
        The wires.
    surface : Surface
        While they heat up.
    resting : Modes
        While they cool down.
    load_s, rest_s : ndarray
        How long. [s]
    """

    rows: LayeredWires
    surface: Surface
    resting: Modes
    load_s: Array
    rest_s: Array

    def log_square_a2(self, peak: Array) -> Array:
        """Logarithm of the squared current that brings the metal back to its peak each time.

        Broyden's method for it and for the rises of the layers at the end of a load, all over the
        peak of the metal. It begins where all rests at the peak: no cycle that repeats is hotter.
        """
        top = np.maximum(peak[:, :1], _TINY)
        ohm_per_m = self.rows.cold_ohm_per_m + peak[:, 0] * self.rows.ohm_per_m_k
        heat = self.surface.heat_w_per_m[-1]
        least = np.log(np.maximum(heat / ohm_per_m, _TINY))
        stored = self.rows.layers.capacity_j_per_m_k[:, 0] * peak[:, 0]
        guess = np.log(np.maximum((heat + stored / self.load_s) / ohm_per_m, _TINY))
        x = np.concatenate((guess[:, None], peak[:, 1:] / top), axis=1)
        if np.isinf(self.rest_s).all():
            x = x[:, :1]  # every load begins at ambient, whatever was before
        error = self._error(x, top)
        slope = self._slope(x, error, top)
        going = np.ones(len(x), dtype=bool)
        for _ in range(_MOST_ITERATIONS):
            # Where the error no longer moves there is nothing to go by, and nothing is found.
            with np.errstate(invalid="ignore", over="ignore", under="ignore"):
                spread = np.linalg.det(slope)
            apart = np.isfinite(spread) & (spread != 0.0)
            slope = np.where(apart[:, None, None], slope, np.eye(x.shape[1]))
            step = -np.linalg.solve(slope, error[:, :, None])[:, :, 0] * going[:, None]
            step[:, 0] = np.clip(step[:, 0], -_LARGEST_STEP, _LARGEST_STEP)
            x = x + step
            before, error = error, self._error(x, top)
            going &= np.abs(step).max(axis=1) > _CLOSE
            if not going.any():
                break
            bend = error - before - np.einsum("rij,rj->ri", slope, step)
            length = np.maximum((step * step).sum(axis=1), _TINY)
            slope = slope + bend[:, :, None] * step[:, None, :] / length[:, None, None]
        # What was not found is no more than what is permitted for ever.
        found: Array = np.where(going | (np.abs(error[:, 0]) > _ALLOWED), least, x[:, 0])
        return np.where(found < least, least, found)

    def _error(self, x: Array, top: Array) -> Array:
        """How far a cycle is from repeating, and its peak, as a logarithm, from the one sought."""
        if x.shape[1] == 1:
            valley = np.zeros((len(x), self.rows.layers.capacity_j_per_m_k.shape[1]))
        else:
            end = np.concatenate((top, x[:, 1:] * top), axis=1)
            valley = self.resting.after(end, self.rest_s)
        end = self.rows.at(np.exp(x[:, 0]), self.surface).after(valley, self.load_s) / top
        metal = np.log(np.maximum(end[:, :1], _TINY))
        return np.concatenate((metal, end[:, 1 : x.shape[1]] - x[:, 1:]), axis=1)

    def _slope(self, x: Array, error: Array, top: Array) -> Array:
        columns = []
        for place in range(x.shape[1]):
            moved = x.copy()
            moved[:, place] -= _SMALL
            columns.append((error - self._error(moved, top)) / _SMALL)
        slope = np.stack(columns, axis=2)
        # Rows of what is not a number come out as not a number; a little keeps a zero from harm.
        sound = np.asarray(np.isfinite(slope).all(axis=(1, 2)))[:, None, None]
        unit = np.eye(x.shape[1])
        return np.where(sound, slope + _NO_ZERO * unit, unit)
