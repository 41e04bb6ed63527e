"""Wires at every current that their fuse interrupts, for as long as it may take."""

from collections.abc import Sequence
from dataclasses import fields
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.laws import solved
from lastvolt_service.operations.judging import FAIL, UNKNOWN, Judged, stays_within
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.physics.cooling import Wire
from lastvolt_service.physics.hottest import hottest_c
from lastvolt_service.physics.transient import temperature_after_c
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, given, pick, plain
from lastvolt_service.tables.fuses import SHORT_TIME_S, Band

BASIS = "heat balance in time, from the load's steady temperature, for the fuse's longest time"


# What the steps of heat in time may be off.
_SLACK_K = 1.0
# Points and wires from which it pays to look first where the worst may be.
_MANY = 2_000
FloatArray: TypeAlias = NDArray[np.float64]


class FusedWire(NamedTuple):
    """What a fuse has to protect.

    Attributes
    ----------
    permissible_a : float or ndarray
        Steady current that it may carry. [A]
    is_known : bool or ndarray of bool
        Whether there is a wire at all, and not that current alone.
    wire : HeatedWire or None
        The wires; None where none is known.
    start_c : float or ndarray
        Of the conductor at its load. [degC]
    live_s : float or ndarray
        Longest that it is live. [s]
    """

    permissible_a: Numbers
    is_known: Flags = False
    wire: HeatedWire | None = None
    start_c: Numbers = NOT_GIVEN
    live_s: Numbers = np.inf


class Overload(NamedTuple):
    """The overload that is worst for the wire: for the fuse's longest time at that current.

    Attributes
    ----------
    judged : Judged
        Temperature of the conductor at its end, against what the insulation bears so long. [degC]
    current_a, time_s : float or ndarray
        [A], [s]
    """

    judged: Judged
    current_a: Numbers
    time_s: Numbers


def heated_c(wire: HeatedWire, current_a: Numbers, time_s: Numbers, start_c: Numbers) -> Numbers:
    """Find the temperature of conductors after a time; NaN where they are no longer wires."""
    found: Numbers = temperature_after_c(
        current_a=current_a,
        on_time_s=time_s,
        start_c=start_c,
        ceiling_c=wire.ceiling_c,
        wire=wire.physics,
    )
    return found


NOT_KNOWN = Overload(Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN), NOT_GIVEN, NOT_GIVEN)


def overload(
    fused: FusedWire, band: Band | None, cold_rating_a: Numbers, wanted: Flags = True
) -> Overload:
    """Find the worst overload of wires behind fuses.

    Parameters
    ----------
    fused : FusedWire
        The wires.
    band : Band or None
        Longest times of the family.
    cold_rating_a : float or ndarray
        Rating of the fuse times what its cold place lets it hold more. [A]
    wanted : bool or ndarray of bool
        Of which it is asked; of many the others fail, by nothing that was reckoned.
    """
    wire = fused.wire
    if wire is None or band is None:
        return NOT_KNOWN
    columns = (cold_rating_a, fused.permissible_a, wire.area_mm2)
    is_one = not any(isinstance(each, np.ndarray) for each in columns)
    multiples, times_s = band.multiples, band.longest_s
    if not is_one:
        multiples, times_s = multiples[:, None], times_s[:, None]
    rating_a = float(cold_rating_a) if is_one else cold_rating_a
    return _worst(fused, multiples, times_s, rating_a, wanted)


def overloads(fused: FusedWire, bands: Sequence[Band], cold_rating_a: Numbers) -> Overload:
    """Find the worst overload of each of many wires, each behind a fuse of a family of its own.

    Parameters
    ----------
    fused : FusedWire
        The wires, in columns.
    bands : sequence of Band
        Of each.
    cold_rating_a : ndarray
        As of `overload`. [A]
    """
    most = max(len(band.multiples) for band in bands)
    # Shorter ones say their last point again.
    points = [np.minimum(np.arange(most), len(band.multiples) - 1) for band in bands]
    rows = list(zip(bands, points, strict=True))
    multiples = np.stack([band.multiples[at] for band, at in rows], axis=1)
    times_s = np.stack([band.longest_s[at] for band, at in rows], axis=1)
    return _worst(fused, multiples, times_s, cold_rating_a)


