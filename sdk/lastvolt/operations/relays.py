"""Relay coils and contacts."""

from collections.abc import Sequence

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Relays(Asking):
    """Ask about relays."""

    def relay_coil(
        self,
        *,
        nominal_v: inputs.Number,
        coil_resistance_ohm: inputs.Number,
        pick_up_v: inputs.Number,
        ambient_c: inputs.Number,
        available_v: inputs.Number,
        drop_out_v: inputs.Number | Omit = OMIT,
        reference_temperature_c: inputs.Number | Omit = OMIT,
        dip_v: inputs.Number | Omit = OMIT,
        maximum_v: inputs.Number | Omit = OMIT,
        thermal_resistance_k_per_w: inputs.Number | Omit = OMIT,
        coil_limit_c: inputs.Number | Omit = OMIT,
        energised_before: bool | Omit = OMIT,
        suppression: inputs.Suppression | Omit = OMIT,
        switch_limit_v: inputs.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.RelayCoil:
        """Check that a relay closes, holds and keeps cool where it is mounted.

        Parameters
        ----------
        nominal_v : float
            Nominal voltage of the coil. [V]
        coil_resistance_ohm : float
            Of the coil at the reference temperature. [ohm]
        pick_up_v : float
            At which the relay is sure to close, at the reference temperature. [V]
        ambient_c : float
            Temperature around the relay. [degC]
        available_v : float
            Lowest voltage at the coil when the relay must close. [V]
        drop_out_v : float, optional
            Below which the relay opens, at the reference temperature. [V]
        reference_temperature_c : float, optional
            Temperature of the maker's values, by default 20. [degC]
        dip_v : float, optional
            Lowest voltage at the coil while it must hold, such as in a cranking dip. [V]
        maximum_v : float, optional
            Highest lasting voltage at the coil, such as the charging voltage. [V]
        thermal_resistance_k_per_w : float, optional
            Rise of the coil per watt. [K/W]
        coil_limit_c : float, optional
            Highest temperature of the coil's insulation. [degC]
        energised_before : bool, optional
            Whether the headline values are for a coil that was energised until just before; true
            by default.
        suppression : mapping, optional
            What is wired across the coil; nothing by default.
        switch_limit_v : float, optional
            Highest voltage that the switch or driver of the coil stands. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        RelayCoil
        """
        return self._ask(
            models.RelayCoil,
            "relay-coil",
            nominal_v=nominal_v,
            coil_resistance_ohm=coil_resistance_ohm,
            pick_up_v=pick_up_v,
            ambient_c=ambient_c,
            available_v=available_v,
            drop_out_v=drop_out_v,
            reference_temperature_c=reference_temperature_c,
            dip_v=dip_v,
            maximum_v=maximum_v,
            thermal_resistance_k_per_w=thermal_resistance_k_per_w,
            coil_limit_c=coil_limit_c,
            energised_before=energised_before,
            suppression=suppression,
            switch_limit_v=switch_limit_v,
            explain=explain,
        )

    def relay_contact(
        self,
        *,
        rating_a: inputs.Number,
        supply_v: inputs.Number,
        rated_v: inputs.Number,
        load_current_a: inputs.Number,
        load_kind: inputs.LoadKind,
        ambient_c: inputs.Number,
        rating_ambient_c: inputs.Number | Omit = OMIT,
        derating: Sequence[inputs.DeratingPoint] | Omit = OMIT,
        make_rating_a: inputs.Number | Omit = OMIT,
        inrush_current_a: inputs.Number | Omit = OMIT,
        contact_resistance_ohm: inputs.Number | Omit = OMIT,
        minimum_current_a: inputs.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.RelayContact:
        """Check that a relay's contact closes on, carries and breaks its load.

        Parameters
        ----------
        rating_a : float
            Steady current that the contact is rated for. [A]
        supply_v : float
            Highest voltage that the contact breaks. [V]
        rated_v : float
            DC voltage that the contact is rated for. [V]
        load_current_a : float
            Steady current of the load. [A]
        load_kind : str
            Kind of load, for its inrush.
        ambient_c : float
            Temperature around the relay. [degC]
        rating_ambient_c : float, optional
            Ambient temperature of the rating, by default 23. [degC]
        derating : sequence of mapping, optional
            The maker's points above that temperature, in rising order of temperature.
        make_rating_a : float, optional
            Current that the contact may close on. [A]
        inrush_current_a : float, optional
            First current of the load, measured or from its maker. [A]
        contact_resistance_ohm : float, optional
            Of the closed contact. [ohm]
        minimum_current_a : float, optional
            Smallest current that keeps the contact material clean. [A]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        RelayContact
        """
        return self._ask(
            models.RelayContact,
            "relay-contact",
            rating_a=rating_a,
            supply_v=supply_v,
            rated_v=rated_v,
            load_current_a=load_current_a,
            load_kind=load_kind,
            ambient_c=ambient_c,
            rating_ambient_c=rating_ambient_c,
            derating=OMIT if isinstance(derating, Omit) else list(derating),
            make_rating_a=make_rating_a,
            inrush_current_a=inrush_current_a,
            contact_resistance_ohm=contact_resistance_ohm,
            minimum_current_a=minimum_current_a,
            explain=explain,
        )
