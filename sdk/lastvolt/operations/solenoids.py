"""Solenoids."""

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Solenoids(Asking):
    """Ask about solenoids."""

    def solenoid_pull_in(
        self,
        *,
        temperature_c: inputs.Number,
        rated: inputs.RatedSolenoid | Omit = OMIT,
        windings: inputs.SolenoidWindings | Omit = OMIT,
        plunger: inputs.Plunger | Omit = OMIT,
        available_v: inputs.Number | Omit = OMIT,
        supply_v: inputs.Number | Omit = OMIT,
        path_resistance_ohm: inputs.Number | Omit = OMIT,
        dip_v: inputs.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.SolenoidPullIn:
        """Check that a solenoid pulls in, and holds, on what reaches it.

        Exactly one of the three descriptions is given, and either the voltage that is available
        or a supply with the resistance of the path.

        Parameters
        ----------
        temperature_c : float
            Of the windings when it must pull in. [degC]
        rated : mapping, optional
            The solenoid by its pull-in voltage.
        windings : mapping, optional
            The solenoid by its two windings.
        plunger : mapping, optional
            The solenoid by force and air gap.
        available_v : float, optional
            Voltage at the solenoid's terminal with its current flowing. [V]
        supply_v : float, optional
            Voltage at the start of the path. [V]
        path_resistance_ohm : float, optional
            Of the path to the solenoid, out and back. [ohm]
        dip_v : float, optional
            Lowest voltage at the terminal while it must hold, such as in a cranking dip. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        SolenoidPullIn
        """
        return self._ask(
            models.SolenoidPullIn,
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
