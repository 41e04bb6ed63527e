"""Loads in series: what one of them takes is not lost on the way to the others."""

from typing import Literal, NamedTuple

from lastvolt_service.operations.circuits.model import Part, State

# Of a load's current, that runs through what is in series with it.
ALIKE_SHARE = 0.8
# Less is a computer's last digits. [A]
NOTHING_A = 1e-9
# Of all the voltage of a row, that stands across one which has burnt open; and of what it needs,
# across one that is shorted. Common practice.
OPEN_SHARE, SHORTED_SHARE = 0.8, 0.2


class Fed(NamedTuple):
    """A load, the voltage across it, and whether it needs more. [V]."""

    part: Part
    across_v: float
    lacks: bool

    @classmethod
    def of(cls, part: Part, across_v: float) -> "Fed":
        """Hold a load against what it needs."""
        return cls(part, across_v, part.needed_v is not None and across_v < part.needed_v)


def in_series(state: State, load: Part) -> list[Fed]:
    """The other loads that the current of a load runs through, before it and after it."""
    # Each with the nodes that its current comes from and goes to.
    ways: list[tuple[Part, float, float, tuple[str, str]]] = []
    for part, drop_v, amps in state.carrying(*state.model.parts):
        ends = part.nodes if amps > 0 else (part.nodes[1], part.nodes[0])
        ways.append((part, abs(drop_v), abs(amps), ends))
    _, _, load_a, own = next(each for each in ways if each[0] is load)
    if load_a < NOTHING_A:
        return []
    found: list[Fed] = []
    for come_from, go_to in ((0, 1), (1, 0)):
        seen, reached = {load}, [own[come_from]]
        while reached:
            end = reached.pop()
            for part, volts, amps, nodes in ways:
                if part.group in {"sources", "chargers"} or part in seen or nodes[go_to] != end:
                    continue
                if amps >= ALIKE_SHARE * load_a:
                    seen.add(part)
                    reached.append(nodes[come_from])
                    if part.is_load:
                        found.append(Fed.of(part, volts))
    return found


def at_fault(row: list[Fed]) -> tuple[Fed, Literal["open", "shorted"]] | None:
    """The one of some loads in series that keeps others from their voltage, and how."""
    most = max(row, key=lambda each: each.across_v)
    if not most.lacks and most.across_v >= OPEN_SHARE * sum(each.across_v for each in row):
        return (most, "open") if len(row) > 1 else None
    lacking = [each for each in row if each.lacks]
    if len(lacking) == 1 < len(row) and (
        lacking[0].across_v < SHORTED_SHARE * (lacking[0].part.needed_v or 0.0)
    ):
        return lacking[0], "shorted"
    return None
