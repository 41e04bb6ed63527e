"""What joins what in a circuit, and which parts must carry the same current."""

from collections.abc import Iterable

from lastvolt_service.operations.circuits.model import Part, State

Joined = tuple[str, str]


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


def in_series(state: State, start: Part) -> list[Part]:
    """List the parts that must carry the same current as one: joined at nodes of two parts."""
    network = state.model.network
    own = {network.node_names[network.sources.start[0]], network.node_names[network.reference]}
    at: dict[str, list[Part]] = {}
    for group in state.model.parts.values():
        for part in group:
            for node in part.nodes:
                at.setdefault(node, []).append(part)
    chain = [start]
    todo = [start]
    while todo:
        part = todo.pop()
        for node in part.nodes:
            neighbours = [other for other in at[node] if other is not part]
            if len(neighbours) == 1 and node not in own and neighbours[0] not in chain:
                chain.append(neighbours[0])
                todo.append(neighbours[0])
    return chain
