# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.solenoid_pull_in`."""

from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import Number, Result


class RatedSolenoid(TypedDict):
    """A solenoid by its maker's pull-in voltage, or by a test on the bench."""

    pull_in_v: Number
    """Voltage at which the plunger is sure to move. From 0.1 to 60. [V]"""
    hold_in_v: NotRequired[Number]
    """Voltage below which it lets go. From 0.01 to 60. [V]"""
    resistance_ohm: NotRequired[Number]
    """Between its terminal and ground before it closes, for currents and paths. From 0.001 to
    1000000. [ohm]
    """
    reference_temperature_c: NotRequired[Number]
    """Winding temperature of these values. From -60 to 400, by default 20. [degC]"""


class SolenoidWindings(TypedDict):
    """A starter solenoid by its two windings."""

    pull_in_turns: Number
    """Turns of the pull-in winding. From 1 to 1000000."""
    pull_in_resistance_ohm: Number
    """Of the pull-in winding, which returns through the motor. From 0.001 to 1000000. [ohm]"""
    hold_in_turns: Number
    """Turns of the hold-in winding. From 1 to 1000000."""
    hold_in_resistance_ohm: Number
    """Of the hold-in winding, which goes to ground. From 0.001 to 1000000. [ohm]"""
    motor_resistance_ohm: NotRequired[Number]
    """Of the starter motor at rest. From 0 to 1000000, by default 0. [ohm]"""
    ampere_turns: Number
    """Of both windings together at which the plunger moves. From 0.001 to 1000000. [A]"""
    hold_ampere_turns: NotRequired[Number]
    """That keep the closed plunger. From 0.001 to 1000000. [A]"""
    reference_temperature_c: NotRequired[Number]
    """Temperature of these resistances. From -60 to 400, by default 20. [degC]"""


class Plunger(TypedDict):
    """A solenoid by the force that its plunger needs.

    `hold_force_n` and `hold_gap_mm` belong together.
    """

    force_n: Number
    """Force that moves the plunger. From 0.001 to 1000000. [N]"""
    gap_mm: Number
    """Air gap before it moves. From 0.001 to 1000. [mm]"""
    area_mm2: Number
    """Area of the pole. From 0.1 to 100000. [mm2]"""
    turns: Number
    """Turns of the winding. From 1 to 1000000."""
    resistance_ohm: Number
    """Of the winding at the reference temperature. From 0.001 to 1000000. [ohm]"""
    hold_force_n: NotRequired[Number]
    """Force that keeps the closed plunger. From 0.001 to 1000000. [N]"""
    hold_gap_mm: NotRequired[Number]
    """Air gap that is left when it has closed. From 0.001 to 1000. [mm]"""
    reference_temperature_c: NotRequired[Number]
    """Temperature of this resistance. From -60 to 400, by default 20. [degC]"""


SolenoidPullInFault = Literal[
    "overcharged",
    "for_less",
    "pull_in_open",
    "hold_in_open",
    "for_more",
    "brushes",
    "hold_in_data",
    "perhaps_for_less",
]
"""What `SolenoidPullIn.fault` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SolenoidPullIn(Result):
    """Answer of ``solenoid-pull-in``.

    Attributes
    ----------
    hot_pull_in_v : float
        Voltage at the terminal that moves the plunger at `temperature_c`. [V]
    pull_in_current_a : float or None
        Current at which it moves, the same at any temperature. [A]
    hot_resistance_ohm : float or None
        Between terminal and ground before it closes, at `temperature_c`. [ohm]
    available_v : float
        Voltage that reaches the terminal with its current flowing. [V]
    margin_v : float
        `available_v` over `hot_pull_in_v`. [V]
    hot_hold_in_v : float or None
        Voltage that keeps it closed at `temperature_c`, with the pull-in winding shorted out. [V]
    hold_margin_v : float or None
        `dip_v` over `hot_hold_in_v`. [V]
    maximum_path_resistance_ohm : float or None
        Largest path resistance from `supply_v` at which it still pulls in (beyond `available_v`, if
        that was given); None where none is small enough or the resistance is not known. [ohm]
    fault : SolenoidPullInFault or None
        What no path, battery or cooling makes good: no system has such a supply, the regulator is
        at fault; it is made for a lower voltage; its pull-in or its hold-in winding is open; it is
        made for a higher voltage; its pull-in winding gets too little through the motor's brushes;
        it cannot hold as described, though no winding is open; it may be made for a lower voltage;
        None for nothing.
    cooling_can_help : bool
        Whether windings of 20 degC would pull in, where these do not.
    path_can_help : bool
        Whether a sound path would bring enough: from `supply_v`, or, where `available_v` was given
        and is not as much already as a sound path brings, from a full battery.
    battery_can_help : bool
        Whether `supply_v` is less than a battery in use has, and a full one would bring enough.
    maximum_temperature_c : float or None
        Highest winding temperature at which it still pulls in; None where there is none. [degC]
    """

    hot_pull_in_v: float
    """Voltage at the terminal that moves the plunger at `temperature_c`. [V]"""
    pull_in_current_a: float | None
    """Current at which it moves, the same at any temperature. [A]"""
    hot_resistance_ohm: float | None
    """Between terminal and ground before it closes, at `temperature_c`. [ohm]"""
    available_v: float
    """Voltage that reaches the terminal with its current flowing. [V]"""
    margin_v: float
    """`available_v` over `hot_pull_in_v`. [V]"""
    hot_hold_in_v: float | None
    """Voltage that keeps it closed at `temperature_c`, with the pull-in winding shorted out. [V]"""
    hold_margin_v: float | None
    """`dip_v` over `hot_hold_in_v`. [V]"""
    maximum_path_resistance_ohm: float | None
    """Largest path resistance from `supply_v` at which it still pulls in (beyond `available_v`,
    if that was given); None where none is small enough or the resistance is not known. [ohm]
    """
    fault: SolenoidPullInFault | None
    """What no path, battery or cooling makes good: no system has such a supply, the regulator is
    at fault; it is made for a lower voltage; its pull-in or its hold-in winding is open; it is
    made for a higher voltage; its pull-in winding gets too little through the motor's brushes;
    it cannot hold as described, though no winding is open; it may be made for a lower voltage;
    None for nothing.
    """
    cooling_can_help: bool
    """Whether windings of 20 degC would pull in, where these do not."""
    path_can_help: bool
    """Whether a sound path would bring enough: from `supply_v`, or, where `available_v` was
    given and is not as much already as a sound path brings, from a full battery.
    """
    battery_can_help: bool
    """Whether `supply_v` is less than a battery in use has, and a full one would bring enough."""
    maximum_temperature_c: float | None
    """Highest winding temperature at which it still pulls in; None where there is none. [degC]"""
