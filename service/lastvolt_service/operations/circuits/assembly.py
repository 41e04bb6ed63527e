"""From a circuit and a case, as requested, to a network at rest."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Any

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads_in_case import VALUES, Sides, load_in_case
from lastvolt_service.operations.circuits.model import Model, Part, State
from lastvolt_service.operations.circuits.parts import CircuitContact, CircuitWire
from lastvolt_service.operations.circuits.relays_in_case import contacts_in_case, relay_in_case
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.circuits.supplies import supply_in_case
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.wires.conductors import Conductor, conductor
from lastvolt_service.operations.wires.heated_wire import HeatedWire, heated_wire
from lastvolt_service.operations.wires.warming import Warming
from lastvolt_service.physics.network.elements import (
    Chargers,
    Coils,
    Contacts,
    CurrentLoads,
    Lamps,
    Motors,
    Network,
    PowerLoads,
    Resistors,
    Sources,
    Wires,
)
from lastvolt_service.physics.network.rest import rest_states
from lastvolt_service.rows import number

# A wire's conductor, the wire with its insulation if it heats itself, and its temperature.
_WireHere = tuple[Conductor, HeatedWire | None, float]
# Kinds of elements of the solver, but for its wires, and the values that each takes.
_ELEMENTS: dict[str, tuple[Any, tuple[str, ...]]] = {
    "resistors": (Resistors, VALUES["resistors"]),
    "sources": (Sources, ("emf_v", "internal_resistance_ohm")),
    "chargers": (Chargers, ("regulated_v", "internal_resistance_ohm", "limit_a")),
    "motors": (Motors, VALUES["motors"]),
    "lamps": (Lamps, VALUES["lamps"]),
    "current_loads": (CurrentLoads, VALUES["current_loads"]),
    "power_loads": (PowerLoads, VALUES["power_loads"]),
    "coils": (Coils, ("resistance_ohm", "pick_up_v", "drop_out_v")),
    "contacts": (Contacts, ("resistance_ohm", "relay", "normally_closed")),
}


def rest(
    circuit: Circuit,
    case: Case,
    near: State | None = None,
    stuck: Mapping[str, bool] | None = None,
) -> State:
    """Build a circuit in a case, both in plain numbers, and find its state of rest.

    The search begins at that of the same circuit with other values, if one is given. Relays that
    are `stuck` are in or out whatever their coils say.

    Raises
    ------
    CalculationError
        If a wire is in no table, or the network has no state of rest.
    """
    model = build(circuit, case)
    network, energised = model.network, list(model.held)
    if stuck:
        coils = network.coils
        pick_up, drop_out = coils.pick_up_v.copy(), coils.drop_out_v.copy()
        for index, relay in enumerate(model.relays):
            if relay.name in stuck:
                energised[index] = stuck[relay.name]
                pick_up[index], drop_out[index] = np.inf, 0.0
        network = replace(network, coils=replace(coils, pick_up_v=pick_up, drop_out_v=drop_out))
    solution = rest_states(
        network=network,
        energised=energised,
        near=None if near is None else near.solution,
    )
    found = State.of(model, solution)
    if isinstance(found, CalculationError):
        raise found
    return found


def rest_all(circuits: Sequence[tuple[Circuit, Case]]) -> list[State | CalculationError]:
    """Find the states of rest of one circuit with many values, all at once; or why there is none.

    All have the same parts and joints, in plain numbers.
    """
    models: list[Model | CalculationError] = []
    for circuit, case in circuits:
        try:
            models.append(build(circuit, case))
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


def build(circuit: Circuit, case: Case) -> Model:
    """Put a circuit in a case into the form of the solver.

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a part is in no table; the path points at it.
    """
    left_out, held, posts = set(case.without), set(case.held), circuit.posts
    rows = _Rows()
    wires, basis = _branches(rows, circuit, case, left_out)
    sides = Sides(circuit, left_out)
    for load in circuit.loads:
        if load.name not in left_out:
            found = load_in_case(load, case, sides)
            rows.add(found.part, *found.values)
            basis += found.basis
    supply = supply_in_case(circuit.source, case)
    battery = Part("", "source", "sources", posts, circuit.source, case.ambient_c)
    rows.add(battery, supply.emf_v, supply.internal_ohm)
    drive_v = max([supply.emf_v, *_further_sources(rows, circuit, case, left_out)])
    relays = [relay for relay in circuit.relays if relay.name not in left_out]
    warm = tuple(relay_in_case(relay, case, drive_v) for relay in relays)
    for relay, coil in zip(relays, warm, strict=True):
        part = Part.of(relay, "coil", "coils", case.ambient_c_of(relay), relay.coil_nodes)
        rows.add(part, coil.resistance_ohm, coil.pick_up_v, coil.drop_out_v)
    for contact in contacts_in_case(relays, case):
        rows.add(contact.part, contact.resistance_ohm, contact.relay, contact.breaks)
    names = list(dict.fromkeys((circuit.ground_node, *posts, *rows.nodes())))
    place = {name: index for index, name in enumerate(names)}
    return Model(
        network=Network(
            node_names=tuple(names),
            reference=place[circuit.ground_node],
            wires=_wires(rows.ends("wires", place), rows.parts["wires"], wires, case),
            **rows.elements(place),
        ),
        parts=rows.parts,
        order={part.name: at for at, part in enumerate(circuit.parts)},
        wires=tuple(heated for _, heated, _ in wires),
        relays=warm,
        held=tuple(relay.name in held for relay in relays),
        posts=posts,
        cranked=tuple(
            (first, second)
            for first, second in (
                load.nodes for load in circuit.loads if load.circuit == STARTER_MOTOR
            )
        ),
        sign=-1.0 if circuit.positive_ground else 1.0,
        emf_v=supply.emf_v,
        internal_ohm=supply.internal_ohm,
        drive_v=drive_v,
        basis=merge(
            *(metal.basis if heated is None else heated.basis for metal, heated, _ in wires),
            basis,
            supply.basis,
            *(relay.basis for relay in warm),
        ),
    )


class _Rows:
    """Parts by group, each with its values as `_ELEMENTS` counts them."""

    def __init__(self) -> None:
        self.parts: dict[str, list[Part]] = {group: [] for group in ("wires", *_ELEMENTS)}
        self._values: dict[str, list[tuple[float, ...]]] = {group: [] for group in _ELEMENTS}

    def add(self, part: Part, *values: float) -> None:
        self.parts[part.group].append(part)
        if part.group in self._values:
            self._values[part.group].append(values)

    def nodes(self) -> Iterator[str]:
        """Of every part; some come again."""
        for group in self.parts.values():
            for part in group:
                yield from part.nodes

    def ends(self, group: str, place: Mapping[str, int]) -> dict[str, Any]:
        """Ends of a group's parts as indices of nodes."""
        joined = [part.nodes for part in self.parts[group]]
        return {
            end: np.array([place[nodes[side]] for nodes in joined], dtype=np.int64)
            for side, end in enumerate(("start", "end"))
        }

    def elements(self, place: Mapping[str, int]) -> dict[str, Any]:
        """Elements of the solver of every group that has any, but for the wires."""
        return {
            group: kind(
                **self.ends(group, place),
                **dict(zip(fields, zip(*self._values[group], strict=True), strict=True)),
            )
            for group, (kind, fields) in _ELEMENTS.items()
            if self.parts[group]
        }


