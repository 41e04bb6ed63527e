# Generated from openapi.json by sdk/generate: do not edit.
"""Types of `lastvolt.Client.battery_voltage`."""

from dataclasses import dataclass

from lastvolt._generated.types.common import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class BatteryVoltage(Result):
    """Answer of ``battery-voltage``.

    Attributes
    ----------
    open_circuit_v : float
        At the posts without load, rested. [V]
    internal_resistance_ohm : float or None
        Of the battery at this temperature; None where it is colder than any cranking power that is
        published and none is given, and with it all that follows from it. [ohm]
    internal_resistance_low_ohm : float or None
        Least that it may have: of a new one that betters its rating; as measured. [ohm]
    internal_resistance_high_ohm : float or None
        Most that it may have by its charge and age; as measured. [ohm]
    internal_resistance_estimated : bool
        Whether it is told from the cold-cranking rating, not measured.
    terminal_v : float or None
        At the posts with the current flowing. [V]
    terminal_low_v : float or None
        The same with the most internal resistance. [V]
    terminal_high_v : float or None
        The same with the least internal resistance. [V]
    flat : bool
        Whether it is charged to a quarter at most.
    too_hot : bool
        Whether it is too hot to be charged.
    may_be_frozen : bool
        Whether it is colder than its electrolyte freezes at, or nearly so.
    short_circuit_a : float or None
        Into a dead short across the posts. [A]
    load_test_a : float
        Current of a load test: half of the cold-cranking rating. [A]
    load_test_v : float or None
        What a load test asks a sound battery for at this temperature; None where it is colder than
        any that is published. [V]
    """

    open_circuit_v: float
    """At the posts without load, rested. [V]"""
    internal_resistance_ohm: float | None
    """Of the battery at this temperature; None where it is colder than any cranking power that
    is published and none is given, and with it all that follows from it. [ohm]
    """
    internal_resistance_low_ohm: float | None
    """Least that it may have: of a new one that betters its rating; as measured. [ohm]"""
    internal_resistance_high_ohm: float | None
    """Most that it may have by its charge and age; as measured. [ohm]"""
    internal_resistance_estimated: bool
    """Whether it is told from the cold-cranking rating, not measured."""
    terminal_v: float | None
    """At the posts with the current flowing. [V]"""
    terminal_low_v: float | None
    """The same with the most internal resistance. [V]"""
    terminal_high_v: float | None
    """The same with the least internal resistance. [V]"""
    flat: bool
    """Whether it is charged to a quarter at most."""
    too_hot: bool
    """Whether it is too hot to be charged."""
    may_be_frozen: bool
    """Whether it is colder than its electrolyte freezes at, or nearly so."""
    short_circuit_a: float | None
    """Into a dead short across the posts. [A]"""
    load_test_a: float
    """Current of a load test: half of the cold-cranking rating. [A]"""
    load_test_v: float | None
    """What a load test asks a sound battery for at this temperature; None where it is colder
    than any that is published. [V]
    """
