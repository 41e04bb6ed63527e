"""Answers about relay coils and contacts."""

from dataclasses import dataclass

from lastvolt.models.base import Model, Result


@dataclass(frozen=True, slots=True)
class SuppressionResult(Model):
    """What happens when a coil is switched off.

    Attributes
    ----------
    kind : str
        None, diode, resistor or zener, in lower case.
    peak_v : float or None
        Peak across the switch that opens the coil; None without suppression. [V]
    resistor_current_a : float or None
        Lasting extra current of a resistor. [A]
    resistor_power_w : float or None
        Heat made in a resistor while the coil is on. [W]
    release_time_constants : float or None
        Time until the current falls to drop-out, in multiples of the coil's L/R.
    """

    kind: str
    peak_v: float | None
    resistor_current_a: float | None
    resistor_power_w: float | None
    release_time_constants: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayCoil(Result):
    """Answer of `lastvolt.Client.relay_coil`.

    Attributes
    ----------
    coil_temperature_c : float
        At ambient, or warm from use if energised before. [degC]
    coil_resistance_ohm : float
        At that temperature. [ohm]
    coil_current_a : float
        At `maximum_v`, or `nominal_v` without it, and that temperature. [A]
    coil_power_w : float
        The same as heat. [W]
    pick_up_v : float
        Voltage that closes the relay at that temperature. [V]
    drop_out_v : float or None
        Voltage below which it opens at that temperature. [V]
    pick_up_margin_v : float
        Available voltage over `pick_up_v`. [V]
    hold_margin_v : float or None
        Voltage in a dip over `drop_out_v`. [V]
    maximum_continuous_v : float or None
        Voltage that heats the coil to its limit at this ambient. [V]
    suppression : SuppressionResult
        What happens at switch-off.
    """

    coil_temperature_c: float
    coil_resistance_ohm: float
    coil_current_a: float
    coil_power_w: float
    pick_up_v: float
    drop_out_v: float | None
    pick_up_margin_v: float
    hold_margin_v: float | None
    maximum_continuous_v: float | None
    suppression: SuppressionResult


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayContact(Result):
    """Answer of `lastvolt.Client.relay_contact`.

    Attributes
    ----------
    derated_current_a : float or None
        Current allowed at this ambient; None above the maker's last point. [A]
    utilisation_percent : float or None
        Load current of that. [%]
    inrush_current_a : float
        First current of the load, given or estimated. [A]
    inrush_estimated : bool
        Whether the inrush comes from a published multiple.
    contact_drop_v : float or None
        Voltage across the closed contact. [V]
    contact_power_w : float or None
        Heat made in the closed contact. [W]
    """

    derated_current_a: float | None
    utilisation_percent: float | None
    inrush_current_a: float
    inrush_estimated: bool
    contact_drop_v: float | None
    contact_power_w: float | None
