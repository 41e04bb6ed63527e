"""A walk over the metal of a circuit, and what it tells: which parts nothing has a way past."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from lastvolt_service.operations.circuits.model import Part

# Past an open switch, as through the lamp of a lit one: no wire minds so little, and no fault gets
# an overload's current over it. [A]. Common practice.
HARMLESS_A = 1.0


class Step(NamedTuple):
    """How a node was met: from the place of which other one, and over which part."""

    before: int
    over: Part | None


class Tree(NamedTuple):
    """A walk over what is joined.

    Attributes
    ----------
    places : dict of str to int
        When each node was met for the first time; 0 for the first.
    steps : list of Step
        How, in that order.
    back : list of int
        The first place that anything leads back to from each and those met after it, but for the
        part over which it was met.
    """

    places: dict[str, int]
    steps: list[Step]
    back: list[int]


class FedTogether(NamedTuple):
    """What several fuses feed, up to the next fuses.

    What flows through a part to a fault comes from one of its ends: parts are listed by the fuses
    that feed either.
    """

    nodes: set[str]
    fuses: tuple[Part, ...]
    names_by_fuses: dict[tuple[Part, ...], set[str]]

    @property
    def names(self) -> set[str]:
        """Of all parts."""
        return set[str]().union(*self.names_by_fuses.values())


def is_fuse(part: Part) -> bool:
    """Whether a part is a fuse."""
    return part.kind == "contact" and part.asked.part == "fuse"


def is_trickle(part: Part, drive_v: float) -> bool:
    """Whether a known resistance lets through next to nothing, whatever is behind it."""
    made = part.kind == "resistance" and not part.is_load
    return made and bool(part.asked.resistance_ohm * HARMLESS_A >= drive_v)


def tree_of(
    joined: Mapping[str, Sequence[Part]],
    ends: Collection[str],
    roots: Sequence[str],
    *,
    through_fuses: bool,
) -> Tree:
    """Walk from some nodes, which count as one, over all that is joined to them.

    Tarjan, A note on finding the bridges of a graph (1974): met for the first time over a part,
    a node from which nothing leads back to those met before has no other way to the first.
    """
    met, steps, back = dict.fromkeys(roots, 0), [Step(0, None)], [0]
    todo: list[tuple[str, int, Part | None, Iterator[Part]]] = [
        (node, 0, None, iter(joined.get(node, ()))) for node in roots
    ]
    while todo:
        node, place, came_by, parts = todo[-1]
        part = next(parts, None)
        if part is None:
            todo.pop()
            if place:
                before = steps[place].before
                back[before] = min(back[before], back[place])
            continue
        first, second = part.nodes
        other = second if first == node else first
        barred = part is came_by or (is_fuse(part) and not through_fuses)
        if barred or (other in ends and other not in met):
            continue
        if other in met:
            back[place] = min(back[place], met[other])
        else:
            met[other] = len(steps)
            todo.append((other, len(steps), part, iter(joined.get(other, ()))))
            back.append(len(steps))
            steps.append(Step(place, part))
    return Tree(met, steps, back)
