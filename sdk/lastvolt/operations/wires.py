"""Conductors, single wires and paths."""

from collections.abc import Sequence

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Wires(Asking):
    """Ask about conductors, wires and paths."""

    def conductors(self, *, standard: inputs.Standard | Omit = OMIT) -> models.Conductors:
        """List conductor sizes with area and resistance, as stranded copper at 20 degC.

        Parameters
        ----------
        standard : str, optional
            List the sizes of this standard only.

        Returns
        -------
        Conductors
        """
        return self._ask(models.Conductors, "conductors", standard=standard)

    def wire_resistance(
        self,
        *,
        size: str,
        length_m: inputs.Number,
        standard: inputs.Standard | Omit = OMIT,
        temperature_c: inputs.Number | Omit = OMIT,
        material: inputs.Material | Omit = OMIT,
        construction: inputs.Construction | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.WireResistance:
        """Work out the resistance of a wire.

        Parameters
        ----------
        size : str
            ``"12 AWG"``, ``"2/0 AWG"``, ``"12 SAE"`` or ``"2.5 mm2"``.
        length_m : float
            Length of the wire, one way. [m]
        standard : str, optional
            That defines the size; by default the first that writes its sizes this way.
        temperature_c : float, optional
            Temperature of the conductor, by default 20. [degC]
        material : str, optional
            Metal of the conductor, by default copper.
        construction : str, optional
            Stranded, the default, or solid.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        WireResistance
        """
        return self._ask(
            models.WireResistance,
            "wire-resistance",
            size=size,
            length_m=length_m,
            standard=standard,
            temperature_c=temperature_c,
            material=material,
            construction=construction,
            explain=explain,
        )

    def voltage_drop(
        self,
        *,
        supply_v: inputs.Number,
        segments: Sequence[inputs.Segment],
        load_current_a: inputs.Number | Omit = OMIT,
        load_resistance_ohm: inputs.Number | Omit = OMIT,
        load_power_w: inputs.Number | Omit = OMIT,
        circuit: inputs.CircuitKind | Omit = OMIT,
        nominal_v: inputs.Nominal | Omit = OMIT,
        limit_drop_v: inputs.Number | Omit = OMIT,
        limit_drop_percent: inputs.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.VoltageDrop:
        """Work out the voltage at a load behind a series path, out and back.

        Exactly one of the three loads is given, and at most one limit.

        Parameters
        ----------
        supply_v : float
            Voltage at the start of the path, with the current flowing. [V]
        segments : sequence of mapping
            Wires, contacts and resistances that the current runs through, in order.
        load_current_a : float, optional
            Load that takes this current at any voltage. [A]
        load_resistance_ohm : float, optional
            Load that keeps this resistance. [ohm]
        load_power_w : float, optional
            Load that takes this power at any voltage. [W]
        circuit : str, optional
            Kind of circuit, for the default limit; continuous by default.
        nominal_v : int, optional
            Nominal voltage of the system, for the default limit; by default told from the
            supply. [V]
        limit_drop_v : float, optional
            Largest drop of the whole path. [V]
        limit_drop_percent : float, optional
            Largest drop of the whole path, of the supply. [%]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        VoltageDrop
        """
        return self._ask(
            models.VoltageDrop,
            "voltage-drop",
            supply_v=supply_v,
            segments=list(segments),
            load_current_a=load_current_a,
            load_resistance_ohm=load_resistance_ohm,
            load_power_w=load_power_w,
            circuit=circuit,
            nominal_v=nominal_v,
            limit_drop_v=limit_drop_v,
            limit_drop_percent=limit_drop_percent,
            explain=explain,
        )
