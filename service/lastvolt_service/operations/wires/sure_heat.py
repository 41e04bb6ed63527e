"""What is sure of the wires of a path whatever else is not known of them: heat, and their fuse."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    UNKNOWN,
    Judged,
    asked_if,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.wires.ampacity import Permissible, duty_current, permissible
from lastvolt_service.operations.wires.drop_limits import GIVEN
from lastvolt_service.operations.wires.heated_wire import HeatedWire, heated_wire, lay
from lastvolt_service.operations.wires.insulated_wire import known_wires
from lastvolt_service.operations.wires.path_parts import PathPart, Segment
from lastvolt_service.operations.wires.published_current import published_current
from lastvolt_service.physics.heating import permissible_current_a
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Words,
    are,
    given,
    is_sent,
    negate,
    one_text,
    pick,
    plain,
    some,
    texts_where,
)

# The best that a wire of a vehicle usually has: what is too much here is too much anywhere.
BEST_LIMIT_C, BEST_AMBIENT_C = 125.0, 20.0
AT_BEST = "alone in air of 20 degC, insulation of 125 degC"
# The poorest that a wire usually has: what that bears bears it anywhere but in a thick loom. Common
# practice.
POOREST_LIMIT_C, POOREST_AMBIENT_C = 85.0, 50.0
# A fuse of more than this multiple of what its wire bears opens when that has burnt; below, its
# curve decides, which fuse-selection knows. Common practice.
NO_PROTECTION = 1.5


def cold_wires(
    parts: Sequence[PathPart],
    current_a: Numbers,
    duration_s: Numbers,
    circuit: Any,
    overdrawn: str | None,
) -> Iterator[Checked]:
    """Whether wires that nothing tells the surroundings of get too hot, where that is sure."""
    cold = [part.is_wire & negate(part.is_heated) for part in parts]
    # How long an intermittent load is on nobody says.
    is_known = given(duration_s) | negate(are(circuit, "intermittent"))
    where: Flags = False
    names = []
    for part, each in zip(parts, cold, strict=True):
        may_a = _alone_a(part, each, duration_s, BEST_LIMIT_C, BEST_AMBIENT_C)
        poor_a = _alone_a(part, each, NOT_GIVEN, POOREST_LIMIT_C, POOREST_AMBIENT_C)
        bears = (current_a <= poor_a) & negate(part.segment.temperature_c > POOREST_AMBIENT_C)
        judged = stays_within(current_a, may_a)
        hot = each & is_known & (judged.verdict == FAIL)
        if is_sent(part.segment.size):  # as in path_checks: of no cell
            so: dict[str, Any] = {"place": part.column, "part": part.segment.name}
            so["detail"] = overdrawn
            yield Checked("wires_heat", asked_if(hot, judged), "A", AT_BEST, **so)
        unsure = each & negate(hot) & negate(bears)
        where = where | unsure
        if unsure is True:
            names.append(str(part.segment.name))
    judged = asked_if(where, Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN))
    yield Checked("wires_heat", judged, "degC", GIVEN, detail=", ".join(names) or None)


def fused_wires(parts: Sequence[PathPart]) -> Iterator[Checked]:
    """Whether a fuse is so large that it protects nothing of a wire behind it."""
    rating_a: Numbers = NOT_GIVEN
    fuse: str | None = None
    for part in parts:
        segment = part.segment
        if some(are(segment.part, "fuse") & given(segment.rating_a)):
            is_less = are(segment.part, "fuse") & negate(segment.rating_a >= rating_a)
            rating_a = pick(is_less & given(segment.rating_a), segment.rating_a, rating_a)
            fuse = one_text(segment.name) if is_less is True else fuse
        if not is_sent(segment.ambient_c):
            continue
        may_a: Numbers = NOT_GIVEN
        if part.wire is not None and some(given(rating_a)):
            may_a = pick(given(part.wire.limit_c), _bears_a(part.wire, NOT_GIVEN), NOT_GIVEN)
        judged = stays_within(rating_a, may_a, 0.0)
        too_large = part.is_heated & (judged.verdict == FAIL)
        may_protect = rating_a <= NO_PROTECTION * judged.limit
        judged = judged._replace(verdict=pick(may_protect, MARGINAL, judged.verdict))
        so: dict[str, Any] = {"place": part.column, "part": segment.name, "detail": fuse}
        yield Checked("fuse_protects_wire", asked_if(too_large, judged), "A", COMMON_PRACTICE, **so)


def _alone_a(
    part: PathPart, cold: Flags, duration_s: Numbers, limit_c: float, ambient_c: float
) -> Numbers:
    """What a wire bears alone in some air; NaN where it is none, or no table knows it. [A]."""
    segment = part.segment
    if not some(cold):
        return NOT_GIVEN
    texts = segment.size, segment.standard, segment.material, segment.construction
    try:
        if not any(isinstance(each, Words | np.ndarray) for each in (*texts, cold, duration_s)):
            on_s = float(duration_s) if given(duration_s) else None
            return alone_bears_a(segment, on_s, limit_c, ambient_c)
        return _bears_a(_lying(segment, cold, limit_c, ambient_c), duration_s)
    except CalculationError:
        return NOT_GIVEN


def _lying(segment: Segment, cold: Flags, limit_c: float, ambient_c: float) -> HeatedWire:
    """A wire alone in some air."""
    there = changed(
        segment,
        size=texts_where(cold, segment.size),
        insulation=None,
        insulation_limit_c=limit_c,
        outer_diameter_mm=NOT_GIVEN,
        grouped_conductors=1,
        altitude_m=0.0,
    )
    return lay(known_wires(there), there, ambient_c)[0]


def alone_bears_a(
    wire: Any,
    duration_s: float | None,
    limit_c: float = BEST_LIMIT_C,
    ambient_c: float = BEST_AMBIENT_C,
) -> float:
    """What one wire of a size bears, alone, for a time or without end. [A]."""
    standard = wire.standard if isinstance(wire.standard, str) else None
    metal = str(wire.size), standard, str(wire.material), str(wire.construction)
    return _alone_bears_a(metal, duration_s, limit_c, ambient_c)


@lru_cache(maxsize=4096)
def _alone_bears_a(
    metal: tuple[str, str | None, str, str],
    duration_s: float | None,
    limit_c: float,
    ambient_c: float,
) -> float:
    size, standard, material, construction = metal
    laid = heated_wire(
        size=size,
        standard=standard,
        material=material,
        construction=construction,
        insulation_limit_c=limit_c,
        ambient_c=ambient_c,
    )
    may = permissible(laid)
    if duration_s is None:
        return float(may.current_a)
    return float(duty_current(laid, may, duration_s, math.inf))


def _bears_a(wire: HeatedWire, duration_s: Numbers) -> Numbers:
    """What a wire bears for a time, or without end where none is given. [A]."""
    table = published_current(wire)
    limit_c = pick(given(wire.limit_c), wire.limit_c, 0.0)
    model_a = plain(permissible_current_a(limit_c=limit_c, wire=wire.physics))
    by_table = table.current_a < model_a
    steady_a: Numbers = pick(by_table, table.current_a, model_a)
    is_brief = given(duration_s)
    if not some(is_brief):
        return steady_a
    may = Permissible(model_a, table, steady_a, by_table, wire)
    brief_a = duty_current(wire, may, pick(is_brief, duration_s, 1.0), math.inf)
    found: Numbers = pick(is_brief, brief_a, steady_a)
    return found
