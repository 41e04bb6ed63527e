"""From a circuit and a case, as requested, to a network at rest."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.building import build
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.model import Model, State
from lastvolt_service.physics.network.elements import Network
from lastvolt_service.physics.network.rest import rest_states
from lastvolt_service.physics.network.topology import Topology, compiled


class Posed(NamedTuple):
    """A circuit in a case, both in plain numbers, that is to come to rest.

    Attributes
    ----------
    circuit, case : Circuit, Case
        What is asked.
    near : State or None
        Of the same circuit with other values: where the search begins.
    stuck : mapping of str to bool or None
        Relays that are in or out whatever their coils say.
    like : Model or None
        As of `build`.
    """

    circuit: Circuit
    case: Case
    near: State | None = None
    stuck: Mapping[str, bool] | None = None
    like: Model | None = None


def rest(
    circuit: Circuit,
    case: Case,
    near: State | None = None,
    stuck: Mapping[str, bool] | None = None,
    like: Model | None = None,
) -> State:
    """Build a circuit in a case, and find its state of rest; see `Posed`.

    Raises
    ------
    CalculationError
        If a wire is in no table, or the network has no state of rest.
    """
    (found,) = rest_each([Posed(circuit, case, near, stuck, like)])
    if isinstance(found, CalculationError):
        raise found
    return found


def rest_each(posed: Sequence[Posed]) -> list[State | CalculationError]:
    """Find states of rest, those of networks of one shape side by side; or why there is none."""
    found: dict[int, State | CalculationError] = {}
    models: dict[int, tuple[Model, Network, list[bool]]] = {}
    shapes: dict[Topology, list[int]] = {}
    for place, each in enumerate(posed):
        try:
            model = build(each.circuit, each.case, each.like)
            network, energised = _stuck(model, each.stuck)
            shapes.setdefault(compiled(network=network), []).append(place)
        except CalculationError as error:
            found[place] = error
            continue
        models[place] = model, network, energised
    for places in shapes.values():
        own, networks, energised_all = zip(*(models[place] for place in places), strict=True)
        nears = [None if (near := posed[place].near) is None else near.solution for place in places]
        try:
            solved = rest_states(
                network=networks[0] if len(places) == 1 else networks,
                energised=energised_all[0] if len(places) == 1 else energised_all,
                near=nears,
            )
        except CalculationError as error:
            found |= dict.fromkeys(places, error)
            continue
        for at, (place, model) in enumerate(zip(places, own, strict=True)):
            one = solved if len(places) == 1 else solved.scenario(at)
            found[place] = State.of(model, one)
    return [found[place] for place in range(len(posed))]


def _stuck(model: Model, stuck: Mapping[str, bool] | None) -> tuple[Network, list[bool]]:
    """The network with relays that stay as they are, and which have pulled in before."""
    network, energised = model.network, list(model.held)
    if stuck:
        coils = network.coils
        pick_up, drop_out = coils.pick_up_v.copy(), coils.drop_out_v.copy()
        for index, relay in enumerate(model.relays):
            if relay.name in stuck:
                energised[index] = stuck[relay.name]
                pick_up[index], drop_out[index] = np.inf, 0.0
        network = replace(network, coils=replace(coils, pick_up_v=pick_up, drop_out_v=drop_out))
    return network, energised


def rest_all(circuits: Sequence[tuple[Circuit, Case]]) -> list[State | CalculationError]:
    """Find the states of rest of one circuit with many values, all at once; or why there is none.

    All have the same parts and joints, in plain numbers.
    """
    models: list[Model | CalculationError] = []
    like: Model | None = None
    for circuit, case in circuits:
        try:
            like = build(circuit, case, like)
            models.append(like)
        except CalculationError as error:
            models.append(error)
    built = [model for model in models if isinstance(model, Model)]
    if not built:
        return [model for model in models if isinstance(model, CalculationError)]
    solved = rest_states(
        network=[model.network for model in built], energised=[list(model.held) for model in built]
    )
    states = iter(State.of(model, solved.scenario(place)) for place, model in enumerate(built))
    return [next(states) if isinstance(model, Model) else model for model in models]


def open_coil_v(state: State) -> dict[str, float]:
    """Voltage at the coil of each relay that has pulled in, before it closed. [V].

    Its neighbours are as they are without it: those that were held, and those that pull in alone.
    """
    (found,) = open_coils_v([state])
    if isinstance(found, CalculationError):
        raise found
    return found


def open_coils_v(states: Sequence[State]) -> list[dict[str, float] | CalculationError]:
    """Voltages of `open_coil_v` for states of one circuit with many values."""
    found: list[dict[str, float] | CalculationError] = [{} for _ in states]
    asked, alone, held = [], [], []
    for place, state in enumerate(states):
        network, before = state.model.network, state.model.held
        for index, relay in enumerate(state.model.relays):
            if not state.solution.energised[index] or before[index]:
                continue
            if state.solution.moved == (index,) and not state.solution.chatter:
                # Nothing else moved: what it was decided by is what stands there without it.
                row = found[place]
                if not isinstance(row, CalculationError):
                    row[relay.name] = float(state.solution.before_v[index])
            else:
                never = network.coils.pick_up_v.copy()
                never[index] = np.inf
                asked.append((place, index, relay.name))
                alone.append(replace(network, coils=replace(network.coils, pick_up_v=never)))
                held.append(list(before))
    if not asked:
        return found
    solved = rest_states(network=alone, energised=held)
    for at, (place, index, name) in enumerate(asked):
        own, row = State.of(states[place].model, solved.scenario(at)), found[place]
        if isinstance(own, CalculationError):
            found[place] = own
        elif not isinstance(row, CalculationError):
            row[name] = abs(float(own.solution.coils.drop_v[index]))
    return found
