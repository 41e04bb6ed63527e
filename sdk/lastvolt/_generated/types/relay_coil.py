# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_coil`."""

from dataclasses import dataclass
from typing import Literal, NotRequired, TypedDict

from lastvolt._generated.types.common import Number, Result
from lastvolt.answers import Model

SuppressionKind = Literal["none", "diode", "resistor", "zener"]
"""What `Suppression.kind` may be."""


class Suppression(TypedDict):
    """What is wired across a coil against its switch-off peak."""

    kind: SuppressionKind
    """None, diode, resistor or zener."""
    resistance_ohm: NotRequired[Number]
    """Of the resistor across the coil. From 1 to 1000000. [ohm]"""
    zener_v: NotRequired[Number]
    """Clamping voltage of the zener with the diode in series with it. From 1 to 1000. [V]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SuppressionResult(Model):
    """What happens when the coil is switched off.

    Attributes
    ----------
    kind : str
        None, diode, resistor or zener.
    peak_v : float or None
        Peak across the switch that opens the coil; None without suppression. [V]
    resistor_current_a : float or None
        Lasting extra current of a resistor. [A]
    resistor_power_w : float or None
        Heat made in a resistor while the coil is on. [W]
    release_time_constants : float or None
        Time until the current falls to drop-out, in multiples of the coil's L/R; None without
        `drop_out_v`.
    """

    kind: str
    """None, diode, resistor or zener."""
    peak_v: float | None
    """Peak across the switch that opens the coil; None without suppression. [V]"""
    resistor_current_a: float | None
    """Lasting extra current of a resistor. [A]"""
    resistor_power_w: float | None
    """Heat made in a resistor while the coil is on. [W]"""
    release_time_constants: float | None
    """Time until the current falls to drop-out, in multiples of the coil's L/R; None without
    `drop_out_v`.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayCoil(Result):
    """Answer of ``relay-coil``.

    Attributes
    ----------
    coil_temperature_c : float
        At ambient, or warm from `maximum_v` (`nominal_v` without it) if energised before. [degC]
    warm_temperature_c : float or None
        Of a coil warm from use; None without `thermal_resistance_k_per_w`. [degC]
    hot_coil_resistance_ohm : float
        Of the coil at `coil_temperature_c`. [ohm]
    coil_current_a : float
        At `maximum_v` (`nominal_v` without it) and `coil_temperature_c`. [A]
    coil_power_w : float
        The same as heat. [W]
    hot_pick_up_v : float
        Voltage that closes the relay at `coil_temperature_c`. [V]
    hot_drop_out_v : float or None
        Voltage below which it opens at `coil_temperature_c`. [V]
    pick_up_margin_v : float
        `available_v` over `hot_pick_up_v`. [V]
    hold_margin_v : float or None
        `dip_v` over `hot_drop_out_v`. [V]
    maximum_continuous_v : float or None
        Voltage that heats the coil to `coil_limit_c` at this ambient. [V]
    suppression : SuppressionResult
        What happens at switch-off.
    """

    coil_temperature_c: float
    """At ambient, or warm from `maximum_v` (`nominal_v` without it) if energised before. [degC]"""
    warm_temperature_c: float | None
    """Of a coil warm from use; None without `thermal_resistance_k_per_w`. [degC]"""
    hot_coil_resistance_ohm: float
    """Of the coil at `coil_temperature_c`. [ohm]"""
    coil_current_a: float
    """At `maximum_v` (`nominal_v` without it) and `coil_temperature_c`. [A]"""
    coil_power_w: float
    """The same as heat. [W]"""
    hot_pick_up_v: float
    """Voltage that closes the relay at `coil_temperature_c`. [V]"""
    hot_drop_out_v: float | None
    """Voltage below which it opens at `coil_temperature_c`. [V]"""
    pick_up_margin_v: float
    """`available_v` over `hot_pick_up_v`. [V]"""
    hold_margin_v: float | None
    """`dip_v` over `hot_drop_out_v`. [V]"""
    maximum_continuous_v: float | None
    """Voltage that heats the coil to `coil_limit_c` at this ambient. [V]"""
    suppression: SuppressionResult
    """What happens at switch-off."""
