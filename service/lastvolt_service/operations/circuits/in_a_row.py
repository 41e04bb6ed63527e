"""Switches in a row, between which nothing hangs: what leads past all leaves none to rule."""

from collections import Counter
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import NamedTuple

from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.ruled import Joints


class Row(NamedTuple):
    """One switch, or several in a row, and the two nodes at its ends."""

    names: tuple[str, ...]
    ends: tuple[str, str]


def rows(
    circuit: Circuit, joints: Joints, switches: Sequence[Row], starter: AbstractSet[str]
) -> Iterator[Row]:
    """Put together what lies in a row; of one switch that is alone nothing is told.

    Parameters
    ----------
    circuit : Circuit
        As it lies in the vehicle.
    joints : Joints
        Its plain metal alone.
    switches : sequence of Row
        Each switch, and each contact of a relay.
    starter : set of str
        Nodes of one that is at the circuit and not in it.
    """
    sides = [[_at(joints, node) for node in each.ends] for each in switches]
    ended = Counter(side for pair in sides for side in pair)
    hanging = _hanging(circuit) | starter

    def is_between(side: AbstractSet[str]) -> bool:
        return ended[frozenset(side)] == 2 and hanging.isdisjoint(side)

    met: set[int] = set()
    for first, pair in enumerate(sides):
        for start in (0, 1):
            if first in met or is_between(pair[start]) or not is_between(pair[1 - start]):
                continue
            row, at = [(first, start)], pair[1 - start]
            while is_between(at):
                following = [
                    (place, side)
                    for place, ends in enumerate(sides)
                    for side in (0, 1)
                    if ends[side] == at and place != row[-1][0]
                ]
                if not following:  # both of its ends are there
                    break
                row += following
                at = sides[row[-1][0]][1 - row[-1][1]]
            met |= {place for place, _ in row}
            names = tuple(name for place, _ in row for name in switches[place].names)
            last, side = row[-1]
            yield Row(names, (switches[first].ends[start], switches[last].ends[1 - side]))


def _at(joints: Joints, node: str) -> frozenset[str]:
    return joints.reached(node, frozenset(), frozenset())


def _hanging(circuit: Circuit) -> set[str]:
    """Nodes at which something feeds, or is fed."""
    each = [*circuit.loads, *circuit.further_sources]
    found = {node for one in each for node in one.nodes}
    return found.union(circuit.posts, *(relay.coil_nodes for relay in circuit.relays))
