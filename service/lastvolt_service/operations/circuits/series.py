"""Which parts of a circuit must carry the same current."""

from lastvolt_service.operations.circuits.model import Part, State


def in_series(state: State, start: Part) -> list[Part]:
    """List the parts that must carry the same current as one: joined at nodes of two parts."""
    network = state.model.network
    own = {state.model.live_post, network.node_names[network.reference]}
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
