"""Voltage that reaches a load at the end of a series path."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from lastvolt_service.operations.path import (
    Load,
    PathWires,
    Segments,
    operating_point,
    path_resistances,
    path_temperatures,
    path_wires,
)
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    STARTER,
    Check,
    Result,
    at_most,
    merge,
    show,
    unknown,
)
from lastvolt_service.operations.thermal import HeatedWire
from lastvolt_service.operations.wire_heating import temperature_check
from lastvolt_service.physics.contact import joule_power
from lastvolt_service.tables.limits import Limit, contact_limits, drop_limits

GIVEN = "limit given by the caller"
# A supply up to these voltages is taken as 6 V or 12 V, and above as 24 V, when the caller does
# not say: a 12 V battery sags to 8 V while it cranks, and a 6 V one charges below it.
HIGHEST_OF_6_V = 8.0
HIGHEST_OF_12_V = 18.0


@dataclass(frozen=True, slots=True)
class SegmentDrop:
    """What one part of the path takes."""

    name: Annotated[str, "the part as the request names it"]
    kind: Annotated[str, "wire, contact or resistance"]
    resistance_ohm: Annotated[float, "of the part"]
    drop_v: Annotated[float, "voltage across the part"]
    power_w: Annotated[float, "heat made in the part"]
    share_percent: Annotated[float, "share of the whole drop; 0 where nothing drops"]
    temperature_c: Annotated[float | None, "of the conductor; null for parts that are no wire"]
    temperature_source: Annotated[
        Literal["given", "solved"] | None,
        "given by the caller (or 20 degC by default), or solved from ambient_c and the current",
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltageDrop(Result):
    """Answer of ``voltage-drop``."""

    load_voltage_v: Annotated[float, "voltage that reaches the load"]
    current_a: Annotated[float, "current round the path"]
    load_power_w: Annotated[float, "power that the load gets"]
    path_resistance_ohm: Annotated[float, "of all parts together"]
    drop_v: Annotated[float, "voltage lost on the path, out and back"]
    drop_percent: Annotated[float, "the same, of the supply"]
    limit_drop_v: Annotated[float, "limit that the drop is held against"]
    nominal_v: Annotated[float, "nominal voltage of the system that the limit is for"]
    unstable_load_voltage_v: Annotated[
        float | None,
        "for a load of constant power, the other root: a circuit does not rest there",
    ]
    worst_segment: Annotated[str | None, "name of the part that drops most; null where none does"]
    segments: Annotated[tuple[SegmentDrop, ...], "every part in order"]


def nominal_voltage(supply_v: float) -> int:
    """Guess the nominal voltage of a system from its supply.

    Parameters
    ----------
    supply_v : float
        Voltage at the start of the path. [V]

    Returns
    -------
    int
        6, 12 or 24. [V]
    """
    if supply_v <= HIGHEST_OF_6_V:
        return 6
    return 12 if supply_v <= HIGHEST_OF_12_V else 24


def voltage_drop(
    *,
    supply_v: float,
    segments: Segments,
    circuit: str,
    nominal_v: int | None = None,
    load_current_a: float | None = None,
    load_resistance_ohm: float | None = None,
    load_power_w: float | None = None,
    limit_drop_v: float | None = None,
    limit_drop_percent: float | None = None,
) -> VoltageDrop:
    """Voltage that reaches a load through wires and contacts, out and back.

    Every part of the path stands in `segments`: the wire out, switch, fuse and connectors, and
    the return through a wire or a ground joint. The load keeps a current, a resistance or a
    power. Without a limit of your own, the whole drop is held against published practice for
    the kind of circuit, and each contact against the limit for its part.

    Returns
    -------
    VoltageDrop

    Raises
    ------
    UnknownSize, NotCovered
        If a wire is in no table.
    NoOperatingPoint
        If the path cannot feed the load.
    """
    load = Load(load_current_a, load_resistance_ohm, load_power_w)
    wires = path_wires(segments)
    temperatures = path_temperatures(segments, wires, supply_v, load)
    ohms = path_resistances(segments, wires, temperatures)
    path = math.fsum(ohms)
    current, load_v, unstable = operating_point(supply_v, path, load)
    drop = current * path
    nominal = nominal_v or nominal_voltage(supply_v)
    limit = drop_limit(supply_v, nominal, circuit, limit_drop_v, limit_drop_percent)
    parts = _parts(segments, ohms, temperatures, current, path)
    worst = max(parts, key=lambda part: part.drop_v)
    contacts = [
        check
        for segment, part in zip(segments, parts, strict=True)
        if segment["kind"] == "contact"
        for check in _contact_checks(segment, part, current)
    ]
    return VoltageDrop(
        load_voltage_v=load_v,
        current_a=current,
        load_power_w=current * load_v,
        path_resistance_ohm=path,
        drop_v=drop,
        drop_percent=100 * drop / supply_v,
        limit_drop_v=limit.limit_v,
        nominal_v=float(nominal),
        unstable_load_voltage_v=unstable,
        worst_segment=worst.name if drop > 0 else None,
        segments=tuple(parts),
        checks=(
            _drop_check(drop, limit, worst),
            *_collapse_check(supply_v, path, load_power_w),
            *contacts,
            *_heat_checks(segments, wires, parts),
        ),
        basis=merge(*(wire.basis for wire in wires.values()), (limit.citation,)),
        cautions=_cautions(circuit),
    )


def _parts(
    segments: Segments,
    ohms: Sequence[float],
    temperatures: Mapping[int, float],
    current: float,
    path: float,
) -> list[SegmentDrop]:
    return [
        SegmentDrop(
            name=segment["name"],
            kind=segment["kind"],
            resistance_ohm=ohm,
            drop_v=current * ohm,
            power_w=float(joule_power(current_a=current, resistance_ohm=ohm)),
            share_percent=100 * ohm / path if path > 0 else 0.0,
            temperature_c=temperatures.get(index),
            temperature_source=_temperature_source(segment),
        )
        for index, (segment, ohm) in enumerate(zip(segments, ohms, strict=True))
    ]


def _temperature_source(segment: Mapping[str, Any]) -> Literal["given", "solved"] | None:
    if segment["kind"] != "wire":
        return None
    return "solved" if "ambient_c" in segment else "given"


def drop_limit(
    supply_v: float, nominal: int, circuit: str, drop_v: float | None, percent: float | None
) -> Limit:
    """Settle what a path may drop.

    Parameters
    ----------
    supply_v : float
        Voltage at the start of the path. [V]
    nominal : int
        6, 12 or 24. [V]
    circuit : str
        Kind of circuit, for published practice.
    drop_v, percent : float or None
        Limit of the caller, as a voltage or as a share of the supply. [V], [%]

    Returns
    -------
    Limit
    """
    if drop_v is not None:
        return Limit(drop_v, GIVEN)
    if percent is not None:
        return Limit(supply_v * percent / 100, GIVEN)
    return drop_limits()[circuit, nominal]


def _drop_check(drop: float, limit: Limit, worst: SegmentDrop) -> Check:
    most = f"{worst.name} drops most, {show(worst.drop_v, 'V')}"
    return at_most(
        "drop of the whole path",
        drop,
        limit.limit_v,
        "V",
        limit.citation,
        {
            "pass": f"The path drops {show(drop, 'V')} of the {show(limit.limit_v, 'V')} allowed.",
            "fail": f"The path drops {show(drop, 'V')}, more than {show(limit.limit_v, 'V')}: "
            f"{most} ({worst.share_percent:.0f} %). Start there.",
        },
    )


def _collapse_check(supply_v: float, path: float, power: float | None) -> tuple[Check, ...]:
    most = supply_v**2 / 4 / path if path > 0 else math.inf
    if power is None or math.isinf(most):  # no path, or one of a denormal resistance
        return ()
    return (
        at_most(
            "distance from voltage collapse",
            power,
            most,
            "W",
            "largest power through a resistance: supply squared over four times the resistance",
            {"pass": "The path can deliver the power that the load asks for."},
        ),
    )


def contact_drop_check(part: str, drop: float) -> Check:
    """Judge the drop of a contact.

    Parameters
    ----------
    part : str
        What makes the contact.
    drop : float
        Voltage across it. [V]

    Returns
    -------
    Check
    """
    limit = contact_limits()[part]
    return at_most(
        "drop",
        drop,
        limit.limit_v,
        "V",
        limit.citation,
        {
            "pass": f"it drops {show(drop, 'V')}, as a sound {part} does.",
            "fail": f"it alone drops {show(drop, 'V')}, a sound {part} at most "
            f"{show(limit.limit_v, 'V')}: clean, tighten or replace it.",
        },
    )


def _contact_checks(
    segment: Mapping[str, Any], part: SegmentDrop, current: float
) -> Iterator[Check]:
    name = segment["name"]
    check = contact_drop_check(segment["part"], part.drop_v)
    yield replace(check, name=f"drop of {name}", message=f"{name}: {check.message}")
    rating = segment.get("rating_a")
    if rating is not None:
        yield at_most(
            f"current through {name}",
            current,
            rating,
            "A",
            "rating given by the caller",
            {
                "pass": f"{name} carries {show(current, 'A')} of its {show(rating, 'A')}.",
                "fail": f"{name} carries {show(current, 'A')}, more than its "
                f"{show(rating, 'A')}: take the load off it with a relay, or fit a larger part.",
            },
        )


def _heat_checks(
    segments: Segments, wires: PathWires, parts: Sequence[SegmentDrop]
) -> Iterator[Check]:
    for index, wire in wires.items():
        if not isinstance(wire, HeatedWire):
            continue
        name = segments[index]["name"]
        if wire.limit_c is None:
            yield unknown(
                f"heat of {name}",
                "degC",
                GIVEN,
                "Give insulation or insulation_limit_c to judge its temperature.",
                value=parts[index].temperature_c,
            )
        else:
            check = temperature_check(parts[index].temperature_c, wire.limit_c, wire)
            yield replace(check, name=f"heat of {name}", message=f"{name}: {check.message}")


def _cautions(circuit: str) -> tuple[str, ...]:
    starter = (STARTER,) if circuit.startswith("starter") else ()
    return (*starter, SHORT_CIRCUIT, FUSE_NEAR_SOURCE, DEFERENCE)
