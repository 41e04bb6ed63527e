"""Between which nodes readings tell the volts by themselves, whatever the circuit is.

A loss is laid at a part only where it was read: what bounds and numbers leave over may be lost in
anything that was taken as it is described.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias

from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_verdict import SURE
from lastvolt_service.operations.meter.reading_fields import MeterReading

Pair: TypeAlias = tuple[str, str]


def is_read(readings: Iterable[MeterReading], circuit: Circuit, pair: Pair) -> bool:
    """Whether leads lay from one node to the other, over others in between, in some one case."""
    by_case: dict[str, list[Pair]] = {}
    for each in readings:
        by_case.setdefault(each.case, []).extend(_leads(each, circuit))
    return any(_joined(pairs, pair) for pairs in by_case.values())


def is_within_read(
    readings: Iterable[MeterReading], pair: Pair, wholes: Iterable[Iterable[str]]
) -> bool:
    """Whether leads began at one of two nodes, and lay over no whole: a source, or the load."""
    ends = [frozenset(each) for each in wholes]
    return any(
        not frozenset(pair).isdisjoint(each.between) and frozenset(each.between) not in ends
        for each in readings
        if each.between
    )


def part_is_read(readings: Sequence[MeterReading], circuit: Circuit, name: str) -> bool:
    """Whether that is so of the two ends of a part, or of the contact of a relay.

    Of a load volts alone say nothing: its amperes, or its ohms, must have been read. A clamp round
    another load tells nothing of it.
    """
    loads = {each.name for each in circuit.loads}
    if name in loads:
        others = {None, *loads} - {name}
        return any(each.through not in others or each.of == name for each in readings)
    pair = _ends(circuit, name)
    return pair is not None and is_read(readings, circuit, pair)


def supply_is_read(readings: Iterable[MeterReading], circuit: Circuit) -> bool:
    """Whether that is so of the posts of the first source."""
    source = circuit.source
    minus = source.minus or circuit.ground_node
    return is_read(readings, circuit, (source.plus, minus))


def least_and_most_v(
    taken: Iterable[Taken], circuit: Circuit, load: str
) -> Mapping[str, tuple[float, float]]:
    """What a load has, by the meter across it alone, in each case in which it was read. [V]."""
    ends = next({*each.nodes} for each in circuit.loads if each.name == load)
    found = {}
    for each in taken:
        if each.reading.between and {*each.reading.between} == ends:
            half = SURE * math.hypot(each.digits, each.meter.gain * each.value)
            volts = abs(each.value)
            found[each.reading.case] = max(volts - half, 0.0), volts + half
    return found


def _leads(reading: MeterReading, circuit: Circuit) -> Iterator[Pair]:
    if reading.between:
        yield reading.between[0], reading.between[1]
    elif reading.of is not None:
        pair = _ends(circuit, reading.of)
        if pair is not None:
            yield pair


def _ends(circuit: Circuit, name: str) -> Pair | None:
    for each in circuit.branches:
        if each.name == name:
            return each.nodes[0], each.nodes[1]
    for relay in circuit.relays:
        if relay.name == name:
            return relay.contact_nodes[0], relay.contact_nodes[1]
    return None


def _joined(pairs: Iterable[Pair], wanted: Pair) -> bool:
    reached, left = {wanted[0]}, list(pairs)
    while True:
        touched = [each for each in left if not reached.isdisjoint(each)]
        if not touched:
            return wanted[1] in reached
        reached.update(*touched)
        left = [each for each in left if each not in touched]
