# Generated from openapi.json by sdk/generate: do not edit.
"""Heat in wires, their sizes and their fuses."""

from __future__ import annotations

from typing import Literal

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Heat(Asking):
    """Heat in wires, their sizes and their fuses."""

    def wire_heating(
        self,
        *,
        size: str,
        current_a: types.Number,
        insulation: types.Insulation | Omit = OMIT,
        insulation_limit_c: types.Number | Omit = OMIT,
        outer_diameter_mm: types.Number | Omit = OMIT,
        grouped_conductors: int | Omit = OMIT,
        altitude_m: types.Number | Omit = OMIT,
        ambient_c: types.Number | Omit = OMIT,
        zone: types.Zone | Omit = OMIT,
        material: types.Material | Omit = OMIT,
        construction: types.Construction | Omit = OMIT,
        standard: types.Standard | Omit = OMIT,
        on_time_s: types.Number | Omit = OMIT,
        off_time_s: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.WireHeating:
        """Temperature of a wire at a current, and the current that its insulation permits.

        A heat balance per metre of a horizontal wire in still air: natural convection, radiation
        and the insulation's resistance, with published factors for grouped conductors. The
        published table of permissible currents is carried over to any size, insulation and ambient,
        and the lower of model and table counts, so that nothing worse is permitted more. With
        `on_time_s` the wire carries its current for a time only, once or, with `off_time_s`, over
        and over.

        A wire, its current, and where it lies. Give exactly one of `ambient_c`, zone. Give at least
        one of insulation, `insulation_limit_c`. `off_time_s` needs `on_time_s`.

        Parameters
        ----------
        size : str
            Conductor size: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'.
        current_a : float or str
            Current in the wire. From 0 to 10000. [A]
        insulation : Insulation, optional
            Kind of insulated wire.
        insulation_limit_c : float or str, optional
            Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
            [degC]
        outer_diameter_mm : float or str, optional
            Over the insulation, in place of the usual one. From 0.2 to 60. [mm]
        grouped_conductors : int, optional
            Loaded conductors side by side in the loom, itself included. From 1 to 200, by default
            1.
        altitude_m : float or str, optional
            Height above the sea. From 0 to 6000, by default 0. [m]
        ambient_c : float or str, optional
            Temperature of the air around the wire. From -60 to 250. [degC]
        zone : Zone, optional
            Zone of the vehicle, for its usual highest ambient.
        material : Material, optional
            Metal of the conductor. By default ``"copper"``.
        construction : {"stranded", "solid"}, optional
            Stranded or solid. By default ``"stranded"``.
        standard : {"AWG", "SAE", "IEC 60228", "ISO 6722"}, optional
            Standard of the size; by default AWG, SAE or IEC 60228 by the way it is written.
        on_time_s : float or str, optional
            How long the current flows; without it all the time. From 0.001 to 1000000. [s]
        off_time_s : float or str, optional
            Rest before it flows again; without it the wire is at ambient before. From 0.001 to
            1000000. [s]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.WireHeating,
            "wire-heating",
            size=size,
            current_a=current_a,
            insulation=insulation,
            insulation_limit_c=insulation_limit_c,
            outer_diameter_mm=outer_diameter_mm,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            ambient_c=ambient_c,
            zone=zone,
            material=material,
            construction=construction,
            standard=standard,
            on_time_s=on_time_s,
            off_time_s=off_time_s,
            explain=explain,
        )

    def wire_sizing(
        self,
        *,
        load_current_a: types.Number,
        supply_v: types.Number,
        length_m: types.Number,
        return_path: Literal["wire", "body"],
        load_profile: types.LoadProfile | Omit = OMIT,
        inrush_current_a: types.Number | Omit = OMIT,
        inrush_time_s: types.Number | Omit = OMIT,
        inrush_decay_s: types.Number | Omit = OMIT,
        on_time_s: types.Number | Omit = OMIT,
        off_time_s: types.Number | Omit = OMIT,
        fuse_ambient_c: types.Number | Omit = OMIT,
        fuse_family: types.FuseFamily | Omit = OMIT,
        holder_rating_a: types.Number | Omit = OMIT,
        source_resistance_ohm: types.Number | Omit = OMIT,
        nominal_v: types.Nominal | Omit = OMIT,
        circuit: types.CircuitKind | Omit = OMIT,
        limit_drop_v: types.Number | Omit = OMIT,
        limit_drop_percent: types.Number | Omit = OMIT,
        needed_v: types.Number | Omit = OMIT,
        insulation: types.Insulation | Omit = OMIT,
        insulation_limit_c: types.Number | Omit = OMIT,
        outer_diameter_mm: types.Number | Omit = OMIT,
        grouped_conductors: int | Omit = OMIT,
        altitude_m: types.Number | Omit = OMIT,
        ambient_c: types.Number | Omit = OMIT,
        zone: types.Zone | Omit = OMIT,
        material: types.Material | Omit = OMIT,
        construction: types.Construction | Omit = OMIT,
        standard: types.Standard | Omit = OMIT,
        body_resistance_ohm: types.Number | Omit = OMIT,
        contacts_resistance_ohm: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.WireSizing:
        """Smallest size that passes drop, heat, fuse and strength, and why each smaller one
        fails.

        `length_m` is one way. With a return wire of the same size the loop is twice that; through
        the body it is once, with the body's own resistance added. The drop is that of the wire at
        the temperature its load heats it to, where it lies, and of the contacts of the path: those
        given in `contacts_resistance_ohm`, else a share of the limit is kept back for them.

        A load, the way to it, and what the wire may drop and bear. Give exactly one of `ambient_c`,
        zone. Give at least one of insulation, `insulation_limit_c`. Give at most one of
        `limit_drop_v`, `limit_drop_percent`. `off_time_s` needs `on_time_s`.

        Parameters
        ----------
        load_current_a : float or str
            Steady current of the load. From 0.000001 to 10000. [A]
        supply_v : float or str
            Voltage at the start of the path, with the current flowing. From 0.1 to 60. [V]
        length_m : float or str
            Length of the way to the load, one way. From 0 to 1000. [m]
        return_path : {"wire", "body"}
            How the current comes back: through a wire of the same size, or through the body.
        load_profile : LoadProfile, optional
            Kind of load, for the usual course of its current where that is not given: first current
            and its time, time on, rest.
        inrush_current_a : float or str, optional
            First current of the load, in place of the usual one of its kind. From 0 to 10000. [A]
        inrush_time_s : float or str, optional
            How long the first current flows; by default as its kind of load does, else 0.1. From
            0.001 to 3600. [s]
        inrush_decay_s : float or str, optional
            Time constant with which the first current falls to that of the load. From 0.0001 to
            3600. [s]
        on_time_s : float or str, optional
            How long the load is on; by default as its kind of load is, else without end. From 0.001
            to 1000000. [s]
        off_time_s : float or str, optional
            Rest before it is on again; without it the wire is at ambient before. From 0.001 to
            1000000. [s]
        fuse_ambient_c : float or str, optional
            Temperature around the fuse, where it is not that of the wire. From -60 to 250. [degC]
        fuse_family : FuseFamily, optional
            Family of fuses; by default the first of known operating times that has a rating which
            fits.
        holder_rating_a : float or str, optional
            Current that holder, socket and terminals of the fuse are rated for; by default the
            usual one of the family. From 0.001 to 10000. [A]
        source_resistance_ohm : float or str, optional
            Of battery and cables up to the fuse, full and warm: for the largest short circuit. From
            0.00001 to 10. [ohm]
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for the default limit of the drop: 6, 12 or 24; by
            default told from `supply_v`, unless that lies between two systems. [V]
        circuit : CircuitKind, optional
            Kind of circuit, for the default limit of the drop. By default ``"continuous"``.
        limit_drop_v : float or str, optional
            Largest drop of the whole path. From 0.001 to 60. [V]
        limit_drop_percent : float or str, optional
            Largest drop of the whole path, of the supply. From 0.01 to 100. [%]
        needed_v : float or str, optional
            Voltage that the load needs; for a solenoid that at which it pulls in, hot as it may be:
            where it is known it decides, and the limit of a starter control circuit exceeded is a
            small margin. From 0 to 60. [V]
        insulation : Insulation, optional
            Kind of insulated wire.
        insulation_limit_c : float or str, optional
            Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
            [degC]
        outer_diameter_mm : float or str, optional
            Over the insulation, in place of the usual one. From 0.2 to 60. [mm]
        grouped_conductors : int, optional
            Loaded conductors side by side in the loom, itself included. From 1 to 200, by default
            1.
        altitude_m : float or str, optional
            Height above the sea. From 0 to 6000, by default 0. [m]
        ambient_c : float or str, optional
            Temperature of the air around the wire. From -60 to 250. [degC]
        zone : Zone, optional
            Zone of the vehicle, for its usual highest ambient.
        material : Material, optional
            Metal of the conductor. By default ``"copper"``.
        construction : {"stranded", "solid"}, optional
            Stranded or solid. By default ``"stranded"``.
        standard : {"AWG", "SAE", "IEC 60228", "ISO 6722"}, optional
            Standard of the sizes. By default ``"AWG"``.
        body_resistance_ohm : float or str, optional
            Of the return through the body with its joints; by default what is satisfactory. From 0
            to 1000. [ohm]
        contacts_resistance_ohm : float or str, optional
            Of all contacts of the path together: fuse and holder, switch, relay, connectors; by
            default a share of the limit is kept back for them. From 0 to 1000. [ohm]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.WireSizing,
            "wire-sizing",
            load_current_a=load_current_a,
            supply_v=supply_v,
            length_m=length_m,
            return_path=return_path,
            load_profile=load_profile,
            inrush_current_a=inrush_current_a,
            inrush_time_s=inrush_time_s,
            inrush_decay_s=inrush_decay_s,
            on_time_s=on_time_s,
            off_time_s=off_time_s,
            fuse_ambient_c=fuse_ambient_c,
            fuse_family=fuse_family,
            holder_rating_a=holder_rating_a,
            source_resistance_ohm=source_resistance_ohm,
            nominal_v=nominal_v,
            circuit=circuit,
            limit_drop_v=limit_drop_v,
            limit_drop_percent=limit_drop_percent,
            needed_v=needed_v,
            insulation=insulation,
            insulation_limit_c=insulation_limit_c,
            outer_diameter_mm=outer_diameter_mm,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            ambient_c=ambient_c,
            zone=zone,
            material=material,
            construction=construction,
            standard=standard,
            body_resistance_ohm=body_resistance_ohm,
            contacts_resistance_ohm=contacts_resistance_ohm,
            explain=explain,
        )

    def fuse_selection(
        self,
        *,
        load_current_a: types.Number,
        load_profile: types.LoadProfile | Omit = OMIT,
        inrush_current_a: types.Number | Omit = OMIT,
        inrush_time_s: types.Number | Omit = OMIT,
        inrush_decay_s: types.Number | Omit = OMIT,
        on_time_s: types.Number | Omit = OMIT,
        off_time_s: types.Number | Omit = OMIT,
        fuse_ambient_c: types.Number | Omit = OMIT,
        fuse_family: types.FuseFamily | Omit = OMIT,
        holder_rating_a: types.Number | Omit = OMIT,
        source_resistance_ohm: types.Number | Omit = OMIT,
        insulation: types.Insulation | Omit = OMIT,
        insulation_limit_c: types.Number | Omit = OMIT,
        outer_diameter_mm: types.Number | Omit = OMIT,
        grouped_conductors: int | Omit = OMIT,
        altitude_m: types.Number | Omit = OMIT,
        ambient_c: types.Number | Omit = OMIT,
        zone: types.Zone | Omit = OMIT,
        material: types.Material | Omit = OMIT,
        construction: types.Construction | Omit = OMIT,
        size: str | Omit = OMIT,
        standard: types.Standard | Omit = OMIT,
        permissible_current_a: types.Number | Omit = OMIT,
        supply_v: types.Number | Omit = OMIT,
        loop_resistance_ohm: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.FuseSelection:
        """Standard fuse rating between what the load needs and what the wire bears.

        At least the load over 0.75, corrected for the ambient of the fuse, and at least what
        carries the first current; at most what protects the wire at its own ambient: the wire bears
        every current up to that at which the fuse is sure to open, and each larger one for the
        longest time that the fuse may take. The smallest standard rating inside is the answer. An
        empty window is a failed check that says what to change.

        A load and the wire that its fuse must protect. Give exactly one of `ambient_c`, zone. Give
        exactly one of size, `permissible_current_a`. Give at most one of `inrush_time_s`,
        `inrush_decay_s`. size needs insulation or `insulation_limit_c`.

        Parameters
        ----------
        load_current_a : float or str
            Steady current of the load. From 0.000001 to 10000. [A]
        load_profile : LoadProfile, optional
            Kind of load, for the usual course of its current where that is not given: first current
            and its time, time on, rest.
        inrush_current_a : float or str, optional
            First current of the load, in place of the usual one of its kind. From 0 to 10000. [A]
        inrush_time_s : float or str, optional
            How long the first current flows; by default as its kind of load does, else 0.1. From
            0.001 to 3600. [s]
        inrush_decay_s : float or str, optional
            Time constant with which the first current falls to that of the load. From 0.0001 to
            3600. [s]
        on_time_s : float or str, optional
            How long the load is on; by default as its kind of load is, else without end. From 0.001
            to 1000000. [s]
        off_time_s : float or str, optional
            Rest before it is on again; without it the wire is at ambient before. From 0.001 to
            1000000. [s]
        fuse_ambient_c : float or str, optional
            Temperature around the fuse, where it is not that of the wire. From -60 to 250. [degC]
        fuse_family : FuseFamily, optional
            Family of fuses; by default the first of known operating times that has a rating which
            fits.
        holder_rating_a : float or str, optional
            Current that holder, socket and terminals of the fuse are rated for; by default the
            usual one of the family. From 0.001 to 10000. [A]
        source_resistance_ohm : float or str, optional
            Of battery and cables up to the fuse, full and warm: for the largest short circuit. From
            0.00001 to 10. [ohm]
        insulation : Insulation, optional
            Kind of insulated wire.
        insulation_limit_c : float or str, optional
            Temperature that the conductor may have, in place of that of the kind. From 40 to 300.
            [degC]
        outer_diameter_mm : float or str, optional
            Over the insulation, in place of the usual one. From 0.2 to 60. [mm]
        grouped_conductors : int, optional
            Loaded conductors side by side in the loom, itself included. From 1 to 200, by default
            1.
        altitude_m : float or str, optional
            Height above the sea. From 0 to 6000, by default 0. [m]
        ambient_c : float or str, optional
            Temperature of the air around the wire. From -60 to 250. [degC]
        zone : Zone, optional
            Zone of the vehicle, for its usual highest ambient.
        material : Material, optional
            Metal of the conductor. By default ``"copper"``.
        construction : {"stranded", "solid"}, optional
            Stranded or solid. By default ``"stranded"``.
        size : str, optional
            Conductor size: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'.
        standard : {"AWG", "SAE", "IEC 60228", "ISO 6722"}, optional
            Standard of the size; by default AWG, SAE or IEC 60228 by the way it is written.
        permissible_current_a : float or str, optional
            Steady current that the wire may carry at its ambient, in place of the wire. From 0.001
            to 10000. [A]
        supply_v : float or str, optional
            Voltage before the fuse, for short circuits behind it. From 0.1 to 60. [V]
        loop_resistance_ohm : float or str, optional
            Of all behind the fuse that a short at the far end runs through, hot. From 0 to 1000.
            [ohm]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.FuseSelection,
            "fuse-selection",
            load_current_a=load_current_a,
            load_profile=load_profile,
            inrush_current_a=inrush_current_a,
            inrush_time_s=inrush_time_s,
            inrush_decay_s=inrush_decay_s,
            on_time_s=on_time_s,
            off_time_s=off_time_s,
            fuse_ambient_c=fuse_ambient_c,
            fuse_family=fuse_family,
            holder_rating_a=holder_rating_a,
            source_resistance_ohm=source_resistance_ohm,
            insulation=insulation,
            insulation_limit_c=insulation_limit_c,
            outer_diameter_mm=outer_diameter_mm,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            ambient_c=ambient_c,
            zone=zone,
            material=material,
            construction=construction,
            size=size,
            standard=standard,
            permissible_current_a=permissible_current_a,
            supply_v=supply_v,
            loop_resistance_ohm=loop_resistance_ohm,
            explain=explain,
        )
