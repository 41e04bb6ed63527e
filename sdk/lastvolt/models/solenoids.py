"""Answers about solenoids."""

from dataclasses import dataclass

from lastvolt.models.base import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class SolenoidPullIn(Result):
    """Answer of `lastvolt.Client.solenoid_pull_in`.

    Attributes
    ----------
    pull_in_v : float
        Voltage at the terminal that moves the plunger. [V]
    pull_in_current_a : float or None
        Current at which it moves, the same at any temperature. [A]
    resistance_ohm : float or None
        Between terminal and ground before it closes, at that temperature. [ohm]
    available_v : float
        Voltage that reaches the terminal with its current flowing. [V]
    margin_v : float
        `available_v` over `pull_in_v`. [V]
    hold_in_v : float or None
        Voltage that keeps it closed, with the pull-in winding shorted out. [V]
    hold_margin_v : float or None
        Voltage in a dip over `hold_in_v`. [V]
    maximum_path_resistance_ohm : float or None
        Largest path resistance at which it still pulls in; None where none is small enough or
        the resistance of the solenoid is not known. [ohm]
    maximum_temperature_c : float or None
        Highest winding temperature at which it still pulls in. [degC]
    """

    pull_in_v: float
    pull_in_current_a: float | None
    resistance_ohm: float | None
    available_v: float
    margin_v: float
    hold_in_v: float | None
    hold_margin_v: float | None
    maximum_path_resistance_ohm: float | None
    maximum_temperature_c: float | None
