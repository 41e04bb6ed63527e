"""Every place of a plan in one case, in the order of one walk: battery, switch, load, ground."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import AnyLoad, SolenoidLoad
from lastvolt_service.operations.circuits.parts import CircuitWire
from lastvolt_service.operations.decision.wiring_table import Fitting, of_a_starter
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.meter.leads import Lead, Pair, WholeCode, leads, new, same
from lastvolt_service.operations.meter.plan_bands import Held
from lastvolt_service.operations.meter.walk import Link, OwnCoil, Walk

PlaceCode = Literal[
    "at_rest",
    "supply",
    "cranking",
    "across_switch",
    "across_part",
    "new_feed",
    "across_contact",
    "across_coil",
    "live_side",
    "across_load",
    "pulling_in",
    "through_part",
    "ground_side",
    "switched_off",
]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a meter is held.

    Attributes
    ----------
    code : str
        What is read.
    pair : tuple of Lead or None
        Of the two leads, where plus is by and large first; None of a clamp.
    part, kind : str or None
        A part that it is about, and what makes it, as of a `Link`.
    through, through_then : str or None
        What the clamp lies round as it is, and with the relay.
    """

    code: PlaceCode
    pair: Pair | None = None
    part: str | None = None
    kind: str | None = None
    through: str | None = None
    through_then: str | None = None

    @property
    def as_is(self) -> Held:
        """Where the meter is as it is."""
        if self.pair is None:
            return Held(through=self.through)
        return Held(self.pair[0].as_is, self.pair[1].as_is)

    @property
    def then(self) -> Held:
        """Where it is with the relay."""
        if self.pair is None:
            return Held(through=self.through_then)
        return Held(self.pair[0].with_relay, self.pair[1].with_relay)

    def labels(self, turned: bool) -> tuple[str | None, str | None]:
        """What the places of the red and the black lead are called; None of a clamp."""
        if self.pair is None:
            return None, None
        red, black = self.pair[::-1] if turned else self.pair
        return red.label, black.label


def at_rest(circuit: Circuit) -> Place:
    """The battery with all off."""
    live, ground = map(same, circuit.posts)
    return Place("at_rest", (live, ground))


def places(
    circuit: Circuit,
    load: AnyLoad,
    switch: str,
    fit: Fitting | None,
    way: Walk,
    own: OwnCoil | None = None,
    *,
    bridges: bool,
) -> Iterator[Place]:
    """All that is read with the load on: along the way there, at the load, and the way back.

    `own` is a relay that the load has already; `bridges` where a main contact leaves its hold-in
    winding alone.
    """
    whole = leads(circuit, load, switch, fit)
    yield Place("supply", whole["supply"])
    if _cranks_unseen(circuit, load):
        yield Place("cranking", whole["supply"])
    if own is not None:
        yield from _at_the_coil(own, way, switch)
    yield from _parts(way.there, switch, own)
    if fit is not None:
        yield from _at_the_relay(fit, whole)
    yield from _side("live_side", way.there, whole["live_side"])
    yield Place("across_load", whole["across_load"])
    if bridges:
        yield Place("pulling_in", whole["across_load"])
    yield from _clamps(circuit, fit, way)
    yield from _side("ground_side", way.back, whole["ground_side"])
    yield from _parts(way.back, switch)
    if fit is not None:
        red, black = whole["across_load"]
        only_then = new(red.label, red.with_relay), new(black.label, black.with_relay)
        yield Place("switched_off", only_then)
    else:
        yield Place("switched_off", whole["across_load"])


def _cranks_unseen(circuit: Circuit, load: AnyLoad) -> bool:
    """Whether the engine is cranked, and the circuit does not say what that draws."""
    told = any(each.circuit == STARTER_MOTOR for each in circuit.loads)
    return isinstance(load, SolenoidLoad) and of_a_starter(load) and not told


def _parts(links: Sequence[Link], switch: str, own: OwnCoil | None = None) -> Iterator[Place]:
    """Each part of a side."""
    for each in links:
        code: PlaceCode = "across_switch" if each.name == switch else "across_part"
        ends = (_at(each, each.near, own), _at(each, each.far, own))
        yield Place(code, ends, each.name, each.kind)


def _at(link: Link, node: str, own: OwnCoil | None) -> Lead:
    """At the end of a part; a relay's contact has its terminals' numbers."""
    end = node
    if own is not None and link.name == own.relay.name and node in own.relay.contact_nodes:
        end = ("30", "87")[list(own.relay.contact_nodes).index(node)]
    return Lead(f"{link.name} [{end}]", node, node)


def _at_the_coil(own: OwnCoil, way: Walk, switch: str) -> Iterator[Place]:
    """The way of the coil's current, but for what carries the load's as well, and the coil."""
    read = {each.name for each in (*way.there, *way.back)}
    yield from _parts([e for e in own.way.there if e.name not in read], switch)
    ends = dict(zip(own.relay.coil_nodes, ("86", "85"), strict=True))
    red, black = (Lead(f"{own.relay.name} [{ends[each]}]", each, each) for each in own.nodes)
    yield Place("across_coil", (red, black), own.relay.name)
    yield from _parts([e for e in own.way.back if e.name not in read], switch)


def _side(
    code: Literal["live_side", "ground_side"], links: tuple[Link, ...], pair: Pair
) -> Iterator[Place]:
    """A whole side, where that is more than the one part of it."""
    first, second = pair
    nothing = first.as_is == second.as_is and first.with_relay == second.with_relay
    moved = any(each.as_is != each.with_relay for each in pair)
    if not nothing and (len(links) > 1 or moved):
        yield Place(code, pair)


def _at_the_relay(fit: Fitting, whole: dict[WholeCode, Pair]) -> Iterator[Place]:
    relay = fit.circuit.relays[-1].name
    at_30 = whole["across_contact"][0]
    feed_node = fit.asked.proposal.feed_node
    if at_30.with_relay != feed_node:
        yield Place("new_feed", (new(feed_node, feed_node), at_30), relay)
    yield Place("across_coil", whole["across_coil"], relay)
    yield Place("across_contact", whole["across_contact"], relay)


def _clamps(circuit: Circuit, fit: Fitting | None, way: Walk) -> Iterator[Place]:
    """One lead that carries the load's current as it is, and one that does with the relay."""
    on_the_way = [each.name for each in (*reversed(way.there), *way.back)]
    by_name = {each.name: each for each in circuit.branches if isinstance(each, CircuitWire)}
    wires = [by_name[name] for name in on_the_way if name in by_name]
    insulated = [each for each in wires if known(each.insulation)]
    for wire in (insulated or wires)[:1]:
        yield Place("through_part", part=wire.name, through=wire.name, through_then=wire.name)
    if fit is not None:
        chain = (*fit.asked.proposal.feed, *fit.asked.proposal.outlet)
        leads_ = [each.name for each in chain if each.kind == "wire"]
        for name in leads_[-1:]:
            yield Place("through_part", part=name, through_then=name)
