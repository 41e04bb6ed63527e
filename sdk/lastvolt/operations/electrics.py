"""What feeds the circuits, and what the driver's switch carries."""

from collections.abc import Sequence

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Electrics(Asking):
    """Ask about batteries and switches."""

    def battery_voltage(
        self,
        *,
        nominal_v: inputs.Nominal,
        cold_cranking_a: inputs.Number,
        temperature_c: inputs.Number,
        current_a: inputs.Number,
        state_of_charge_percent: inputs.Number | Omit = OMIT,
        internal_resistance_ohm: inputs.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.BatteryVoltage:
        """Work out what a battery keeps under a load, by charge and temperature.

        Parameters
        ----------
        nominal_v : int
            6, 12 or 24. [V]
        cold_cranking_a : float
            Cold-cranking rating: what it delivers for 30 s at -18 degC. [A]
        temperature_c : float
            Temperature of the electrolyte. [degC]
        current_a : float
            Current that is drawn from it. [A]
        state_of_charge_percent : float, optional
            By default 100. [%]
        internal_resistance_ohm : float, optional
            Measured, in place of the estimate. [ohm]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        BatteryVoltage
        """
        return self._ask(
            models.BatteryVoltage,
            "battery-voltage",
            nominal_v=nominal_v,
            cold_cranking_a=cold_cranking_a,
            temperature_c=temperature_c,
            current_a=current_a,
            state_of_charge_percent=state_of_charge_percent,
            internal_resistance_ohm=internal_resistance_ohm,
            explain=explain,
        )

    def switch_loading(
        self,
        *,
        rating_a: inputs.Number,
        contact_resistance_ohm: inputs.Number,
        loads: Sequence[inputs.SwitchLoad],
        relay_coil_current_a: inputs.Number | Omit = OMIT,
        supply_v: inputs.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.SwitchLoading:
        """Work out what a switch carries in each position, and which loads should get a relay.

        Parameters
        ----------
        rating_a : float
            Steady current that the switch is rated for. [A]
        contact_resistance_ohm : float
            Of the closed switch, as it is. [ohm]
        loads : sequence of mapping
            What the switch feeds, in any position.
        relay_coil_current_a : float, optional
            What the coil of each relay takes, by default 0.2. [A]
        supply_v : float, optional
            Voltage at the switch, to tell the share of it that the contacts take. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        SwitchLoading
        """
        return self._ask(
            models.SwitchLoading,
            "switch-loading",
            rating_a=rating_a,
            contact_resistance_ohm=contact_resistance_ohm,
            loads=list(loads),
            relay_coil_current_a=relay_coil_current_a,
            supply_v=supply_v,
            explain=explain,
        )
