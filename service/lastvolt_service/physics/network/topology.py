"""A network's shape, compiled once: where its elements are, without their values."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Any

from lastvolt_service.errors import FloatingPart, ImpossibleLoad, SourceShort, UndeterminedCurrent
from lastvolt_service.physics.network.elements import BRANCH_KINDS, LOAD_KINDS, Network

# Names of nodes that a message spells out; the error's `nodes` holds all.
_NAMES_IN_MESSAGE = 8
# Ideal voltages round a loop that differ by less, relative to the highest, count as equal.
_SAME_VOLTAGE = 1e-12
_KEPT_TOPOLOGIES = 8
_Numbers = tuple[int, ...]
_Key = tuple[tuple[str, ...], int, bool, _Numbers, _Numbers, _Numbers, _Numbers, tuple[bool, ...]]


class Groups:
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


class Topology:
    """The shape of a network, all kinds of elements in one line; see `compiled`.

    Attributes
    ----------
    names : tuple of str
        Of the nodes.
    reference : int
        The node at 0 V.
    start, end : tuple of int
        Nodes of all elements, branches first, then loads, kind after kind.
    spans : dict of str to slice
        Where each kind stands in this line.
    branches : int
        How many are branches: the loads come after them.
    relay : tuple of int
        The coil that moves each contact.
    normally_closed : tuple of bool
        Whether it breaks the contact.
    plans : dict
        What was made of it for the patterns of what conducts that were asked for last.
    guarded : tuple of int
        Branches that may stop conducting of their own: chargers, motors and diodes.

    Raises
    ------
    FloatingPart
        If nodes are not joined to the reference, even with all contacts closed, and islands are
        refused.
    ImpossibleLoad
        If they are joined to it through loads of constant current or power only, which cannot fix
        a voltage, or if there is no source to feed such a load.
    """

    def __init__(self, key: _Key) -> None:
        self.names, self.reference, islands, *ends, counts, self.relay, breaks = key
        self.start, self.end = ends
        self.normally_closed = breaks
        self.spans: dict[str, slice] = {}
        first = 0
        for kind, count in zip((*BRANCH_KINDS, *LOAD_KINDS), counts, strict=True):
            self.spans[kind] = slice(first, first + count)
            first += count
        self.branches = self.spans["lamps"].stop
        self.guarded = tuple(range(self.spans["chargers"].start, self.spans["diodes"].stop))
        self.plans: dict[Any, Any] = {}
        self._check(islands=islands)

    def closed(self, energised: Sequence[bool]) -> tuple[bool, ...]:
        """Tell which contacts conduct."""
        return tuple(
            [
                energised[relay] != breaks
                for relay, breaks in zip(self.relay, self.normally_closed, strict=True)
            ]
        )

    def named(self, nodes: Iterable[int]) -> tuple[str, ...]:
        """Names of nodes, each once."""
        return tuple(dict.fromkeys(self.names[node] for node in nodes))

    def ends(self, elements: Iterable[int]) -> tuple[str, ...]:
        """Names of the nodes at both ends of elements, each once."""
        return self.named(node for e in elements for node in (self.start[e], self.end[e]))

    def _check(self, *, islands: bool) -> None:
        alone = () if islands else self._apart(range(self.branches))
        if alone:
            cut_off = self._apart(range(len(self.start)))
            names = self.named(cut_off or alone)
            if cut_off:
                raise FloatingPart(
                    f"No branch joins {listed(names)} to {listed(self.named((self.reference,)))}.",
                    nodes=names,
                )
            raise ImpossibleLoad(
                f"Only loads of constant current or power join {listed(names)} to the rest: "
                "no current can flow there. A branch is missing.",
                nodes=names,
            )
        sources, chargers = self.spans["sources"], self.spans["chargers"]
        if sources.start == chargers.stop and self.branches < len(self.start):
            names = self.ends([self.branches])
            raise ImpossibleLoad(f"No source feeds the load between {listed(names)}.", nodes=names)

    def _apart(self, elements: Iterable[int]) -> list[int]:
        groups = Groups(len(self.names))
        for element in elements:
            groups.join(self.start[element], self.end[element], 0.0)
        root, _ = groups.find(self.reference)
        return [node for node in range(len(self.names)) if groups.find(node)[0] != root]


_compiled = lru_cache(maxsize=_KEPT_TOPOLOGIES)(Topology)


def compiled(*, network: Network) -> Topology:
    """Compile a network's shape, or find it among those that were asked for last.

    Parameters
    ----------
    network : Network
        The network; its values do not matter.

    Returns
    -------
    Topology

    Raises
    ------
    FloatingPart, ImpossibleLoad
        As `Topology`.
    """
    start: list[int] = []
    end: list[int] = []
    counts = []
    for kind in (*BRANCH_KINDS, *LOAD_KINDS):
        elements = getattr(network, kind)
        start += elements.start.tolist()
        end += elements.end.tolist()
        counts.append(len(elements.start))
    contacts = network.contacts
    return _compiled(
        (
            network.node_names,
            network.reference,
            network.islands,
            tuple(start),
            tuple(end),
            tuple(counts),
            tuple(contacts.relay.tolist()),
            tuple(contacts.normally_closed.tolist()),
        )
    )


def check_perfect_conductors(
    *, topology: Topology, conducting: Sequence[int], ohm: Sequence[float], emf_v: Sequence[float]
) -> None:
    """Refuse loops without resistance, in which no current is determined.

    Parameters
    ----------
    topology : Topology
        Gives ends and names.
    conducting : sequence of int
        Branches that conduct.
    ohm, emf_v : sequence of float
        Of every branch. [ohm], [V]

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
    groups = Groups(len(topology.names))
    start, end = topology.start, topology.end
    highest_v = 0.0
    for branch in conducting:
        if ohm[branch] != 0.0:
            continue
        highest_v = max(highest_v, abs(emf_v[branch]))
        contradiction_v = groups.join(start[branch], end[branch], emf_v[branch])
        if contradiction_v is None:
            continue
        names = topology.ends([branch])
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
    sources = topology.spans["sources"]
    for source in range(sources.start, sources.stop):
        if not (ohm[source] and emf_v[source]):
            continue
        if groups.find(start[source]) == groups.find(end[source]):
            names = topology.ends([source])
            raise SourceShort(
                f"Branches without resistance short the source between {listed(names)}.",
                nodes=names,
            )


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
