"""From a circuit and a case, as requested, to a network at rest."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuit import Data, Model, Part, RelayInCase, State
from lastvolt_service.operations.conductors import (
    Conductor,
    conductor,
    copper_change,
    copper_coefficient_per_k,
)
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.solenoids.pull_in import needed_by_load
from lastvolt_service.operations.solved import refuse
from lastvolt_service.operations.sources.battery import Battery, battery_source
from lastvolt_service.operations.wires.heated_wire import HeatedWire, heated_wire
from lastvolt_service.operations.wires.warming import temperature_of
from lastvolt_service.physics.coil import self_heating_rise
from lastvolt_service.physics.network import solve
from lastvolt_service.physics.network_elements import (
    Coils,
    Contacts,
    CurrentLoads,
    Network,
    PowerLoads,
    Resistors,
    Sources,
    Wires,
)
from lastvolt_service.rows import number
from lastvolt_service.tables.practice import GROUND


def rest(circuit: Data, case: Data) -> State:
    """Build a circuit in a case and find its state of rest.

    Parameters
    ----------
    circuit, case : mapping
        As in requests, with plain numbers.

    Returns
    -------
    State

    Raises
    ------
    CalculationError
        If a wire is in no table, or the network has no state of rest.
    """
    model = build(circuit, case)
    return State(model, solve(network=model.network, energised=list(model.held)))


def ambient_c(part: Data, case: Data) -> float:
    """Tell the ambient of a part in a case.

    Parameters
    ----------
    part, case : mapping
        As in requests.

    Returns
    -------
    float
        [degC]
    """
    if "ambient_c" in part:
        return float(part["ambient_c"])
    zone = part.get("zone")
    return float(case["zone_ambients_c"].get(zone, case["ambient_c"]))


def build(circuit: Data, case: Data) -> Model:
    """Put a circuit in a case into the form of the solver.

    Parameters
    ----------
    circuit, case : mapping
        As in requests, with plain numbers.

    Returns
    -------
    Model

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a part is in no table; the path points at it.
    """
    ground = circuit.get("ground", GROUND)
    left_out = set(case["without"])
    parts: dict[str, list[Part]] = {group: [] for group in _GROUPS}
    wires: list[tuple[Conductor, HeatedWire | None, float]] = []
    values: dict[str, list[float]] = {group: [] for group in _GROUPS}
    basis: list[str] = []
    for index, branch in enumerate(circuit["branches"]):
        if branch["name"] in left_out:
            continue
        group = "wires" if branch["kind"] == "wire" else "resistors"
        parts[group].append(_part(branch, branch["kind"], group, ambient_c(branch, case)))
        if group == "wires":
            try:
                wires.append(_wire(branch, case))
            except CalculationError as error:
                raise error.below("circuit", "branches", index) from error
        else:
            values[group].append(branch["resistance_ohm"] * _ageing(branch, case))
    for load in circuit["loads"]:
        if load["name"] not in left_out:
            part, value, why = _load(load, case)
            parts[part.group].append(part)
            values[part.group].append(value)
            basis += why
    emf_v, internal_ohm, source_basis = _source(circuit["source"], case)
    relays = [relay for relay in circuit["relays"] if relay["name"] not in left_out]
    warm = tuple(_relay(relay, case, emf_v) for relay in relays)
    contacts = _contacts(relays, case)
    parts["coils"] = [
        _part(relay, "coil", "coils", ambient_c(relay, case), "coil_nodes") for relay in relays
    ]
    parts["contacts"] = [part for part, _, _, _ in contacts]
    names = _node_names(circuit, parts, ground)
    return Model(
        network=_network(
            circuit,
            names,
            ground,
            parts,
            values,
            wires,
            warm,
            contacts,
            (emf_v, internal_ohm),
            case,
        ),
        parts=parts,
        order=_order(circuit),
        wires=tuple(heated for _, heated, _ in wires),
        relays=warm,
        held=tuple(relay["name"] in set(case["held"]) for relay in relays),
        emf_v=emf_v,
        internal_ohm=internal_ohm,
        basis=merge(
            *(metal.basis if heated is None else heated.basis for metal, heated, _ in wires),
            basis,
            source_basis,
        ),
    )


_GROUPS = ("wires", "resistors", "current_loads", "power_loads")


def _part(data: Data, kind: str, group: str, ambient: float, nodes: str = "nodes") -> Part:
    first, second = data[nodes]
    return Part(data["name"], kind, group, (first, second), data, ambient)


def _load_part(data: Data, group: str, ambient: float, needed_v: float | None) -> Part:
    part = _part(data, data["kind"], group, ambient)
    return replace(part, needed_v=needed_v, is_load=True)


def _ageing(part: Data, case: Data) -> float:
    ages = part.get("ages", False)
    return float(case["ageing_factor"]) if ages else 1.0


def _wire(branch: Data, case: Data) -> tuple[Conductor, HeatedWire | None, float]:
    """A wire's conductor, the wire with its insulation if it heats itself, and its temperature."""
    size, metal = branch["size"], branch["material"]
    if "temperature_c" in branch:
        plain = conductor(size, branch.get("standard"), metal, branch["construction"])
        return plain, None, branch["temperature_c"]
    ambient = ambient_c(branch, case)
    heated = heated_wire(
        size=size,
        standard=branch.get("standard"),
        material=metal,
        construction=branch["construction"],
        ambient_c=ambient,
        insulation_kind=branch.get("insulation"),
        insulation_limit_c=branch.get("insulation_limit_c"),
        grouped_conductors=branch["grouped_conductors"],
        altitude_m=branch["altitude_m"],
        outer_diameter_mm=branch.get("outer_diameter_mm"),
    )
    return heated.conductor, heated, ambient


