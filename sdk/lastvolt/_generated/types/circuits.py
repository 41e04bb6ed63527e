# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Whole circuits."""

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import (
    Construction,
    DeratingPoint,
    FuseFamily,
    Insulation,
    LoadKind,
    Material,
    Part,
    Quantity,
    Standard,
    Suppression,
)

OutputSpreadCode = Literal["load_voltage", "load_margin", "coil_voltage", "coil_margin"]
"""What `OutputSpread.code` may be."""


class RelayData(TypedDict):
    """What is known of a relay, wherever it is wired; what is not given is not judged, and told."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    rating_a: NotRequired[Quantity]
    """Steady current that the contact is rated for. From 0.001 to 10000. [A]"""
    rating_ambient_c: NotRequired[Quantity]
    """Ambient temperature of that rating. From -60 to 250, by default 23. [degC]"""
    derating: NotRequired[Sequence[DeratingPoint]]
    """The maker's points above the rating's ambient, in rising order of temperature. At most 20
    of them, by default none.
    """
    make_rating_a: NotRequired[Quantity]
    """Current that the contact may close on. From 0.001 to 10000. [A]"""
    rated_v: NotRequired[Quantity]
    """DC voltage that the contact is rated for; one of 6, 12 or 24 V is fit for the customary
    voltages of such a system. From 1 to 1000. [V]
    """
    load_kind: NotRequired[LoadKind]
    """Kind of load that the contact closes on, for its inrush; that of a single solenoid or coil
    is told from the circuit.
    """
    inrush_current_a: NotRequired[Quantity]
    """First current of the load, measured or from its maker. From 0 to 10000. [A]"""
    contact_resistance_ohm: Quantity
    """Of the closed contact. From 0 to 1000. [ohm]"""
    minimum_current_a: NotRequired[Quantity]
    """Smallest current that keeps the contact material clean. From 0 to 10000. [A]"""
    nominal_v: NotRequired[Quantity]
    """Nominal voltage of the coil. From 0.1 to 60. [V]"""
    coil_resistance_ohm: Quantity
    """Of the coil at the reference temperature. From 0.1 to 1000000. [ohm]"""
    pick_up_v: Quantity
    """Voltage at which the relay is sure to close, at the reference temperature. From 0.1 to 60.
    [V]
    """
    drop_out_v: Quantity
    """Voltage below which the relay opens, at the reference temperature. From 0.01 to 60. [V]"""
    reference_temperature_c: NotRequired[Quantity]
    """Temperature of the maker's values. From -60 to 400, by default 20. [degC]"""
    maximum_v: NotRequired[Quantity]
    """Highest lasting voltage at the coil; by default that of the source without load, which is
    too much where a resistor lies before the coil. From 0.1 to 60. [V]
    """
    thermal_resistance_k_per_w: NotRequired[Quantity]
    """Rise of the coil per watt. From 0.001 to 10000. [K/W]"""
    thermal_time_constant_s: NotRequired[Quantity]
    """Of the coil's warming, for one that is on for a time; by default a short one, as practice
    has it. From 0.1 to 1000000. [s]
    """
    coil_limit_c: NotRequired[Quantity]
    """Highest temperature of the coil's insulation. From -60 to 400. [degC]"""
    highest_ambient_c: NotRequired[Quantity]
    """Highest temperature around the relay that its maker allows. From -60 to 250. [degC]"""
    suppression: NotRequired[Suppression]
    """What is wired across the coil; kind none where nothing is."""
    switch_limit_v: NotRequired[Quantity]
    """Highest voltage that the switch or driver of the coil stands. From 1 to 10000. [V]"""
    break_rating_a: NotRequired[Quantity]
    """Steady current that the break contact, 87a, is rated for at `rating_ambient_c`. From 0.001
    to 10000. [A]
    """
    ages: NotRequired[bool]
    """Whether the ageing factor of a case acts on its contact. By default ``True``."""


class ChainWire(TypedDict):
    """A wire; its ambient is that of its zone unless it gives its own.

    Give at most one of `temperature_c`, `ambient_c`.
    """

    insulation: NotRequired[Insulation]
    """Kind of insulated wire."""
    insulation_limit_c: NotRequired[Quantity]
    """Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
    [degC]
    """
    outer_diameter_mm: NotRequired[Quantity]
    """Over the insulation, in place of the usual one. From 0.2 to 60. [mm]"""
    grouped_conductors: NotRequired[int]
    """Loaded conductors side by side in the loom, itself included. From 1 to 200, by default 1."""
    altitude_m: NotRequired[Quantity]
    """Height above the sea. From 0 to 6000, by default 0. [m]"""
    ambient_c: NotRequired[Quantity]
    """Temperature of the air around the wire. From -60 to 250. [degC]"""
    material: NotRequired[Material]
    """Metal of the conductor. By default ``"copper"``."""
    construction: NotRequired[Construction]
    """Stranded or solid. By default ``"stranded"``."""
    size: str
    """Conductor size: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'."""
    standard: NotRequired[Standard]
    """Standard of the size; by default AWG, SAE or IEC 60228 by the way it is written."""
    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["wire"]
    """Wire."""
    length_m: Quantity
    """Length of the wire, one way. From 0 to 1000. [m]"""
    temperature_c: NotRequired[Quantity]
    """Temperature of the conductor; without it the current and the ambient decide. From -60 to
    300. [degC]
    """


