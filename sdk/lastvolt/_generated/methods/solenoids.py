# Generated from openapi.json by sdk/generate: do not edit.
"""Solenoids."""

from __future__ import annotations

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Solenoids(Asking):
    """Solenoids."""

    def solenoid_pull_in(
        self,
        *,
        temperature_c: types.Number,
        rated: types.RatedSolenoid | Omit = OMIT,
        windings: types.SolenoidWindings | Omit = OMIT,
        plunger: types.Plunger | Omit = OMIT,
        available_v: types.Number | Omit = OMIT,
        supply_v: types.Number | Omit = OMIT,
        path_resistance_ohm: types.Number | Omit = OMIT,
        dip_v: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.SolenoidPullIn:
        """Whether a solenoid pulls in, hot, with what reaches it.

        The plunger moves at a number of ampere-turns, so the voltage it needs grows with the
        resistance of its copper. A starter solenoid's pull-in winding returns through the motor and
        is shorted once the main contacts close; from then on only the hold-in winding holds. All
        resistances of the solenoid, the motor's included, are taken to warm alike.

        A solenoid, the temperature of its windings, and what reaches it. Give exactly one of rated,
        windings, plunger. Give exactly one of `available_v`, `supply_v`. `supply_v` and
        `path_resistance_ohm` belong together.

        Parameters
        ----------
        temperature_c : float or str
            Temperature of the windings when it must pull in. From -60 to 250. [degC]
        rated : RatedSolenoid, optional
            The solenoid by its pull-in voltage.
        windings : SolenoidWindings, optional
            The solenoid by its two windings.
        plunger : Plunger, optional
            The solenoid by force and air gap.
        available_v : float or str, optional
            Voltage at the solenoid's terminal with its current flowing. From 0.1 to 60. [V]
        supply_v : float or str, optional
            Voltage at the start of the path, with its `path_resistance_ohm`. From 0.1 to 60. [V]
        path_resistance_ohm : float or str, optional
            Of the path to the solenoid, out and back. From 0 to 1000. [ohm]
        dip_v : float or str, optional
            Lowest voltage at the terminal while it must hold, such as in a cranking dip. From 0 to
            60. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.SolenoidPullIn,
            "solenoid-pull-in",
            temperature_c=temperature_c,
            rated=rated,
            windings=windings,
            plunger=plunger,
            available_v=available_v,
            supply_v=supply_v,
            path_resistance_ohm=path_resistance_ohm,
            dip_v=dip_v,
            explain=explain,
        )
