"""What the parts of a circuit cost a load, and what mending each would bring.

A part is bridged to see what it costs, and made sound to see what mending it brings: a wire of the
size and length that was given is sound as it is, a known resistance is there by design, and a
contact can be made as good as a new one and no better.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from lastvolt_service.errors import CalculationError, SourceShort, UndeterminedCurrent
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.remedies.options import sound_ohm
from lastvolt_service.physics.network.elements import Network
from lastvolt_service.physics.network.rest import rest_states
from lastvolt_service.physics.network.sensitivity import sensitivities

# A part that a jumper across it would better by less than this is not worth naming.
WORTH_MENDING_V = 0.001
MOST_MENDED = 10
# Where a perfect jumper would lie beside another perfect part, or across a source.
JUMPER_OHM = 1e-6
MOST_OF_ALL_SHARE = 0.5
_FED = (*LOAD_GROUPS, "coils")


@dataclass(frozen=True, slots=True)
class Mend:
    """A part, what it costs, and what mending it would bring."""

    name: Annotated[str, "the part"]
    costs_v: Annotated[float, "more voltage at the decisive load, with a jumper across the part"]
    regained_v: Annotated[float, "more voltage there, with the part sound; 0 where it is"]
    sound_ohm: Annotated[
        float | None, "of a new contact in its place; null where there is nothing to mend"
    ]


def mending(state: State, decisive: str, ageing_factor: float = 1.0) -> tuple[Mend, ...]:
    """Bridge the parts that cost a load most, one at a time, and then make each sound.

    What mending betters most comes first, then what costs most; empty where the load, or the relay
    whose coil is meant, is off. `ageing_factor` is that of the case: a mended contact ages, too.
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
    # A load that gets next to nothing tells little by its slope: what takes most of all is poor.
    most_v = MOST_OF_ALL_SHARE * model.emf_v
    worst = {
        ("resistors", index): abs(drop_v)
        for index, (part, drop_v, _) in enumerate(state.carrying("resistors"))
        if part.kind == "contact" and abs(drop_v) > most_v
    }
    costs = [each for each in costs if each[1:] not in worst]
    costs += [(volts, group, index) for (group, index), volts in worst.items()]
    chosen = [(group, index) for _, group, index in sorted(costs, reverse=True)[:MOST_MENDED]]
    found = _mended(state, chosen, load.name, ageing_factor)
    # What leads past the load, as a chafe does, costs it less the worse it conducts.
    found = [mend for mend in found if mend.costs_v > 0.0]
    return tuple(sorted(found, key=lambda mend: (-mend.regained_v, -mend.costs_v)))


def _mended(
    state: State, chosen: Sequence[tuple[str, int]], load: str, ageing_factor: float
) -> list[Mend]:
    now_v = state.across_v(load)
    bridged = with_resistances(state, [(*place, 0.0) for place in chosen])
    again = [at for at, each in enumerate(bridged) if each is None]
    bent = with_resistances(state, [(*chosen[at], JUMPER_OHM) for at in again])
    for at, each in zip(again, bent, strict=True):
        bridged[at] = each
    mends: list[Mend] = []
    better: list[tuple[int, tuple[str, int, float]]] = []
    for (group, index), with_jumper in zip(chosen, bridged, strict=True):
        part, there = state.model.parts[group][index], with_jumper or state
        ohm = _sound_ohm(part, abs(there.contact_a(part.name)))
        if ohm is not None:
            aged_ohm = ohm * (ageing_factor if part.asked.ages else 1.0)
            if aged_ohm < getattr(state.model.network, group).resistance_ohm[index]:
                better.append((len(mends), (group, index, aged_ohm)))
            else:
                ohm = None
        mends.append(Mend(part.name, there.across_v(load) - now_v, 0.0, ohm))
    sound = with_resistances(state, [change for _, change in better])
    for (at, _), each in zip(better, sound, strict=True):
        mends[at] = replace(mends[at], regained_v=(each or state).across_v(load) - now_v)
    return mends


def _sound_ohm(part: Part, current_a: float) -> float | None:
    """Of a new contact at the current that flows with it; None of what is no contact."""
    if part.kind not in {"contact", "relay"}:
        return None
    return sound_ohm("relay" if part.kind == "relay" else part.asked.part, current_a)


def with_resistances(state: State, changes: Sequence[tuple[str, int, float]]) -> list[State | None]:
    """The state with one other resistance each; None where it lies beside a perfect part.

    Or, itself perfect, across a source.
    """
    if not changes:
        return []
    networks = [_changed(state.model.network, *change) for change in changes]
    now = state.solution
    solved = rest_states(network=networks, energised=now.energised, near=now)
    found: list[State | None] = []
    for place in range(len(networks)):
        own = solved.scenario(place)
        if isinstance(own.fault, UndeterminedCurrent | SourceShort):
            found.append(None)
        else:
            there = State.of(state.model, own)
            if isinstance(there, CalculationError):
                raise there
            found.append(there)
    return found


def _changed(network: Network, group: str, index: int, ohm: float) -> Network:
    elements = getattr(network, group)
    field = "resistance_20_ohm" if group == "wires" else "resistance_ohm"
    changed = getattr(elements, field).copy()
    changed[index] = ohm
    return replace(network, **{group: replace(elements, **{field: changed})})
