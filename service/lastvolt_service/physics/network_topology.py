"""What hangs together in a network, and the faults that its shape alone shows."""

from collections.abc import Iterable

import numpy as np

from lastvolt_service.errors import (
    FloatingPart,
    ImpossibleLoad,
    SourceShort,
    UndeterminedCurrent,
)
from lastvolt_service.physics.network.elements import Elements, IntArray, Network

# Names of nodes that a message spells out; the error's `nodes` holds all.
_NAMES_IN_MESSAGE = 8
# Ideal voltages round a loop that differ by less, relative to the highest, count as equal.
_SAME_VOLTAGE = 1e-12


class _Forest:
    """Groups of nodes, each with its voltage against the root of its group."""

    def __init__(self, count: int) -> None:
        self._parent = list(range(count))
        self._above_parent_v = [0.0] * count
        self._size = [1] * count

    def find(self, node: int) -> tuple[int, float]:
        """Root of the node's group, and the node's voltage above the root."""
        above_v = 0.0
        while self._parent[node] != node:
            above_v += self._above_parent_v[node]
            node = self._parent[node]
        return node, above_v

    def join(self, start: int, end: int, difference_v: float) -> float | None:
        """Hold start above end; where they are held already, give the contradiction in volts."""
        (a, above_a), (b, above_b) = self.find(start), self.find(end)
        b_above_a = above_a - above_b - difference_v
        if a == b:
            return b_above_a
        if self._size[a] < self._size[b]:
            a, b, b_above_a = b, a, -b_above_a
        self._parent[b], self._above_parent_v[b] = a, b_above_a
        self._size[a] += self._size[b]
        return None


def islands(*, node_count: int, start: IntArray, end: IntArray) -> IntArray:
    """Label the nodes by the part of the network that they belong to.

    Parameters
    ----------
    node_count : int
        Number of nodes.
    start, end : ndarray of int
        Ends of the branches that conduct.

    Returns
    -------
    ndarray of int
        For each node the lowest node of its part.
    """
    forest = _Forest(node_count)
    for a, b in zip(start.tolist(), end.tolist(), strict=True):
        forest.join(a, b, 0.0)
    lowest: dict[int, int] = {}
    part = [lowest.setdefault(forest.find(node)[0], node) for node in range(node_count)]
    return np.array(part, dtype=np.int64)


def check_connected(*, network: Network) -> None:
    """Refuse a network with parts that no relay could ever join to the reference.

    Parameters
    ----------
    network : Network
        The network, all contacts taken as closed.

    Raises
    ------
    FloatingPart
        If nodes are not joined to the reference at all.
    ImpossibleLoad
        If nodes are joined to it through loads of constant current or power only, which cannot
        fix a voltage, or if there is no source to feed such a load.
    """
    conducting: list[Elements] = [
        network.wires,
        network.resistors,
        network.coils,
        network.contacts,
        network.sources,
    ]
    loads: list[Elements] = [network.current_loads, network.power_loads]
    alone = _apart(network, conducting)
    if alone:
        cut_off = _apart(network, conducting + loads)
        names = _names(network, cut_off or alone)
        if cut_off:
            raise FloatingPart(
                f"No branch joins {listed(names)} to {_quoted(network, network.reference)}.",
                nodes=names,
            )
        raise ImpossibleLoad(
            f"Only loads of constant current or power join {listed(names)} to the rest: "
            "no current can flow there. A branch is missing.",
            nodes=names,
        )
    if not len(network.sources):
        for load in loads:
            if len(load):
                names = _names(network, (int(load.start[0]), int(load.end[0])))
                raise ImpossibleLoad(
                    f"No source feeds the load between {listed(names)}.", nodes=names
                )


def _apart(network: Network, elements: list[Elements]) -> tuple[int, ...]:
    part = islands(
        node_count=len(network.node_names),
        start=np.concatenate([item.start for item in elements]),
        end=np.concatenate([item.end for item in elements]),
    )
    return tuple(np.flatnonzero(part != part[network.reference]).tolist())


def check_perfect_conductors(
    *,
    network: Network,
    perfect: Iterable[tuple[int, int, float]],
    real_sources: Iterable[tuple[int, int]],
) -> None:
    """Refuse loops without resistance, in which no current is determined.

    Parameters
    ----------
    network : Network
        Gives the names of the nodes.
    perfect : iterable of (start, end, emf_v)
        Branches without resistance: perfect conductors, and ideal sources with their voltage.
    real_sources : iterable of (start, end)
        Posts of the sources that have a voltage and an internal resistance.

    Raises
    ------
    SourceShort
        If perfect conductors join the posts of a source, real or ideal, or ideal sources of
        different voltages are in parallel.
    UndeterminedCurrent
        If branches without resistance lie in parallel and agree in voltage.

    Notes
    -----
    A real source across a perfect short does have a current, its voltage over its internal
    resistance. It is refused nevertheless: nothing in such a circuit is a load, and a wire
    without length or a contact without resistance in place of one is a slip of the pen.
    """
    forest = _Forest(len(network.node_names))
    highest_v = 0.0
    for start, end, emf_v in perfect:
        highest_v = max(highest_v, abs(emf_v))
        contradiction_v = forest.join(start, end, emf_v)
        if contradiction_v is None:
            continue
        names = _names(network, (start, end))
        if abs(contradiction_v) > _SAME_VOLTAGE * highest_v:
            raise SourceShort(
                f"Between {listed(names)}, branches without resistance short an ideal source "
                "or set two against each other: give one of them a resistance.",
                nodes=names,
            )
        raise UndeterminedCurrent(
            f"Branches without resistance lie in parallel between {listed(names)}: how the "
            "current divides is not determined. Give one of them a resistance or leave one out.",
            nodes=names,
        )
    for plus, minus in real_sources:
        if forest.find(plus) == forest.find(minus):
            names = _names(network, (plus, minus))
            raise SourceShort(
                f"Branches without resistance short the source between {listed(names)}.",
                nodes=names,
            )


def name_ends(*, network: Network, elements: Elements, chosen: IntArray) -> tuple[str, ...]:
    """Name the nodes at both ends of some elements, each once.

    Parameters
    ----------
    network : Network
        Gives the names.
    elements : Elements
        Elements of one kind.
    chosen : ndarray of int
        Their indices.

    Returns
    -------
    tuple of str
    """
    ends = np.stack([elements.start[chosen], elements.end[chosen]], axis=1)
    return _names(network, ends.ravel().tolist())


def listed(names: tuple[str, ...]) -> str:
    """Write names of nodes for a message, a long list cut short.

    Parameters
    ----------
    names : tuple of str
        Names of nodes.

    Returns
    -------
    str
    """
    quoted = [f'"{name}"' for name in names[:_NAMES_IN_MESSAGE]]
    if len(names) > _NAMES_IN_MESSAGE:
        return f"{', '.join(quoted)} and {len(names) - _NAMES_IN_MESSAGE} more nodes"
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def _names(network: Network, nodes: Iterable[int]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(network.node_names[node] for node in nodes))


def _quoted(network: Network, node: int) -> str:
    return listed(_names(network, (node,)))
