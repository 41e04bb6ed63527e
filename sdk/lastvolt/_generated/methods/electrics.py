# Generated from openapi.json by sdk/generate: do not edit.
"""What feeds the circuits, and what the driver's switch carries."""

from __future__ import annotations

from collections.abc import Sequence

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Electrics(Asking):
    """What feeds the circuits, and what the driver's switch carries."""

    def battery_voltage(
        self,
        *,
        nominal_v: types.Nominal,
        cold_cranking_a: types.Number,
        temperature_c: types.Number,
        current_a: types.Number,
        state_of_charge_percent: types.Number | Omit = OMIT,
        internal_resistance_ohm: types.Number | Omit = OMIT,
        ageing_factor: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.BatteryVoltage:
        """Voltage that a battery keeps under a load, by charge and temperature.

        The open-circuit voltage follows from the state of charge. The internal resistance is
        estimated: from the cold-cranking rating at -18 degC, and from published cranking power at
        other temperatures, never below the coldest published one. Charge and age make it an
        interval, and a verdict that flips within it is undecided; a measured resistance replaces
        it. A low charge is said first. The sag is held against what a load test asks for.

        A battery with a load on it.

        Parameters
        ----------
        nominal_v : {6, 12, 24}
            Nominal voltage: 6, 12 or 24. [V]
        cold_cranking_a : float or str
            Cold-cranking rating: the current that it delivers for 30 s at -18 degC. From 1 to 5000.
            [A]
        temperature_c : float or str
            Temperature of the electrolyte. From -60 to 100. [degC]
        current_a : float or str
            Current that is drawn from it. From 0 to 10000. [A]
        state_of_charge_percent : float or str, optional
            State of charge; left out it is taken as full, and told as not judged. From 0 to 100.
            [%]
        internal_resistance_ohm : float or str, optional
            Measured at this temperature and state of charge, in place of the estimate. From 0.00001
            to 10. [ohm]
        ageing_factor : float or str, optional
            Most that age may have multiplied its resistance by; 1 of a new battery. From 1 to 10,
            by default 2.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.BatteryVoltage,
            "battery-voltage",
            nominal_v=nominal_v,
            cold_cranking_a=cold_cranking_a,
            temperature_c=temperature_c,
            current_a=current_a,
            state_of_charge_percent=state_of_charge_percent,
            internal_resistance_ohm=internal_resistance_ohm,
            ageing_factor=ageing_factor,
            explain=explain,
        )

    def switch_loading(
        self,
        *,
        rating_a: types.Number,
        contact_resistance_ohm: types.Number,
        loads: Sequence[types.SwitchLoad],
        relay_coil_current_a: types.Number | Omit = OMIT,
        supply_v: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.SwitchLoading:
        """What a switch carries in each position, and which loads should get a relay.

        The heat in its contacts grows with the square of the current, so the last load added costs
        most. A load with a relay leaves only the relay's coil on the switch. Current, drop and heat
        of every position are held against the rating and published practice. Of all sets of relays
        with which every position passes, the smallest is told, and of those the one that leaves the
        switch coolest.

        A switch of several positions with its loads.

        Parameters
        ----------
        rating_a : float or str
            Steady current that the switch is rated for. From 0.001 to 10000. [A]
        contact_resistance_ohm : float or str
            Of the closed switch, as it is. From 0 to 1000. [ohm]
        loads : sequence of SwitchLoad
            What the switch feeds, in any position. From 1 to 50 of them.
        relay_coil_current_a : float or str, optional
            What the coil of each relay takes. From 0 to 10, by default 0.2. [A]
        supply_v : float or str, optional
            Voltage at the switch, to tell the share of it that the contacts take. From 0.1 to 60.
            [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.SwitchLoading,
            "switch-loading",
            rating_a=rating_a,
            contact_resistance_ohm=contact_resistance_ohm,
            loads=loads,
            relay_coil_current_a=relay_coil_current_a,
            supply_v=supply_v,
            explain=explain,
        )
