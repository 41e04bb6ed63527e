"""Wires and fuse of a relay in a place: sized by wire-sizing, for what the load takes there."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import changed, with_defaults
from lastvolt_service.operations.circuits.assembly import open_coil_v, rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit, RelayData
from lastvolt_service.operations.circuits.intervals import Pins
from lastvolt_service.operations.circuits.loads import LampLoad, MotorLoad
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import ChainContact, ChainWire
from lastvolt_service.operations.circuits.states import load_states
from lastvolt_service.operations.decision.choice_request import (
    FEED,
    FUSE,
    OUTLET,
    RelayChoiceRequest,
    RelayPlace,
    unused,
)
from lastvolt_service.operations.decision.proposal import Proposal, case_with_relay, with_relay
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL
from lastvolt_service.operations.judging import refuse
from lastvolt_service.operations.remedies.options import sound_ohm
from lastvolt_service.operations.wires import sizing
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.operations.wires.size_needs import WireSizingRequest
from lastvolt_service.rows import NOT_GIVEN, number, optional
from lastvolt_service.tables import fuses
from lastvolt_service.tables.usual import relays
from lastvolt_service.units import Interval, high_end, low_end

# A relay that closes whatever it gets and takes nothing: the best that any could be.
EASY_V, NEVER_V, LIGHT_OHM = 0.1, 0.01, 1e5
WhyNot = Literal[
    "low_supply", "ambient", "fixed_drop", "no_size", "no_fuse", "no_current", "no_answer"
]
# A load that takes less, or has less, is off. [A], [V]
LEAST_A, LEAST_V = 1e-6, 0.1
# What is on for a time rests at least so many times as long before it is on again. Common practice.
REST_MULTIPLE = 2.0
# In the trade what takes so much at the most has a fuse of so much, in hot air, too, where it bears
# less than three quarters of its rating for ever: the next larger asks for wire that no blade
# grips. Common practice. [A]
HELD_BY_40_A, FUSE_40_A = 30.0, 40.0
# Course of the current of a kind of load, where it is not that of a starter's solenoid.
PROFILES = ((LampLoad, "lamp"), (MotorLoad, "motor"))


class InCase(NamedTuple):
    """What the load, and a coil before it closes, get in a case through a relay without fault.

    Attributes
    ----------
    load_a, load_v, needed_v, coil_v, drive_v : float
        Current and voltage of the load, what it needs, and voltages at the coil and of the source
        without load. [A], [V], [V], [V], [V]
    wires_v : float
        What the new wires take. [V]
    held : bool
        Whether it has pulled in before.
    duration_s : float
        NaN for ever. [s]
    """

    load_a: float
    load_v: float
    needed_v: float
    coil_v: float
    drive_v: float
    wires_v: float
    held: bool
    duration_s: float


@dataclass(frozen=True, slots=True)
class Wired:
    """A place with its wires.

    Attributes
    ----------
    place : RelayPlace
        As asked.
    ambient_c : float
        Highest in any case. [degC]
    size : str or None
        Of feed and outlet; None where none does.
    fuse_rating_a, holder_rating_a : float
        NaN where there is none; infinite of holders that are made for each rating. [A]
    fuse_family : str or None
        Of that fuse.
    fuse_ohm : float
        Of the fuse in its holder. [ohm]
    why_not : str or None
        Code of why there is no wire.
    error : str
        The same in a sentence, where it has no answer.
    """

    place: RelayPlace
    ambient_c: float
    size: str | None = None
    fuse_rating_a: float = NOT_GIVEN
    holder_rating_a: float = NOT_GIVEN
    fuse_family: str | None = None
    fuse_ohm: float = NOT_GIVEN
    why_not: WhyNot | None = None
    error: str = ""

    @property
    def length_m(self) -> float:
        """Of both wires. [m]."""
        return self.place.feed_length_m + self.place.outlet_length_m

    def proposal(self, asked: RelayChoiceRequest, relay: RelayData) -> Proposal:
        """Make a whole proposal of a relay in this place."""
        taken = asked.known_names() | {relay.name}
        fuse, feed, outlet = (unused(taken, name) for name in (FUSE, FEED, OUTLET))
        zone, kind = self.place.zone, self.place.insulation
        wire = {"kind": "wire", "size": self.size, "standard": asked.standard}
        wire |= {"insulation": kind, "zone": zone}
        return with_defaults(
            Proposal,
            relay=relay,
            feed_node=self.place.feed_node,
            feed=[
                with_defaults(
                    ChainContact,
                    name=fuse,
                    kind="contact",
                    part="fuse",
                    resistance_ohm=self.fuse_ohm,
                    rating_a=self.fuse_rating_a,
                    fuse_family=self.fuse_family,
                    zone=zone,
                ),
                with_defaults(ChainWire, name=feed, length_m=self.place.feed_length_m, **wire),
            ],
            outlet=[
                with_defaults(ChainWire, name=outlet, length_m=self.place.outlet_length_m, **wire)
            ],
        )


def highest_c(asked: RelayChoiceRequest, zone: str) -> float:
    """Highest ambient of a zone in any case. [degC]."""
    return max(float(high_end(case.ambient_of(zone))) for case in asked.cases)


def lowest_c(asked: RelayChoiceRequest, zone: str) -> float:
    """Lowest ambient of a zone in any case. [degC]."""
    return min(float(low_end(case.ambient_of(zone))) for case in asked.cases)


def through(asked: RelayChoiceRequest, proposal: Proposal, *, held: bool = False) -> list[InCase]:
    """What load and coil get in each case; intervals at their middle.

    Raises
    ------
    CalculationError
        If a case has no state of rest.
    """
    question = asked.asked_of(proposal)
    new, found = with_relay(question), []
    for each in asked.cases:
        case = each
        if held and asked.load not in case.held:
            case = changed(case, held=[*case.held, asked.load])
        circuit, here = plain(new, case_with_relay(case, asked.load, proposal))
        state = rest(circuit, here)
        if asked.load in state.unfed:
            raise state.unfed[asked.load]
        found.append(_in_case(asked, state, proposal, here))
    return found


def _in_case(asked: RelayChoiceRequest, state: State, proposal: Proposal, here: Case) -> InCase:
    name = proposal.relay.name
    load = next(each for each in load_states(state) if each.name == asked.load)
    wires_v = sum(
        abs(state.across_v(each.name))
        for each in (*proposal.feed, *proposal.outlet)
        if isinstance(each, ChainWire)
    )
    return InCase(
        abs(state.current_a(asked.load)),
        load.voltage_v,
        optional(load.needed_v),
        open_coil_v(state).get(name, abs(state.across_v(name))),
        state.model.drive_v,
        wires_v,
        asked.load in here.held,
        here.duration_s,
    )


def greediest(circuit: Circuit, cases: Sequence[Case]) -> tuple[Circuit, list[Case]]:
    """The circuit in its cases with whatever lets the most current flow."""
    pinned = Pins((circuit, cases))
    found: tuple[Circuit, list[Case]] = pinned.put(
        iter([_greedy(path, each) for path, each in pinned.given])
    )
    return found


def _greedy(path: Path, bounds: Interval) -> float:
    """The end of an input with which the load takes most, and needs most."""
    in_the_way = str(path[-1]).endswith(("_ohm", "_m"))
    return bounds.low if in_the_way else bounds.high


def longest_s(asked: RelayChoiceRequest) -> float:
    """How long the longest case lasts; NaN where one is for ever. [s]."""
    durations_s = [float(high_end(each.duration_s)) for each in asked.cases]
    return max(durations_s) if all(map(math.isfinite, durations_s)) else NOT_GIVEN


def best_relay(
    asked: RelayChoiceRequest, place: RelayPlace, contact_ohm: float, coil_ohm: float = LIGHT_OHM
) -> RelayData:
    """A relay that closes on next to nothing and takes next to nothing: no real one does better."""
    return with_defaults(
        RelayData,
        name=unused(asked.known_names() | {each.name for each in asked.candidates}, "a relay"),
        zone=place.zone,
        coil_resistance_ohm=coil_ohm,
        pick_up_v=EASY_V,
        drop_out_v=NEVER_V,
        contact_resistance_ohm=contact_ohm,
        ages=False,
    )


def starts_engine(asked: RelayChoiceRequest) -> bool:
    """Whether the load is a starter's solenoid, which takes less when it has pulled in."""
    return any(
        each.circuit == STARTER_CONTROL for each in asked.circuit.loads if each.name == asked.load
    )


