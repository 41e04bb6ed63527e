"""A circuit in one case: its parts, and how it rests."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple, TypeAlias

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.physics.network.elements import Network
from lastvolt_service.physics.network.solution import Flow, Solution

LOAD_GROUPS = ("resistors", "current_loads", "power_loads", "lamps", "motors")


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """A part of the request in the network.

    Attributes
    ----------
    name, kind : str
        As in the request; of a relay's coil and contacts with their terminals.
    group : str
        Its kind of element in the network and in the solution.
    nodes : tuple of str
        Its two ends.
    asked : Fields
        As the request describes it.
    ambient_c : float
        Of its zone. [degC]
    needed_v : float or None
        Voltage that a load needs in this case. [V]
    is_load, is_held : bool
        Whether it is one of the loads, and whether it has pulled in before.
    """

    name: str
    kind: str
    group: str
    nodes: tuple[str, str]
    asked: Any
    ambient_c: float
    needed_v: float | None = None
    is_load: bool = False
    is_held: bool = False

    @classmethod
    def of(
        cls,
        asked: Any,
        kind: str,
        group: str,
        ambient_c: float,
        nodes: Sequence[str] = (),
        **load: Any,
    ) -> "Part":
        """Make the part that a request describes; its nodes are its own unless others are given."""
        first, second = nodes or asked.nodes
        return cls(asked.name, kind, group, (first, second), asked, ambient_c, **load)


class Sides(NamedTuple):
    """Nodes that metal joins to the live side, and to that of the ground."""

    live: set[str]
    grounded: set[str]

    def feed(self, part: Part) -> bool:
        """Whether a part has one end on each."""
        (first, second), (live, grounded) = part.nodes, self
        return (first in live and second in grounded) or (second in live and first in grounded)


# A part, the voltage across it, and the current through it.
Carrying: TypeAlias = tuple[Part, float, float]


@dataclass(frozen=True, slots=True)
class RelayInCase:
    """A relay with its coil at temperature.

    Attributes
    ----------
    drive_v, duration_s : float
        What warms its coil, and for how long; NaN for hours. [V], [s]
    coil_c : float
        Temperature of its coil, warm from use. [degC]
    resistance_ohm : float
        Of the coil, and a suppression resistor across it. [ohm]
    pick_up_v, drop_out_v : float
        At that temperature. [V]
    basis : tuple of str
        What else its heat rests on.
    """

    name: str
    drive_v: float
    duration_s: float
    coil_c: float
    resistance_ohm: float
    pick_up_v: float
    drop_out_v: float
    basis: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Model:
    """A circuit in one case, ready to be solved.

    Attributes
    ----------
    circuit, case : Circuit, Case
        As requested.
    network : Network
        For the solver.
    parts : dict of str to list of Part
        By group, in the order of the network's elements.
    order : dict of str to int
        Place of each part in the request, by name.
    where : dict of str to list of (str, int)
        Group and place in it of all that a part is, by its name.
    wires : tuple of HeatedWire or None
        In the order of the network's wires; None for one of given temperature.
    relays : tuple of RelayInCase
        In the order of the network's coils.
    held : tuple of bool
        Which relays have pulled in before.
    posts : tuple of str
        Nodes at the live post of the source and at the one that is joined to the ground.
    cranked : tuple of tuple of str
        Nodes of the starter motors of the circuit, those that a case leaves out, too.
    sign : float
        1, and -1 with positive ground: it is solved as its mirror image, the live side above 0 V.
    emf_v, internal_ohm : float
        Of the battery. [V], [ohm]
    drive_v : float
        Highest of all sources without load. [V]
    bases : dict of str to tuple of str
        What the values of each part rest on.
    """

    circuit: Circuit
    case: Case
    network: Network
    parts: Mapping[str, list[Part]]
    order: Mapping[str, int]
    where: Mapping[str, Sequence[tuple[str, int]]]
    wires: tuple[HeatedWire | None, ...]
    relays: tuple[RelayInCase, ...]
    held: tuple[bool, ...]
    posts: tuple[str, str]
    cranked: tuple[tuple[str, str], ...]
    sign: float
    emf_v: float
    internal_ohm: float
    drive_v: float
    bases: Mapping[str, tuple[str, ...]]

    @property
    def basis(self) -> tuple[str, ...]:
        """What the values rest on."""
        return merge(*self.bases.values())

    @property
    def live_post(self) -> str:
        """Node at the post that is not joined to the ground."""
        return self.posts[0]

    @cached_property
    def whole_sides(self) -> Sides:
        """The two sides of the circuit with what its case leaves out."""
        live, grounded = self.circuit.sides()
        return Sides({*live}, {*grounded})

    @cached_property
    def places(self) -> dict[str, tuple[str, int]]:
        """Group of each part by name, and its place there; a relay's name is that of its coil."""
        found: dict[str, tuple[str, int]] = {}
        for group, parts in self.parts.items():
            for at, part in enumerate(parts):
                found.setdefault(part.name, (group, at))
        return found

    @property
    def fed_from(self) -> tuple[str, ...]:
        """Nodes at the live posts of all sources."""
        return tuple(live for live, _ in self.fed_between)

    @cached_property
    def fed_between(self) -> tuple[tuple[str, str], ...]:
        """Both posts of all sources, on the live side first: of one that is turned its other."""
        found = []
        for part in self.fed_by:
            live, grounded = part.nodes
            is_turned = part.name in self.turned
            found.append((grounded, live) if is_turned else (live, grounded))
        return tuple(found)

    @cached_property
    def turned(self) -> frozenset[str]:
        """Names of sources that are joined to the battery the wrong way round."""
        left_out = {*self.case.without}
        further = (part for part in self.fed_by if part.asked is not self.circuit.source)
        return frozenset(
            part.name for part in further if self.circuit.is_turned(part.nodes, left_out)
        )

    @property
    def fed_by(self) -> tuple[Part, ...]:
        """All sources."""
        return *self.parts["sources"], *self.parts["chargers"]


