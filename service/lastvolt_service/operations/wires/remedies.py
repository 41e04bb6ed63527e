"""Changes to a wire that several operations look for: size, insulation, place."""

from collections.abc import Iterator
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.fields import known
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.options import larger_sizes
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.wires.fields import WireInPlace, Zoned
from lastvolt_service.rows import given
from lastvolt_service.tables.insulation import insulation, insulation_kinds
from lastvolt_service.tables.practice import zones
from lastvolt_service.units import Interval

LEAST_AMBIENT_C = 20.0

Options = Iterator[tuple[Said, tuple[Put, ...]]]


def next_sizes(wire: WireInPlace, within: Path = ()) -> Options:
    """Give larger sizes, the next one first; none where the air alone is too hot for any."""
    if _is_air_too_hot(wire):
        return
    size, standard = str(wire.size), wire.standard
    # An outer diameter that was given is that of the smaller wire.
    also = (Put((*within, "outer_diameter_mm"), None),) if given(wire.outer_diameter_mm) else ()
    for each in larger_sizes(size, standard if isinstance(standard, str) else None):
        said = Said("size", {"new": (each, ""), "now": (size, "")})
        yield said, (Put((*within, "size"), each), *also)


def _is_air_too_hot(wire: WireInPlace) -> bool:
    """Say whether the air is at the insulation's limit, even at the best of what is known."""
    ambient: Any = wire.ambient_c
    if isinstance(wire, Zoned) and isinstance(wire.zone, str):
        ambient = zones()[wire.zone].ambient_c
    ambient_c = ambient.low if isinstance(ambient, Interval) else ambient
    limit_c = _limit_c(wire)
    return bool(given(limit_c) and ambient_c >= limit_c)


def _limit_c(wire: WireInPlace) -> Any:
    """What the insulation bears, at best; not given where that is not known. [degC]."""
    limit_c: Any = wire.insulation_limit_c
    if isinstance(limit_c, Interval):
        return limit_c.high
    if not given(limit_c) and isinstance(wire.insulation, str):
        return insulation(wire.insulation).limit_c
    return limit_c


def better_insulation(wire: WireInPlace, within: Path = ()) -> Options:
    """Give kinds of insulation that bear more heat, of each limit one, the least first."""
    now_c = _limit_c(wire)
    own: tuple[Put, ...] = ()
    if known(wire.insulation_limit_c):
        own = (Put((*within, "insulation_limit_c"), None),)
    limits = {insulation(kind).limit_c: kind for kind in reversed(insulation_kinds())}
    for limit_c in sorted(limits):
        if limit_c > now_c:
            kind = limits[limit_c]
            said = Said("insulation", {"kind": (kind, ""), "new": (limit_c, "degC")})
            yield said, (Put((*within, "insulation"), kind), *own)


def cooler_place(place: Zoned, trials: Trials) -> None:
    """Try the wire out of its loom, in cooler zones, or where the air is as cool as needed."""
    if place.grouped_conductors > 1:
        trials.offer(Said("alone"), (Put(("grouped_conductors",), 1),))
    if not trials.first_that_cures(_cooler_zones(place), most=3) and (
        place.ambient_c > LEAST_AMBIENT_C
    ):
        trials.search("ambient_c", place.ambient_c, LEAST_AMBIENT_C)


def _cooler_zones(place: Zoned) -> Options:
    """Cooler places in the same room: a wire lies where its load is."""
    if not isinstance(place.zone, str):
        return
    for name, zone in zones().items():
        if place.zone.startswith(f"{name}_"):
            ambient_c = zone.ambient_c
            said = Said("zone", {"place": (name.replace("_", " "), ""), "new": (ambient_c, "degC")})
            yield said, (Put(("zone",), name),)
