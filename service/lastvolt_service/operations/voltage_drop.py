"""Voltage that reaches a load at the end of a series path."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from lastvolt_service.operations.drop_limits import (
    GIVEN,
    limit_of,
    nominal_of,
    published_drops,
)
from lastvolt_service.operations.path import (
    Load,
    PathWires,
    Segments,
    in_series,
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
    renamed,
    show,
    spoken,
    unknown,
)
from lastvolt_service.operations.solved import NOT_ASKED, Judged, Solved, refuse, stays_within
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.operations.wires.spoken_heat import temperature_check
from lastvolt_service.physics.contact import joule_power
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, one_row, optional, pick
from lastvolt_service.tables.limits import contact_limits, drop_limits


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
    load = Load(optional(load_current_a), optional(load_resistance_ohm), optional(load_power_w))
    wires = path_wires(segments)
    temperatures = path_temperatures(segments, wires, supply_v, load)
    ohms = path_resistances(segments, wires, temperatures)
    solved = solve(
        supply_v=supply_v,
        load=load,
        resistances_ohm=ohms,
        nominal_v=optional(nominal_v),
        published_v=published_drops(circuit),
        limit_drop_v=optional(limit_drop_v),
        limit_drop_percent=optional(limit_drop_percent),
    )
    refuse(solved.faults)
    found = one_row(solved.columns)
    current = solved.columns["current_a"]
    parts = _parts(segments, ohms, temperatures, current, solved.columns["path_resistance_ohm"])
    worst = max(parts, key=lambda part: part.drop_v)
    contacts = [
        check
        for segment, part in zip(segments, parts, strict=True)
        if segment["kind"] == "contact"
        for check in _contact_checks(segment, part, current)
    ]
    citation = GIVEN
    if limit_drop_v is None and limit_drop_percent is None:
        citation = drop_limits()[circuit, int(solved.columns["nominal_v"])].citation
    drop, collapse = solved.checks.items()
    return VoltageDrop(
        **found,
        worst_segment=worst.name if solved.columns["drop_v"] > 0 else None,
        segments=tuple(parts),
        checks=(
            _drop_check(*drop, citation, worst),
            *_collapse_check(*collapse),
            *contacts,
            *_heat_checks(segments, wires, parts),
        ),
        basis=merge(*(wire.basis for wire in wires.values()), (citation,)),
        cautions=cautions(circuit),
    )


def solve(
    *,
    supply_v: Numbers,
    load: Load,
    resistances_ohm: Sequence[Numbers],
    nominal_v: Numbers,
    published_v: Mapping[int, Numbers],
    limit_drop_v: Numbers,
    limit_drop_percent: Numbers,
) -> Solved:
    """Work out one path or many; parameters as in requests, NaN where not given.

    Parameters
    ----------
    load : Load
        What is fed.
    resistances_ohm : sequence of float or ndarray
        Of the parts of the path, warm. [ohm]
    published_v : mapping of int to float or ndarray
        As `published_drops` gives it for the kind of circuit. [V]

    Returns
    -------
    Solved
    """
    path_ohm = in_series(resistances_ohm)
    found = operating_point(supply_v, path_ohm, load)
    drop = found.current_a * path_ohm
    nominal = nominal_of(supply_v, nominal_v)
    limit = limit_of(supply_v, nominal, published_v, limit_drop_v, limit_drop_percent)
    most_w = supply_v**2 / 4 / pick(path_ohm > 0, path_ohm, NOT_GIVEN)
    collapse = stays_within(load.power_w, most_w)
    # Nothing to ask without a load of constant power, or without a path to speak of.
    asked = abs(collapse.margin) < math.inf
    return Solved(
        {
            "load_voltage_v": found.load_voltage_v,
            "current_a": found.current_a,
            "load_power_w": found.current_a * found.load_voltage_v,
            "path_resistance_ohm": path_ohm,
            "drop_v": drop,
            "drop_percent": 100 * drop / supply_v,
            "limit_drop_v": limit,
            "nominal_v": nominal,
            "unstable_load_voltage_v": found.unstable_v,
        },
        {
            "drop of the whole path": stays_within(drop, limit),
            "distance from voltage collapse": collapse._replace(
                verdict=pick(asked, collapse.verdict, NOT_ASKED)
            ),
        },
        found.faults,
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


def _drop_check(name: str, judged: Judged, citation: str, worst: SegmentDrop) -> Check:
    drop, limit = show(judged.value, "V"), show(judged.limit, "V")
    most = f"{worst.name} drops most, {show(worst.drop_v, 'V')}"
    return spoken(
        name,
        judged,
        "V",
        citation,
        {
            "pass": f"The path drops {drop} of the {limit} allowed.",
            "fail": f"The path drops {drop}, more than {limit}: {most} "
            f"({worst.share_percent:.0f} %). Start there.",
        },
    )


def _collapse_check(name: str, judged: Judged) -> tuple[Check, ...]:
    if judged.verdict == NOT_ASKED:
        return ()
    basis = "largest power through a resistance: supply squared over four times the resistance"
    message = "The path can deliver the power that the load asks for."
    return (spoken(name, judged, "W", basis, {"pass": message}),)


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
    yield renamed(check, f"drop of {name}", f"{name}: {check.message}")
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
        if not given(wire.limit_c):
            yield unknown(
                f"heat of {name}",
                "degC",
                GIVEN,
                "Give insulation or insulation_limit_c to judge its temperature.",
                value=parts[index].temperature_c,
            )
        else:
            check = temperature_check(parts[index].temperature_c, wire)
            yield renamed(check, f"heat of {name}", f"{name}: {check.message}")


def cautions(circuit: str) -> tuple[str, ...]:
    """Say what can hurt someone at a kind of circuit.

    Parameters
    ----------
    circuit : str
        Kind of circuit.

    Returns
    -------
    tuple of str
    """
    starter = (STARTER,) if circuit.startswith("starter") else ()
    return (*starter, SHORT_CIRCUIT, FUSE_NEAR_SOURCE, DEFERENCE)
