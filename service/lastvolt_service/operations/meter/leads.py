"""Where a meter's leads go round a load and its switch, as it is and with a proposed relay."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import AnyLoad
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.decision.wiring_table import Fitting

WholeCode = Literal[
    "supply",
    "across_load",
    "live_side",
    "ground_side",
    "across_switch",
    "across_contact",
    "across_coil",
]


@dataclass(frozen=True, slots=True)
class Lead:
    """Where a lead goes: what it is called, and its node as it is and with the relay."""

    label: str
    as_is: str | None
    with_relay: str | None


Pair: TypeAlias = tuple[Lead, Lead]


def leads(
    circuit: Circuit, load: AnyLoad, switch: str, fit: Fitting | None
) -> dict[WholeCode, Pair]:
    """Tell both leads of every reading that stands for a whole, by its code.

    Parameters
    ----------
    circuit : Circuit
        As it is.
    load, switch : Load, str
        What is helped, and what switches it.
    fit : Fitting or None
        The relay in its circuit, where one is proposed.
    """
    live, ground = (same(node) for node in circuit.posts)
    terminal, load_ground = Sides(circuit).live_first(load.nodes)
    new_live, new_ground = fit.moved.nodes if fit else (terminal, load_ground)
    at_load = Lead(f"{load.name} [{terminal}]", terminal, new_live)
    at_ground = Lead(f"{load.name} [{load_ground}]", load_ground, new_ground)
    near, far = next(each for each in circuit.branches if each.name == switch).nodes
    found: dict[WholeCode, Pair] = {
        "supply": (live, ground),
        "across_load": (at_load, at_ground),
        "live_side": (live, at_load),
        "ground_side": (at_ground, ground),
        "across_switch": (same(near), same(far)),
    }
    if fit:
        relay = fit.circuit.relays[-1]
        at_30, at_87 = map(new, (f"{relay.name} [30]", f"{relay.name} [87]"), relay.contact_nodes)
        at_86, at_85 = map(new, (f"{relay.name} [86]", f"{relay.name} [85]"), relay.coil_nodes)
        found |= {"across_contact": (at_30, at_87), "across_coil": (at_86, at_85)}
    return found


def new(label: str, node: str | None) -> Lead:
    """A lead at what is there with the relay only."""
    return Lead(label, None, node)


def same(node: str) -> Lead:
    """A lead at a node that is there with and without the relay."""
    return Lead(node, node, node)


def volts(state: State) -> Mapping[str, float]:
    """Voltage of every node that anything joins to the ground, with the sign that a meter shows."""
    solution, names = state.solution, state.model.network.node_names
    shown = (state.model.sign * solution.node_voltage_v + 0.0).tolist()
    return {
        name: each
        for name, each, joined in zip(names, shown, solution.connected.tolist(), strict=True)
        if joined
    }


def between(first: str | None, second: str | None, shown: Mapping[str, float]) -> float | None:
    """Voltage of one node against another; None where a case leaves one of them out. [V]."""
    if first is None or second is None or first not in shown or second not in shown:
        return None
    return shown[first] - shown[second] + 0.0
