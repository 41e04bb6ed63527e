"""Every way that was weighed, side by side."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Protocol

from lastvolt_service.operations.decision.given_ways import GivenWay
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.versions import headroom
from lastvolt_service.operations.decision.ways import Tried, WayCode
from lastvolt_service.operations.decision.weighing import Weighed, not_said
from lastvolt_service.operations.results import Check
from lastvolt_service.rows import number

# Of the nominal voltage: ways that lie no further apart are equal. A tenth of a volt of 12 is what
# a contact, or a day, makes. Common practice.
APART_SHARE = 0.1 / 12.0


@dataclass(frozen=True, slots=True)
class Option:
    """A way that was weighed."""

    name: Annotated[str | None, "as the request calls it; null of one that was made"]
    code: Annotated[
        WayCode, "as_is, battery, mend, battery_and_mend, relay, mend_then_relay or all_of_these"
    ]
    parts: Annotated[tuple[str, ...], "what is made sound: cleaned, tightened or replaced"]
    new: Annotated[
        tuple[str, ...],
        "what is new, or takes the place of the old, without a relay's own; a wire with its size",
    ]
    relay: Annotated[str | None, "the relay that is fitted"]
    is_advised: Annotated[bool, "whether it is the one that is advised"]
    works: Annotated[
        bool,
        "whether the load gets what it needs in every case, with a reserve, nothing that was sound "
        "fails, and the relay, where it is fitted, may be built so",
    ]
    available: Annotated[bool, "whether it can be had"]
    against: Annotated[tuple[str, ...], "what speaks against it, in sentences"]
    case: Annotated[str, "the case in which the load then has the least to spare"]
    load_voltage_v: Annotated[float, "that reaches the load in that case"]
    needed_v: Annotated[float, "lowest voltage that it works at there"]
    margin_v: Annotated[float, "load_voltage_v over needed_v"]
    gain_v: Annotated[float, "more voltage at the load, in the case that is poorest as it is"]
    switch_current_a: Annotated[float, "through the switch in that case"]
    switch_power_w: Annotated[float, "heat made in the switch there"]
    tolerated_contact_ohm: Annotated[
        float | None,
        "further resistance of the switch until the load fails there, at most 1000; null where it "
        "fails as it is",
    ]
    new_parts: Annotated[int, "how many parts are new"]
    cost: Annotated[float | None, "as the request gives it"]
    work_h: Annotated[float | None, "as the request gives it"]


class Asked(Protocol):
    """The ways that a request gives."""

    @property
    def ways(self) -> Sequence[GivenWay]:
        """As given."""


def options_of(
    asked: Asked, weighed: Sequence[tuple[Weighed, GivenWay | None]], best: Weighed
) -> tuple[Option, ...]:
    """List the ways of the best question, then the other relays."""
    own = {id(each): way for each, way in weighed}
    return tuple(
        _option(
            each,
            tried,
            _given(best, tried, weighed, asked) if each is best else own[id(each)],
            works=any(ok for other, ok in each.decision.tried if other is tried),
            is_advised=each is best and tried is best.decision.plan,
        )
        for each, tried in ways_of(weighed, best)
    )


def as_good(options: Sequence[Option], nominal_v: float) -> Iterator[Remark]:
    """The first less plain way that brings as much as the advised one, as far as is known."""
    advised = next((each for each in options if each.is_advised and each.code != "as_is"), None)
    if advised is None:
        return
    apart_v = APART_SHARE * nominal_v
    for each in options[options.index(advised) + 1 :]:
        equal = abs(each.load_voltage_v - advised.load_voltage_v) < apart_v
        name = each.name or ", ".join((*each.parts, *each.new, *filter(None, (each.relay,))))
        if equal and each.works and each.available:
            values = {"load_voltage_v": advised.load_voltage_v, "other_v": each.load_voltage_v}
            yield remark("as_good", part=name, values=values)
            return


def ways_of(
    weighed: Sequence[tuple[Weighed, GivenWay | None]], best: Weighed
) -> Iterator[tuple[Weighed, Tried]]:
    """Every way that is listed, in that order, each with the question that it is of."""
    yield from ((best, tried) for tried, _ in best.decision.tried)
    for other, _ in weighed:
        if other is not best and other.proposed is not None:
            yield other, other.proposed


def _given(
    best: Weighed, tried: Tried, weighed: Sequence[tuple[Weighed, GivenWay | None]], asked: Asked
) -> GivenWay | None:
    """The way of the request that this is; None of one that was made."""
    if tried.treatment.name:
        return next(each for each in asked.ways if each.name == tried.treatment.name)
    own = next(way for each, way in weighed if each is best)
    return own if tried is best.proposed and own is not None and not own.has_more else None


def _option(
    weighed: Weighed,
    tried: Tried,
    way: GivenWay | None,
    *,
    works: bool,
    is_advised: bool,
) -> Option:
    ways, treatment = weighed.ways, tried.treatment
    load, switch = ways.asked.load, ways.asked.switch
    told = tried.told(load, works, weighed.as_is)
    least = tried.poorest(load)
    judged = tried.judged[least]
    question = ways.question(treatment, weighed.as_is.judged[least].case)
    changes = treatment.changes.names if treatment.changes else ()
    current_a = judged.state.model.sign * judged.state.current_a(switch)
    relay = ways.asked.proposal.relay.name if treatment.relay and ways.asked.proposal else None
    return Option(
        name=way.name if way else None,
        code=treatment.code,
        parts=treatment.parts,
        new=treatment.new,
        relay=relay,
        is_advised=is_advised,
        works=told.works,
        available=way.available if way else True,
        against=tuple(_against(weighed, tried)),
        case=told.case,
        load_voltage_v=told.load_voltage_v,
        needed_v=told.needed_v,
        margin_v=told.margin_v,
        gain_v=told.gain_v,
        switch_current_a=current_a,
        switch_power_w=abs(current_a * judged.state.across_v(switch)),
        tolerated_contact_ohm=headroom(question, switch, relay, judged.state),
        new_parts=len(changes) + (len(ways.asked.new_names) if treatment.relay else 0),
        cost=number(way.cost) if way else None,
        work_h=number(way.work_h) if way else None,
    )


def _against(weighed: Weighed, tried: Tried) -> Iterator[str]:
    """What keeps it from being taken, each sentence once."""
    treatment = tried.treatment
    found: list[Check] = [*not_said(treatment)]
    if treatment.relay:
        found += [*weighed.decision.wrong, *weighed.decision.missing]
    found += weighed.decision.weighing.bars(tried)
    yield from dict.fromkeys(check.message for check in found)