def _load(load: Data, case: Data) -> tuple[Part, float, tuple[str, ...]]:
    kind, ambient = load["kind"], ambient_c(load, case)
    needed = load.get("needed_v")
    if kind in {"current", "power"}:
        value = load["current_a" if kind == "current" else "power_w"]
        return _load_part(load, f"{kind}_loads", ambient, needed), value, ()
    if kind == "resistance":
        change = copper_change(ambient, 20.0) if load["copper"] else 1.0
        ohm = load["resistance_ohm"] * change
        return _load_part(load, "resistors", ambient, needed), ohm, ()
    found = needed_by_load(load, ambient, held=load["name"] in set(case["held"]))
    needed = needed if number(found.volts) is None else float(found.volts)
    ohm = number(found.resistance_ohm) or 0.0  # the schema asks for it
    return _load_part(load, "resistors", ambient, needed), ohm, found.basis


def _source(source: Data, case: Data) -> tuple[float, float, tuple[str, ...]]:
    basis: tuple[str, ...] = ()
    battery = source.get("battery")
    if battery is None:
        emf_v, internal = source["open_circuit_v"], source["internal_resistance_ohm"]
    else:
        charge = case.get("state_of_charge_percent", battery["state_of_charge_percent"])
        try:
            state = {
                "state_of_charge_percent": charge,
                "temperature_c": battery.get("temperature_c", ambient_c(source, case)),
            }
            found = battery_source(Battery(**{**battery, **state}))
            refuse([found.fault])
        except CalculationError as error:
            raise error.below("circuit", "source", "battery") from error
        emf_v, internal = float(found.emf_v), float(found.internal_resistance_ohm)
        basis = found.basis
    return (
        case.get("open_circuit_v", emf_v),
        case.get("internal_resistance_ohm", internal),
        basis,
    )


def _relay(relay: Data, case: Data, emf_v: float) -> RelayInCase:
    ambient, reference = ambient_c(relay, case), relay["reference_temperature_c"]
    cold_ohm = relay["coil_resistance_ohm"] * copper_change(ambient, reference)
    rise = 0.0
    if "thermal_resistance_k_per_w" in relay:
        # As warm as the source could make it: it must close again right after it was in use.
        rise = float(
            self_heating_rise(
                coil_v=emf_v,
                resistance_ohm=cold_ohm,
                ambient_c=ambient,
                thermal_resistance_k_per_w=relay["thermal_resistance_k_per_w"],
                temperature_coefficient_per_k=copper_coefficient_per_k(),
            )
        )
    change = copper_change(ambient + rise, reference)
    return RelayInCase(
        relay["name"],
        ambient + rise,
        relay["coil_resistance_ohm"] * change,
        relay["pick_up_v"] * change,
        relay["drop_out_v"] * change,
    )


