"""What to mend first: the parts that cost a load most, each bridged in turn."""

from dataclasses import dataclass, replace
from typing import Annotated

from lastvolt_service.errors import UndeterminedCurrent
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, State
from lastvolt_service.physics.network import solve
from lastvolt_service.physics.network_elements import Network
from lastvolt_service.physics.network_sensitivity import sensitivities

# A part that a jumper across it would better by less than this is not worth naming.
WORTH_MENDING_V = 0.001
MOST_MENDED = 10
# Where a perfect jumper would lie beside another perfect part.
JUMPER_OHM = 1e-6
_FED = (*LOAD_GROUPS, "coils")


@dataclass(frozen=True, slots=True)
class Mend:
    """A part and what a jumper across it would bring."""

    name: Annotated[str, "the part"]
    regained_v: Annotated[float, "more voltage at the decisive load, with the part bridged"]


def mending(state: State, decisive: str) -> tuple[Mend, ...]:
    """Bridge the parts that cost a load most, one at a time, and see what it gains.

    What helps most comes first; empty where the load, or the relay whose coil is meant, is off.
    """
    model, solution = state.model, state.solution
    place = {name: index for index, name in enumerate(model.network.node_names)}
    load = next((p for g in _FED for p in model.parts[g] if p.name == decisive), None)
    if load is None:  # it is off in this case
        return ()
    start, end = (place[node] for node in load.nodes)
    slopes = sensitivities(network=model.network, solution=solution, plus=start, minus=end)
    costs = []
    for group, ohms in (
        ("wires", model.network.wires.resistance_20_ohm),
        ("resistors", model.network.resistors.resistance_ohm),
        ("contacts", model.network.contacts.resistance_ohm),
    ):
        cost = -(getattr(slopes, group)[0] * ohms)
        costs += [
            (float(volts), group, index)
            for index, volts in enumerate(cost)
            if volts > WORTH_MENDING_V and not model.parts[group][index].is_load
        ]
    now = state.across_v(decisive)
    found = [
        Mend(model.parts[group][index].name, _bridged_v(state, group, index, load.name) - now)
        for _, group, index in sorted(costs, reverse=True)[:MOST_MENDED]
    ]
    return tuple(sorted(found, key=lambda mend: -mend.regained_v))


def _bridged_v(state: State, group: str, index: int, load: str) -> float:
    for jumper_ohm in (0.0, JUMPER_OHM):
        network = _with_resistance(state.model.network, group, index, jumper_ohm)
        try:
            solution = solve(network=network, energised=state.solution.energised)
        except UndeterminedCurrent:  # it lies in parallel with another perfect part
            continue
        return State(state.model, solution).across_v(load)
    return state.across_v(load)


def _with_resistance(network: Network, group: str, index: int, ohm: float) -> Network:
    elements = getattr(network, group)
    field = "resistance_20_ohm" if group == "wires" else "resistance_ohm"
    changed = getattr(elements, field).copy()
    changed[index] = ohm
    return replace(network, **{group: replace(elements, **{field: changed})})
