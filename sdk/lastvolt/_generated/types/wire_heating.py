# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.wire_heating`."""

from dataclasses import dataclass

from lastvolt._generated.types.common import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class WireHeating(Result):
    """Answer of ``wire-heating``.

    Attributes
    ----------
    ambient_c : float
        Ambient that was reckoned with. [degC]
    insulation_limit_c : float
        Temperature that the conductor may have. [degC]
    conductor_temperature_c : float or None
        Steady temperature at the current; None where the wire heats up without end. [degC]
    surface_temperature_c : float or None
        Of the insulation, likewise. [degC]
    permissible_current_a : float
        Steady current, the lower of model and table. [A]
    permissible_model_a : float
        The same by the heat balance. [A]
    permissible_table_a : float
        The same by a published table, carried over to section, rating, ambient and loom. [A]
    permissible_from : str
        Which of both is the lower one: model or table.
    time_constant_s : float or None
        Of the rise about the steady state; None where there is none. [s]
    temperature_after_on_time_c : float or None
        Conductor after `on_time_s` from ambient; None without `on_time_s`, or where the insulation
        is gone before. [degC]
    duty_current_a : float or None
        Current permissible for `on_time_s` and `off_time_s`; None without `on_time_s`. [A]
    short_circuit_a2s : float or None
        Let-through that takes the conductor from the insulation limit to its short-circuit
        temperature; None where that is not known. [A2s]
    """

    ambient_c: float
    """Ambient that was reckoned with. [degC]"""
    insulation_limit_c: float
    """Temperature that the conductor may have. [degC]"""
    conductor_temperature_c: float | None
    """Steady temperature at the current; None where the wire heats up without end. [degC]"""
    surface_temperature_c: float | None
    """Of the insulation, likewise. [degC]"""
    permissible_current_a: float
    """Steady current, the lower of model and table. [A]"""
    permissible_model_a: float
    """The same by the heat balance. [A]"""
    permissible_table_a: float
    """The same by a published table, carried over to section, rating, ambient and loom. [A]"""
    permissible_from: str
    """Which of both is the lower one: model or table."""
    time_constant_s: float | None
    """Of the rise about the steady state; None where there is none. [s]"""
    temperature_after_on_time_c: float | None
    """Conductor after `on_time_s` from ambient; None without `on_time_s`, or where the
    insulation is gone before. [degC]
    """
    duty_current_a: float | None
    """Current permissible for `on_time_s` and `off_time_s`; None without `on_time_s`. [A]"""
    short_circuit_a2s: float | None
    """Let-through that takes the conductor from the insulation limit to its short-circuit
    temperature; None where that is not known. [A2s]
    """
