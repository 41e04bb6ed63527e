"""A circuit as a network, in requests."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from marshmallow import ValidationError, fields, validates_schema

from lastvolt_service.operations.solenoids.pull_in import (
    Plunger,
    RatedSolenoid,
    SolenoidWindings,
)
from lastvolt_service.operations.sources.battery import Battery
from lastvolt_service.schemas.base import Groups, JSONObject, Request
from lastvolt_service.schemas.described import plain_schema
from lastvolt_service.schemas.fields import (
    Choice,
    Flag,
    Kinded,
    Many,
    Name,
    Part,
    Quantity,
)
from lastvolt_service.schemas.parts import (
    CIRCUITS,
    MAX_SUPPLY_V,
    Surroundings,
    WireSize,
    supply,
)
from lastvolt_service.schemas.wires import HIGHEST_CONDUCTOR_C, LENGTH
from lastvolt_service.tables.limits import contact_limits
from lastvolt_service.tables.practice import GROUND
from lastvolt_service.units import Interval

MAX_NODES = 200
MAX_BRANCHES = 500
ZONE = "zone that the part lies in, for its ambient in each case"


def nodes(description: str, *, optional: bool = False) -> fields.Field[Any]:
    """Make a field for the two nodes that a part joins.

    Parameters
    ----------
    description : str
        Which two.
    optional : bool
        Whether it may be left out.

    Returns
    -------
    Field
    """
    pair = Many(Name("a node"), description, minimum=2, maximum=2)
    if optional:
        pair.required = False
    return pair


class OptionalName(Name):
    """A label that may be left out."""

    def __init__(self, description: str) -> None:
        super().__init__(description)
        self.required = False


class Toleranced(Request):
    """Any quantity may be given as ``{"low": …, "high": …}``."""

    toleranced: ClassVar[bool] = True


class Placed(Toleranced):
    """A part in a zone."""

    name = Name("what the answer calls this part")
    zone = OptionalName(ZONE)


class Joined(Placed):
    """A part between two nodes."""

    nodes = nodes("the two nodes that it joins; currents count from the first to the second")


class ChainWire(Placed, WireSize, Surroundings):
    """A wire; its ambient is that of its zone unless it gives its own."""

    at_most_one_of: ClassVar[Groups] = (("temperature_c", "ambient_c"),)

    kind = Choice("wire", ("wire",))
    length_m = Quantity(LENGTH)
    temperature_c = Quantity(
        "temperature of the conductor; without it the current and the ambient decide",
        maximum=HIGHEST_CONDUCTOR_C,
        optional=True,
    )


class ChainContact(Placed):
    """A contact: a switch, a connector, a fuse, a ground joint."""

    kind = Choice("contact", ("contact",))
    part = Choice("what makes the contact", tuple(contact_limits()))
    resistance_ohm = Quantity("of the contact as it is", maximum=1e3)
    rating_a = Quantity("that the part is rated for", minimum=1e-3, optional=True)
    ages = Flag("whether the ageing factor of a case acts on it", default=True)


class ChainResistance(Placed):
    """A known resistance."""

    kind = Choice("resistance", ("resistance",))
    resistance_ohm = Quantity("of the part")


class CircuitWire(Joined, ChainWire):
    """A wire of a circuit."""


class CircuitContact(Joined, ChainContact):
    """A contact of a circuit."""


class CircuitResistance(Joined, ChainResistance):
    """A known resistance of a circuit."""


class Load(Joined):
    """What every load has."""

    needed_v = Quantity(
        "lowest voltage that it works at", minimum=0.1, maximum=MAX_SUPPLY_V, optional=True
    )
    circuit = Choice(
        "kind of circuit, to hold the drop from the source to the load and back against practice",
        CIRCUITS,
        optional=True,
    )


class ResistanceLoad(Load):
    """A load of constant resistance, or of a copper winding."""

    kind = Choice("resistance", ("resistance",))
    resistance_ohm = Quantity("of the load at 20 degC", minimum=1e-4)
    copper = Flag("whether it is a copper winding as warm as its zone", default=False)


class CurrentLoad(Load):
    """A load of constant current."""

    kind = Choice("current", ("current",))
    current_a = Quantity("that it takes at any voltage")


class PowerLoad(Load):
    """A load of constant power."""

    kind = Choice("power", ("power",))
    power_w = Quantity("that it takes at any voltage")


class CircuitRated(Toleranced, plain_schema(RatedSolenoid)):  # type: ignore[misc]  # made
    """A solenoid of a circuit by its pull-in voltage."""

    resistance_ohm = Quantity("between its terminal and ground before it closes", minimum=1e-3)


class CircuitWindings(Toleranced, plain_schema(SolenoidWindings)):  # type: ignore[misc]  # made
    """A starter solenoid of a circuit by its two windings."""


class CircuitPlunger(Toleranced, plain_schema(Plunger)):  # type: ignore[misc]  # made
    """A solenoid of a circuit by the force that its plunger needs."""


class SolenoidLoad(Load):
    """A solenoid as warm as its zone; the voltage it needs follows from that."""

    exactly_one_of: ClassVar[Groups] = (("rated", "windings", "plunger"),)

    kind = Choice("solenoid", ("solenoid",))
    rated = Part(CircuitRated, "the solenoid by its pull-in voltage", optional=True)
    windings = Part(CircuitWindings, "the solenoid by its two windings", optional=True)
    plunger = Part(CircuitPlunger, "the solenoid by force and air gap", optional=True)


def _end(value: float | Interval, *, low: bool) -> float:
    return (value.low if low else value.high) if isinstance(value, Interval) else value


class RelayData(Toleranced):
    """What is known of a relay, wherever it is wired."""

    name = Name("what the answer calls this relay")
    zone = OptionalName(ZONE)
    coil_resistance_ohm = Quantity("of the coil at the reference temperature", minimum=0.1)
    pick_up_v = supply("voltage at which the relay is sure to close, at the reference temperature")
    drop_out_v = supply(
        "voltage below which the relay opens, at the reference temperature", minimum=0.01
    )
    reference_temperature_c = Quantity("temperature of these values", default=20.0)
    thermal_resistance_k_per_w = Quantity(
        "rise of the coil per watt; without it the coil is as warm as its zone", optional=True
    )
    contact_resistance_ohm = Quantity("of the closed contact", maximum=1e3)
    rating_a = Quantity("that the contact is rated for at its ambient", minimum=1e-3, optional=True)
    ages = Flag("whether the ageing factor of a case acts on its contact", default=True)

    @validates_schema
    def _opens_below_closing(self, data: JSONObject, **_kwargs: object) -> None:
        if _end(data["drop_out_v"], low=False) >= _end(data["pick_up_v"], low=True):
            raise ValidationError({"drop_out_v": ["This must be below pick_up_v."]})


class Relay(RelayData):
    """A relay of a circuit: terminals 85, 86, 30 and 87, and 87a where it changes over."""

    coil_nodes = nodes("nodes at 86 and 85")
    contact_nodes = nodes("nodes at 30 and 87")
    break_nodes = nodes("nodes at 30 and 87a", optional=True)


class CircuitBattery(Battery):
    """The battery of a circuit by its ratings and state."""

    toleranced = True


class Source(Toleranced):
    """What feeds the circuit, at a battery post."""

    exactly_one_of: ClassVar[Groups] = (("open_circuit_v", "battery"),)
    needs: ClassVar[Groups] = (("open_circuit_v", "internal_resistance_ohm"),)

    plus = Name("node at the positive post")
    minus = OptionalName("node at the negative post; by default the ground")
    zone = OptionalName(ZONE)
    open_circuit_v = supply("voltage without load", optional=True)
    internal_resistance_ohm = Quantity("of the source", maximum=10.0, optional=True)
    battery = Part(plain_schema(CircuitBattery), "the battery by its ratings", optional=True)


class Circuit(Toleranced):
    """A network as it lies in the vehicle; nodes are there because parts name them."""

    ground = OptionalName(f"node at 0 V; by default {GROUND!r}")
    source = Part(Source, "what feeds the circuit")
    branches = Many(
        Kinded({"wire": CircuitWire, "contact": CircuitContact, "resistance": CircuitResistance}),
        "wires, contacts and resistances, the body and its joints included",
        minimum=0,
        maximum=MAX_BRANCHES,
    )
    loads = Many(  # type: ignore[assignment]  # a field of this name hides no method
        Kinded(
            {
                "resistance": ResistanceLoad,
                "current": CurrentLoad,
                "power": PowerLoad,
                "solenoid": SolenoidLoad,
            }
        ),
        "what is fed",
        maximum=MAX_BRANCHES,
    )
    relays = Many(Part(Relay, "one relay"), "relays", minimum=0, maximum=50, optional=True)

    @validates_schema
    def _names_and_size(self, data: JSONObject, **_kwargs: object) -> None:
        parts = list(named_parts(data))
        counted = Counter(part["name"] for _, _, part in parts)
        errors: dict[str, dict[int, Any]] = {}
        for group, index, part in parts:
            if counted[part["name"]] > 1:
                wrong = {"name": ["Another part has this name."]}
                errors.setdefault(group, {})[index] = wrong
            for field in ("nodes", "coil_nodes", "contact_nodes", "break_nodes"):
                if field in part and part[field][0] == part[field][1]:
                    wrong = {field: ["A part must join two different nodes."]}
                    errors.setdefault(group, {})[index] = wrong
        if errors:
            raise ValidationError(errors)
        if len(parts) > MAX_BRANCHES:
            raise ValidationError(f"A circuit may have {MAX_BRANCHES} parts at most.")
        if len(node_names(data)) > MAX_NODES:
            raise ValidationError(f"A circuit may have {MAX_NODES} nodes at most.")


def named_parts(circuit: Mapping[str, Any]) -> Iterator[tuple[str, int, Mapping[str, Any]]]:
    """Walk all parts of a circuit.

    Parameters
    ----------
    circuit : mapping
        As loaded.

    Yields
    ------
    group : str
    index : int
    part : mapping
    """
    for group in ("branches", "loads", "relays"):
        for index, part in enumerate(circuit[group]):
            yield group, index, part


def node_names(circuit: Mapping[str, Any]) -> set[str]:
    """Collect the nodes of a circuit.

    Parameters
    ----------
    circuit : mapping
        As loaded.

    Returns
    -------
    set of str
    """
    source = circuit["source"]
    ground = circuit.get("ground", GROUND)
    found = {ground, source["plus"], source.get("minus", ground)}
    for _, _, part in named_parts(circuit):
        for field in ("nodes", "coil_nodes", "contact_nodes", "break_nodes"):
            found.update(part.get(field, ()))
    return found