class HotFuse(NamedTuple):
    """What a fuse carries for ever in the heat of a place. [A], [degC]."""

    bears_a: float
    ambient_c: float


def in_hot_air(fuse_a: float, lasting_a: float, ambient_c: float) -> HotFuse | None:
    """Of a fuse of 40 A that carries a load in cool air alone; None of any other."""
    bears_a = _borne_by_40_a(ambient_c)
    is_so = fuse_a == FUSE_40_A and bears_a < lasting_a <= HELD_BY_40_A
    return HotFuse(bears_a, ambient_c) if is_so else None


def _borne_by_40_a(ambient_c: float) -> float:
    """What such a fuse carries for ever; of less than cool air, or beyond what is known, there."""
    hot_c = min(max(ambient_c, fuses.REFERENCE_AMBIENT_C), fuses.hottest_c())
    return fuses.CONTINUOUS_SHARE * FUSE_40_A * fuses.ambient_factor(hot_c)


def in_air(needs: WireSizingRequest, ambient_c: float) -> WireSizingRequest:
    """The same in an ambient; a fuse of 40 A is held to hang cool where it is taken in hot air."""
    is_so = in_hot_air(FUSE_40_A, float(needs.load_current_a), ambient_c)
    fuse_ambient_c = fuses.REFERENCE_AMBIENT_C if is_so else NOT_GIVEN
    return changed(needs, ambient_c=ambient_c, fuse_ambient_c=fuse_ambient_c)


