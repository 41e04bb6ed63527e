"""The way of a load's current, part by part, in the order in which one walks along it.

There may be several ways beside each other: volts along any one of them add up to the whole.
"""

import math
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from lastvolt_service.operations.circuits.fields import MOST_OHM, Circuit, Relay, resists
from lastvolt_service.operations.circuits.loads import AnyLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.switching import switched_side


@dataclass(frozen=True, slots=True)
class Link:
    """A part on the way, and its ends in the order in which one comes to them.

    Attributes
    ----------
    name, kind : str
        As in the request; of a contact what makes it: switch, fuse, ground, …
    near, far : str
        Nodes.
    """

    name: str
    kind: str
    near: str
    far: str


@dataclass(frozen=True, slots=True)
class Walk:
    """From the live post to the load, and from the load back to the other post."""

    there: tuple[Link, ...]
    back: tuple[Link, ...]


def walk(
    circuit: Circuit, load: AnyLoad, switch: str, left_out: AbstractSet[str] = frozenset()
) -> Walk:
    """Find the shortest way through the switch; empty where a case parts it."""
    live, ground = circuit.posts
    terminal, load_ground = Sides(circuit).live_first(load.nodes)
    side = switched_side(circuit, load, switch)
    # No wiring leads through a pilot lamp or the like, but for want of any other way.
    for most_ohm in (MOST_OHM, math.inf):
        links = list(_links(circuit, left_out, most_ohm))
        there = _through(links, live, terminal, switch if side == "live" else None)
        back = _through(links, load_ground, ground, switch if side == "ground" else None)
        if there is not None and back is not None:
            return Walk(there, back)
    return Walk(there or (), back or ())


@dataclass(frozen=True, slots=True)
class OwnCoil:
    """A relay that a load has already, and the way of its coil's current through the switch.

    Attributes
    ----------
    relay : Relay
        Whose contact lies on the load's way.
    way : Walk
        From the live post to the coil, and from the coil to the other post.
    nodes : tuple of str
        Of the coil, where plus is by and large first.
    """

    relay: Relay
    way: Walk
    nodes: tuple[str, str]


def own_coil(
    circuit: Circuit, load: AnyLoad, switch: str, left_out: AbstractSet[str] = frozenset()
) -> OwnCoil | None:
    """Find the relay by which a switch rules a load; None where its own current runs through it."""
    if switched_side(circuit, load, switch) is not None:
        return None
    way, (live, ground) = walk(circuit, load, switch, left_out), circuit.posts
    names = {each.name for each in (*way.there, *way.back)}
    for relay in circuit.relays:
        if relay.name not in names:
            continue
        first, second = relay.coil_nodes
        links = [e for e in _links(circuit, left_out, MOST_OHM) if e.name != relay.name]
        for near, far in ((first, second), (second, first)):
            for through in ((switch, None), (None, switch)):
                there = _through(links, live, near, through[0])
                back = _through(links, far, ground, through[1])
                if there is not None and back is not None:
                    return OwnCoil(relay, Walk(there, back), (near, far))
    return None


def _links(circuit: Circuit, left_out: AbstractSet[str], most_ohm: float) -> Iterator[Link]:
    for each in circuit.branches:
        if each.name not in left_out and not resists(each, most_ohm):
            kind = each.part if isinstance(each, CircuitContact) else each.kind
            yield Link(each.name, str(kind), *each.nodes)
    for relay in circuit.relays:
        if relay.name not in left_out:
            for ends in (relay.contact_nodes, relay.break_nodes):
                if ends:
                    yield Link(relay.name, "relay", *ends)


def _through(
    links: Sequence[Link], start: str, goal: str, name: str | None
) -> tuple[Link, ...] | None:
    """The shortest way, through a part where one is named."""
    if name is None:
        return _shortest(links, start, goal)
    own = next((each for each in links if each.name == name), None)
    if own is None:
        return None
    others = [each for each in links if each is not own]
    found = []
    for link in (own, Link(own.name, own.kind, own.far, own.near)):
        first = _shortest(others, start, link.near, {link.far})
        if first is None:
            continue
        met = {start, *(each.far for each in first)}
        if link.far in met:
            continue
        second = _shortest(others, link.far, goal, met)
        if second is not None:
            found.append((*first, link, *second))
    return min(found, key=len, default=None)


def _shortest(
    links: Iterable[Link], start: str, goal: str, avoided: AbstractSet[str] = frozenset()
) -> tuple[Link, ...] | None:
    """The way of the fewest parts; of parts beside each other the first."""
    beside: dict[str, list[Link]] = {}
    for each in links:
        beside.setdefault(each.near, []).append(each)
        beside.setdefault(each.far, []).append(Link(each.name, each.kind, each.far, each.near))
    came: dict[str, Link | None] = {start: None}
    todo = deque([start])
    while todo and goal not in came:
        for each in beside.get(todo.popleft(), ()):
            if each.far not in came and each.far not in avoided:
                came[each.far] = each
                todo.append(each.far)
    if goal not in came:
        return None
    found, link = [], came[goal]
    while link is not None:
        found.append(link)
        link = came[link.near]
    return tuple(reversed(found))
