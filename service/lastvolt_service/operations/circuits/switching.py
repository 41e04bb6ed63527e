"""What a switch rules: which nodes of a circuit are live, and what closes, with a contact open."""

from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Literal

from lastvolt_service.operations.circuits.fields import Circuit, Relay
from lastvolt_service.operations.circuits.joints import Joined, on_a_way, reached
from lastvolt_service.operations.circuits.loads import AnyLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides


@dataclass(frozen=True, slots=True)
class Live:
    """A circuit with some parts taken out, its relays as their coils then leave them.

    Attributes
    ----------
    plus, minus : set of str
        Nodes that lead to either post.
    closed : set of str
        Relays that close.
    """

    plus: frozenset[str]
    minus: frozenset[str]
    closed: frozenset[str]

    def feeds(self, ends: Iterable[str]) -> bool:
        """Whether what joins these two nodes is fed."""
        first, second = ends
        return (first in self.plus and second in self.minus) or (
            second in self.plus and first in self.minus
        )


def live(circuit: Circuit, without: AbstractSet[str], over: Sequence[AnyLoad] = ()) -> Live:
    """Follow the metal from both posts, and let relays close one after the other.

    Over some loads, too, as a coil finds its ground over a lamp that is off.
    """
    fixed = [_ends(each.nodes) for each in circuit.branches if each.name not in without]
    fixed += [_ends(each.nodes) for each in over]
    relays = [each for each in circuit.relays if each.name not in without]
    closed: frozenset[str] = frozenset()
    for _ in range(len(relays) + 1):
        joined = [*fixed, *(ends for each in relays for ends in _contact(each, closed))]
        plus, minus = (reached(post, joined) for post in circuit.posts)
        found = Live(plus, minus, closed)
        now = closed | {each.name for each in relays if found.feeds(each.coil_nodes)}
        if now == closed:
            break
        closed = now
    return found


def cuts(circuit: Circuit, name: str, node: str, without: AbstractSet[str]) -> bool:
    """Whether a node is live, and is so through one part alone."""
    return node in live(circuit, without).plus and node not in live(circuit, without | {name}).plus


def ruled(circuit: Circuit, load: AnyLoad, name: str, without: AbstractSet[str]) -> bool:
    """Whether opening a contact leaves a load without its feed."""
    return not live(circuit, without | {name}).feeds(load.nodes)


def own_relay(circuit: Circuit, load: AnyLoad, name: str) -> str | None:
    """Name the relay that a contact closes and that alone feeds a load; None without one."""
    closes = live(circuit, frozenset()).closed - live(circuit, {name}).closed
    return next((each for each in sorted(closes) if ruled(circuit, load, each, frozenset())), None)


def switched_side(
    circuit: Circuit, load: AnyLoad, name: str, over: Sequence[AnyLoad] = ()
) -> Literal["live", "ground"] | None:
    """On which side of a load a contact carries its current; None where it is on neither.

    Over some other loads, too, that may be in series with it.
    """
    switch = next(each for each in circuit.branches if each.name == name)
    joined = [_ends(each.nodes) for each in (*circuit.branches, *over) if each is not switch]
    for relay in circuit.relays:
        joined += [_ends(relay.contact_nodes), *_contact(relay, frozenset())]
    live_post, ground_post = circuit.posts
    near, far = Sides(circuit).live_first(load.nodes)
    if on_a_way(_ends(switch.nodes), joined, live_post, near):
        return "live"
    return "ground" if on_a_way(_ends(switch.nodes), joined, far, ground_post) else None


def _contact(relay: Relay, closed: AbstractSet[str]) -> list[Joined]:
    if relay.name in closed:
        return [_ends(relay.contact_nodes)]
    return [_ends(relay.break_nodes)] if relay.break_nodes else []


def _ends(nodes: Iterable[str]) -> Joined:
    first, second = nodes
    return first, second
