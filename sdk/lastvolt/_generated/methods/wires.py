# Generated from openapi.json by sdk/generate: do not edit.
"""Conductors and paths."""

from __future__ import annotations

from collections.abc import Sequence

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Wires(Asking):
    """Conductors and paths."""

    def conductors(
        self,
        *,
        standard: types.Standard | Omit = OMIT,
    ) -> types.Conductors:
        """List the conductor sizes with area and resistance.

        All sizes that requests may name, of one standard or of all, as stranded copper at 20 degC.
        SAE sizes hold about a tenth less copper than the AWG of the same number.

        Parameters
        ----------
        standard : {"AWG", "SAE", "IEC 60228", "ISO 6722"}, optional
            List the sizes of this standard only.
        """
        return self._ask(
            types.Conductors,
            "conductors",
            standard=standard,
        )

    def wire_resistance(
        self,
        *,
        size: str,
        length_m: types.Number,
        material: types.Material | Omit = OMIT,
        construction: types.Construction | Omit = OMIT,
        standard: types.Standard | Omit = OMIT,
        temperature_c: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.WireResistance:
        """Resistance of a wire by size, length and temperature.

        Solid AWG from the standard diameter, stranded with 2 % for the lay; SAE from the minimum
        area, about a tenth less copper than AWG of the same number; metric sizes by the published
        maximum. Copper, tinned copper, aluminium and copper-clad aluminium.

        One wire.

        Parameters
        ----------
        size : str
            Conductor size: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'.
        length_m : float or str
            Length of the wire, one way. From 0 to 1000. [m]
        material : Material, optional
            Metal of the conductor. By default ``"copper"``.
        construction : {"stranded", "solid"}, optional
            Stranded or solid. By default ``"stranded"``.
        standard : {"AWG", "SAE", "IEC 60228", "ISO 6722"}, optional
            Standard of the size; by default AWG, SAE or IEC 60228 by the way it is written.
        temperature_c : float or str, optional
            Temperature of the conductor; without it 20 degC, and said to be assumed. From -60 to
            300. [degC]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.WireResistance,
            "wire-resistance",
            size=size,
            length_m=length_m,
            material=material,
            construction=construction,
            standard=standard,
            temperature_c=temperature_c,
            explain=explain,
        )

    def voltage_drop(
        self,
        *,
        supply_v: types.Number,
        segments: Sequence[types.Segment],
        nominal_v: types.Nominal | Omit = OMIT,
        circuit: types.CircuitKind | Omit = OMIT,
        limit_drop_v: types.Number | Omit = OMIT,
        limit_drop_percent: types.Number | Omit = OMIT,
        needed_v: types.Number | Omit = OMIT,
        load_current_a: types.Number | Omit = OMIT,
        load_resistance_ohm: types.Number | Omit = OMIT,
        load_power_w: types.Number | Omit = OMIT,
        duration_s: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.VoltageDrop:
        """Voltage that reaches a load at the end of a series path.

        Every part of the path stands in `segments`: the wire out, switch, fuse and connectors, and
        the return through a wire or a ground joint. The load keeps a current, a resistance or a
        power. Without a limit of your own, the whole drop is held against published practice for
        the kind of circuit, and each contact against the limit for its part.

        A load at the end of a series path, out and back. Give exactly one of `load_current_a`,
        `load_resistance_ohm`, `load_power_w`. Give at most one of `limit_drop_v`,
        `limit_drop_percent`.

        Parameters
        ----------
        supply_v : float or str
            Voltage at the start of the path, with the current flowing. From 0.1 to 60. [V]
        segments : sequence of Segment
            Parts that the current runs through, out and back, in order; the load is not one of
            them. From 1 to 100 of them.
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
        load_current_a : float or str, optional
            Load that takes this current at any voltage. From 0 to 10000. [A]
        load_resistance_ohm : float or str, optional
            Load that keeps this resistance. From 0.0001 to 1000000. [ohm]
        load_power_w : float or str, optional
            Load that takes this power at any voltage. From 0 to 1000000. [W]
        duration_s : float or str, optional
            How long the current flows, from wires at their ambient; by default as long as a key is
            held in the circuits of a starter, else without end. From 0.01 to 86400. [s]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.VoltageDrop,
            "voltage-drop",
            supply_v=supply_v,
            segments=segments,
            nominal_v=nominal_v,
            circuit=circuit,
            limit_drop_v=limit_drop_v,
            limit_drop_percent=limit_drop_percent,
            needed_v=needed_v,
            load_current_a=load_current_a,
            load_resistance_ohm=load_resistance_ohm,
            load_power_w=load_power_w,
            duration_s=duration_s,
            explain=explain,
        )