@dataclass(frozen=True, eq=False)
class State:
    """A circuit in one case, at rest.

    Attributes
    ----------
    model : Model
        What was solved.
    solution : Solution
        How it rests.
    """

    model: Model
    solution: Solution

    @classmethod
    def of(cls, model: Model, solution: Solution) -> "State | CalculationError":
        """Make the state, or tell why there is none."""
        fault: CalculationError | None = solution.fault
        return cls(model, solution) if fault is None else fault

    @property
    def unfed(self) -> dict[str, CalculationError]:
        """Loads that would have to draw and cannot, and are off: why, by name."""
        drawing = [*self.model.parts["current_loads"], *self.model.parts["power_loads"]]
        return {
            drawing[place].name: error
            for place, error in self.solution.without_operating_point.items()
        }

    @property
    def open_contacts(self) -> frozenset[Part]:
        """Contacts of relays that are open."""
        closed = self.solution.closed.tolist()
        contacts = zip(self.model.parts["contacts"], closed, strict=True)
        return frozenset(part for part, is_closed in contacts if not is_closed)

    @cached_property
    def wire_temperatures_c(self) -> list[float]:
        """Of every wire; NaN of one that heats up without end. [degC]."""
        return [
            math.nan if wire is not None and hot_c >= wire.lost_c else hot_c
            for wire, hot_c in zip(
                self.model.wires, self.solution.wire_temperature_c.tolist(), strict=True
            )
        ]

    def flow(self, group: str) -> Flow:
        """Currents and drops of one kind of element."""
        found: Flow = getattr(self.solution, group)
        return found

    def carrying(self, *groups: str) -> Iterator[Carrying]:
        """Every part of some groups, with the voltage across it and the current through it."""
        for group in groups:
            flow = self.flow(group)
            yield from zip(
                self.model.parts[group], flow.drop_v.tolist(), flow.current_a.tolist(), strict=True
            )

    def named(self, name: str) -> Part | None:
        """A part by name; None where a case leaves it out."""
        group, at = self.model.places.get(name, ("", 0))
        return self.model.parts[group][at] if group else None

    def is_closed(self, relay: str) -> bool:
        """Whether a relay by name has pulled in; not where a case leaves it out."""
        return any(
            on and each.name == relay
            for each, on in zip(self.model.relays, self.solution.energised.tolist(), strict=True)
        )

    def across_v(self, name: str) -> float:
        """Voltage across a part by name; 0 where a case leaves it out. [V]."""
        group, at = self.model.places.get(name, ("", 0))
        return float(self.flow(group).drop_v[at]) if group else 0.0

    def contact_a(self, name: str) -> float:
        """Current through a part by name, of a relay that through its contact. [A]."""
        for at, part in enumerate(self.model.parts["contacts"]):
            if part.name == name:
                return float(self.flow("contacts").current_a[at])
        return self.current_a(name)

    def current_a(self, name: str) -> float:
        """Current through a part by name; 0 where a case leaves it out. [A]."""
        group, at = self.model.places.get(name, ("", 0))
        return float(self.flow(group).current_a[at]) if group else 0.0
