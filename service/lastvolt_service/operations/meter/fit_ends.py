"""The same circuit where what was given as numbers may be worse: wires at their ends, contacts."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from lastvolt_service.errors import Path
from lastvolt_service.fields import changed, known, with_defaults
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitWire
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.units import Interval

FIELDS = {"branches": "resistance_ohm", "relays": "contact_resistance_ohm"}
# Less current than that judges no part. [A]. Common practice.
LEAST_A = 0.02
# A part that is nearly open may have so many ohms, at least and at most.
LEAST_MORE_OHM, MOST_MORE_OHM = 0.5, 1e3


@dataclass(frozen=True, slots=True)
class Worse:
    """A part that may have more than was given for it.

    Attributes
    ----------
    part : str
        Its name.
    path : tuple
        Where the resistance stands in the wider circuit: its own, or that of a wire's end.
    least_ohm : float
        What was given, of an interval its high end; of a wire's end nothing.
    """

    part: str
    path: Path
    least_ohm: float


def end_of(wire: str) -> str:
    """What the end of a wire is called, and the node before it."""
    return f"end of {wire}"


def numbered(circuit: Circuit) -> list[str]:
    """Names of the parts whose resistance was given as a number, or as that of a wire."""
    branches = [
        each.name
        for each in circuit.branches
        if isinstance(each, CircuitWire) or not isinstance(each.resistance_ohm, Interval)
    ]
    relays = [
        each.name
        for each in circuit.relays
        if isinstance(each.contact_resistance_ohm, float) and known(each.contact_resistance_ohm)
    ]
    return [*branches, *relays]


def most_more_ohm(names: Collection[str], states: Iterable[State]) -> dict[str, float]:
    """How many ohms more each of these parts may have that carries current in some state."""
    most: dict[str, float] = {}
    for state in states:
        for part, _, amps in state.carrying("contacts", "resistors", "wires"):
            if part.name in names and abs(amps) > LEAST_A:
                ohm = min(max(state.model.drive_v / abs(amps), LEAST_MORE_OHM), MOST_MORE_OHM)
                most[part.name] = min(ohm, most.get(part.name, ohm))
    return most


def wider(model: CircuitModel, most_ohm: Mapping[str, float]) -> tuple[CircuitModel, list[Worse]]:
    """The model with some of its parts open to so many more ohms than they were given to have."""
    circuit, thought, found = model.circuit, dict(model.described or {}), list[Worse]()
    branches: list[Branch] = list(circuit.branches)
    ends: list[Branch] = []
    for place, each in enumerate(circuit.branches):
        most = most_ohm.get(each.name)
        if most is None:
            continue
        if isinstance(each, CircuitWire):
            end = end_of(each.name)
            branches[place] = changed(each, nodes=[each.nodes[0], end])
            path: Path = ("circuit", "branches", len(branches) + len(ends), "resistance_ohm")
            ends.append(_end(each, end, most))
            found.append(Worse(each.name, path, 0.0))
        else:
            low, high = _ends_of(each.resistance_ohm)
            branches[place] = changed(each, resistance_ohm=Interval(low, high + most))
            found.append(Worse(each.name, ("circuit", "branches", place, "resistance_ohm"), high))
    relays = list(circuit.relays)
    for place, relay in enumerate(circuit.relays):
        most = most_ohm.get(relay.name)
        if most is not None:
            low, high = _ends_of(relay.contact_resistance_ohm)
            relays[place] = changed(relay, contact_resistance_ohm=Interval(low, high + most))
            own: Path = ("circuit", "relays", place, "contact_resistance_ohm")
            found.append(Worse(relay.name, own, high))
    thought |= {each.path: each.least_ohm for each in found}
    open_ = changed(circuit, branches=[*branches, *ends], relays=relays)
    return CircuitModel(open_, model.cases, thought), found


def _ends_of(ohm: Any) -> tuple[float, float]:
    """What a part may have at the least, and was given to have at the most."""
    return (ohm.low, ohm.high) if isinstance(ohm, Interval) else (0.0, ohm)


def _end(wire: CircuitWire, node: str, most_ohm: float) -> CircuitContact:
    return with_defaults(
        CircuitContact,
        name=node,
        kind="contact",
        part="terminal",
        nodes=[node, wire.nodes[1]],
        resistance_ohm=Interval(0.0, most_ohm),
        ages=False,
    )


def moved(model: CircuitModel, point: FloatArray, to: CircuitModel) -> FloatArray:
    """The same values in another model, where what is new is as it was given."""
    values = {each.path: float(at) for each, at in zip(model.unknowns, point, strict=True)}
    return np.array([values.get(each.path, each.begin) for each in to.unknowns])


def middle_of(model: CircuitModel) -> FloatArray:
    """What is thought of every value beforehand.

    Out of the corner that false bounds drive a fit into a few steps do not lead; from here they do.
    """
    return np.array([each.begin for each in model.unknowns])
