"""What the answer says of a choice of relays: the best, the others, and why not each."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from lastvolt_service.operations.circuits.parts import ChainWire
from lastvolt_service.operations.circuits.weakest import RUNS_ON
from lastvolt_service.operations.decision.choice_judge import NO_ANSWER, UNKNOWN, Looked
from lastvolt_service.operations.decision.choice_request import (
    COOLER_IS_WORTH_M,
    DRIER_IS_WORTH_M,
    EXPOSURES,
    ON_THE_HOT_PART,
    RelayChoiceRequest,
)
from lastvolt_service.operations.decision.choice_wires import InCase, Wired, usual_pick_up_v
from lastvolt_service.operations.decision.proposal import Proposal
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.screen import USUAL_HIGHEST_C
from lastvolt_service.operations.decision.weighing import Weighed
from lastvolt_service.operations.judging import Verdict
from lastvolt_service.operations.results import Check
from lastvolt_service.rows import number
from lastvolt_service.units import high_end
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

NAME = "relay-choice"
# What is said of a place by what it is exposed to.
OF_EXPOSURE = {
    "dry": "place_dry",
    "splash": "place_splash",
    "drips": "place_drips",
    "stones": "place_stones",
    "on_the_hot_part": "place_on_the_hot_part",
}


@dataclass(frozen=True, slots=True)
class Ranked:
    """A relay in a place, which works there."""

    rank: Annotated[int, "1 for the best; those that nothing tells apart have the same"]
    candidate: Annotated[str, "the relay as the request names it"]
    place: Annotated[str, "where it is mounted"]
    size: Annotated[
        str, "of feed and outlet there: thinner than the place's where its blades take no thicker"
    ]
    has_reserve: Annotated[bool, "whether the load has a tenth to spare in every case"]
    case: Annotated[str, "the case in which the load has the least to spare"]
    load_voltage_v: Annotated[float, "that reaches the load in that case"]
    needed_v: Annotated[float, "lowest voltage that it works at there"]
    margin_v: Annotated[float, "load_voltage_v over needed_v"]
    coil_margin_v: Annotated[
        float | None,
        "at the coil, warm, over what closes it, in the worst case; cold where its heat is not "
        "known; null where it has pulled in before",
    ]
    contact_margin_a: Annotated[
        float | None, "that the contact may carry over what it does; null where that is not known"
    ]
    ambient_c: Annotated[float, "highest around it in any case"]
    length_m: Annotated[float, "of both new wires"]
    wires_drop_v: Annotated[float, "that they take, at most, in any case"]
    cost: Annotated[float | None, "as the request says; null where it does not"]


@dataclass(frozen=True, slots=True)
class Best:
    """The relay that is advised, where, and with what."""

    candidate: Annotated[str, "the relay as the request names it"]
    place: Annotated[str, "where it is mounted"]
    size: Annotated[str, "of feed and outlet"]
    fuse_rating_a: Annotated[float, "of the fuse at the start of the feed"]
    fuse_family: Annotated[str, "of that fuse"]
    holder_rating_a: Annotated[
        float | None, "usual rating of its holder; null where one is made for each rating"
    ]
    load_voltage_v: Annotated[float, "that reaches the load in its poorest case"]
    margin_v: Annotated[float, "that it has above what it needs there"]
    proposal: Annotated[
        Proposal, "as relay-retrofit takes it, beside the circuit, cases, load and switch"
    ]


# What keeps a relay out that another one mends; and what does so with any relay.
OF_RATINGS = (
    "steady_current", "pick_up_at_ambient", "pick_up_warm", "hold", "continuous_voltage",
    "rated_voltage", "relay_voltage", "contact_drop", "contact_heat", "load_voltage",
)  # fmt: skip
OF_ALL = (NO_ANSWER, "mend_before", "motor_stands", "relay_rest", "coil_over_break")


@dataclass(frozen=True, slots=True)
class Rejected:
    """A relay that does not do in some places, or places that do for none."""

    candidate: Annotated[str | None, "the relay as the request names it; null of any relay"]
    places: Annotated[tuple[str, ...], "where, the kindest first"]
    code: Annotated[
        str,
        "why: code of the check that it fails or that could not be judged; no_answer; mend_before; "
        "or of a place without a wire: ambient, fixed_drop, no_size, no_fuse, no_current",
    ]
    verdict: Annotated[Verdict, "fail; unknown or undecided where it is to be found out"]
    part: Annotated[str | None, "the part that it is about"]
    case: Annotated[str | None, "the case that shows it"]
    message: Annotated[str, "the same in a sentence, of the first of these places"]


@dataclass(frozen=True, slots=True)
class WiredPlace:
    """A place with the wires that a relay would get there."""

    name: Annotated[str, "the place as the request names it"]
    ambient_c: Annotated[float, "highest in any case"]
    length_m: Annotated[float, "of feed and outlet"]
    size: Annotated[str | None, "of both; null where none does"]
    fuse_rating_a: Annotated[float | None, "of the fuse at their start; null likewise"]
    fuse_family: Annotated[str | None, "of that fuse"]
    wires_drop_v: Annotated[float | None, "that the wires take, at most, in any case"]
    current_a: Annotated[float | None, "that the load takes there, at most"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a relay would have to be."""

    place: Annotated[str, "where: the kindest that has a wire"]
    nominal_v: Annotated[float, "of its coil"]
    current_a: Annotated[float, "that its contact must carry at that ambient"]
    ambient_c: Annotated[float, "that it must bear"]
    coil_v: Annotated[float, "that reaches its coil, at least: warm there, it must close on less"]


