"""Heat on its way through a wire: the metal, and its insulation in three layers.

Metal and insulation have temperatures of their own. In a short load the metal heats alone, and the
insulation follows through its own resistance. A layer's heat capacity sits where half of it lies
on either side (Van Wormer), which keeps the time that heat takes on its way; the layers are thin
near the metal, where temperature falls most. Against the equation of heat on a fine grid a
conductor then never comes out colder by more than a few thousandths of its rise, and hotter by no
more than 15 %, the most for the thinnest conductors in the thickest walls.

The equations are linear but for what the surface gives off: modes of the linear part are exact for
any time, and the rest, small, is followed in steps. A wire of a group heats as if alone with a
larger current, and a larger heat capacity.
"""

import math
from dataclasses import fields
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics import Real
from lastvolt_service.physics.conductors import resistance_ratio
from lastvolt_service.physics.cooling import Wire, surface_cooling
from lastvolt_service.physics.heating import solve_surface_rise
from lastvolt_service.rows import some

# Layers by their thermal resistance, from the metal outwards.
_RESISTANCES = np.array([1.0, 2.0, 3.0])
_ENDS = np.cumsum(_RESISTANCES) / _RESISTANCES.sum()
# A bare wire is reckoned with this little insulation, so that no division is by zero.
_LEAST_DIAMETER_RATIO = 1.001
_LEAST_CAPACITY = 1e-4  # of that of the metal
# Points of the heat given off, over the way.
_POINTS = np.linspace(0.0, 1.0, 21)[:, None]
_STEPS = 12
_LONGEST_S = 1e12
_LARGEST_GROWTH = 40.0  # exponent of one step: a wire that is lost stays a finite number
_TINY = 1e-100

Array: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = bool | np.bool_ | NDArray[np.bool_]


class _Layers(NamedTuple):
    """Wires as metal and layers; rows along the first axis, metal and layers along the last.

    Attributes
    ----------
    capacity_j_per_m_k : ndarray
        Of metal and layers, of a wire alone that is as hot. [J/(m*K)]
    inner_k_m_per_w : ndarray
        Thermal resistance from the metal to the metal itself, 0, and to each layer. [K*m/W]
    outer_k_m_per_w : ndarray
        From the last layer to the surface. [K*m/W]
    """

    capacity_j_per_m_k: Array
    inner_k_m_per_w: Array
    outer_k_m_per_w: Array

    def at_rest(self, conductor_k: Array, heat_w_per_m: Array) -> Array:
        """Rises of metal and layers through which heat flows steadily. [K]."""
        rises: Array = conductor_k[:, None] - heat_w_per_m[:, None] * self.inner_k_m_per_w
        return rises


def _layers_of(wire: Wire, rows: int) -> _Layers:
    """Cut the insulation of wires into layers."""

    def column(value: Real) -> Array:
        return np.broadcast_to(np.asarray(value, dtype=float), (rows,))[:, None]

    ratio = column(
        np.maximum(wire.outer_diameter_mm / wire.conductor_diameter_mm, _LEAST_DIAMETER_RATIO)
    )
    resistance = np.log(ratio) / (2.0 * np.pi * column(wire.insulation_w_per_m_k))
    reach = ratio ** np.concatenate(([0.0], _ENDS))
    each = reach[:, 1:] / reach[:, :-1]
    own = resistance * np.diff(_ENDS, prepend=0.0)
    outer_share = 0.5 / np.log(each) - 1.0 / (each * each - 1.0)
    metal, cover = column(wire.metal_j_per_m_k), column(wire.insulation_j_per_m_k)
    cover = np.maximum(cover, _LEAST_CAPACITY * metal)
    capacity = cover * np.diff(reach**2) / (ratio * ratio - 1.0)
    inner = np.cumsum(own, axis=1) - outer_share * own
    alone = column(wire.grouping_factor) ** 2
    return _Layers(
        np.concatenate((metal, capacity), axis=1) / alone,
        np.concatenate((np.zeros((rows, 1)), inner), axis=1),
        (outer_share * own)[:, -1],
    )


def _surface_rise_at(conductor_c: Real, wire: Wire) -> Real:
    """Rise of the surface at which the conductor rests at a temperature. [K]."""
    rise = conductor_c - wire.ambient_c
    if not np.any(rise):
        return rise
    surface, *_ = solve_surface_rise(
        weight=wire.insulation_k_m_per_w, linear=1.0, source=rise, span_k=rise, wire=wire
    )
    return surface


