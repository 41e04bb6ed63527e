"""Readings taken on a live circuit."""

from collections.abc import Sequence

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Diagnosis(Asking):
    """Ask about readings."""

    def drop_diagnosis(
        self,
        *,
        current_a: inputs.Number,
        readings: Sequence[inputs.Reading],
        current_accuracy_percent: inputs.Number | Omit = OMIT,
        temperature_accuracy_k: inputs.Number | Omit = OMIT,
        meter: inputs.Meter | Omit = OMIT,
        supply_v: inputs.Number | Omit = OMIT,
        load_voltage_v: inputs.Number | Omit = OMIT,
        circuit: inputs.CircuitKind | Omit = OMIT,
        nominal_v: inputs.Nominal | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.DropDiagnosis:
        """Tell which part of a live path to mend first, from the voltage across each.

        Parameters
        ----------
        current_a : float
            Current round the path during the readings. [A]
        readings : sequence of mapping
            Parts that the current runs through, out and back, each read once.
        current_accuracy_percent : float, optional
            Error of the current, by default 1. [%]
        temperature_accuracy_k : float, optional
            Error of the temperatures given for the wires, by default 10. [K]
        meter : mapping, optional
            The voltmeter; by default it steps by 10 mV and errs by 0.5 % of what it reads.
        supply_v : float, optional
            Measured at the start of the path, with the current flowing. [V]
        load_voltage_v : float, optional
            Measured at the load, with the current flowing. [V]
        circuit : str, optional
            Kind of circuit, for the limit of the whole path; by default starter_control.
        nominal_v : int, optional
            6, 12 or 24, for published limits; by default told from the voltages. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        DropDiagnosis
        """
        return self._ask(
            models.DropDiagnosis,
            "drop-diagnosis",
            current_a=current_a,
            readings=list(readings),
            current_accuracy_percent=current_accuracy_percent,
            temperature_accuracy_k=temperature_accuracy_k,
            meter=meter,
            supply_v=supply_v,
            load_voltage_v=load_voltage_v,
            circuit=circuit,
            nominal_v=nominal_v,
            explain=explain,
        )
