"""Answers about heat in wires, their sizes and their fuses."""

from dataclasses import dataclass

from lastvolt.models.base import Model, Result


@dataclass(frozen=True, slots=True, kw_only=True)
class WireHeating(Result):
    """Answer of `lastvolt.Client.wire_heating`.

    Attributes
    ----------
    ambient_c : float
        Ambient that was reckoned with. [degC]
    insulation_limit_c : float
        Temperature that the conductor may have. [degC]
    conductor_temperature_c, surface_temperature_c : float or None
        Steady, at the current; None where the wire heats up without end. [degC]
    permissible_current_a : float
        Steady current that the wire may carry, the lower of model and table. [A]
    permissible_model_a : float
        The same by the heat balance. [A]
    permissible_table_a : float or None
        The same by a published table; None where none covers the case. [A]
    permissible_basis : str
        Which of both is the lower one.
    time_constant_s : float or None
        Of the rise about the steady state; None where there is none. [s]
    temperature_after_on_time_c : float or None
        Of the conductor after the load, from ambient; None without `on_time_s`, or where the
        insulation is gone before. [degC]
    duty_current_a : float or None
        Permissible for the load and its rest; None without `on_time_s`. [A]
    short_circuit_a2s : float or None
        Let-through that takes the conductor from its limit to its short-circuit temperature;
        None where that is not known. [A2s]
    """

    ambient_c: float
    insulation_limit_c: float
    conductor_temperature_c: float | None
    surface_temperature_c: float | None
    permissible_current_a: float
    permissible_model_a: float
    permissible_table_a: float | None
    permissible_basis: str
    time_constant_s: float | None
    temperature_after_on_time_c: float | None
    duty_current_a: float | None
    short_circuit_a2s: float | None


@dataclass(frozen=True, slots=True)
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
        Steady current that it may carry. [A]
    fuse_rating_a : float or None
        Fuse that fits; None where none does. [A]
    failing : tuple of str
        Names of the checks that it fails.
    """

    size: str
    area_mm2: float
    drop_v: float | None
    conductor_temperature_c: float | None
    permissible_current_a: float
    fuse_rating_a: float | None
    failing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSizing(Result):
    """Answer of `lastvolt.Client.wire_sizing`; what depends on a size is None where none passes.

    Attributes
    ----------
    size : str or None
        Smallest size that passes all.
    standard : str
        Standard of the sizes.
    area_mm2 : float or None
        Section of that size. [mm2]
    loop_length_m : float
        Length of wire that the drop is reckoned over, out and back. [m]
    body_resistance_ohm : float
        Of the return through the body; 0 with a return wire. [ohm]
    drop_v : float or None
        Voltage lost on the whole loop. [V]
    limit_drop_v : float
        Limit of it. [V]
    load_voltage_v : float or None
        Voltage that reaches the load. [V]
    conductor_temperature_c : float or None
        Steady temperature of the conductor. [degC]
    permissible_current_a : float or None
        Steady current that the size may carry. [A]
    fuse_rating_a : float or None
        Fuse that carries the load and protects the size. [A]
    fuse_family : str or None
        Family of that fuse.
    ambient_c : float
        Ambient that was reckoned with. [degC]
    candidates : tuple of Candidate
        The sizes from the smallest up to the one that passes.
    """

    size: str | None
    standard: str
    area_mm2: float | None
    loop_length_m: float
    body_resistance_ohm: float
    drop_v: float | None
    limit_drop_v: float
    load_voltage_v: float | None
    conductor_temperature_c: float | None
    permissible_current_a: float | None
    fuse_rating_a: float | None
    fuse_family: str | None
    ambient_c: float
    candidates: tuple[Candidate, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseSelection(Result):
    """Answer of `lastvolt.Client.fuse_selection`.

    Attributes
    ----------
    fuse_rating_a : float or None
        Smallest standard rating inside the window; None where there is none. [A]
    fuse_family : str or None
        Family of that rating.
    lower_a : float
        Smallest rating that carries the load and its inrush. [A]
    upper_a : float
        Largest rating that protects the wire. [A]
    permissible_current_a : float
        Steady current that the wire may carry. [A]
    ambient_c : float
        Ambient of the wire that was reckoned with. [degC]
    fuse_ambient_c : float
        Ambient of the fuse that was reckoned with. [degC]
    """

    fuse_rating_a: float | None
    fuse_family: str | None
    lower_a: float
    upper_a: float
    permissible_current_a: float
    ambient_c: float
    fuse_ambient_c: float
