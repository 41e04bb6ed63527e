"""What is lost over something new, or over the ground, once the way was built."""

from collections.abc import Iterator
from dataclasses import dataclass

from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.meter.fit_told import digits
from lastvolt_service.operations.meter.proof_answer import NewDrop, What
from lastvolt_service.operations.meter.proof_fit import node_output
from lastvolt_service.operations.meter.proof_told import ONCE, PROMISED, Told


@dataclass(frozen=True, slots=True)
class Over:
    """What a drop is read over: what it is, its part, and its nodes."""

    what: What
    part: str
    plus: str
    minus: str


def drops(told: Told) -> Iterator[NewDrop]:
    """Tell what is lost over what is new, and over the ground."""
    once, promise = told.at_worst(ONCE), told.at_worst(PROMISED)
    for each in _overs(told):
        output = node_output(once, each.plus, each.minus)
        wanted = node_output(promise, each.plus, each.minus)
        if output is None or wanted is None:
            continue
        drop = told.proof.amount((1.0, once, output))
        due = told.proof.amount((1.0, promise, wanted))
        sign = -1.0 if due.value < 0.0 else 1.0
        low, high = sorted((sign * drop.low, sign * drop.high))
        low = max(low, min(sign * drop.value, 0.0))  # no contact gives anything
        yield NewDrop(
            each.what,
            each.part,
            (each.plus, each.minus) if sign > 0.0 else (each.minus, each.plus),
            digits(sign * drop.value),
            digits(low),
            digits(high),
            digits(sign * due.value),
        )


def _overs(told: Told) -> Iterator[Over]:
    circuit, way = told.proof.promise, told.asked.way
    if way.relay is not None:
        relay, name = circuit.relays[-1], way.relay.relay.name
        at_30, at_87 = relay.contact_nodes
        load = next(each for each in circuit.loads if each.name == told.asked.load)
        at_load = Sides(circuit).live_first(load.nodes)[0]
        if way.relay.feed:
            yield Over("feed", name, way.relay.feed_node, at_30)
        yield Over("contact", name, at_30, at_87)
        if way.relay.outlet:
            yield Over("outlet", name, at_87, at_load)
    switch = {told.asked.switch} if way.switch is not None else set[str]()
    for branch in circuit.branches:
        first, second = branch.nodes
        if branch.name in way.sound:
            yield Over("sound", branch.name, first, second)
        elif branch.name in {each.name for each in way.wires} | switch:
            yield Over("replaced", branch.name, first, second)
    for each in circuit.relays:
        if each.name in way.sound:
            yield Over("sound", each.name, *each.contact_nodes)
    load = next(each for each in circuit.loads if each.name == told.asked.load)
    at_ground = Sides(circuit).live_first(load.nodes)[1]
    if at_ground != circuit.ground_node:
        yield Over("ground", told.asked.load, at_ground, circuit.ground_node)
