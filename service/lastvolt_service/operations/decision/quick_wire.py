"""What the way to a load may lose by practice, and the wire and fuse with which it does not."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed, with_defaults
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.decision import blades
from lastvolt_service.operations.decision.quick_circuit import (
    NEAR,
    ZONE_OF_RELAY,
    current_a,
    standard,
    usual_wire,
)
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.operations.decision.usual_relay import INSULATION
from lastvolt_service.operations.judging import MARGINAL_SHARE
from lastvolt_service.operations.wires import sizing
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.operations.wires.size_needs import WireSizingRequest
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables import usual
from lastvolt_service.tables.limits import PathLimit, drop_limits
from lastvolt_service.tables.sizes import trade_sizes
from lastvolt_service.units import high_end, low_end

# Checks of a size that ask for a thicker one for its heat.
OF_HEAT = frozenset({"conductor_temperature", "duty_current", "permissible_current", "fuse_window"})
OF_DROP = frozenset({"loop_drop"})

# What a usual switch bears for as long as a load is on, by nominal voltage: the higher it is, the
# longer the arc. Common practice, no source. [A]
SWITCH_BEARS_A = {6: 30.0, 12: 30.0, 24: 20.0}


@dataclass(frozen=True, slots=True)
class Thinner:
    """A size that only the drop of the way keeps out, and what is lost with it. [V]."""

    size: str
    drop_v: float


@dataclass(frozen=True, slots=True)
class NewWire:
    """A wire for the whole way, with its fuse.

    Attributes
    ----------
    size : str
        Of all of it.
    fuse_a : float
        Rating of the fuse at its start. [A]
    fits : bool
        Whether usual switches and plugs for such a current take it, and bear the current.
    tailed : bool
        Whether they take it by a thinner tail only.
    is_there : bool
        Whether the wire that is there is as thick.
    hot_c : float or None
        The heat that asks for it, where a thinner one would lose no more than may be lost. [degC]
    thinner : Thinner or None
        The thinnest that bears the current behind the same fuse; None where that is this one.
    by_drop : str or None
        The size with which no more than is usual would be lost, where that buys nothing much.
    loses_v : float
        With this one, contacts and body included; NaN where that is no more than is usual. [V]
    """

    size: str
    fuse_a: float
    fits: bool
    tailed: bool
    is_there: bool
    hot_c: float | None
    thinner: Thinner | None
    by_drop: str | None = None
    loses_v: float = math.nan


def allowed(asked: QuickAnswerRequest) -> PathLimit:
    """What the way to such a load and back may lose, contacts included."""
    return drop_limits()[asked.usual.circuit, int(asked.system_v)]


def new_wire(asked: QuickAnswerRequest, cases: Sequence[Case]) -> NewWire | None:
    """The thinnest with which the way loses no more, nor burns; None where none does."""
    zone = ZONE_OF_RELAY.get(asked.place, NEAR)
    ambients = [each.ambient_of(zone) for each in cases]
    hottest_c, coldest_c = max(map(high_end, ambients)), min(map(low_end, ambients))
    needs = _needs(asked, hottest_c)
    try:  # a wire bears least where it is hot; its fuse opens last where it is cold
        found = [sizing.solve(changed(needs, ambient_c=c)) for c in {hottest_c, coldest_c}]
    except CalculationError:
        return None
    columns = [each.columns for each in found]
    if any(each["size"] is None or each["fuse_family"] is None for each in columns):
        return None
    most = max(columns, key=lambda each: float(each["area_mm2"]))
    least_mm2 = max(map(area_mm2, (str(most["size"]), usual_wire(asked).thin)))
    known = trade_sizes(standard(asked))
    size = next((each for each in known if area_mm2(each) >= least_mm2), None)
    if size is None:
        return None
    is_there = asked.wire is not None and area_mm2(asked.wire) >= area_mm2(size)
    if asked.wire is not None and is_there:
        size = asked.wire
    tailed = area_mm2(size) > _most_area_mm2(asked) and _lasting_a(asked) <= blades.TAILED_A
    fits = (area_mm2(size) <= _most_area_mm2(asked) or tailed) and _switch_bears(asked)
    hot_c = hottest_c if area_mm2(size) <= most["area_mm2"] and _by_heat(most) else None
    fuse_a = float(most["fuse_rating_a"])
    thinner = None if is_there else _thinner(columns, size, fuse_a)
    whole = NewWire(size, fuse_a, fits, tailed, is_there, hot_c, thinner)
    if fits or is_there or hot_c is not None:
        return whole
    return _that_pays(asked, whole, columns, float(needs.supply_v))


def _that_pays(
    asked: QuickAnswerRequest,
    whole: NewWire,
    found: Sequence[Mapping[str, Any]],
    supply_v: float,
) -> NewWire:
    """The thinnest that takes no more than contacts and body do, which no wire changes.

    Thicker ones cost much and cannot halve what is lost. The load keeps its reserve. Common
    practice, no source.
    """
    least_v = (1.0 + MARGINAL_SHARE) * asked.usual.needed_share.high * asked.system_v
    drops: dict[str, float] = {}
    for each in (one for columns in found for one in columns["candidates"]):
        if each.drop_v is not None:
            drops[each.size] = max(each.drop_v, drops.get(each.size, 0.0))
    fixed_v = max(
        float(each["contacts_drop_v"]) + float(each["body_resistance_ohm"]) * _lasting_a(asked)
        for each in found
    )
    bears = whole.thinner.size if whole.thinner else whole.size
    there_mm2 = area_mm2(asked.wire) if asked.wire else 0.0
    for size in trade_sizes(standard(asked)):
        drop_v = drops.get(size, math.inf)
        pays = drop_v <= 2.0 * fixed_v and supply_v - drop_v >= least_v
        if pays and area_mm2(bears) <= area_mm2(size) < area_mm2(whole.size):
            if area_mm2(size) <= there_mm2:
                return whole
            thinner = whole.thinner if size != bears else None
            return replace(whole, size=size, by_drop=whole.size, loses_v=drop_v, thinner=thinner)
    return whole


def _thinner(found: Sequence[Mapping[str, Any]], size: str, fuse_a: float) -> Thinner | None:
    """The thinnest that all but the drop lets pass, in heat and in cold, behind that fuse."""
    least_mm2, drops = 0.0, dict[str, float]()
    for columns in found:
        borne = [each for each in columns["candidates"] if OF_DROP.issuperset(each.failing)]
        least_mm2 = max(least_mm2, min(each.area_mm2 for each in borne))
        for each in borne:
            if each.fuse_rating_a <= fuse_a:
                drops[each.size] = max(each.drop_v, drops.get(each.size, 0.0))
    fitting = [each for each in drops if least_mm2 <= area_mm2(each) < area_mm2(size)]
    thinnest = min(fitting, key=area_mm2, default=None)
    return None if thinnest is None else Thinner(thinnest, drops[thinnest])


def _by_heat(found: Mapping[str, Any]) -> bool:
    """Whether only heat, and a fuse that saves it there, keep the next thinner one out."""
    thinner = [each for each in found["candidates"] if each.area_mm2 < found["area_mm2"]]
    return bool(thinner) and OF_HEAT.issuperset(thinner[-1].failing)


def _needs(asked: QuickAnswerRequest, ambient_c: float) -> WireSizingRequest:
    told, most_a = asked.usual, high_end(current_a(asked))
    full = usual.batteries()["warm"].rest_v.low / usual.OF_V
    brief = told.lasting_share < 1.0
    return with_defaults(
        WireSizingRequest,
        supply_v=full * asked.system_v,
        nominal_v=asked.system_v,
        load_current_a=told.lasting_share * most_a,
        inrush_current_a=most_a if brief else NOT_GIVEN,
        load_profile="lamp" if told.kind == "lamp" else told.load_profile,
        circuit=told.circuit,
        length_m=asked.distance_m,
        # The return wire of a starter's solenoid is short: the heavy one back begins there.
        return_path="wire" if asked.return_path == "wire" and told.kind != "solenoid" else "body",
        insulation=INSULATION,
        ambient_c=ambient_c,
        standard=standard(asked),
    )


def _switch_bears(asked: QuickAnswerRequest) -> bool:
    """Whether a usual switch bears what the load takes for as long as it is on."""
    return _lasting_a(asked) <= SWITCH_BEARS_A[int(asked.system_v)]


def _lasting_a(asked: QuickAnswerRequest) -> float:
    return float(asked.usual.lasting_share * high_end(current_a(asked)))


def area_mm2(size: str) -> float:
    """Copper of a wire. [mm2]."""
    return conductor(size).area_mm2


def _most_area_mm2(asked: QuickAnswerRequest) -> float:
    """Of a wire that goes where usual ones for such a current do, in switches and plugs. [mm2]."""
    usual_one = usual_wire(asked).thick
    own_mm2 = blades.most_mm2_for(asked.wire or usual.sizes()[0], None)
    return max(own_mm2, area_mm2(usual_one))