def _worst(
    fused: FusedWire,
    multiples: FloatArray,
    times_s: FloatArray,
    rating_a: Numbers,
    wanted: Flags = True,
) -> Overload:
    """The worst of some multiples of a rating, each for its time; points along the first axis."""
    wire = fused.wire
    if wire is None:
        return NOT_KNOWN
    current_a, times_s = multiples * rating_a, np.minimum(times_s, fused.live_s)
    start_c = pick(given(fused.start_c), fused.start_c, wire.ceiling_c)
    finite_a = np.where(np.isfinite(current_a), current_a, 0.0)
    short_c, limit_c = wire.short_circuit_c, wire.limit_c
    is_short = (times_s <= SHORT_TIME_S) & (short_c > limit_c)
    limits_c = np.where(is_short, short_c, limit_c)
    if np.ndim(finite_a) == 1 or finite_a.size < _MANY:
        hot_c = heated_c(wire, finite_a, times_s, start_c)
    else:
        rows = np.flatnonzero(np.broadcast_to(wanted & fused.is_known, finite_a.shape[1:]))
        hot_c = _hot_where_worst(wire, rows, finite_a, times_s, start_c, limits_c)
    limits_c = np.broadcast_to(limits_c, np.shape(hot_c))
    margins_k = np.where(np.isnan(hot_c), -np.inf, limits_c - hot_c)
    worst = margins_k.argmin(axis=0)

    def at_worst(values: object) -> Numbers:
        column = np.broadcast_to(np.asarray(values), np.shape(hot_c))
        found: Numbers = plain(np.take_along_axis(column, np.expand_dims(worst, 0), axis=0)[0])
        return found

    value_c = solved(
        "overload_temperature_c", at_worst(hot_c), "conductor when the fuse opens", BASIS
    )
    # The fuse's longest time is the margin.
    judged = stays_within(value_c, at_worst(limits_c), 0.0)
    verdict = pick(given(value_c), judged.verdict, FAIL)
    worst_a = solved("overload_current_a", at_worst(current_a), "worst for the wire", BASIS)
    worst_s = solved("overload_time_s", at_worst(times_s), "until the fuse opens at that", BASIS)
    return Overload(
        judged._replace(verdict=pick(fused.is_known, verdict, UNKNOWN)),
        pick(fused.is_known, worst_a, NOT_GIVEN),
        pick(fused.is_known, worst_s, NOT_GIVEN),
    )


def _hot_where_worst(
    wire: HeatedWire,
    places: NDArray[np.intp],
    current_a: FloatArray,
    times_s: FloatArray,
    start_c: Numbers,
    limits_c: FloatArray,
) -> FloatArray:
    """Temperatures of some rows of wires where they may be worst, and no heat elsewhere. [degC].

    The point that may be worst is looked at first, then all that may be worse than that.
    """
    shape = current_a.shape
    times_s, start_c, limits_c = (
        np.broadcast_to(each, shape)[:, places] for each in (times_s, start_c, limits_c)
    )
    current_a, physics = current_a[:, places], wire.physics
    columns = {
        each.name: np.broadcast_to(getattr(physics, each.name), shape[1:])[places]
        for each in fields(Wire)
    }
    ceiling_c = np.broadcast_to(wire.ceiling_c, shape[1:])[places]
    hot_c = np.full(shape, -np.inf)
    hot_c[0] = np.nan
    hot_c[0, places] = -np.inf
    every = np.arange(len(places))
    most_c = hottest_c(
        current_a=current_a, on_time_s=times_s, start_c=start_c, wire=Wire(**columns)
    )
    most_c = most_c + _SLACK_K
    least_k = np.where(most_c < ceiling_c, limits_c - most_c, -np.inf)
    first = least_k.argmin(axis=0)

    def look(points: NDArray[np.intp], rows: NDArray[np.intp]) -> FloatArray:
        found = np.asarray(
            temperature_after_c(
                current_a=current_a[points, rows],
                on_time_s=times_s[points, rows],
                start_c=start_c[points, rows],
                ceiling_c=ceiling_c[rows],
                wire=Wire(**{name: column[rows] for name, column in columns.items()}),
            ),
            dtype=np.float64,
        )
        hot_c[points, places[rows]] = found
        return found

    found_c = look(first, every)
    best_k = np.where(np.isnan(found_c), -np.inf, limits_c[first, every] - found_c)
    # Of points that are as bad the first counts: behind one that is lost there is nothing to find.
    is_before = np.arange(shape[0])[:, None] < first
    look(*np.nonzero((least_k < best_k) | ((least_k == best_k) & is_before)))
    return hot_c
