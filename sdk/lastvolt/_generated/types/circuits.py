# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Whole circuits."""

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import ChainPart, ChainWire, Proposal, Quantity

OutputSpreadCode = Literal["load_voltage", "load_margin", "coil_voltage", "coil_margin"]
"""What `OutputSpread.code` may be."""

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