@dataclass(frozen=True, slots=True)
class PlaceLooked:
    """A place, and what load and coil get there in each case through a relay without fault."""

    wired: Wired
    best: tuple[InCase, ...]
    usual: tuple[InCase, ...] = ()  # through a poor contact, with a coil of the trade

    @property
    def preference(self) -> tuple[float, ...]:
        """The less, the kinder to a relay and the nearer."""
        place = self.wired.place
        return (
            float(place.exposure == ON_THE_HOT_PART),
            self.wired.length_m
            + DRIER_IS_WORTH_M * EXPOSURES.index(place.exposure)
            + COOLER_IS_WORTH_M * (self.wired.ambient_c > USUAL_HIGHEST_C),
        )

    @property
    def worst_drop_v(self) -> float | None:
        """What the wires take, at most. [V]."""
        return max((each.wires_v for each in self.best), default=None)

    def told(self) -> WiredPlace:
        """Say what it comes to."""
        wired = self.wired
        return WiredPlace(
            wired.place.name,
            wired.ambient_c,
            wired.length_m,
            wired.size,
            number(wired.fuse_rating_a),
            wired.fuse_family,
            self.worst_drop_v,
            max((each.load_a for each in self.best), default=None),
        )


def ranked(asked: RelayChoiceRequest, found: Sequence[Looked]) -> list[tuple[Ranked, Looked]]:
    """Rank what works; equals by the order of the request, with the same rank."""
    rows: list[tuple[Ranked, Looked]] = []
    for place, each in enumerate(sorted(found, key=lambda one: one.order), 1):
        rank = place
        if rows and rows[-1][1].order == each.order:
            rank = rows[-1][0].rank
        rows.append((_ranked(asked, rank, each), each))
    return rows


def _ranked(asked: RelayChoiceRequest, rank: int, looked: Looked) -> Ranked:
    tried, wired = looked.tried, looked.pair.wired
    poorest = tried.poorest(asked.load)
    volts, needed_v = tried.volts(poorest, asked.load)
    candidate = asked.candidates[looked.pair.candidate]
    coil_v = looked.margin("pick_up_warm")
    return Ranked(
        rank,
        candidate.name,
        wired.place.name,
        str(wired.size),
        looked.has_reserve,
        tried.judged[poorest].case.name,
        volts,
        needed_v,
        volts - needed_v,
        looked.margin("pick_up_at_ambient") if coil_v is None else coil_v,
        looked.margin("steady_current"),
        wired.ambient_c,
        wired.length_m,
        max(_wires_v(looked, index) for index in range(len(tried.judged))),
        number(high_end(candidate.cost)),
    )


