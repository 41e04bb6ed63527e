# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.wire_sizing`."""

from dataclasses import dataclass

from lastvolt._generated.types.common import Result
from lastvolt.answers import Model


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate(Model):
    """One size that was tried.

    Attributes
    ----------
    size : str
        The size.
    area_mm2 : float
        Section of metal. [mm2]
    drop_v : float or None
        Voltage lost on the whole loop; None where the wire heats up without end. [V]
    conductor_temperature_c : float or None
        Steady, likewise. [degC]
    permissible_current_a : float
        Steady current, the lower of model and table. [A]
    fuse_rating_a : float or None
        Fuse that fits; None where none does. [A]
    failing : tuple of str
        Codes of the checks that it fails.
    wants_fuse_only : bool
        Whether it would do, were there a fuse that carries the load and protects it.
    """

    size: str
    """The size."""
    area_mm2: float
    """Section of metal. [mm2]"""
    drop_v: float | None
    """Voltage lost on the whole loop; None where the wire heats up without end. [V]"""
    conductor_temperature_c: float | None
    """Steady, likewise. [degC]"""
    permissible_current_a: float
    """Steady current, the lower of model and table. [A]"""
    fuse_rating_a: float | None
    """Fuse that fits; None where none does. [A]"""
    failing: tuple[str, ...]
    """Codes of the checks that it fails."""
    wants_fuse_only: bool
    """Whether it would do, were there a fuse that carries the load and protects it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSizing(Result):
    """Answer of ``wire-sizing``.

    Attributes
    ----------
    size : str or None
        Smallest size that passes all; None where none does.
    standard : str
        Standard of the sizes.
    area_mm2 : float or None
        Section of that size. [mm2]
    loop_length_m : float
        Length of wire that the drop is reckoned over, out and back. [m]
    body_resistance_ohm : float
        Of the return through the body; 0 with a return wire. [ohm]
    drop_v : float or None
        Voltage lost on the whole loop, in the phase that its limit speaks of: of a starter control
        circuit with both windings in, at 20 degC. [V]
    contacts_drop_v : float
        Of this for the contacts of the path: given, or kept back for them. [V]
    limit_drop_v : float
        Limit of it. [V]
    limit_applies_to : str or None
        What the limit speaks of: load (its own current, the whole path out and back with its
        contacts), `both_windings` (of a starter's solenoid in, at 20 degC, the whole path), or
        cranking (both battery cables together); None for a limit of the caller's.
    load_voltage_v : float or None
        Voltage that reaches the load. [V]
    conductor_temperature_c : float or None
        Temperature of the conductor: steady, or at the end of its time on. [degC]
    permissible_current_a : float or None
        Steady current that the size may carry. [A]
    duty_current_a : float or None
        Current that it may carry for the load's times; None for a steady load. [A]
    fuse_rating_a : float or None
        Fuse that carries the load and protects the size. [A]
    fuse_family : str or None
        Family of that fuse.
    overload_current_a : float or None
        The overload that is worst for the size; None where none was judged. [A]
    overload_time_s : float or None
        Longest time in which the fuse interrupts it. [s]
    ambient_c : float
        Ambient that was reckoned with. [degC]
    heat_decides : bool
        Whether a thinner wire would do in better insulation or cooler air: the air leaves this
        insulation little.
    no_size_helps : str or None
        Why none does: `low_supply`, which has less than the load needs; ambient, where the air is
        as hot as the insulation may become; `fixed_drop`, where body and contacts alone lose what
        the path may; None where that is not so.
    candidates : tuple of Candidate
        The sizes from the smallest up to the one that passes.
    """

    size: str | None
    """Smallest size that passes all; None where none does."""
    standard: str
    """Standard of the sizes."""
    area_mm2: float | None
    """Section of that size. [mm2]"""
    loop_length_m: float
    """Length of wire that the drop is reckoned over, out and back. [m]"""
    body_resistance_ohm: float
    """Of the return through the body; 0 with a return wire. [ohm]"""
    drop_v: float | None
    """Voltage lost on the whole loop, in the phase that its limit speaks of: of a starter
    control circuit with both windings in, at 20 degC. [V]
    """
    contacts_drop_v: float
    """Of this for the contacts of the path: given, or kept back for them. [V]"""
    limit_drop_v: float
    """Limit of it. [V]"""
    limit_applies_to: str | None
    """What the limit speaks of: load (its own current, the whole path out and back with its
    contacts), `both_windings` (of a starter's solenoid in, at 20 degC, the whole path), or
    cranking (both battery cables together); None for a limit of the caller's.
    """
    load_voltage_v: float | None
    """Voltage that reaches the load. [V]"""
    conductor_temperature_c: float | None
    """Temperature of the conductor: steady, or at the end of its time on. [degC]"""
    permissible_current_a: float | None
    """Steady current that the size may carry. [A]"""
    duty_current_a: float | None
    """Current that it may carry for the load's times; None for a steady load. [A]"""
    fuse_rating_a: float | None
    """Fuse that carries the load and protects the size. [A]"""
    fuse_family: str | None
    """Family of that fuse."""
    overload_current_a: float | None
    """The overload that is worst for the size; None where none was judged. [A]"""
    overload_time_s: float | None
    """Longest time in which the fuse interrupts it. [s]"""
    ambient_c: float
    """Ambient that was reckoned with. [degC]"""
    heat_decides: bool
    """Whether a thinner wire would do in better insulation or cooler air: the air leaves this
    insulation little.
    """
    no_size_helps: str | None
    """Why none does: `low_supply`, which has less than the load needs; ambient, where the air is
    as hot as the insulation may become; `fixed_drop`, where body and contacts alone lose what
    the path may; None where that is not so.
    """
    candidates: tuple[Candidate, ...]
    """The sizes from the smallest up to the one that passes."""
