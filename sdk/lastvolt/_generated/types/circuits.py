# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Whole circuits."""

from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import Number

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

BatteryState = Literal["frozen_or_dead", "frozen", "dead", "low", "weak"]
"""What `battery_state` may be."""

Code = Literal[
    "as_is", "battery", "mend", "battery_and_mend", "relay", "mend_then_relay", "all_of_these"
]
"""What `code` may be."""


class StarterMotor(TypedDict):
    """A starter's main contact and motor."""

    stud_node: str
    """Node at terminal 30, the end of the heavy cable. From 1 to 80 characters."""
    contact_resistance_ohm: Number
    """Of the closed main contact. From 0 to 1. [ohm]"""
    motor_resistance_ohm: Number
    """Of the motor at a stand, with its brushes: worn ones stop the pull-in winding, too. From
    0.0001 to 1000. [ohm]
    """
    back_v: NotRequired[Number]
    """Voltage that the motor makes while it cranks, 0 for one that stands; without it how it
    cranks is not judged. From 0 to 60. [V]
    """
    needed_v: NotRequired[Number]
    """At the motor, to crank fast enough. From 0.1 to 60. [V]"""