def _wires_v(looked: Looked, index: int) -> float:
    state, proposal = looked.tried.judged[index].state, looked.asked.proposal
    return sum(
        abs(state.across_v(each.name))
        for each in (*proposal.feed, *proposal.outlet)
        if isinstance(each, ChainWire)
    )


def best_of(row: Ranked, looked: Looked) -> Best:
    """Say what is advised."""
    wired = looked.pair.wired
    return Best(
        row.candidate,
        row.place,
        str(wired.size),
        wired.fuse_rating_a,
        str(wired.fuse_family),
        wired.holder_rating_a if wired.holder_rating_a < float("inf") else None,
        row.load_voltage_v,
        row.margin_v,
        looked.asked.proposal,
    )


def rejection(candidate: str | None, wired: Wired, check: Check) -> Rejected:
    """Say what speaks against a relay in a place."""
    return Rejected(
        candidate,
        (wired.place.name,),
        check.code,
        check.verdict,
        check.part,
        check.case,
        check.message,
    )


def without_check(candidate: str | None, wired: Wired, code: str, error: str = "") -> Rejected:
    """Say what no check says."""
    place = wired.place
    values = {"ambient_c": wired.ambient_c, "length_m": wired.length_m}
    named = Named(None, values).of_check(
        None, None, "", {"part": place.name, "check": error, "detail": place.insulation}
    )
    message = say(catalogue()[NAME].reasons[code], named)
    return Rejected(candidate, (place.name,), code, "fail", None, None, message)


def grouped(
    rejected: Sequence[Rejected], kindest: Mapping[str, tuple[float, ...]]
) -> Iterator[Rejected]:
    """Put together what speaks against one relay in several places alike."""
    alike: dict[tuple[str | None, str], list[Rejected]] = {}
    for each in rejected:
        alike.setdefault((each.candidate, each.code), []).append(each)
    for some in alike.values():
        first, *others = sorted(some, key=lambda each: kindest[each.places[0]])
        yield replace(first, places=tuple(each.places[0] for each in (first, *others)))


def wanted_of(asked: RelayChoiceRequest, places: Sequence[PlaceLooked]) -> Wanted | None:
    """Say what a relay would have to be, in the kindest place where one would help.

    None where no coil of the trade gets what it closes on: an open switch is not got round.
    """
    closes_v = usual_pick_up_v(asked.system_v)
    helps = [
        each for each in places if each.best and not too_little(each) and _coil_v(each) >= closes_v
    ]
    if not helps:
        return None
    kindest = min(helps, key=lambda each: each.preference)
    return Wanted(
        kindest.wired.place.name,
        float(asked.system_v),
        max(each.load_a for each in kindest.best),
        kindest.wired.ambient_c,
        _coil_v(kindest),
    )


def _coil_v(place: PlaceLooked) -> float:
    """What reaches a coil of the trade there, at least. [V]."""
    return min(each.coil_v for each in place.usual)


def too_little(place: PlaceLooked) -> int | None:
    """Number of a case, from one on, in which the load gets too little there; None if in none."""
    short = [n for n, each in enumerate(place.best, 1) if each.load_v < each.needed_v]
    return next(iter(short), None)


def nearest_of(rejected: Iterable[Rejected]) -> Rejected | None:
    """The first relay whose ratings do: its feed, its place or what is not known keeps it out.

    One that nothing would let go before all others: whichever is taken, that comes first. Then one
    that only something unknown keeps out.
    """
    others = (*OF_RATINGS, *OF_ALL)
    near = (e for e in rejected if e.candidate and (is_open(e) or e.code not in others))
    return min(near, key=lambda each: (each.code not in RUNS_ON, not is_open(each)), default=None)


