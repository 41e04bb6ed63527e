"""A circuit in one case: its parts, and how it rests."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lastvolt_service.operations.wires.heated_wire import HeatedWire
from lastvolt_service.physics.network import Flow, Solution
from lastvolt_service.physics.network_elements import Network

Data = Mapping[str, Any]
LOAD_GROUPS = ("resistors", "current_loads", "power_loads")


@dataclass(frozen=True, slots=True)
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
    data : mapping
        Its fields in the request.
    ambient_c : float
        Of its zone. [degC]
    needed_v : float or None
        Voltage that a load needs in this case. [V]
    is_load : bool
        Whether it is one of the loads.
    """

    name: str
    kind: str
    group: str
    nodes: tuple[str, str]
    data: Data
    ambient_c: float
    needed_v: float | None = None
    is_load: bool = False


@dataclass(frozen=True, slots=True)
class RelayInCase:
    """A relay with its coil at temperature.

    Attributes
    ----------
    name : str
        Its name.
    coil_c : float
        Temperature of its coil, warm from use. [degC]
    resistance_ohm : float
        Of the coil. [ohm]
    pick_up_v, drop_out_v : float
        At that temperature. [V]
    """

    name: str
    coil_c: float
    resistance_ohm: float
    pick_up_v: float
    drop_out_v: float


@dataclass(frozen=True, slots=True, eq=False)
class Model:
    """A circuit in one case, ready to be solved.

    Attributes
    ----------
    network : Network
        For the solver.
    parts : dict of str to list of Part
        By group, in the order of the network's elements.
    order : dict of str to int
        Place of each part in the request, by name.
    wires : tuple of HeatedWire or None
        In the order of the network's wires; None for one of given temperature.
    relays : tuple of RelayInCase
        In the order of the network's coils.
    held : tuple of bool
        Which relays have pulled in before.
    emf_v, internal_ohm : float
        Of the source. [V], [ohm]
    basis : tuple of str
        What the values rest on.
    """

    network: Network
    parts: Mapping[str, Sequence[Part]]
    order: Mapping[str, int]
    wires: tuple[HeatedWire | None, ...]
    relays: tuple[RelayInCase, ...]
    held: tuple[bool, ...]
    emf_v: float
    internal_ohm: float
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
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

    def flow(self, group: str) -> Flow:
        """Currents and drops of one kind of element."""
        found: Flow = getattr(self.solution, group)
        return found

    def node_v(self, name: str) -> float:
        """Voltage of a node against the ground. [V]."""
        return float(self.solution.node_voltage_v[self.model.network.node_names.index(name)])

    def across_v(self, name: str) -> float:
        """Voltage across a part by name. [V]."""
        return self._of(name)[0]

    def current_a(self, name: str) -> float:
        """Current through a part by name. [A]."""
        return self._of(name)[1]

    def _of(self, name: str) -> tuple[float, float]:
        for group, parts in self.model.parts.items():
            for index, part in enumerate(parts):
                if part.name == name:
                    flow = self.flow(group)
                    return float(flow.drop_v[index]), float(flow.current_a[index])
        return 0.0, 0.0  # left out in this case
