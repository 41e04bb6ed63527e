"""The way from the post to a load and back, through a network at rest."""

import heapq
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lastvolt_service.operations.circuits.fields import Circuit


@dataclass(frozen=True, slots=True)
class Edge:
    """A part between two nodes.

    Attributes
    ----------
    name, kind : str
        As in the request; kind ``relay`` for a contact of a relay.
    nodes : tuple of str
        Its ends.
    current_a : float
        Through it, without sign. [A]
    asked : Fields
        As the request describes it.
    """

    name: str
    kind: str
    nodes: tuple[str, str]
    current_a: float
    asked: Any

    def other(self, node: str) -> str:
        """Tell the end that is not this one."""
        return self.nodes[1] if node == self.nodes[0] else self.nodes[0]


def edges(circuit: Circuit, current_a: Mapping[str, Sequence[float]] | None = None) -> list[Edge]:
    """List all branches and relay contacts of a circuit.

    Parameters
    ----------
    circuit : Circuit
        As requested.
    current_a : mapping of str to sequence of float, optional
        Through each part that is there in a case, of a relay its contacts in order; without it
        all parts are there, and none carries anything. [A]
    """
    found = []
    for name, kind, nodes, place, asked in _joints(circuit):
        if current_a is None:
            found.append(Edge(name, kind, nodes, 0.0, asked))
        elif len(current_a.get(name, ())) > place:
            found.append(Edge(name, kind, nodes, abs(current_a[name][place]), asked))
    return found


def _joints(circuit: Circuit) -> Iterator[tuple[str, str, tuple[str, str], int, Any]]:
    for branch in circuit.branches:
        first, second = branch.nodes
        yield branch.name, branch.kind, (first, second), 0, branch
    for relay in circuit.relays:
        pairs = [ends for ends in (relay.contact_nodes, relay.break_nodes) if ends]
        for place, (first, second) in enumerate(pairs):
            yield relay.name, "relay", (first, second), place, relay


def route(parts: Sequence[Edge], start: str, goal: str) -> list[Edge] | None:
    """Find the way that carries most; of equal ones, that with the fewest parts.

    Parameters
    ----------
    parts : sequence of Edge
        What may be walked through, in either direction.
    start, goal : str
        Nodes.

    Returns
    -------
    list of Edge or None
        None where there is no way.
    """
    at: dict[str, list[int]] = {}
    for index, part in enumerate(parts):
        for node in part.nodes:
            at.setdefault(node, []).append(index)
    # Widest first, then shortest, then in the order of the request: the same way every time.
    waiting: list[tuple[float, int, tuple[int, ...], str]] = [(float("-inf"), 0, (), start)]
    seen: set[str] = set()
    while waiting:
        narrow, length, taken, node = heapq.heappop(waiting)
        if node == goal:
            return [parts[index] for index in taken]
        if node in seen:
            continue
        seen.add(node)
        for index in at.get(node, ()):
            beyond = parts[index].other(node)
            if beyond not in seen:
                width = max(narrow, -parts[index].current_a)
                heapq.heappush(waiting, (width, length + 1, (*taken, index), beyond))
    return None
