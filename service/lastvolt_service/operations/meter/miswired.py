"""What is done wrong to a relay that is wired in: the one list, for a plan and for a proof."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.parts import CircuitResistance
from lastvolt_service.operations.decision.proposal import DecisionRequest

WiredWrong = Literal["coil_swapped", "old_wire_left_on", "fed_from"]
# Nodes that the feed of a relay may have been taken from by mistake.
MOST_NODES = 6
# Of what is done wrong the first so many load the switch: the feed from behind it is the third.
LOADS_SWITCH = 3
# Of what it carried as it is: a switch that carries more is not spared. Common practice.
LOADED_SHARE = 0.5
# Joins the old wire to the load in the circuit in which it was left there. [ohm]
LEFT_ON_OHM = 0.001


@dataclass(frozen=True, slots=True)
class Miswired:
    """A circuit with a relay that is wired otherwise than described.

    Attributes
    ----------
    circuit : Circuit
        With it.
    wired : str
        What was done wrong.
    node : str or None
        Where its contact is fed from then.
    """

    circuit: Circuit
    wired: WiredWrong
    node: str | None = None


def miswired(
    asked: DecisionRequest, circuit: Circuit, refeed: Callable[[str], Circuit]
) -> Iterator[Miswired]:
    """What may be wrong with a proposed relay; `refeed` makes it fed from another node.

    `circuit` is that with the relay as it is described.
    """
    proposal = asked.proposal
    if proposal is None:
        return
    relay = circuit.relays[-1]
    coil, contact = relay.coil_nodes, relay.contact_nodes
    swapped = changed(relay, coil_nodes=[contact[0], coil[1]], contact_nodes=[coil[0], contact[1]])
    yield Miswired(changed(circuit, relays=[*circuit.relays[:-1], swapped]), "coil_swapped")
    load = next(each for each in circuit.loads if each.name == asked.load)
    old = next(each for each in asked.circuit.loads if each.name == asked.load)
    at_load = next(node for node in load.nodes if node not in old.nodes)
    left = CircuitResistance(
        name=f"{coil[0]} [left on]", kind="resistance", nodes=[coil[0], at_load],
        resistance_ohm=LEFT_ON_OHM,
    )  # fmt: skip
    yield Miswired(changed(circuit, branches=[*circuit.branches, left]), "old_wire_left_on")
    for node in _other_nodes(asked, proposal.feed_node, coil[0]):
        yield Miswired(refeed(node), "fed_from", node)


def _other_nodes(asked: DecisionRequest, feed_node: str, coil_node: str) -> Sequence[str]:
    """Live nodes of the circuit as it was where a feed may begin, those behind the switch first."""
    live = Sides(asked.circuit).live - {feed_node}
    before = Sides(asked.circuit, frozenset({asked.switch})).live
    switch = next(each for each in asked.circuit.branches if each.name == asked.switch)
    behind = [node for node in switch.nodes if node not in before]
    ends = [
        *behind,
        *switch.nodes,
        coil_node,
        *(n for e in asked.circuit.branches for n in e.nodes),
    ]
    return [node for node in dict.fromkeys(ends) if node in live][:MOST_NODES]