def is_open(nearest: Rejected | None) -> bool:
    """Whether only what is not known keeps it out."""
    return nearest is not None and nearest.verdict in UNKNOWN


def mends_in(poor: Weighed) -> tuple[str, ...]:
    """What is to be made sound, or is poor, without a relay."""
    plan = poor.decision.plan
    if plan is not None and plan.treatment.sound:
        return plan.treatment.parts
    return tuple(each.name for each in poor.ways.mends)


def _settles(poor: Weighed) -> bool:
    """Whether what is poor is all that is to be done, or keeps any relay from helping."""
    plan = poor.decision.plan
    if poor.decision.beyond or poor.decision.asked_first:
        return True
    return plan is None or any(ok for tried, ok in poor.decision.tried if tried is plan)


def _first(poor: Weighed) -> Iterator[Remark]:
    """What comes before any relay where none suits: it may be why."""
    decision, load = poor.decision, poor.ways.asked.load
    before = (*decision.beyond, *decision.asked_first)
    if before:
        yield remark("find_out", check=before[0], of=NAME)
        return
    if decision.advice == "battery_first":
        frozen = any(each.may_be_frozen for each in poor.ways.batteries.values())
        yield remark("battery_frozen_before" if frozen else "battery_before", of=NAME)
    mends, plan = ", ".join(mends_in(poor)), decision.plan
    if not mends:
        return
    if plan is None or not plan.treatment.sound:
        yield remark("mend_before_any", part=mends, of=NAME)
        return
    way = plan.told(load, works=True, as_is=poor.as_is)
    values = {"load_voltage_v": way.load_voltage_v, "margin_v": way.margin_v}
    code = "mend_instead" if _settles(poor) else "mend_then_ask"
    yield remark(code, part=mends, values=values, of=NAME)


def reasons_for(
    best: Best | None,
    places: Sequence[PlaceLooked],
    wanted: Wanted | None,
    left: int,
    poor: Weighed | None = None,
    nearest: Rejected | None = None,
) -> Iterator[Remark]:
    """Say why this place and no other, what the lengths cost, and what would do where none does.

    `poor` is what is there without a relay, where none suits: that may be what keeps it from it.
    """

    def told(code: str, part: str | None = None, **values: float) -> Remark:
        return remark(code, part=part, values=values, of=NAME)

    if best is None:
        yield told("none_known" if is_open(nearest) else "none_suits")
        first = tuple(_first(poor)) if poor else ()
        yield from first
        settled = bool(first) and (not poor or _settles(poor))
        if wanted is None and not first:
            yield told("no_place_helps")
        elif wanted is not None and not settled and nearest is None:
            yield told(
                "would_do",
                wanted.place,
                nominal_v=wanted.nominal_v,
                current_a=wanted.current_a,
                ambient_c=wanted.ambient_c,
                coil_v=wanted.coil_v,
            )
    by_kindness = sorted(places, key=lambda each: each.preference)
    taken = best.place if best else ""
    for each in sorted(by_kindness, key=lambda one: one.wired.place.name != taken):
        place, is_taken = each.wired.place, each.wired.place.name == taken
        if is_taken:
            yield told(OF_EXPOSURE[place.exposure], place.name, ambient_c=each.wired.ambient_c)
        elif place.exposure == ON_THE_HOT_PART:
            yield told("not_on_the_hot_part", place.name, ambient_c=each.wired.ambient_c)
        if each.worst_drop_v is not None:
            yield told(
                "lengths_cost" if is_taken else "lengths_would_cost",
                place.name,
                length_m=each.wired.length_m,
                drop_v=each.worst_drop_v,
            )
    if left:
        yield told("not_looked_at", pairs=float(left))
