"""What metal joins to what."""

from collections import deque
from collections.abc import Callable, Iterable, Sequence
from collections.abc import Set as AbstractSet
from functools import lru_cache
from typing import TypeVar

Joined = tuple[str, str]
Sides = tuple[frozenset[str], frozenset[str]]
Over = TypeVar("Over")


def reached(start: str, joined: Iterable[Joined]) -> frozenset[str]:
    """Collect the nodes that joints lead to from one."""
    beside: dict[str, list[str]] = {}
    for first, second in joined:
        beside.setdefault(first, []).append(second)
        beside.setdefault(second, []).append(first)
    found, todo = {start}, [start]
    while todo:
        for node in beside.get(todo.pop(), ()):
            if node not in found:
                found.add(node)
                todo.append(node)
    return frozenset(found)


def shortest_way(
    start: str,
    goals: AbstractSet[str],
    beside: Callable[[str], Iterable[tuple[Over, str]]],
) -> list[Over] | None:
    """Over what the shortest way leads from a node to any other of some; None where none does.

    `beside` tells of a node what leads on from it, and where to; nothing of one that ends a way.
    """
    came: dict[str, tuple[str, Over]] = {}
    todo = deque([start])
    while todo:
        node = todo.popleft()
        if node in goals and node != start:
            found = list[Over]()
            while node != start:
                node, over = came[node]
                found.append(over)
            return found[::-1]
        for over, other in beside(node):
            if other not in came and other != start:
                came[other] = (node, over)
                todo.append(other)
    return [] if start in goals else None


@lru_cache(maxsize=64)  # the same circuit in many cases, and at many values
def sides_of(posts: Joined, metal: tuple[Joined, ...], joined: tuple[Joined, ...]) -> Sides:
    """Nodes on the side of each post: what joints join to one is on it.

    But for what is on the other by metal alone.
    """
    near = [reached(post, metal) for post in posts]
    live, grounded = (
        reached(post, [pair for pair in joined if others.isdisjoint(pair)]) | mine
        for post, mine, others in zip(posts, near, near[::-1], strict=True)
    )
    return live, grounded


def is_turned(part: Joined, posts: Joined, sides: Sides, joined: Sequence[Joined]) -> bool:
    """Whether a source is joined to another the wrong way round, each by its live post first.

    Where a chafe joins both sides the shorter way to the other's posts tells: by it no way is
    shorter than the source's own.
    """
    live, grounded = sides
    first, second = part
    is_right = first in live and second in grounded
    if not (second in live and first in grounded):
        return False
    if not is_right:
        return True
    beside: dict[str, list[tuple[None, str]]] = {}
    for start, goal in joined:
        beside.setdefault(start, []).append((None, goal))
        beside.setdefault(goal, []).append((None, start))

    def steps(ends: Joined) -> int:
        ways = (
            shortest_way(node, {post}, lambda at: beside.get(at, ()))
            for node, post in zip(ends, posts, strict=True)
        )
        return sum(len(way or ()) for way in ways)

    return steps((second, first)) < steps((first, second))


def on_a_way(part: Joined, joined: Iterable[Joined], start: str, goal: str) -> bool:
    """Whether some way from one node to another that meets no node twice leads through a part.

    `joined` is without the part. So it is where no single node cuts both of its ends from both of
    these (Menger, Zur allgemeinen Kurventheorie, 1927).
    """
    joints = list(joined)
    nodes = {*part, start, goal, *(node for pair in joints for node in pair)}
    return all(_linked({*part} - {cut}, {start, goal} - {cut}, joints, cut) for cut in nodes)


def _linked(ours: set[str], theirs: set[str], joints: Iterable[Joined], cut: str) -> bool:
    left = [pair for pair in joints if cut not in pair]
    return any(not reached(node, left).isdisjoint(theirs) for node in ours)
