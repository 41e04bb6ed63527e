# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.relay_contact`."""

from dataclasses import dataclass

from lastvolt._generated.types.common import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayContact(Result):
    """Answer of ``relay-contact``.

    Attributes
    ----------
    derated_current_a : float or None
        Current allowed at this ambient; None above the maker's last point. [A]
    utilisation_percent : float or None
        Load current of that. [%]
    first_current_a : float
        First current of the load, given or at the high end of an estimate, and no less than its
        steady one. [A]
    lowest_first_current_a : float
        The same at the low end of an estimate. [A]
    most_current_a : float
        The same where it is known, else at the maker's last point, which is more. [A]
    wrong_voltage : bool
        Whether the contact is not made to break `supply_v`, a voltage that a system has.
    overcharged : bool
        Whether it is not, and no system has `supply_v`: the regulator is at fault.
    cooler_helps : bool
        Whether the contact may carry the load in a cooler place.
    air_too_hot : bool
        Whether the contact may carry nothing at `ambient_c`.
    inrush_estimated : bool
        Whether the inrush comes from a published multiple.
    contact_drop_v : float or None
        Voltage across the closed contact. [V]
    contact_power_w : float or None
        Heat made in the closed contact. [W]
    """

    derated_current_a: float | None
    """Current allowed at this ambient; None above the maker's last point. [A]"""
    utilisation_percent: float | None
    """Load current of that. [%]"""
    first_current_a: float
    """First current of the load, given or at the high end of an estimate, and no less than its
    steady one. [A]
    """
    lowest_first_current_a: float
    """The same at the low end of an estimate. [A]"""
    most_current_a: float
    """The same where it is known, else at the maker's last point, which is more. [A]"""
    wrong_voltage: bool
    """Whether the contact is not made to break `supply_v`, a voltage that a system has."""
    overcharged: bool
    """Whether it is not, and no system has `supply_v`: the regulator is at fault."""
    cooler_helps: bool
    """Whether the contact may carry the load in a cooler place."""
    air_too_hot: bool
    """Whether the contact may carry nothing at `ambient_c`."""
    inrush_estimated: bool
    """Whether the inrush comes from a published multiple."""
    contact_drop_v: float | None
    """Voltage across the closed contact. [V]"""
    contact_power_w: float | None
    """Heat made in the closed contact. [W]"""
