"""Heat in wires, their sizes and their fuses."""

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Heat(Asking):
    """Ask about heat in wires, their sizes and their fuses."""

    def wire_heating(
        self,
        *,
        size: str,
        current_a: inputs.Number,
        ambient_c: inputs.Number | Omit = OMIT,
        zone: inputs.Zone | Omit = OMIT,
        insulation: inputs.Insulation | Omit = OMIT,
        insulation_limit_c: inputs.Number | Omit = OMIT,
        outer_diameter_mm: inputs.Number | Omit = OMIT,
        grouped_conductors: int | Omit = OMIT,
        altitude_m: inputs.Number | Omit = OMIT,
        on_time_s: inputs.Number | Omit = OMIT,
        off_time_s: inputs.Number | Omit = OMIT,
        standard: inputs.Standard | Omit = OMIT,
        material: inputs.Material | Omit = OMIT,
        construction: inputs.Construction | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.WireHeating:
        """Work out how hot a wire gets, and how much its insulation lets it carry.

        Exactly one of `ambient_c` and `zone` is given, and the insulation, its limit or both.

        Parameters
        ----------
        size : str
            ``"12 AWG"``, ``"2/0 AWG"``, ``"12 SAE"`` or ``"2.5 mm2"``.
        current_a : float
            Current in the wire. [A]
        ambient_c : float, optional
            Temperature of the air around the wire. [degC]
        zone : str, optional
            Zone of the vehicle, for its usual highest ambient.
        insulation : str, optional
            Kind of insulated wire.
        insulation_limit_c : float, optional
            Temperature that the conductor may have, in place of that of the kind. [degC]
        outer_diameter_mm : float, optional
            Over the insulation, in place of the usual one. [mm]
        grouped_conductors : int, optional
            Loaded conductors side by side in the loom, itself included; by default 1.
        altitude_m : float, optional
            Height above the sea, by default 0. [m]
        on_time_s : float, optional
            How long the current flows; by default for ever. [s]
        off_time_s : float, optional
            Rest before it flows again; by default the wire is at ambient before. [s]
        standard : str, optional
            That defines the size; by default the first that writes its sizes this way.
        material : str, optional
            Metal of the conductor, by default copper.
        construction : str, optional
            Stranded, the default, or solid.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        WireHeating
        """
        return self._ask(
            models.WireHeating,
            "wire-heating",
            size=size,
            current_a=current_a,
            ambient_c=ambient_c,
            zone=zone,
            insulation=insulation,
            insulation_limit_c=insulation_limit_c,
            outer_diameter_mm=outer_diameter_mm,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            on_time_s=on_time_s,
            off_time_s=off_time_s,
            standard=standard,
            material=material,
            construction=construction,
            explain=explain,
        )

    def wire_sizing(
        self,
        *,
        supply_v: inputs.Number,
        load_current_a: inputs.Number,
        length_m: inputs.Number,
        return_path: inputs.ReturnPath,
        ambient_c: inputs.Number | Omit = OMIT,
        zone: inputs.Zone | Omit = OMIT,
        insulation: inputs.Insulation | Omit = OMIT,
        insulation_limit_c: inputs.Number | Omit = OMIT,
        standard: inputs.Standard | Omit = OMIT,
        limit_drop_v: inputs.Number | Omit = OMIT,
        limit_drop_percent: inputs.Number | Omit = OMIT,
        circuit: inputs.CircuitKind | Omit = OMIT,
        nominal_v: inputs.Nominal | Omit = OMIT,
        body_resistance_ohm: inputs.Number | Omit = OMIT,
        inrush_current_a: inputs.Number | Omit = OMIT,
        inrush_time_s: inputs.Number | Omit = OMIT,
        fuse_ambient_c: inputs.Number | Omit = OMIT,
        fuse_family: inputs.FuseFamily | Omit = OMIT,
        outer_diameter_mm: inputs.Number | Omit = OMIT,
        grouped_conductors: int | Omit = OMIT,
        altitude_m: inputs.Number | Omit = OMIT,
        material: inputs.Material | Omit = OMIT,
        construction: inputs.Construction | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.WireSizing:
        """Find the smallest size that passes drop, heat, fuse and strength.

        Exactly one of `ambient_c` and `zone` is given, the insulation, its limit or both, and at
        most one limit of the drop.

        Parameters
        ----------
        supply_v : float
            Voltage at the start of the path, with the current flowing. [V]
        load_current_a : float
            Steady current of the load. [A]
        length_m : float
            Length of the way to the load, one way. [m]
        return_path : str
            How the current comes back: ``"wire"`` of the same size, or ``"body"``.
        ambient_c : float, optional
            Temperature of the air around the wire. [degC]
        zone : str, optional
            Zone of the vehicle, for its usual highest ambient.
        insulation : str, optional
            Kind of insulated wire.
        insulation_limit_c : float, optional
            Temperature that the conductor may have, in place of that of the kind. [degC]
        standard : str, optional
            Standard of the sizes, by default AWG.
        limit_drop_v : float, optional
            Largest drop of the whole path. [V]
        limit_drop_percent : float, optional
            Largest drop of the whole path, of the supply. [%]
        circuit : str, optional
            Kind of circuit, for the default limit; continuous by default.
        nominal_v : int, optional
            Nominal voltage of the system, for the default limit; by default told from the
            supply. [V]
        body_resistance_ohm : float, optional
            Of the return through the body with its joints; by default what is satisfactory. [ohm]
        inrush_current_a : float, optional
            First current of the load. [A]
        inrush_time_s : float, optional
            How long the first current flows, by default 0.1. [s]
        fuse_ambient_c : float, optional
            Temperature around the fuse, by default that of the wire. [degC]
        fuse_family : str, optional
            Family of fuses; by default the first that has a rating which fits.
        outer_diameter_mm : float, optional
            Over the insulation, in place of the usual one. [mm]
        grouped_conductors : int, optional
            Loaded conductors side by side in the loom, itself included; by default 1.
        altitude_m : float, optional
            Height above the sea, by default 0. [m]
        material : str, optional
            Metal of the conductor, by default copper.
        construction : str, optional
            Stranded, the default, or solid.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        WireSizing
        """
        return self._ask(
            models.WireSizing,
            "wire-sizing",
            supply_v=supply_v,
            load_current_a=load_current_a,
            length_m=length_m,
            return_path=return_path,
            ambient_c=ambient_c,
            zone=zone,
            insulation=insulation,
            insulation_limit_c=insulation_limit_c,
            standard=standard,
            limit_drop_v=limit_drop_v,
            limit_drop_percent=limit_drop_percent,
            circuit=circuit,
            nominal_v=nominal_v,
            body_resistance_ohm=body_resistance_ohm,
            inrush_current_a=inrush_current_a,
            inrush_time_s=inrush_time_s,
            fuse_ambient_c=fuse_ambient_c,
            fuse_family=fuse_family,
            outer_diameter_mm=outer_diameter_mm,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            material=material,
            construction=construction,
            explain=explain,
        )

    def fuse_selection(
        self,
        *,
        load_current_a: inputs.Number,
        size: str | Omit = OMIT,
        permissible_current_a: inputs.Number | Omit = OMIT,
        ambient_c: inputs.Number | Omit = OMIT,
        zone: inputs.Zone | Omit = OMIT,
        insulation: inputs.Insulation | Omit = OMIT,
        insulation_limit_c: inputs.Number | Omit = OMIT,
        inrush_current_a: inputs.Number | Omit = OMIT,
        inrush_time_s: inputs.Number | Omit = OMIT,
        fuse_ambient_c: inputs.Number | Omit = OMIT,
        fuse_family: inputs.FuseFamily | Omit = OMIT,
        outer_diameter_mm: inputs.Number | Omit = OMIT,
        grouped_conductors: int | Omit = OMIT,
        altitude_m: inputs.Number | Omit = OMIT,
        standard: inputs.Standard | Omit = OMIT,
        material: inputs.Material | Omit = OMIT,
        construction: inputs.Construction | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.FuseSelection:
        """Choose the fuse between what its load needs and what its wire bears.

        Exactly one of `ambient_c` and `zone` is given, and either the wire, by its size and
        insulation, or the current that it may carry.

        Parameters
        ----------
        load_current_a : float
            Steady current of the load. [A]
        size : str, optional
            ``"12 AWG"``, ``"2/0 AWG"``, ``"12 SAE"`` or ``"2.5 mm2"``.
        permissible_current_a : float, optional
            Steady current that the wire may carry at its ambient, in place of the wire. [A]
        ambient_c : float, optional
            Temperature of the air around the wire. [degC]
        zone : str, optional
            Zone of the vehicle, for its usual highest ambient.
        insulation : str, optional
            Kind of insulated wire.
        insulation_limit_c : float, optional
            Temperature that the conductor may have, in place of that of the kind. [degC]
        inrush_current_a : float, optional
            First current of the load. [A]
        inrush_time_s : float, optional
            How long the first current flows, by default 0.1. [s]
        fuse_ambient_c : float, optional
            Temperature around the fuse, by default that of the wire. [degC]
        fuse_family : str, optional
            Family of fuses; by default the first that has a rating which fits.
        outer_diameter_mm : float, optional
            Over the insulation, in place of the usual one. [mm]
        grouped_conductors : int, optional
            Loaded conductors side by side in the loom, itself included; by default 1.
        altitude_m : float, optional
            Height above the sea, by default 0. [m]
        standard : str, optional
            That defines the size; by default the first that writes its sizes this way.
        material : str, optional
            Metal of the conductor, by default copper.
        construction : str, optional
            Stranded, the default, or solid.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        FuseSelection
        """
        return self._ask(
            models.FuseSelection,
            "fuse-selection",
            load_current_a=load_current_a,
            size=size,
            permissible_current_a=permissible_current_a,
            ambient_c=ambient_c,
            zone=zone,
            insulation=insulation,
            insulation_limit_c=insulation_limit_c,
            inrush_current_a=inrush_current_a,
            inrush_time_s=inrush_time_s,
            fuse_ambient_c=fuse_ambient_c,
            fuse_family=fuse_family,
            outer_diameter_mm=outer_diameter_mm,
            grouped_conductors=grouped_conductors,
            altitude_m=altitude_m,
            standard=standard,
            material=material,
            construction=construction,
            explain=explain,
        )