class ChainContact(TypedDict):
    """A contact: a switch, a connector, a fuse, a ground joint."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["contact"]
    """Contact."""
    part: Part
    """What makes the contact."""
    resistance_ohm: Quantity
    """Of the contact as it is. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Quantity]
    """That the part is rated for. From 0.001 to 10000. [A]"""
    fuse_family: NotRequired[FuseFamily]
    """Family of a fuse; by default any of those that have its rating."""
    ages: NotRequired[bool]
    """Whether the ageing factor of a case acts on it. By default ``True``."""


class ChainResistance(TypedDict):
    """A known resistance."""

    name: str
    """What the answer calls this part. From 1 to 80 characters."""
    zone: NotRequired[str]
    """Zone that the part lies in, for its ambient in each case. From 1 to 80 characters."""
    kind: Literal["resistance"]
    """Resistance."""
    resistance_ohm: Quantity
    """Of the part. From 0 to 1000000. [ohm]"""


ChainPart = ChainWire | ChainContact | ChainResistance
"""`ChainWire` or `ChainContact` or `ChainResistance`, told apart by `kind`."""


class Proposal(TypedDict):
    """A relay near the load, its coil on the old wire, its contact fed from elsewhere."""

    relay: RelayData
    """The relay."""
    feed_node: str
    """Node that the relay's contact is fed from, such as the heavy cable's end. From 1 to 80
    characters.
    """
    feed: NotRequired[Sequence[ChainPart]]
    """Parts from there to terminal 30, in order: the fuse belongs here. At most 20 of them, by
    default none.
    """
    outlet: NotRequired[Sequence[ChainPart]]
    """Parts from terminal 87 to the load, in order. At most 20 of them, by default none."""
    fuse: NotRequired[Literal["none"]]
    """None where the feed is to have no fuse; left out where one stands in the feed, or is not
    known.
    """
    coil_feed_node: NotRequired[str]
    """Node that terminal 86 is fed from; by default the load's old wire. From 1 to 80
    characters.
    """
    coil_ground_node: NotRequired[str]
    """Node that terminal 85 is grounded at; by default where the load is. From 1 to 80
    characters.
    """
    load_ground_node: NotRequired[str]
    """Node that the load is grounded at then; by default where it is, and the ground where the
    switch lies in its ground lead, which then is the coil's. From 1 to 80 characters.
    """


Advice = Literal[
    "mend",
    "relay",
    "mend_then_relay",
    "insurance",
    "not_the_wiring",
    "battery_first",
    "nothing_needed",
    "find_out_first",
    "unsafe",
    "none_suffices",
]
"""What `advice` may be."""

BatteryState = Literal["frozen", "dead", "low", "weak"]
"""What `battery_state` may be."""

Code = Literal[
    "as_is", "battery", "mend", "battery_and_mend", "relay", "mend_then_relay", "all_of_these"
]
"""What `code` may be."""


class NewSwitch(TypedDict):
    """A new switch in the place of the old one."""

    resistance_ohm: Quantity
    """Of its contact. From 0 to 1000. [ohm]"""
    rating_a: NotRequired[Quantity]
    """That it is rated for. From 0.001 to 10000. [A]"""


class GivenWay(TypedDict):
    """Something that may be done for the load; several things together, where several are given."""

    name: str
    """What the answer calls this way. From 1 to 80 characters."""
    relay: NotRequired[Proposal]
    """A relay and its wires."""
    sound: NotRequired[Sequence[str]]
    """Contacts that are cleaned, tightened or replaced. At most 100 of them, by default none."""
    wires: NotRequired[Sequence[ChainWire]]
    """Wires that are replaced, each with the name of the one whose place it takes. At most 20 of
    them, by default none.
    """
    switch: NotRequired[NewSwitch]
    """A new switch in the place of `switch`."""
    own_ground: NotRequired[Sequence[ChainPart]]
    """Parts of a ground of its own, from the load's ground end to the ground, in order. At most
    20 of them, by default none.
    """
    battery: NotRequired[bool]
    """Whether the battery is charged, or replaced, until it is sound. By default ``False``."""
    cost: NotRequired[Quantity]
    """What it costs, in the same money as the others. From 0 to 1000000000."""
    work_h: NotRequired[Quantity]
    """Time that it takes. From 0 to 1000. [h]"""
    available: NotRequired[bool]
    """Whether it can be had. By default ``True``."""
