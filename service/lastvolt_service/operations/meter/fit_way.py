"""The way of the current of every load and coil, from the live side to the ground."""

from collections.abc import Iterator

from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State

# What flows is more: of a fit, whose values are no nearer. [A]
FLOWS_A = 1e-6


def ways_of(state: State) -> Iterator[list[str]]:
    """Names of the parts on the way of each load and each coil, in the order of the current."""
    for part, _, amps in state.carrying("coils", *LOAD_GROUPS):
        if (part.is_load or part.group == "coils") and abs(amps) > FLOWS_A:
            live, ground = part.nodes if amps > 0.0 else part.nodes[::-1]
            yield [*_walked(state, live, upstream=True)[::-1], *_walked(state, ground)]


def _walked(state: State, node: str, *, upstream: bool = False) -> list[str]:
    """Go with most of the current from a node, or against it."""
    ends: dict[str, list[tuple[float, str, Part]]] = {}
    for part, _, amps in state.carrying("wires", "resistors", "contacts"):
        if not part.is_load and abs(amps) > FLOWS_A:
            first, last = part.nodes if amps > 0.0 else part.nodes[::-1]
            at, to = (last, first) if upstream else (first, last)
            ends.setdefault(at, []).append((abs(amps), to, part))
    names: list[str] = []
    while node in ends:
        _, node, part = max(ends.pop(node), key=lambda each: each[0])
        names.append(part.name)
    return names