def wired(
    asked: RelayChoiceRequest,
    place: RelayPlace,
    thickest: str | None = None,
    lasting_a: float = NOT_GIVEN,
) -> Wired:
    """Size both wires of a place as one, and its fuse.

    Parameters
    ----------
    asked, place : RelayChoiceRequest, RelayPlace
        Which place, and of which request.
    thickest : str or None
        That goes into the terminals of the relay: where practice would have less lost than on it,
        it is taken all the same, if the load works through it and it bears the current.
    lasting_a : float
        What the load takes for long at the nominal voltage: this counts where a fuse of 40 A
        carries it by practice, and not the most that may flow; else that does. [A]
    """
    hottest_c = highest_c(asked, place.zone)
    try:
        bare = with_defaults(
            Proposal, relay=best_relay(asked, place, 0.0), feed_node=place.feed_node
        )
        at_middle = through(asked, bare)
        circuit, cases = greediest(asked.circuit, asked.cases)
        greedy = changed(asked, circuit=circuit, cases=cases)  # new parts bear what may flow
        first = through(greedy, bare)
        lasting = through(greedy, bare, held=True) if starts_engine(asked) else first
        every = (*at_middle, *first, *lasting)
        if any(each.load_a < LEAST_A or each.load_v < LEAST_V for each in every):
            return Wired(place, hottest_c, why_not="no_current")
        poorest = min(at_middle, key=lambda each: each.load_v - optional(number(each.needed_v)))
        needs = _needs(asked, place, poorest, first, lasting)
        air = _as_told
        more = float(needs.load_current_a) > _borne_by_40_a(hottest_c)
        if more and lasting_a <= HELD_BY_40_A and not starts_engine(asked):
            needs, air = changed(needs, load_current_a=lasting_a), in_air
        ambients_c = (hottest_c, lowest_c(asked, place.zone))
        columns = _sized(needs, ambients_c, air)
        most_mm2 = conductor(thickest, asked.standard).area_mm2 if thickest else math.inf
        if _thickness(columns) > most_mm2:
            enough_v = needs.supply_v - optional(number(needs.needed_v))
            columns = _sized(changed(needs, limit_drop_v=enough_v), ambients_c, air)
            fits = _thickness(columns) <= most_mm2
            columns = {**columns, "size": thickest if fits else None}
    except CalculationError as error:
        return Wired(place, hottest_c, why_not="no_answer", error=error.detail)
    if columns["no_size_helps"]:
        return Wired(place, hottest_c, why_not=columns["no_size_helps"])
    size, rating_a, family = (columns[key] for key in ("size", "fuse_rating_a", "fuse_family"))
    if size is None:
        return Wired(place, hottest_c, why_not="no_size")
    if family is None:
        return Wired(place, hottest_c, why_not="no_fuse")
    return Wired(
        place,
        hottest_c,
        size,
        float(rating_a),
        fuses.families()[family].holder_a,
        family,
        sound_ohm("fuse", max(each.load_a for each in first)),
    )


