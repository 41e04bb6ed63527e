"""What the way to a load may lose by practice, and the wire and fuse with which it does not."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed, known, with_defaults
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.decision import blades
from lastvolt_service.operations.decision.choice_wires import HotFuse, in_air, in_hot_air
from lastvolt_service.operations.decision.quick_circuit import (
    NEAR,
    ZONE_OF_RELAY,
    current_a,
    on_time_s,
    standard,
    usual_wire,
)
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.operations.decision.usual_relay import INSULATION, WIRE_SHARE
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

# Of the nominal voltage, what may be lost beyond the usual before a thicker wire is worth its
# copper. Common practice: hundredths of a volt show in no lamp and no motor.
LITTLE_SHARE = 0.004

# So many cables side by side are still drawn. Common practice.
MOST_SIDE_BY_SIDE = 3
SYSTEMS_V = (12.0, 24.0)


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
    hot_fuse : HotFuse or None
        What its fuse carries in hot air, where that is less than it must; None where it is not.
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
    hot_fuse: HotFuse | None = None


@dataclass(frozen=True, slots=True)
class Sized:
    """What wire-sizing says of a way, in heat and in frost.

    Attributes
    ----------
    columns : sequence of mapping
        Its answers.
    hottest_c : float
        [degC]
    drops : dict of str to float
        What the whole way loses at the most, by size. [V]
    fixed_v : float
        Of that, what contacts and body take, which no wire changes. [V]
    supply_v : float
        Of a sound battery at its least. [V]
    """

    columns: Sequence[Mapping[str, Any]]
    hottest_c: float
    drops: Mapping[str, float]
    fixed_v: float
    supply_v: float

    def room_v(self, asked: QuickAnswerRequest) -> float:
        """What a wire may take that is worth its copper, and leaves the load its reserve. [V]."""
        least_v = (1.0 + MARGINAL_SHARE) * asked.usual.needed_share.high * asked.system_v
        worth_v = max(self.fixed_v, WIRE_SHARE * asked.system_v)
        return float(min(worth_v, self.supply_v - least_v - self.fixed_v))

    def pays(self, asked: QuickAnswerRequest, drop_v: float) -> bool:
        """Whether a way that loses so much is lived with."""
        return drop_v - self.fixed_v <= self.room_v(asked)


@dataclass(frozen=True, slots=True)
class Beyond:
    """What would do over a way for which no wire of the trade is thick enough.

    Attributes
    ----------
    size, loses_v : str, float
        The thickest, and what the way loses with it. [V]
    reach_m : float
        How far it would do; NaN where no farther than beside the load. [m]
    count : int or None
        How many of them side by side would; None where too many.
    higher : (float, str) or None
        A system of more volts, and the size that does there; None where none does.
    """

    size: str
    loses_v: float
    reach_m: float
    count: int | None
    higher: tuple[float, str] | None


def allowed(asked: QuickAnswerRequest) -> PathLimit:
    """What the way to such a load and back may lose, contacts included."""
    return drop_limits()[asked.usual.circuit, int(asked.system_v)]


def new_wire(asked: QuickAnswerRequest, cases: Sequence[Case]) -> NewWire | None:
    """The thinnest with which the way loses no more, nor burns; None where none does."""
    found = _sized(asked, cases)
    if found is None:
        return None
    if any(each["size"] is None for each in found.columns):
        return _that_is_lived_with(asked, found)
    if any(each["fuse_family"] is None for each in found.columns):
        return None
    most = max(found.columns, key=lambda each: float(each["area_mm2"]))
    least_mm2 = max(map(area_mm2, (str(most["size"]), usual_wire(asked).thin)))
    known = trade_sizes(standard(asked))
    size = next((each for each in known if area_mm2(each) >= least_mm2), None)
    if size is None:
        return None
    is_there = asked.wire is not None and area_mm2(asked.wire) >= area_mm2(size)
    if asked.wire is not None and is_there:
        size = asked.wire
    fits, tailed = _goes_through(asked, size)
    hot_c = None
    if area_mm2(size) <= most["area_mm2"] and _by_heat(most):
        hot_c = found.hottest_c
    fuse_a = float(most["fuse_rating_a"])
    thinner = None if is_there else _thinner(found.columns, size, fuse_a)
    hot_fuse = hot_fuse_of(asked, fuse_a, found.hottest_c)
    whole = NewWire(size, fuse_a, fits, tailed, is_there, hot_c, thinner, hot_fuse=hot_fuse)
    most_v = allowed(asked).limit_v + LITTLE_SHARE * asked.system_v
    if thinner is not None and thinner.drop_v <= most_v and found.pays(asked, thinner.drop_v):
        return _for_little_more(asked, whole, thinner)
    small = _lasting_a(asked) <= blades.TAILED_A
    thick = not fits or (small and area_mm2(size) > area_mm2(usual_wire(asked).thick))
    if not thick or is_there or hot_c is not None:
        return whole
    return _that_pays(asked, whole, found)


def _that_pays(asked: QuickAnswerRequest, whole: NewWire, found: Sized) -> NewWire:
    """The thinnest that takes no more than contacts and body do, or a charted share of the volts.

    Thicker ones cost much and win little; nobody fits them. The load keeps its reserve. Common
    practice, no source.
    """
    bears = whole.thinner.size if whole.thinner else whole.size
    least_mm2 = max(area_mm2(bears), area_mm2(usual_wire(asked).thick) if whole.fits else 0.0)
    there_mm2 = area_mm2(asked.wire) if asked.wire else 0.0
    for size in trade_sizes(standard(asked)):
        drop_v = found.drops.get(size, math.inf)
        if found.pays(asked, drop_v) and least_mm2 <= area_mm2(size) < area_mm2(whole.size):
            if area_mm2(size) <= there_mm2:
                return whole
            thinner = whole.thinner if size != bears else None
            _, tailed = _goes_through(asked, size)  # nor does a switch take what flows past it
            return replace(
                whole, size=size, tailed=tailed, by_drop=whole.size, loses_v=drop_v,
                thinner=thinner,
            )  # fmt: skip
    return whole


def _for_little_more(asked: QuickAnswerRequest, whole: NewWire, thinner: Thinner) -> NewWire:
    """The thinner one where it is usual for the load, and not there: nobody sees what it loses."""
    thin_mm2, there_mm2 = area_mm2(thinner.size), area_mm2(asked.wire) if asked.wire else 0.0
    if thin_mm2 < area_mm2(usual_wire(asked).thin) or thin_mm2 <= there_mm2:
        return whole
    fits, tailed = _goes_through(asked, thinner.size)
    return replace(
        whole, size=thinner.size, fits=fits, tailed=tailed, by_drop=whole.size,
        loses_v=thinner.drop_v, thinner=None, hot_c=None,
    )  # fmt: skip


def _that_is_lived_with(asked: QuickAnswerRequest, found: Sized) -> NewWire | None:
    """Where none keeps to the usual, the thinnest that pays and that all but its drop lets pass."""
    borne = [
        {each.size: each for each in columns["candidates"] if OF_DROP.issuperset(each.failing)}
        for columns in found.columns
    ]
    there_mm2 = area_mm2(asked.wire) if asked.wire else 0.0
    for size in trade_sizes(standard(asked)):
        fuses_a = [of[size].fuse_rating_a for of in borne if size in of]
        if len(fuses_a) == len(borne) and found.pays(asked, found.drops[size]):
            if area_mm2(size) <= there_mm2:
                return None
            fits, tailed = _goes_through(asked, size)
            loses_v = found.drops[size]
            fuse_a = max(fuses_a)
            hot_fuse = hot_fuse_of(asked, fuse_a, found.hottest_c)
            return NewWire(
                size, fuse_a, fits, tailed, False, None, None, None, loses_v, hot_fuse=hot_fuse
            )
    return None


def beyond(asked: QuickAnswerRequest, cases: Sequence[Case]) -> Beyond | None:
    """What would do where no wire of the trade does; None of what only its heat keeps out."""
    found = _sized(asked, cases)
    if found is None:
        return None
    size = max(found.drops, key=area_mm2)
    wire_v = found.drops[size] - found.fixed_v
    room_v = found.room_v(asked)
    count = math.ceil(wire_v / room_v) if room_v > 0.0 else MOST_SIDE_BY_SIDE + 1
    higher: tuple[float, str] | None = None
    for volts in (each for each in SYSTEMS_V if each > asked.system_v):
        amps = high_end(current_a(asked)) * asked.system_v / volts
        wire = new_wire(changed(asked, system_v=volts, current_a=amps), cases)
        if wire is not None:
            higher = volts, wire.size
            break
    reach_m = asked.distance_m * room_v / wire_v
    return Beyond(
        size,
        found.drops[size],
        math.floor(reach_m) if reach_m >= 1.0 else math.nan,
        count if 1 < count <= MOST_SIDE_BY_SIDE else None,
        higher,
    )


def _sized(asked: QuickAnswerRequest, cases: Sequence[Case]) -> Sized | None:
    """Ask wire-sizing in heat and in frost; None where it has no answer."""
    zone = ZONE_OF_RELAY.get(asked.place, NEAR)
    ambients = [each.ambient_of(zone) for each in cases]
    hottest_c, coldest_c = max(map(high_end, ambients)), min(map(low_end, ambients))
    needs = _needs(asked, hottest_c)
    try:  # a wire bears least where it is hot; its fuse opens last where it is cold
        found = [sizing.solve(in_air(needs, c)) for c in {hottest_c, coldest_c}]
    except CalculationError:
        return None
    columns, drops = [each.columns for each in found], dict[str, float]()
    for each in (one for answer in columns for one in answer["candidates"]):
        if each.drop_v is not None:
            drops[each.size] = max(each.drop_v, drops.get(each.size, 0.0))
    fixed_v = max(
        float(each["contacts_drop_v"]) + float(each["body_resistance_ohm"]) * _lasting_a(asked)
        for each in columns
    )
    return Sized(columns, hottest_c, drops, fixed_v, float(needs.supply_v)) if drops else None


def _goes_through(asked: QuickAnswerRequest, size: str) -> tuple[bool, bool]:
    """Whether usual switches and plugs take a wire, and whether by a thinner tail only."""
    thick = area_mm2(size) > _most_area_mm2(asked)
    tailed = thick and _lasting_a(asked) <= blades.TAILED_A
    return (tailed or not thick) and _switch_bears(asked), tailed


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


def hot_fuse_of(asked: QuickAnswerRequest, fuse_a: float, hottest_c: float) -> HotFuse | None:
    """Whether a fuse carries the load in cool air alone; what is on for a time heats none."""
    if known(on_time_s(asked)) or asked.usual.lasting_share < 1.0:
        return None
    return in_hot_air(fuse_a, _lasting_a(asked), hottest_c)


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
