# Generated from openapi.json by sdk/generate: do not edit.
"""Readings taken on a live circuit."""

from __future__ import annotations

from collections.abc import Sequence

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Diagnosis(Asking):
    """Readings taken on a live circuit."""

    def drop_diagnosis(
        self,
        *,
        current_a: types.Number,
        readings: Sequence[types.Reading],
        current_accuracy_percent: types.Number | Omit = OMIT,
        working_current_a: types.Number | Omit = OMIT,
        temperature_accuracy_k: types.Number | Omit = OMIT,
        meter: types.Meter | Omit = OMIT,
        supply_v: types.Number | Omit = OMIT,
        load_voltage_v: types.Number | Omit = OMIT,
        circuit: types.CircuitKind | Omit = OMIT,
        nominal_v: types.Nominal | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.DropDiagnosis:
        """Which part of a live path to mend first, from the voltage across each.

        A wire is held against a new one of its size, length and temperature at the same current; a
        contact against the most that a sound one drops. Readings that do not hold together, or are
        taken at a trickle of current, blame no part and call none sound. Only an excess beyond the
        largest error of meter, current and temperature counts as proven. With the voltages of
        supply and load, what is lost where nothing was read shows too, and what mending gives back
        is worked out for a load of constant resistance.

        Readings along a path, all at the same current.

        Parameters
        ----------
        current_a : float or str
            Current round the path during the readings. From 0.001 to 10000. [A]
        readings : sequence of Reading
            Parts that the current runs through, out and back, each read once. From 1 to 100 of
            them.
        current_accuracy_percent : float or str, optional
            Error of that current. From 0 to 50, by default 1. [%]
        working_current_a : float or str, optional
            That the circuit takes at work, where the readings are taken at less. From 0.001 to
            10000. [A]
        temperature_accuracy_k : float or str, optional
            Error of the temperatures given for the wires: 10 K are 4 % of their resistance. From 0
            to 100, by default 10. [K]
        meter : Meter, optional
            The voltmeter. By default ``{'resolution_v': 0.01, 'accuracy_percent': 0.5}``.
        supply_v : float or str, optional
            Measured at the start of the path, with the current flowing. From 0.1 to 60. [V]
        load_voltage_v : float or str, optional
            Measured at the load, with the current flowing. From 0.01 to 60. [V]
        circuit : CircuitKind, optional
            Kind of circuit, for the limit of the whole path. By default ``"starter_control"``.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for published limits: 6, 12 or 24; by default told from
            `supply_v`, or from `load_voltage_v` and the readings; 12 without them. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.DropDiagnosis,
            "drop-diagnosis",
            current_a=current_a,
            readings=readings,
            current_accuracy_percent=current_accuracy_percent,
            working_current_a=working_current_a,
            temperature_accuracy_k=temperature_accuracy_k,
            meter=meter,
            supply_v=supply_v,
            load_voltage_v=load_voltage_v,
            circuit=circuit,
            nominal_v=nominal_v,
            explain=explain,
        )

    def circuit_fit(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        readings: Sequence[types.MeterReading],
        nominal_v: types.Nominal | Omit = OMIT,
        worst_case: str | Omit = OMIT,
        meters: Sequence[types.MeterData] | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.CircuitFit:
        """What a circuit is made of, from readings of it, and which reading to take next.

        What is not known is given as intervals, in the circuit and its cases alike; readings of
        volts, amperes by a clamp, and ohms with the power off narrow them. Weighted least squares
        within these bounds on the network, by its own sensitivities; a meter's factor is common to
        all its readings and is one more unknown; the bounds count as rectangular beside the
        readings. Uncertainty is by JCGM 100, its coverage factor for 19 times of 20. The answer
        names what these readings cannot tell apart, the reading that contradicts the rest, or that
        the circuit does not fit at all, gives the circuit with its intervals narrowed, ready to
        post, and the next reading that tells most about the voltage at the load. One request may
        ask for 50,000 units of work: the sum over its cases of 120 + 4 x parts + s, where s is (1 +
        relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with intervals, for each of (2 + 2 x
        intervals + the lesser of 2^intervals and 4 x (loads + relays)) points, 20 + 1.2 x parts + s
        / 4 more. Parts are branches, loads, relays and further sources. A fit may ask for 60,000
        more: the number of cases, times one more than the number of intervals, times the sum of 10,
        the number of parts and the number of readings.

        A circuit in cases, and what was read of it.

        Parameters
        ----------
        circuit : Circuit
            The network.
        cases : sequence of Case
            Named conditions. From 1 to 20 of them.
        load : str
            Load whose voltage decides. From 1 to 80 characters.
        readings : sequence of MeterReading
            What was read. From 1 to 60 of them.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        worst_case : str, optional
            Case in which it decides; by default that in which it has the least to spare. From 1 to
            80 characters.
        meters : sequence of MeterData, optional
            Meters that readings name; a usual one needs none. At most 20 of them, by default none.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.CircuitFit,
            "circuit-fit",
            circuit=circuit,
            cases=cases,
            load=load,
            readings=readings,
            nominal_v=nominal_v,
            worst_case=worst_case,
            meters=meters,
            explain=explain,
        )

    def meter_plan(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        switch: str,
        nominal_v: types.Nominal | Omit = OMIT,
        way: types.Proposal | Omit = OMIT,
        meters: Sequence[types.MeterData] | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.MeterPlan:
        """Which readings to take of a load and its switch, in which order, and what they should
        show.

        Each tells where the leads go, what is on, the band that passes as the circuit is and with a
        proposed relay, and what it means when it is off. The bands come from the network within all
        of its intervals, widened by the largest error of the meter. One walk a case leads from the
        battery along the wiring to the load and back by the ground, the coldest case first. Of a
        starter's solenoid there is the test with a jumper, too. Whether the relay may be built is
        for ``relay-retrofit`` to say. One request may ask for 50,000 units of work: the sum over
        its cases of 120 + 4 x parts + s, where s is (1 + relays)^2 x (4 + parts / 36 + (parts /
        140)^3), and with intervals, for each of (2 + 2 x intervals + the lesser of 2^intervals and
        4 x (loads + relays)) points, 20 + 1.2 x parts + s / 4 more. Parts are branches, loads,
        relays and further sources. A proposal's relay and parts count as well; each case counts
        three times, with intervals 2 x (120 + 4 x parts + s) more before that, and 24 x (12 + 0.7 x
        parts + s) come on top. At most 40 parts may lie on the way of the load's current.

        A circuit as it is, a load of it and its switch, and what may become of them.

        Parameters
        ----------
        circuit : Circuit
            The network.
        cases : sequence of Case
            Named conditions. From 1 to 20 of them.
        load : str
            The load to be relieved; its old wire will feed the relay's coil instead. From 1 to 80
            characters.
        switch : str
            The switch or other contact to be spared. From 1 to 80 characters.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        way : Proposal, optional
            A relay for the load, as relay-retrofit takes it.
        meters : sequence of MeterData, optional
            The voltmeter and the clamp, where they are known; by default usual ones. At most 2 of
            them.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.MeterPlan,
            "meter-plan",
            circuit=circuit,
            cases=cases,
            load=load,
            switch=switch,
            nominal_v=nominal_v,
            way=way,
            meters=meters,
            explain=explain,
        )
