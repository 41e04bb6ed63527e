# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_coil`."""

from dataclasses import dataclass
from typing import Literal

from lastvolt._generated.types.common import Result
from lastvolt.answers import Model

Misfit = Literal["other_voltage", "overcharged", "perhaps_other_voltage", "short_use"]
"""What `RelayCoil.misfit` may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SuppressionResult(Model):
    """What happens when the coil is switched off.

    Attributes
    ----------
    kind : str or None
        None, diode, resistor or zener; None where it was not given.
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

    kind: str | None
    """None, diode, resistor or zener; None where it was not given."""
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
    misfit : Misfit or None
        What is wrong before any voltage is weighed: `nominal_v` is not for a system of `drive_v`;
        no system has such a `drive_v`, the regulator is at fault; without a `maximum_v`,
        `available_v` is that of a system of less than `nominal_v`, or the feed is bad; or the coil
        does not stand its own nominal voltage for hours, and no `duration_s` is given; None for
        nothing.
    drive_v : float
        `maximum_v`; without it what is known to come: the larger of `nominal_v`, `available_v`. [V]
    feed_can_help : bool
        Whether `maximum_v`, where it is known, closes the warm coil.
    air_too_hot : bool
        Whether the air alone is as hot as the coil may be.
    coil_temperature_c : float
        At ambient, or warm from `drive_v` if energised before. [degC]
    warm_temperature_c : float or None
        Of a coil warm from use; None without `thermal_resistance_k_per_w`. [degC]
    warming_time_constant_s : float or None
        That was reckoned with for `duration_s`; None where it is on for hours. [s]
    hot_coil_resistance_ohm : float
        Of the coil at `coil_temperature_c`. [ohm]
    coil_current_a : float
        At `drive_v` and `coil_temperature_c`. [A]
    coil_power_w : float
        The same as heat. [W]
    switch_current_a : float
        Through what switches the coil: the coil's, and that of a resistor across it. [A]
    hot_pick_up_v : float
        Voltage that closes the relay at `coil_temperature_c`. [V]
    hot_drop_out_v : float or None
        Voltage below which it opens at `coil_temperature_c`. [V]
    pick_up_margin_v : float
        `available_v` over `hot_pick_up_v`. [V]
    hold_margin_v : float or None
        `dip_v` over `hot_drop_out_v`. [V]
    maximum_continuous_v : float or None
        Voltage that heats the coil to `coil_limit_c` at this ambient, in `duration_s` where given.
        [V]
    suppression : SuppressionResult
        What happens at switch-off.
    """

    misfit: Misfit | None
    """What is wrong before any voltage is weighed: `nominal_v` is not for a system of `drive_v`;
    no system has such a `drive_v`, the regulator is at fault; without a `maximum_v`,
    `available_v` is that of a system of less than `nominal_v`, or the feed is bad; or the coil
    does not stand its own nominal voltage for hours, and no `duration_s` is given; None for
    nothing.
    """
    drive_v: float
    """`maximum_v`; without it what is known to come: the larger of `nominal_v`, `available_v`.
    [V]
    """
    feed_can_help: bool
    """Whether `maximum_v`, where it is known, closes the warm coil."""
    air_too_hot: bool
    """Whether the air alone is as hot as the coil may be."""
    coil_temperature_c: float
    """At ambient, or warm from `drive_v` if energised before. [degC]"""
    warm_temperature_c: float | None
    """Of a coil warm from use; None without `thermal_resistance_k_per_w`. [degC]"""
    warming_time_constant_s: float | None
    """That was reckoned with for `duration_s`; None where it is on for hours. [s]"""
    hot_coil_resistance_ohm: float
    """Of the coil at `coil_temperature_c`. [ohm]"""
    coil_current_a: float
    """At `drive_v` and `coil_temperature_c`. [A]"""
    coil_power_w: float
    """The same as heat. [W]"""
    switch_current_a: float
    """Through what switches the coil: the coil's, and that of a resistor across it. [A]"""
    hot_pick_up_v: float
    """Voltage that closes the relay at `coil_temperature_c`. [V]"""
    hot_drop_out_v: float | None
    """Voltage below which it opens at `coil_temperature_c`. [V]"""
    pick_up_margin_v: float
    """`available_v` over `hot_pick_up_v`. [V]"""
    hold_margin_v: float | None
    """`dip_v` over `hot_drop_out_v`. [V]"""
    maximum_continuous_v: float | None
    """Voltage that heats the coil to `coil_limit_c` at this ambient, in `duration_s` where
    given. [V]
    """
    suppression: SuppressionResult
    """What happens at switch-off."""