def _branches(
    rows: _Rows, circuit: Circuit, case: Case, left_out: AbstractSet[str]
) -> tuple[list[_WireHere], list[str]]:
    """Add what conducts; its wires, and a list for what the values rest on."""
    wires: list[_WireHere] = []
    for index, branch in enumerate(circuit.branches):
        if branch.name in left_out:
            continue
        ambient = case.ambient_c_of(branch)
        if isinstance(branch, CircuitWire):
            rows.add(Part.of(branch, branch.kind, "wires", ambient))
            try:
                wires.append(_wire(branch, ambient))
            except CalculationError as error:
                raise error.below("circuit", "branches", index) from error
        else:
            ages = isinstance(branch, CircuitContact) and branch.ages
            ohm = branch.resistance_ohm * (case.ageing_factor if ages else 1.0)
            rows.add(Part.of(branch, branch.kind, "resistors", ambient), ohm)
    return wires, []


def _further_sources(
    rows: _Rows, circuit: Circuit, case: Case, left_out: AbstractSet[str]
) -> Iterator[float]:
    """Add what feeds beside the battery, and tell the voltage of each. [V]."""
    for source in circuit.further_sources:
        if source.name in left_out:
            continue
        # With positive ground the mirror image is solved.
        ends = source.nodes[::-1] if circuit.positive_ground else source.nodes
        charges = isinstance(source, Charger)
        group, ambient = "chargers" if charges else "sources", case.ambient_c_of(source)
        part = Part.of(source, source.kind, group, ambient, ends)
        if isinstance(source, Charger):
            volts = source.regulated_v
            rows.add(part, volts, source.internal_resistance_ohm, source.limit_a)
        else:
            volts = source.open_circuit_v
            rows.add(part, volts, source.internal_resistance_ohm)
        yield volts


def _wire(branch: CircuitWire, ambient: float) -> _WireHere:
    asked: Any = branch  # of one row, so that its texts are plain
    if known(branch.temperature_c):
        metal = conductor(asked.size, asked.standard, asked.material, asked.construction)
        return metal, None, branch.temperature_c
    heated = heated_wire(
        size=asked.size,
        standard=asked.standard,
        material=asked.material,
        construction=asked.construction,
        ambient_c=ambient,
        insulation_kind=asked.insulation,
        insulation_limit_c=number(asked.insulation_limit_c),
        grouped_conductors=asked.grouped_conductors,
        altitude_m=asked.altitude_m,
        outer_diameter_mm=number(asked.outer_diameter_mm),
    )
    return heated.conductor, heated, ambient


def _wires(
    ends: Mapping[str, Any], parts: Sequence[Part], wires: Sequence[_WireHere], case: Case
) -> Wires:
    return Wires(
        **ends,
        resistance_20_ohm=np.array(
            [
                metal.resistance_20_ohm_per_m * part.asked.length_m
                for (metal, _, _), part in zip(wires, parts, strict=True)
            ]
        ),
        temperature_coefficient_per_k=np.array(
            [metal.temperature_coefficient_per_k for metal, _, _ in wires]
        ),
        temperature_of=Warming(
            tuple(heated for _, heated, _ in wires),
            tuple(warm for _, _, warm in wires),
            number(case.duration_s),
        ),
    )