def _as_told(needs: WireSizingRequest, ambient_c: float) -> WireSizingRequest:
    return changed(needs, ambient_c=ambient_c)


def _sized(
    needs: WireSizingRequest,
    ambients_c: Iterable[float],
    air: Callable[[WireSizingRequest, float], WireSizingRequest],
) -> Mapping[str, Any]:
    """Answer of wire-sizing where the wire is thickest: first of all that no size helps.

    A wire bears least where it is hot; its fuse opens last where it is cold.
    """
    sized = [sizing.solve(air(needs, each)) for each in dict.fromkeys(ambients_c)]
    for found in sized:
        if found.columns["no_size_helps"]:
            return found.columns
        refuse(found.faults)
    return max((each.columns for each in sized), key=_thickness)


def _thickness(columns: Mapping[str, Any]) -> float:
    """Section of a size; of none that fits, the most. [mm2]."""
    return float("inf") if columns["size"] is None else float(columns["area_mm2"])


def _needs(
    asked: RelayChoiceRequest,
    place: RelayPlace,
    poorest: InCase,
    first: Sequence[InCase],
    lasting: Sequence[InCase],
) -> WireSizingRequest:
    """Ask wire-sizing for the wires of a place, by the load with none."""
    load = next(each for each in asked.circuit.loads if each.name == asked.load)
    starts = starts_engine(asked)
    profile = next((word for kind, word in PROFILES if isinstance(load, kind)), None)
    return with_defaults(
        WireSizingRequest,
        supply_v=poorest.load_v,
        nominal_v=asked.system_v,
        needed_v=poorest.needed_v,
        load_current_a=max(each.load_a for each in lasting),
        inrush_current_a=max(each.load_a for each in first) if starts else NOT_GIVEN,
        load_profile=None if starts else profile,
        on_time_s=NOT_GIVEN if starts else longest_s(asked),
        off_time_s=NOT_GIVEN if starts else REST_MULTIPLE * longest_s(asked),
        circuit=load.circuit or WireSizingRequest.described["circuit"].default,
        length_m=place.feed_length_m + place.outlet_length_m,
        return_path="body",
        body_resistance_ohm=0.0,  # what the circuit has of it, the supply has lost already
        insulation=place.insulation,
        ambient_c=highest_c(asked, place.zone),
        standard=asked.standard,
    )


def usual_coil_ohm(nominal_v: float) -> float:
    """The coil that takes most of those of the trade for a system. [ohm]."""
    found = (each.coil_ohm for each in relays() if each.nominal_v == nominal_v)
    return min(found, default=LIGHT_OHM)


def usual_pick_up_v(nominal_v: float) -> float:
    """The least that any coil of the trade for a system closes on. [V]."""
    found = (each.pick_up_v for each in relays() if each.nominal_v == nominal_v)
    return min(found, default=EASY_V)