def _contacts(relays: Sequence[Data], case: Data) -> list[tuple[Part, float, int, bool]]:
    """Contact parts with resistance, index of the relay, and whether they break."""
    found = []
    for index, relay in enumerate(relays):
        ohm = relay["contact_resistance_ohm"] * _ageing(relay, case)
        ambient = ambient_c(relay, case)
        for nodes, breaks in (("contact_nodes", False), ("break_nodes", True)):
            if nodes in relay:
                found.append(
                    (_part(relay, "relay", "contacts", ambient, nodes), ohm, index, breaks)
                )
    return found


def _order(circuit: Data) -> dict[str, int]:
    names = (part["name"] for group in ("branches", "loads", "relays") for part in circuit[group])
    return {name: place for place, name in enumerate(names)}


def _node_names(circuit: Data, parts: Mapping[str, Sequence[Part]], ground: str) -> list[str]:
    source = circuit["source"]
    ends = (node for group in parts.values() for part in group for node in part.nodes)
    return list(dict.fromkeys((ground, source["plus"], source.get("minus", ground), *ends)))


def _network(
    circuit: Data,
    names: Sequence[str],
    ground: str,
    parts: Mapping[str, Sequence[Part]],
    values: Mapping[str, Sequence[float]],
    wires: Sequence[tuple[Conductor, HeatedWire | None, float]],
    relays: Sequence[RelayInCase],
    contacts: Sequence[tuple[Part, float, int, bool]],
    source: tuple[float, float],
    case: Data,
) -> Network:
    number = {name: index for index, name in enumerate(names)}

    def ends(group: str) -> dict[str, Any]:
        return {
            end: np.array([number[part.nodes[side]] for part in parts[group]], dtype=np.int64)
            for side, end in enumerate(("start", "end"))
        }

    post = circuit["source"]
    return Network(
        node_names=tuple(names),
        reference=number[ground],
        wires=Wires(
            **ends("wires"),
            resistance_20_ohm=np.array(
                [
                    metal.resistance_20_ohm_per_m * part.data["length_m"]
                    for (metal, _, _), part in zip(wires, parts["wires"], strict=True)
                ]
            ),
            temperature_coefficient_per_k=np.array(
                [metal.temperature_coefficient_per_k for metal, _, _ in wires]
            ),
            temperature_of=temperature_of(
                [heated for _, heated, _ in wires],
                [given for _, _, given in wires],
                case.get("duration_s"),
            ),
        ),
        resistors=Resistors(**ends("resistors"), resistance_ohm=np.array(values["resistors"])),
        sources=Sources(
            start=np.array([number[post["plus"]]]),
            end=np.array([number[post.get("minus", ground)]]),
            emf_v=np.array([source[0]]),
            internal_resistance_ohm=np.array([source[1]]),
        ),
        current_loads=CurrentLoads(
            **ends("current_loads"), current_a=np.array(values["current_loads"])
        ),
        power_loads=PowerLoads(**ends("power_loads"), power_w=np.array(values["power_loads"])),
        coils=Coils(
            **ends("coils"),
            resistance_ohm=np.array([relay.resistance_ohm for relay in relays]),
            pick_up_v=np.array([relay.pick_up_v for relay in relays]),
            drop_out_v=np.array([relay.drop_out_v for relay in relays]),
        ),
        contacts=Contacts(
            **ends("contacts"),
            resistance_ohm=np.array([ohm for _, ohm, _, _ in contacts]),
            relay=np.array([index for _, _, index, _ in contacts], dtype=np.int64),
            normally_closed=np.array([breaks for _, _, _, breaks in contacts], dtype=np.bool_),
        ),
    )
