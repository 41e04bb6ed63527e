"""From a circuit and a case, as requested, to a network at rest."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Any, cast

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed, known
from lastvolt_service.laws import OHM, by
from lastvolt_service.laws import given as told
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import (
    AnyLoad,
    Circuit,
    CircuitContact,
    CircuitWire,
    CurrentLoad,
    PowerLoad,
    Relay,
    ResistanceLoad,
    Source,
)
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.model import Model, Part, RelayInCase, State
from lastvolt_service.operations.judging import refuse
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.relays.warm_coil import ASSUMED_TIME_CONSTANT, warm_coil
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.solenoids.descriptions import needed_by_load
from lastvolt_service.operations.sources.battery import (
    MAY_BE_FROZEN,
    battery_source,
    freezing_check,
)
from lastvolt_service.operations.wires.conductors import (
    Conductor,
    conductor,
    copper_changes,
)
from lastvolt_service.operations.wires.heated_wire import HeatedWire, heated_wire
from lastvolt_service.operations.wires.warming import Warming
from lastvolt_service.physics.network.elements import (
    Coils,
    Contacts,
    CurrentLoads,
    Network,
    PowerLoads,
    Resistors,
    Sources,
    Wires,
)
from lastvolt_service.physics.network.rest import rest_states, solve
from lastvolt_service.rows import NOT_GIVEN, Numbers, given, number

# A wire's conductor, the wire with its insulation if it heats itself, and its temperature.
_WireHere = tuple[Conductor, HeatedWire | None, float]
# A contact of a relay: its part, resistance, index of the relay, and whether it breaks.
_Contact = tuple[Part, float, int, bool]


def rest(circuit: Circuit, case: Case) -> State:
    """Build a circuit in a case, both in plain numbers, and find its state of rest.

    Raises
    ------
    CalculationError
        If a wire is in no table, or the network has no state of rest.
    """
    model = build(circuit, case)
    return State(model, solve(network=model.network, energised=list(model.held)))


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


def ambient_c(part: Any, case: Case) -> float:
    """Tell the ambient of a part in a case. [degC]."""
    own = getattr(part, "ambient_c", None)
    return float(own if own is not None and known(own) else case.ambient_of(part.zone))


def build(circuit: Circuit, case: Case) -> Model:
    """Put a circuit in a case into the form of the solver.

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a part is in no table; the path points at it.
    """
    left_out, held = set(case.without), set(case.held)
    posts, live = circuit.posts, live_nodes(circuit, left_out)
    parts: dict[str, list[Part]] = {
        group: [] for group in ("wires", "resistors", "current_loads", "power_loads")
    }
    values: dict[str, list[float]] = {group: [] for group in parts}
    wires: list[_WireHere] = []
    basis: list[str] = []
    for index, branch in enumerate(circuit.branches):
        if branch.name in left_out:
            continue
        ambient = ambient_c(branch, case)
        if isinstance(branch, CircuitWire):
            parts["wires"].append(Part.of(branch, branch.kind, "wires", ambient))
            try:
                wires.append(_wire(branch, ambient))
            except CalculationError as error:
                raise error.below("circuit", "branches", index) from error
        else:
            ages = isinstance(branch, CircuitContact) and branch.ages
            parts["resistors"].append(Part.of(branch, branch.kind, "resistors", ambient))
            values["resistors"].append(
                branch.resistance_ohm * (case.ageing_factor if ages else 1.0)
            )
    for load in circuit.loads:
        if load.name not in left_out:
            nodes = from_live(load.nodes, live)
            part, value, why = _load(load, nodes, ambient_c(load, case), load.name in held)
            parts[part.group].append(part)
            values[part.group].append(value)
            basis += why
    emf_v, internal_ohm, source_basis = _source(circuit.source, case)
    relays = [relay for relay in circuit.relays if relay.name not in left_out]
    warm = tuple(relay_in_case(relay, case, emf_v) for relay in relays)
    contacts = _contacts(relays, case)
    parts["coils"] = [
        Part.of(relay, "coil", "coils", ambient_c(relay, case), relay.coil_nodes)
        for relay in relays
    ]
    parts["contacts"] = [part for part, _, _, _ in contacts]
    ends = (node for group in parts.values() for part in group for node in part.nodes)
    names = list(dict.fromkeys((circuit.ground_node, *posts, *ends)))
    join = _Joining({name: index for index, name in enumerate(names)}, parts)
    return Model(
        network=Network(
            node_names=tuple(names),
            reference=join.place[circuit.ground_node],
            wires=_wires(join, parts["wires"], wires, number(case.duration_s)),
            resistors=Resistors(
                **join.ends("resistors"), resistance_ohm=np.array(values["resistors"])
            ),
            sources=Sources(
                start=np.array([join.place[posts[0]]]),
                end=np.array([join.place[posts[1]]]),
                emf_v=np.array([emf_v]),
                internal_resistance_ohm=np.array([internal_ohm]),
            ),
            current_loads=CurrentLoads(
                **join.ends("current_loads"), current_a=np.array(values["current_loads"])
            ),
            power_loads=PowerLoads(
                **join.ends("power_loads"), power_w=np.array(values["power_loads"])
            ),
            coils=Coils(
                **join.ends("coils"),
                resistance_ohm=np.array([relay.resistance_ohm for relay in warm]),
                pick_up_v=np.array([relay.pick_up_v for relay in warm]),
                drop_out_v=np.array([relay.drop_out_v for relay in warm]),
            ),
            contacts=Contacts(
                **join.ends("contacts"),
                resistance_ohm=np.array([ohm for _, ohm, _, _ in contacts]),
                relay=np.array([index for _, _, index, _ in contacts], dtype=np.int64),
                normally_closed=np.array([breaks for *_, breaks in contacts], dtype=np.bool_),
            ),
        ),
        parts=parts,
        order={part.name: place for place, part in enumerate(circuit.parts)},
        wires=tuple(heated for _, heated, _ in wires),
        relays=warm,
        held=tuple(relay.name in held for relay in relays),
        posts=posts,
        sign=-1.0 if circuit.positive_ground else 1.0,
        emf_v=emf_v,
        internal_ohm=internal_ohm,
        basis=merge(
            *(metal.basis if heated is None else heated.basis for metal, heated, _ in wires),
            basis,
            source_basis,
            *(relay.basis for relay in warm),
        ),
    )


class _Joining:
    """The ends of parts as indices of nodes."""

    def __init__(self, place: Mapping[str, int], parts: Mapping[str, Sequence[Part]]) -> None:
        self.place, self._parts = place, parts

    def ends(self, group: str) -> dict[str, Any]:
        return {
            end: np.array(
                [self.place[part.nodes[side]] for part in self._parts[group]], dtype=np.int64
            )
            for side, end in enumerate(("start", "end"))
        }


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
    join: _Joining, parts: Sequence[Part], wires: Sequence[_WireHere], duration_s: float | None
) -> Wires:
    return Wires(
        **join.ends("wires"),
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
            duration_s,
        ),
    )


def live_nodes(circuit: Circuit, left_out: AbstractSet[str] = frozenset()) -> frozenset[str]:
    """Nodes that metal joins to the live post, all contacts of relays taken as closed."""
    ends = [each.nodes for each in circuit.branches if each.name not in left_out]
    for relay in circuit.relays:
        if relay.name not in left_out:
            ends += [relay.contact_nodes, *([relay.break_nodes] if relay.break_nodes else [])]
    return reached(circuit.posts[0], ((first, second) for first, second in ends))


def from_live(ends: Sequence[str], live: AbstractSet[str]) -> Sequence[str]:
    """Nodes of a load, its live end first: it is the same load whichever way round it is given."""
    first, second = ends
    return (second, first) if second in live and first not in live else (first, second)


def _load(
    load: AnyLoad, ends: Sequence[str], ambient: float, held: bool
) -> tuple[Part, float, tuple[str, ...]]:
    basis: tuple[str, ...] = ()
    needed, group = number(load.needed_v), "resistors"
    if isinstance(load, CurrentLoad):
        group, value = "current_loads", load.current_a
    elif isinstance(load, PowerLoad):
        group, value = "power_loads", load.power_w
    elif isinstance(load, ResistanceLoad):
        value = load.resistance_ohm * float(copper_changes(ambient, 20.0) if load.copper else 1.0)
    else:
        found = needed_by_load(load, ambient, held=held)
        needed = needed if number(found.volts) is None else float(found.volts)
        value, basis = float(found.resistance_ohm), found.basis
    part = Part.of(load, load.kind, group, ambient, ends, needed_v=needed, is_load=True)
    return part, value, basis


def _source(source: Source, case: Case) -> tuple[float, float, tuple[str, ...]]:
    basis: tuple[str, ...] = ()
    battery = source.battery
    if battery is None:
        emf_v, internal_ohm = source.open_circuit_v, source.internal_resistance_ohm
    else:
        charge, own_c = case.state_of_charge_percent, battery.temperature_c
        here = changed(
            battery,
            state_of_charge_percent=charge if known(charge) else battery.state_of_charge_percent,
            temperature_c=own_c if known(own_c) else case.ambient_of(source.zone),
        )
        try:
            found = battery_source(here)
            refuse([found.fault])
        except CalculationError as error:
            told = error
            frozen = freezing_check(here.state_of_charge_percent, here.temperature_c)
            if frozen.verdict == "fail":
                told = type(error)(f"{error.detail} {MAY_BE_FROZEN}", error.path)
            raise told.below("circuit", "source", "battery") from error
        emf_v, internal_ohm = float(found.emf_v), float(found.internal_resistance_ohm)
        basis = found.basis
    return (
        case.open_circuit_v if known(case.open_circuit_v) else emf_v,
        case.internal_resistance_ohm if known(case.internal_resistance_ohm) else internal_ohm,
        basis,
    )


def relay_in_case(relay: Relay, case: Case, emf_v: Numbers, prefix: str = "") -> RelayInCase:
    """Bring a relay's coil to temperature; `prefix` is of the symbols, where this is told in steps.

    As warm as the source could make it: it must close again right after it was in use. One that
    has pulled in before may have been on for hours.
    """
    around_c: Any = told(f"{prefix}ambient_c", ambient_c(relay, case), "around the relay")
    own_v: Any = relay.maximum_v
    drive_v: Any = (
        own_v if known(own_v) else told(f"{prefix}emf_v", emf_v, "of the source without load")
    )
    duration_s = NOT_GIVEN if relay.name in case.held else case.duration_s
    coil = warm_coil(
        relay, ambient_c=around_c, drive_v=drive_v, duration_s=duration_s, prefix=prefix
    )
    is_warm, warm_c = bool(given(coil.warm_c)), cast("float", coil.warm_c)
    change: Any = coil.change_warm if is_warm else coil.change_cold
    return RelayInCase(
        relay.name,
        drive_v,
        duration_s,
        warm_c if is_warm else around_c,
        _with_resistor(relay, relay.coil_resistance_ohm * change),
        by(SCALING, relay.pick_up_v * change),
        by(SCALING, relay.drop_out_v * change),
        (ASSUMED_TIME_CONSTANT,) if coil.assumed else (),
    )


def _with_resistor(relay: Relay, coil_ohm: Any) -> Any:
    """Resistance between 86 and 85: a suppression resistor takes its current from the same wire."""
    fitted = relay.suppression
    if fitted is None or not known(fitted.resistance_ohm):
        return coil_ohm
    return by(OHM, 1 / (1 / coil_ohm + 1 / fitted.resistance_ohm))


def _contacts(relays: Sequence[Relay], case: Case) -> list[_Contact]:
    found = []
    for index, relay in enumerate(relays):
        ohm = relay.contact_resistance_ohm * (case.ageing_factor if relay.ages else 1.0)
        ambient = ambient_c(relay, case)
        for nodes, breaks in ((relay.contact_nodes, False), (relay.break_nodes, True)):
            if nodes:
                part = Part.of(relay, "relay", "contacts", ambient, nodes)
                found.append((part, ohm, index, breaks))
    return found
