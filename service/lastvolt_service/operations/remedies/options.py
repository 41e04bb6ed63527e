"""Changes that several operations have in common."""

from collections.abc import Iterator, Mapping
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.operations.remedies.trials import Put, Trials
from lastvolt_service.tables.insulation import insulation, insulation_kinds
from lastvolt_service.tables.limits import contact_limits
from lastvolt_service.tables.practice import zones
from lastvolt_service.tables.sizes import STANDARDS, split, trade_sizes
from lastvolt_service.words.amounts import amount

# Of what a sound contact may drop at most: what a new one is reckoned with. Common practice.
NEW_SHARE = 0.5
# Of the short wire that feeds a relay from the heavy cable beside its load. Common practice.
RELAY_FEED_M = 0.5
MOST_SIZES = 6


def larger_sizes(size: str, standard: str | None) -> tuple[str, ...]:
    """List the sizes above one, smallest first."""
    name, number = split(size, standard)
    rising = STANDARDS[name] == "mm2"
    return tuple(
        each
        for each in trade_sizes(name)
        if (split(each, name)[1] > number if rising else split(each, name)[1] < number)
    )


def next_sizes(
    data: Mapping[str, Any], path: Path, what: str
) -> Iterator[tuple[str, tuple[Put, ...]]]:
    """Make options of larger sizes of a wire.

    Parameters
    ----------
    data : mapping
        Of the wire, as the schema gives it.
    path : tuple
        Leads to it.
    what : str
        What it is called.

    Yields
    ------
    str, tuple of Put
    """
    # An outer diameter that was given is that of the smaller wire.
    also = (Put((*path, "outer_diameter_mm"), None),) if data.get("outer_diameter_mm") else ()
    for size in larger_sizes(data["size"], data.get("standard")):
        yield f"{size} for {what} in place of {data['size']}", (Put((*path, "size"), size), *also)


def better_insulation(
    data: Mapping[str, Any], path: Path, what: str
) -> Iterator[tuple[str, tuple[Put, ...]]]:
    """Make options of insulation that bears more heat; parameters and yields as of `next_sizes`."""
    now = data.get("insulation_limit_c")
    if now is None and data.get("insulation") is not None:
        now = insulation(data["insulation"]).limit_c
    if now is None:
        return
    kinds = sorted(insulation_kinds(), key=lambda kind: insulation(kind).limit_c)
    seen = {now}
    for kind in kinds:
        limit = insulation(kind).limit_c
        if limit > now and limit not in seen:
            seen.add(limit)
            own = (Put((*path, "insulation_limit_c"), None),)
            puts = (
                Put((*path, "insulation"), kind),
                *(own if "insulation_limit_c" in data else ()),
            )
            yield f"insulation {kind}, good for {limit:g} degC, for {what}", puts


def cooler_places(data: Mapping[str, Any]) -> Iterator[tuple[str, tuple[Put, ...]]]:
    """Make options of cooler zones of the vehicle; yields as `next_sizes`."""
    if data.get("zone") is None:
        return
    now = zones()[data["zone"]].ambient_c
    cooler = sorted(
        (zone.ambient_c, name) for name, zone in zones().items() if zone.ambient_c < now
    )
    for ambient, name in cooler[::-1]:
        place = name.replace("_", " ")
        yield f"laid in the {place}, {ambient:g} degC at most", (Put(("zone",), name),)


def cooler_ambient(trials: Trials, data: Mapping[str, Any], what: str, least: float) -> bool:
    """Search the ambient at which the decisive check just passes.

    Parameters
    ----------
    trials : Trials
        To ask.
    data : mapping
        Arguments with ``ambient_c``.
    what : str
        What is to be cooler.
    least : float
        Lowest ambient to look at. [degC]

    Returns
    -------
    bool
        Whether there is one.
    """
    now = data.get("ambient_c")
    if now is None or now <= least:
        return False
    return trials.just_passing(
        lambda value: f"{what} where it is {amount(value, 'degC')} at most",
        lambda value: (Put(("ambient_c",), value),),
        now,
        least,
    )


def sound_ohm(part: str, current_a: float) -> float:
    """Resistance of a new contact.

    Parameters
    ----------
    part : str
        What makes the contact.
    current_a : float
        Through it. [A]

    Returns
    -------
    float
        That drops `NEW_SHARE` of what a sound one may. [ohm]
    """
    limit = contact_limits()[part].limit_v
    return float(f"{NEW_SHARE * limit / max(abs(current_a), 1e-3):.3g}")
