"""A circuit in a case as the solver takes it, anew or with other values in a few of its parts."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Any, NamedTuple

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import (
    MOST_OHM,
    Circuit,
    Relay,
    joints_of,
    resists,
)
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import CurrentLoad, PowerLoad
from lastvolt_service.operations.circuits.loads_in_case import VALUES, Sides, load_in_case
from lastvolt_service.operations.circuits.model import Model, Part, RelayInCase
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitWire
from lastvolt_service.operations.circuits.relays_in_case import contacts_in_case, relay_in_case
from lastvolt_service.operations.circuits.sources import Charger, Source
from lastvolt_service.operations.circuits.supplies import Supply, supply_in_case
from lastvolt_service.operations.fuses.profile import STARTER_MOTOR
from lastvolt_service.operations.wires.conductors import conductor
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
from lastvolt_service.rows import number

# Kinds of elements of the solver, and the values that each takes.
_ELEMENTS: dict[str, tuple[Any, tuple[str, ...]]] = {
    "wires": (Wires, ("resistance_20_ohm", "temperature_coefficient_per_k")),
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
# What is no value but a place.
_FIXED = frozenset({"relay", "normally_closed"})
# What a part has beside values: with another of these a circuit is another one.
_OF_ITS_PLACE = (
    "name", "kind", "circuit", "nodes", "coil_nodes", "contact_nodes", "break_nodes", "plus",
    "minus",
)  # fmt: skip


class _Row(NamedTuple):
    """What a part is in the network: its values as `_ELEMENTS` counts them.

    A wire has the wire with its insulation, if it heats itself, and the temperature it begins at.
    """

    part: Part
    values: tuple[float, ...]
    basis: tuple[str, ...] = ()
    heated: HeatedWire | None = None
    warm_c: float = 0.0
    relay: RelayInCase | None = None


def build(circuit: Circuit, case: Case, like: Model | None = None) -> Model:
    """Put a circuit in a case into the form of the solver.

    Of `like`, the same circuit in this case with other values, is taken what is the same object in
    both. The model is the same as without it.

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a part is in no table; the path points at it.
    """
    moved = None if like is None else _moved(like, circuit, case)
    return _anew(circuit, case) if like is None or moved is None else _again(like, circuit, moved)


def _anew(circuit: Circuit, case: Case) -> Model:
    posts = circuit.posts
    supply = supply_in_case(circuit.source, case)
    drive_v, rows = _all_rows(circuit, case, supply)
    parts: dict[str, list[Part]] = {group: [] for group in _ELEMENTS}
    grouped: dict[str, list[_Row]] = {group: [] for group in _ELEMENTS}
    where: dict[str, list[tuple[str, int]]] = {}
    bases: dict[str, tuple[str, ...]] = {}
    for row in rows:
        group, name = row.part.group, row.part.name
        where.setdefault(name, []).append((group, len(grouped[group])))
        bases.setdefault(name, row.basis)
        grouped[group].append(row)
        parts[group].append(row.part)
    joined = (node for group in parts.values() for part in group for node in part.nodes)
    names = list(dict.fromkeys((circuit.ground_node, *posts, *joined)))
    place = {name: index for index, name in enumerate(names)}
    elements = {group: _elements(group, own, place, case) for group, own in grouped.items() if own}
    return Model(
        circuit=circuit,
        case=case,
        network=Network(
            node_names=tuple(names),
            reference=place[circuit.ground_node],
            islands=_has_islands(circuit, case),
            **elements,
        ),
        parts=parts,
        order={part.name: at for at, part in enumerate(circuit.parts)},
        where=where,
        wires=tuple(row.heated for row in grouped["wires"]),
        relays=tuple(row.relay for row in grouped["coils"] if row.relay is not None),
        held=tuple(part.name in case.held for part in parts["coils"]),
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
        bases=bases,
    )


def _has_islands(circuit: Circuit, case: Case) -> bool:
    """Whether a case may cut parts off from all others: whole, the circuit has none such."""
    if not case.without:
        return False
    parts = (each for each in circuit.parts if not isinstance(each, (CurrentLoad, PowerLoad)))
    pairs = (ends for each in parts for ends in joints_of(each).values())
    joined = [(first, second) for first, second in pairs]
    return circuit.node_names() <= reached(circuit.ground_node, [*joined, circuit.posts])


def _all_rows(circuit: Circuit, case: Case, supply: Supply) -> tuple[float, list[_Row]]:
    """The highest voltage of all sources, and what each part is in the network."""
    left_out = set(case.without)
    rows = [
        _of_branch(branch, index, case)
        for index, branch in enumerate(circuit.branches)
        if branch.name not in left_out
    ]
    # Of what values rest on, that of wires comes first.
    rows.sort(key=lambda row: row.part.group != "wires")
    sides = Sides(circuit, left_out)
    rows += [
        _Row(*load_in_case(load, case, sides.live_first(load.nodes)))
        for load in circuit.loads
        if load.name not in left_out
    ]
    rows.append(_of_battery(circuit.source, circuit.posts, case, supply))
    further = list(_further_sources(circuit, case, left_out))
    drive_v = max([supply.emf_v, *(row.values[0] for row in further)])
    relays = [relay for relay in circuit.relays if relay.name not in left_out]
    coils = [_of_coil(relay, case, drive_v) for relay in relays]
    return drive_v, [*rows, *further, *coils, *_of_contacts(relays, case)]


def _elements(group: str, rows: Sequence[_Row], place: Mapping[str, int], case: Case) -> Any:
    kind, fields = _ELEMENTS[group]
    found: dict[str, Any] = dict(
        zip(fields, zip(*(row.values for row in rows), strict=True), strict=True)
    )
    for side, end in enumerate(("start", "end")):
        found[end] = tuple(place[row.part.nodes[side]] for row in rows)
    if group == "wires":
        heated, warm = (tuple(getattr(row, each) for row in rows) for each in ("heated", "warm_c"))
        found["temperature_of"] = Warming(heated, warm, number(case.duration_s))
    return kind(**found)


def _of_branch(branch: Branch, index: int, case: Case) -> _Row:
    ambient = case.ambient_c_of(branch)
    if isinstance(branch, CircuitWire):
        try:
            return _of_wire(branch, ambient)
        except CalculationError as error:
            raise error.below("circuit", "branches", index) from error
    ages = isinstance(branch, CircuitContact) and branch.ages
    ohm = branch.resistance_ohm * (case.ageing_factor if ages else 1.0)
    return _Row(Part.of(branch, branch.kind, "resistors", ambient), (ohm,))


def _of_wire(branch: CircuitWire, ambient: float) -> _Row:
    asked: Any = branch  # of one row, so that its texts are plain
    part = Part.of(branch, branch.kind, "wires", ambient)
    heated, warm_c = None, ambient
    if known(branch.temperature_c):
        metal = conductor(asked.size, asked.standard, asked.material, asked.construction)
        warm_c, basis = branch.temperature_c, metal.basis
    else:
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
        metal, basis = heated.conductor, heated.basis
    ohm = metal.resistance_20_ohm_per_m * asked.length_m
    return _Row(part, (ohm, metal.temperature_coefficient_per_k), basis, heated, warm_c)


def _of_battery(source: Source, posts: tuple[str, str], case: Case, supply: Supply) -> _Row:
    part = Part("", "source", "sources", posts, source, case.ambient_c)
    return _Row(part, (supply.emf_v, supply.internal_ohm), supply.basis)


def _further_sources(circuit: Circuit, case: Case, left_out: AbstractSet[str]) -> Iterator[_Row]:
    """What feeds beside the battery; its voltage comes first."""
    for source in circuit.further_sources:
        if source.name in left_out:
            continue
        # With positive ground the mirror image is solved.
        ends = source.nodes[::-1] if circuit.positive_ground else source.nodes
        charges = isinstance(source, Charger)
        group, ambient = "chargers" if charges else "sources", case.ambient_c_of(source)
        part = Part.of(source, source.kind, group, ambient, ends)
        ohm = source.internal_resistance_ohm
        if isinstance(source, Charger):
            yield _Row(part, (source.regulated_v, ohm, source.limit_a))
        else:
            yield _Row(part, (source.open_circuit_v, ohm))


def _of_coil(relay: Relay, case: Case, drive_v: float) -> _Row:
    coil = relay_in_case(relay, case, drive_v)
    part = Part.of(relay, "coil", "coils", case.ambient_c_of(relay), relay.coil_nodes)
    values = coil.resistance_ohm, coil.pick_up_v, coil.drop_out_v
    return _Row(part, values, coil.basis, relay=coil)


def _of_contacts(relays: Sequence[Relay], case: Case) -> Iterator[_Row]:
    for each in contacts_in_case(relays, case):
        yield _Row(each.part, (each.resistance_ohm, each.relay, each.breaks))


def _moved(like: Model, circuit: Circuit, case: Case) -> list[tuple[int, Any]] | None:
    """Parts with other values than before, and their places; None if more than values differs."""
    old = like.circuit
    if not (
        case is like.case
        and circuit.ground == old.ground
        and circuit.further_sources is old.further_sources
    ):
        return None
    found: list[tuple[int, Any]] = []
    for before, now in (
        ([old.source], [circuit.source]),
        (old.branches, circuit.branches),
        (old.loads, circuit.loads),
        (old.relays, circuit.relays),
    ):
        if before is now:
            continue
        if len(before) != len(now):
            return None
        for place, (one, other) in enumerate(zip(before, now, strict=True)):
            if one is not other:
                if not _is_alike(one, other):
                    return None
                found.append((place, other))
    return found


def _is_alike(one: Any, other: Any) -> bool:
    """Whether a part is what it was, at the same place, and joins the same sides."""
    if type(one) is not type(other):
        return False
    mine, others = vars(one), vars(other)
    for name in _OF_ITS_PLACE:
        was, now = mine.get(name), others.get(name)
        if was is not now and was != now:
            return False
    return resists(one, MOST_OHM) == resists(other, MOST_OHM)


def _again(like: Model, circuit: Circuit, moved: Sequence[tuple[int, Any]]) -> Model:
    """Put other values of some parts into a model."""
    supply = Supply(like.emf_v, like.internal_ohm, ())
    if circuit.source is not like.circuit.source:
        supply = supply_in_case(circuit.source, like.case)
    network = like.network
    others_v = (*network.sources.emf_v[1:].tolist(), *network.chargers.regulated_v.tolist())
    drive_v = max(supply.emf_v, *others_v) if others_v else supply.emf_v
    if drive_v != like.drive_v:  # it warms all coils
        others = enumerate(circuit.relays)
        moved = [*(each for each in moved if not isinstance(each[1], Relay)), *others]
    fresh: dict[str, dict[int, _Row]] = {}
    bases = dict(like.bases)
    for index, part in moved:
        name = "" if part is circuit.source else part.name
        places = like.where.get(name, ())  # none of what is left out
        if not places:
            continue
        rows = _rows_of(like, part, index, places[0], supply, drive_v)
        bases[name] = rows[0].basis
        for (group, place), row in zip(places, rows, strict=True):
            fresh.setdefault(group, {})[place] = row
    parts, wires, relays = dict(like.parts), list(like.wires), list(like.relays)
    for group, own in fresh.items():
        parts[group] = list(parts[group])
        for place, row in own.items():
            parts[group][place] = row.part
            if group == "wires":
                wires[place] = row.heated
            elif row.relay is not None:
                relays[place] = row.relay
    values = {group: _with_values(like, group, own) for group, own in fresh.items()}
    return replace(
        like,
        circuit=circuit,
        network=replace(like.network, **values),
        parts=parts,
        wires=tuple(wires),
        relays=tuple(relays),
        emf_v=supply.emf_v,
        internal_ohm=supply.internal_ohm,
        drive_v=drive_v,
        bases=bases,
    )


def network_with(like: Model, index: int, part: Any) -> Network:
    """The network of a model with other values in a branch, load or relay, by its place there.

    On their values nothing hangs but the part itself; the model's own parts stay as they were.
    """
    places = like.where.get(part.name, ())
    if not places:  # the case leaves it out
        return like.network
    supply = Supply(like.emf_v, like.internal_ohm, ())
    fresh: dict[str, dict[int, _Row]] = {}
    rows = _rows_of(like, part, index, places[0], supply, like.drive_v)
    for (kind, place), row in zip(places, rows, strict=True):
        fresh.setdefault(kind, {})[place] = row
    return replace(
        like.network, **{kind: _with_values(like, kind, own) for kind, own in fresh.items()}
    )


def _rows_of(
    like: Model, part: Any, index: int, first: tuple[str, int], supply: Supply, drive_v: float
) -> list[_Row]:
    """What a part is with its new values, in the order of its places."""
    group, place = first
    before, case = like.parts[group][place], like.case
    if isinstance(part, Source):
        return [_of_battery(part, like.posts, case, supply)]
    if isinstance(part, Relay):
        return [_of_coil(part, case, drive_v), *_of_contacts([part], case)]
    if before.is_load:
        return [_Row(*load_in_case(part, case, before.nodes))]
    return [_of_branch(part, index, case)]


def _with_values(like: Model, group: str, rows: Mapping[int, _Row]) -> Any:
    elements, fields = getattr(like.network, group), _ELEMENTS[group][1]
    found: dict[str, Any] = {}
    for at, name in enumerate(fields):
        if name not in _FIXED:
            found[name] = getattr(elements, name).copy()
            for place, row in rows.items():
                found[name][place] = row.values[at]
    if group == "wires":
        told: Warming = elements.temperature_of
        heated, warm = list(told.wires), list(told.given_c)
        for place, row in rows.items():
            heated[place], warm[place] = row.heated, row.warm_c
        new = Warming(tuple(heated), tuple(warm), told.duration_s)
        found["temperature_of"] = told if new == told else new
    return replace(elements, **found)
