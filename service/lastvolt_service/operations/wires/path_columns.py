"""What each part of a path takes, in the columns of an answer."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from lastvolt_service.laws import OHM, by, named
from lastvolt_service.operations.wires.path_parts import PathPart
from lastvolt_service.physics.contact import joule_power
from lastvolt_service.rows import NOT_GIVEN, Flags, Numbers, Texts, Words, pick, texts_where


def found_of(
    part: PathPart, ohm: Numbers, hot_c: Numbers, current_a: Numbers, whole_ohm: Numbers
) -> dict[str, Any]:
    """What one part takes, as columns."""
    heated, wire = part.is_heated, part.is_wire
    return {
        f"{part.column}_resistance_ohm": ohm,
        f"{part.column}_drop_v": by(OHM, current_a * ohm),
        f"{part.column}_power_w": joule_power(current_a=current_a, resistance_ohm=ohm),
        f"{part.column}_share_percent": by(OHM, 100 * ohm / whole_ohm),
        f"{part.column}_temperature_c": pick(wire, hot_c, NOT_GIVEN),
        f"{part.column}_temperature_source": _source(wire, heated, part.is_assumed),
    }


def _source(is_wire: Any, is_heated: Any, is_assumed: Any) -> Texts:
    if any(isinstance(each, np.ndarray) for each in (is_wire, is_heated, is_assumed)):
        codes = np.where(is_assumed, 3, np.where(is_heated, 1, np.where(is_wire, 0, 2)))
        return Words(("given", "solved", None, "assumed"), codes)
    if is_assumed:
        return "assumed"
    return texts_where(is_wire, "solved" if is_heated else "given")


def worst_of(
    parts: Sequence[PathPart], segments: dict[str, Any], drop_v: Numbers
) -> dict[str, Any]:
    """The part that drops most, of the first where several do."""
    drops = [segments[f"{part.column}_drop_v"] for part in parts]
    names = [part.segment.name for part in parts]
    if not any(isinstance(each, np.ndarray) for each in drops):
        if not parts:  # no row is left
            return {"worst_segment": None, "worst_drop_v": 0.0, "worst_share_percent": 0.0}
        place = max(range(len(parts)), key=lambda index: drops[index])
        return {
            "worst_segment": names[place] if drop_v > 0 else None,
            "worst_drop_v": named("worst_drop_v", drops[place], "across the part that drops most"),
            "worst_share_percent": segments[f"{parts[place].column}_share_percent"],
        }
    table = np.stack(np.broadcast_arrays(*drops))
    rows = np.arange(table.shape[1])
    worst = np.where(np.isnan(table), -1.0, table).argmax(axis=0)
    each = (segments[f"{part.column}_share_percent"] for part in parts)
    shares = np.stack([np.broadcast_to(share, rows.shape) for share in each])
    return {
        "worst_segment": texts_where(drop_v > 0, _chosen(names, worst)),
        "worst_drop_v": table[worst, rows],
        "worst_share_percent": shares[worst, rows],
    }


def begin_with(
    parts: Sequence[PathPart], excess_v: Sequence[Numbers], cures: Flags, worst: Texts
) -> Texts:
    """The contact of most excess where sound contacts cure a path, else what drops most."""
    names = [part.segment.name for part in parts]
    if not parts:  # no row is left
        return worst
    if not any(isinstance(each, np.ndarray) for each in (*excess_v, cures)):
        return names[max(range(len(parts)), key=lambda i: excess_v[i])] if cures else worst
    table = np.stack(np.broadcast_arrays(*excess_v, np.zeros(np.shape(cures))))
    poorest = _chosen(names, table[: len(parts)].argmax(axis=0))
    return _chosen([worst, poorest], np.asarray(cures, dtype=int))


def _chosen(texts: Sequence[Texts], place: Any) -> Words:
    """Take a text of one of several columns in each row."""
    values: list[str | None] = []
    codes = []
    for each in texts:
        inner = each if isinstance(each, Words) else Words((each,), np.zeros_like(place))
        codes.append(inner.codes + len(values))
        values += inner.values
    return Words(tuple(values), np.stack(codes)[place, np.arange(len(place))])