class Surface(NamedTuple):
    """Heat that surfaces give off, by the rise of the last layer, from one end of a way to another.

    Attributes
    ----------
    rise_k : ndarray
        Of the last layer, points along the first axis, rows along the last. [K]
    heat_w_per_m : ndarray
        Given off there. [W/m]
    slope_w_per_m_k : ndarray
        Of a straight line through the last point. [W/(m*K)]
    beyond_w_per_m : ndarray
        Given off beyond that line at the first point. [W/m]
    way, along_k : ndarray
        1 where the rise grows along the way, -1 where it falls; the points, times that. [K]
    turns_w_per_m_k : ndarray
        By how much what is given off beyond the line gets steeper along the way, at each point but
        the last. [W/(m*K)]
    """

    rise_k: Array
    heat_w_per_m: Array
    slope_w_per_m_k: Array
    beyond_w_per_m: Array
    way: Array
    along_k: Array
    turns_w_per_m_k: Array

    def beyond_line(self, rise_k: Array) -> Array:
        """What is given off beyond that line, up to the ends. [W/m]."""
        points = self.along_k.reshape(len(_POINTS), *(1,) * (rise_k.ndim - 1), -1)
        passed = np.maximum(np.minimum(self.way * rise_k, points[-1]) - points[:-1], 0.0)
        found: Array = self.beyond_w_per_m + np.einsum(
            "pr,p...r->...r", self.turns_w_per_m_k, passed
        )
        return found


def _surface_between(
    first_k: Real, last_k: Real, wire: Wire, layers: _Layers, is_lost: Flags
) -> Surface:
    """Give what surfaces give off between two rises of theirs."""
    shape = (len(_POINTS), len(layers.outer_k_m_per_w))
    surface = np.broadcast_to(first_k + (last_k - first_k) * _POINTS, shape)
    cooling = surface_cooling(rise_k=surface, wire=wire)
    heat = np.broadcast_to(surface * cooling.w_per_m_k, shape)
    rise = surface + heat * layers.outer_k_m_per_w
    # A way that comes to rest does so along its tangent; one that is lost only passes its end.
    tangent = np.broadcast_to(cooling.slope_w_per_m_k, shape)[-1]
    tangent = tangent / (1.0 + tangent * layers.outer_k_m_per_w)
    whole = rise[-1] - rise[0]
    chord = (heat[-1] - heat[0]) / np.where(whole == 0.0, 1.0, whole)
    slope = np.where(is_lost & (whole != 0.0), chord, tangent)
    beyond = heat - heat[-1] - slope * (rise - rise[-1])
    way = np.where(whole < 0.0, -1.0, 1.0)
    along = way * rise
    width = np.diff(along, axis=0)
    bend = np.where(width == 0.0, 0.0, np.diff(beyond, axis=0) / np.where(width == 0, 1.0, width))
    return Surface(rise, heat, slope, beyond[0], way, along, np.diff(bend, axis=0, prepend=0.0))


class Modes(NamedTuple):
    """Wires at a current, as a sum of modes that each decay, or grow, by themselves.

    Attributes
    ----------
    rate, vectors, scale, drive : ndarray
        Of the modes: how fast each decays, its shape, root of the capacities, what drives it.
    surface : Surface
        Of the wires.
    """

    rate: Array
    vectors: Array
    scale: Array
    drive: Array
    surface: Surface

    def after(self, start_k: Array, time_s: Array) -> Array:
        """Rises of metal and layers after a time, of one start or of several of each row. [K]."""
        time_s = np.minimum(time_s, _LONGEST_S)
        decay, first, second = _weights(self.rate, _lengths(self.rate, time_s))
        last = self.vectors[:, -1] / self.scale[:, -1:]
        state = np.einsum("rji,...rj->...ri", self.vectors, start_k * self.scale)
        beyond = self.surface.beyond_line((last * state).sum(axis=-1))[..., None]
        # Exact but for the bend of the surface's heat, which is of second order.
        for step in range(_STEPS):
            state = state * decay[step] + (self.drive - last * beyond) * first[step]
            next_one = self.surface.beyond_line((last * state).sum(axis=-1))[..., None]
            state = state - last * (next_one - beyond) * second[step]
            beyond = next_one
        found: Array = np.einsum("rij,...rj->...ri", self.vectors, state) / self.scale
        return found


