"""Whole circuits and the cases that are laid over them."""

from collections.abc import Mapping, Sequence
from typing import Literal, NotRequired, TypedDict

from lastvolt.inputs.words import (
    CircuitKind,
    Construction,
    ContactPart,
    Insulation,
    Material,
    Nominal,
    Number,
    Standard,
)


class Interval(TypedDict):
    """A number known only within bounds."""

    low: Number
    high: Number


Quantity = Number | Interval
"""A number of a circuit: as it is, or within bounds that the answer carries through."""


class ChainWire(TypedDict):
    """A wire; with neither temperature it is as warm as its zone and its current make it."""

    kind: Literal["wire"]
    name: str
    size: str
    length_m: Quantity
    zone: NotRequired[str]
    standard: NotRequired[Standard]
    temperature_c: NotRequired[Quantity]
    ambient_c: NotRequired[Quantity]
    insulation: NotRequired[Insulation]
    insulation_limit_c: NotRequired[Quantity]
    outer_diameter_mm: NotRequired[Quantity]
    grouped_conductors: NotRequired[int]
    altitude_m: NotRequired[Quantity]
    material: NotRequired[Material]
    construction: NotRequired[Construction]


class ChainContact(TypedDict):
    """A contact: a switch, a connector, a fuse, a ground joint."""

    kind: Literal["contact"]
    name: str
    part: ContactPart
    resistance_ohm: Quantity
    zone: NotRequired[str]
    rating_a: NotRequired[Quantity]
    ages: NotRequired[bool]


class ChainResistance(TypedDict):
    """A known resistance."""

    kind: Literal["resistance"]
    name: str
    resistance_ohm: Quantity
    zone: NotRequired[str]


class CircuitWire(ChainWire):
    """A wire of a circuit, between two nodes."""

    nodes: Sequence[str]


class CircuitContact(ChainContact):
    """A contact of a circuit, between two nodes."""

    nodes: Sequence[str]


class CircuitResistance(ChainResistance):
    """A known resistance of a circuit, between two nodes."""

    nodes: Sequence[str]


class _Load(TypedDict):
    """What every load has."""

    name: str
    nodes: Sequence[str]
    zone: NotRequired[str]
    needed_v: NotRequired[Quantity]
    circuit: NotRequired[CircuitKind]


class ResistanceLoad(_Load):
    """A load of constant resistance, or of a copper winding as warm as its zone."""

    kind: Literal["resistance"]
    resistance_ohm: Quantity
    copper: NotRequired[bool]


class CurrentLoad(_Load):
    """A load of constant current."""

    kind: Literal["current"]
    current_a: Quantity


class PowerLoad(_Load):
    """A load of constant power."""

    kind: Literal["power"]
    power_w: Quantity


class CircuitRated(TypedDict):
    """A solenoid of a circuit by its pull-in voltage."""

    pull_in_v: Quantity
    resistance_ohm: Quantity
    hold_in_v: NotRequired[Quantity]
    reference_temperature_c: NotRequired[Quantity]


class CircuitWindings(TypedDict):
    """A starter solenoid of a circuit by its two windings."""

    pull_in_turns: Quantity
    pull_in_resistance_ohm: Quantity
    hold_in_turns: Quantity
    hold_in_resistance_ohm: Quantity
    ampere_turns: Quantity
    motor_resistance_ohm: NotRequired[Quantity]
    hold_ampere_turns: NotRequired[Quantity]
    reference_temperature_c: NotRequired[Quantity]


class CircuitPlunger(TypedDict):
    """A solenoid of a circuit by the force that its plunger needs."""

    force_n: Quantity
    gap_mm: Quantity
    area_mm2: Quantity
    turns: Quantity
    resistance_ohm: Quantity
    hold_force_n: NotRequired[Quantity]
    hold_gap_mm: NotRequired[Quantity]
    reference_temperature_c: NotRequired[Quantity]


class SolenoidLoad(_Load):
    """A solenoid as warm as its zone, by one of its three descriptions."""

    kind: Literal["solenoid"]
    rated: NotRequired[CircuitRated]
    windings: NotRequired[CircuitWindings]
    plunger: NotRequired[CircuitPlunger]


class RelayData(TypedDict):
    """What is known of a relay, wherever it is wired."""

    name: str
    coil_resistance_ohm: Quantity
    pick_up_v: Quantity
    drop_out_v: Quantity
    contact_resistance_ohm: Quantity
    zone: NotRequired[str]
    reference_temperature_c: NotRequired[Quantity]
    thermal_resistance_k_per_w: NotRequired[Quantity]
    rating_a: NotRequired[Quantity]
    ages: NotRequired[bool]


class Relay(RelayData):
    """A relay of a circuit: 86 and 85, 30 and 87, and 30 and 87a where it changes over."""

    coil_nodes: Sequence[str]
    contact_nodes: Sequence[str]
    break_nodes: NotRequired[Sequence[str]]


class CircuitBattery(TypedDict):
    """The battery of a circuit; without a temperature as cold as its zone."""

    nominal_v: Nominal
    cold_cranking_a: Quantity
    state_of_charge_percent: NotRequired[Quantity]
    temperature_c: NotRequired[Quantity]
    internal_resistance_ohm: NotRequired[Quantity]


class Source(TypedDict):
    """What feeds a circuit: a battery, or a voltage with its internal resistance."""

    plus: str
    minus: NotRequired[str]
    zone: NotRequired[str]
    open_circuit_v: NotRequired[Quantity]
    internal_resistance_ohm: NotRequired[Quantity]
    battery: NotRequired[CircuitBattery]


Branch = CircuitWire | CircuitContact | CircuitResistance
Load = ResistanceLoad | CurrentLoad | PowerLoad | SolenoidLoad
ChainPart = ChainWire | ChainContact | ChainResistance


class Circuit(TypedDict):
    """A network as it lies in the vehicle; nodes are there because parts name them."""

    source: Source
    branches: Sequence[Branch]
    loads: Sequence[Load]
    relays: NotRequired[Sequence[Relay]]
    ground: NotRequired[str]


class Case(TypedDict):
    """A named condition, laid over a circuit."""

    name: str
    ambient_c: NotRequired[Quantity]
    zone_ambients_c: NotRequired[Mapping[str, Quantity]]
    open_circuit_v: NotRequired[Quantity]
    internal_resistance_ohm: NotRequired[Quantity]
    state_of_charge_percent: NotRequired[Quantity]
    ageing_factor: NotRequired[Quantity]
    without: NotRequired[Sequence[str]]
    held: NotRequired[Sequence[str]]
    duration_s: NotRequired[Quantity]


class Proposal(TypedDict):
    """A relay near the load, its coil on the old wire, its contact fed from elsewhere."""

    relay: RelayData
    feed_node: str
    feed: NotRequired[Sequence[ChainPart]]
    outlet: NotRequired[Sequence[ChainPart]]
    coil_ground_node: NotRequired[str]
