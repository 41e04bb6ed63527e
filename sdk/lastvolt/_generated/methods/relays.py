# Generated from openapi.json by sdk/generate: do not edit.
"""Relay coils and contacts."""

from __future__ import annotations

from collections.abc import Sequence

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Relays(Asking):
    """Relay coils and contacts."""

    def relay_coil(
        self,
        *,
        nominal_v: types.Number,
        coil_resistance_ohm: types.Number,
        pick_up_v: types.Number,
        ambient_c: types.Number,
        available_v: types.Number,
        drop_out_v: types.Number | Omit = OMIT,
        reference_temperature_c: types.Number | Omit = OMIT,
        maximum_v: types.Number | Omit = OMIT,
        thermal_resistance_k_per_w: types.Number | Omit = OMIT,
        thermal_time_constant_s: types.Number | Omit = OMIT,
        coil_limit_c: types.Number | Omit = OMIT,
        highest_ambient_c: types.Number | Omit = OMIT,
        suppression: types.Suppression | Omit = OMIT,
        switch_limit_v: types.Number | Omit = OMIT,
        dip_v: types.Number | Omit = OMIT,
        duration_s: types.Number | Omit = OMIT,
        energised_before: bool | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.RelayCoil:
        """Whether a relay's coil closes, holds and survives where it is mounted.

        The pick-up current of a coil is constant, so the voltage that it needs grows with the
        resistance of its copper: in a hot engine bay, and again when it has been energised. It is
        held against the lowest voltage that reaches the coil; drop-out against the lowest voltage
        while it must hold; the charging voltage against what the coil stands at this ambient, for
        as long as it is on.

        A relay's coil where it is mounted.

        Parameters
        ----------
        nominal_v : float or str
            Nominal voltage of the coil. From 0.1 to 60. [V]
        coil_resistance_ohm : float or str
            Of the coil at the reference temperature. From 0.1 to 1000000. [ohm]
        pick_up_v : float or str
            Voltage at which the relay is sure to close, at the reference temperature. From 0.1 to
            60. [V]
        ambient_c : float or str
            Temperature around the relay. From -60 to 200. [degC]
        available_v : float or str
            Lowest voltage at the coil when the relay must close. From 0.1 to 60. [V]
        drop_out_v : float or str, optional
            Voltage below which the relay opens, at the reference temperature. From 0.01 to 60. [V]
        reference_temperature_c : float or str, optional
            Temperature of the maker's values. From -60 to 400, by default 20. [degC]
        maximum_v : float or str, optional
            Highest lasting voltage at the coil, such as the charging voltage. From 0.1 to 60. [V]
        thermal_resistance_k_per_w : float or str, optional
            Rise of the coil per watt. From 0.001 to 10000. [K/W]
        thermal_time_constant_s : float or str, optional
            Of the coil's warming, for one that is on for a time; by default a short one, as
            practice has it. From 0.1 to 1000000. [s]
        coil_limit_c : float or str, optional
            Highest temperature of the coil's insulation. From -60 to 400. [degC]
        highest_ambient_c : float or str, optional
            Highest temperature around the relay that its maker allows. From -60 to 250. [degC]
        suppression : Suppression, optional
            What is wired across the coil; kind none where nothing is.
        switch_limit_v : float or str, optional
            Highest voltage that the switch or driver of the coil stands. From 1 to 10000. [V]
        dip_v : float or str, optional
            Lowest voltage at the coil while it must hold, such as in a cranking dip. From 0 to 60.
            [V]
        duration_s : float or str, optional
            How long the coil is on at a time, from a start at ambient; without it for hours. From
            0.01 to 86400. [s]
        energised_before : bool, optional
            Whether the headline values are for a coil that was energised until just before. By
            default ``True``.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.RelayCoil,
            "relay-coil",
            nominal_v=nominal_v,
            coil_resistance_ohm=coil_resistance_ohm,
            pick_up_v=pick_up_v,
            ambient_c=ambient_c,
            available_v=available_v,
            drop_out_v=drop_out_v,
            reference_temperature_c=reference_temperature_c,
            maximum_v=maximum_v,
            thermal_resistance_k_per_w=thermal_resistance_k_per_w,
            thermal_time_constant_s=thermal_time_constant_s,
            coil_limit_c=coil_limit_c,
            highest_ambient_c=highest_ambient_c,
            suppression=suppression,
            switch_limit_v=switch_limit_v,
            dip_v=dip_v,
            duration_s=duration_s,
            energised_before=energised_before,
            explain=explain,
        )

    def relay_contact(
        self,
        *,
        rating_a: types.Number,
        rated_v: types.Number,
        supply_v: types.Number,
        load_current_a: types.Number,
        ambient_c: types.Number,
        rating_ambient_c: types.Number | Omit = OMIT,
        derating: Sequence[types.DeratingPoint] | Omit = OMIT,
        make_rating_a: types.Number | Omit = OMIT,
        load_kind: types.LoadKind | Omit = OMIT,
        inrush_current_a: types.Number | Omit = OMIT,
        contact_resistance_ohm: types.Number | Omit = OMIT,
        minimum_current_a: types.Number | Omit = OMIT,
        path_resistance_ohm: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.RelayContact:
        """Whether a relay's contact carries, closes on and breaks its load.

        The steady current is held against the rating at this ambient, interpolated between the
        maker's points and never beyond them; the inrush against the make rating; the supply against
        the rated DC voltage, a contact rated for a 6, 12 or 24 V system being fit for what is
        customary there. An inrush that is not given lies between published multiples for the kind
        of load, and a verdict that flips between them is undecided.

        A relay's contact with its load. Give at least one of `load_kind`, `inrush_current_a`.

        Parameters
        ----------
        rating_a : float or str
            Steady current that the contact is rated for. From 0.001 to 10000. [A]
        rated_v : float or str
            DC voltage that the contact is rated for; one of 6, 12 or 24 V is fit for the customary
            voltages of such a system. From 1 to 1000. [V]
        supply_v : float or str
            Highest voltage that the contact breaks. From 0.1 to 60. [V]
        load_current_a : float or str
            Steady current of the load; of a solenoid with its winding cold. From 0.000001 to 10000.
            [A]
        ambient_c : float or str
            Temperature around the relay. From -60 to 250. [degC]
        rating_ambient_c : float or str, optional
            Ambient temperature of that rating. From -60 to 250, by default 23. [degC]
        derating : sequence of DeratingPoint, optional
            The maker's points above the rating's ambient, in rising order of temperature. At most
            20 of them, by default none.
        make_rating_a : float or str, optional
            Current that the contact may close on. From 0.001 to 10000. [A]
        load_kind : LoadKind, optional
            Kind of load, for its inrush where that is not measured.
        inrush_current_a : float or str, optional
            First current of the load, measured or from its maker. From 0 to 10000. [A]
        contact_resistance_ohm : float or str, optional
            Of the closed contact. From 0 to 1000. [ohm]
        minimum_current_a : float or str, optional
            Smallest current that keeps the contact material clean. From 0 to 10000. [A]
        path_resistance_ohm : float or str, optional
            Of all that feeds the load, its battery, wires and contacts: it limits a first current
            that is not measured. From 0 to 1000, by default 0. [ohm]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.RelayContact,
            "relay-contact",
            rating_a=rating_a,
            rated_v=rated_v,
            supply_v=supply_v,
            load_current_a=load_current_a,
            ambient_c=ambient_c,
            rating_ambient_c=rating_ambient_c,
            derating=derating,
            make_rating_a=make_rating_a,
            load_kind=load_kind,
            inrush_current_a=inrush_current_a,
            contact_resistance_ohm=contact_resistance_ohm,
            minimum_current_a=minimum_current_a,
            path_resistance_ohm=path_resistance_ohm,
            explain=explain,
        )