def _modes(
    layers: _Layers, surface: Surface, square_a2: Array, cold_ohm_per_m: Array, ohm_per_m_k: Array
) -> Modes:
    """Take the equations of heat apart.

    Parameters
    ----------
    layers, surface
        Of the wires.
    square_a2 : ndarray
        Squared current of a wire alone that is as hot. [A2]
    cold_ohm_per_m, ohm_per_m_k : ndarray
        Resistance at ambient, and what each kelvin adds. [ohm/m], [ohm/(m*K)]
    """
    capacity = layers.capacity_j_per_m_k
    count = capacity.shape[1]
    link = 1.0 / np.diff(layers.inner_k_m_per_w, axis=1)
    matrix = np.zeros((*capacity.shape, count))
    place = np.arange(count - 1)
    matrix[:, place, place] = link
    matrix[:, place + 1, place + 1] += link
    matrix[:, place, place + 1] = matrix[:, place + 1, place] = -link
    matrix[:, 0, 0] -= square_a2 * ohm_per_m_k
    matrix[:, -1, -1] += surface.slope_w_per_m_k
    scale = np.sqrt(capacity)
    matrix /= scale[:, :, None] * scale[:, None, :]
    # Rows of what is not a number have no modes; they come out as not a number all the same.
    sound = np.asarray(np.isfinite(matrix).all(axis=(1, 2)))[:, None, None]
    rate, vectors = np.linalg.eigh(np.where(sound, matrix, 0.0))
    rate = np.where(sound[:, :, 0], rate, np.nan)
    last_w = surface.slope_w_per_m_k * surface.rise_k[-1] - surface.heat_w_per_m[-1]
    drive = (
        vectors[:, 0] * (square_a2 * cold_ohm_per_m / scale[:, 0])[:, None]
        + vectors[:, -1] * (last_w / scale[:, -1])[:, None]
    )
    return Modes(rate, vectors, scale, drive, surface)


def _lengths(rate: Array, time_s: Array) -> Array:
    """Lengths of steps, short while much happens: even in time over time and the slowest mode's."""
    # A mode that grows does so faster and faster: steps of one length for it.
    slowest = np.maximum(0.5 * rate.min(axis=1), _TINY)
    reach = slowest * time_s
    parts = np.linspace(0.0, 1.0, _STEPS + 1)[:, None] * (reach / (1.0 + reach))
    times = np.minimum(parts / np.maximum(1.0 - parts, _TINY) / slowest, time_s)
    times[-1] = time_s
    lengths: Array = np.diff(times, axis=0)
    return lengths


def _weights(rate: Array, lengths: Array) -> tuple[Array, Array, Array]:
    """``exp(-x)``, and the integrals of a constant and of a straight line against it."""
    length = lengths[:, :, None]
    x = np.maximum(rate * length, -_LARGEST_GROWTH)
    small = np.abs(x) < 1e-4
    safe = np.where(small, 1.0, x)
    gone = -np.expm1(-x)
    first = np.where(small, 1.0 - 0.5 * x, gone / safe)
    second = np.where(small, 0.5 - x / 6.0, (1.0 - first) / safe)
    return 1.0 - gone, first * length, second * length


class LayeredWires:
    """Wires in layers, a row each.

    Parameters
    ----------
    wire : Wire
        With their heat capacities; numbers, or arrays of one length.
    *columns : float or ndarray
        What else has rows, to tell how many there are.
    """

    def __init__(self, wire: Wire, *columns: Real) -> None:
        given = (*(getattr(wire, field.name) for field in fields(wire)), *columns)
        self._count = math.prod(np.broadcast_shapes(*map(np.shape, given)))
        self.wire = wire
        self.layers = _layers_of(wire, self._count)
        ratio, warmer = (
            resistance_ratio(
                temperature_c=wire.ambient_c + kelvin,
                temperature_coefficient_per_k=wire.temperature_coefficient_per_k,
            )
            for kelvin in (0.0, 1.0)
        )
        self.cold_ohm_per_m = self.each(wire.resistance_20_ohm_per_m * ratio)
        self.ohm_per_m_k = self.each(wire.resistance_20_ohm_per_m * (warmer - ratio))

    def each(self, value: Real) -> Array:
        """Give every row its number."""
        return np.broadcast_to(np.asarray(value, dtype=float), (self._count,))

    def surface(
        self,
        first_c: Real,
        last_c: Real,
        is_lost: Flags = False,
        settled_k: Real | None = None,
    ) -> Surface:
        """What their surfaces give off between rests of the conductor at two temperatures.

        A way that is lost comes to no rest before the last one; of the others `settled_k` is the
        rise of the surface at the last one, where it is known.
        """
        first = _surface_rise_at(first_c, self.wire)
        if settled_k is None or some(is_lost):
            last = _surface_rise_at(last_c, self.wire)
            settled_k = last if settled_k is None else np.where(is_lost, last, settled_k)
        return _surface_between(first, settled_k, self.wire, self.layers, is_lost)

    def at_rest(self, conductor_c: Real, heat_w_per_m: Array) -> Array:
        """Rises of metal and layers where the conductor rests at a temperature."""
        return self.layers.at_rest(self.each(conductor_c - self.wire.ambient_c), heat_w_per_m)

    def at(self, square_a2: Array, surface: Surface) -> Modes:
        """The wires at a squared current each."""
        return _modes(self.layers, surface, square_a2, self.cold_ohm_per_m, self.ohm_per_m_k)
