# Generated from openapi.json by sdk/generate: do not edit.
"""Readings taken on a live circuit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

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
            Current round the path during the readings; 0 where the meter shows none. From 0 to
            10000. [A]
        readings : sequence of Reading
            Parts that the current runs through, out and back, each read once. From 1 to 100 of
            them.
        current_accuracy_percent : float or str, optional
            Error of that current. From 0 to 50, by default 1. [%]
        working_current_a : float or str, optional
            That the circuit takes at work, where the readings are taken at another. From 0.001 to
            10000. [A]
        temperature_accuracy_k : float or str, optional
            Error of the temperatures given for the wires: 10 K are 4 % of their resistance. From 0
            to 100, by default 10. [K]
        meter : Meter, optional
            The voltmeter. By default ``{'resolution_v': 0.01, 'accuracy_percent': 0.5}``.
        supply_v : float or str, optional
            Measured at the start of the path, with the current flowing. From 0.1 to 60. [V]
        load_voltage_v : float or str, optional
            Measured at the load, with the current flowing; 0 where nothing arrives. From 0 to 60.
            [V]
        circuit : CircuitKind, optional
            Kind of circuit, for the limit of the whole path. By default ``"continuous"``.
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
        readings. Where readings do not hold together with the lengths of wires that were given as
        numbers, each is taken as about that, a tenth more or less. Uncertainty is by JCGM 100, its
        coverage factor for 19 times of 20. The answer names what these readings cannot tell apart,
        the reading that contradicts the rest, or that the circuit does not fit at all, gives the
        circuit with its intervals narrowed, ready to post, and the next reading that tells most
        about the voltage at the load. One request may ask for 42,000 units of work: the sum over
        its cases of 200 + 8 x parts + s, where s is (1 + relays)^2 x (4 + parts / 36 + (parts /
        140)^3), and with intervals, for each of (2 + 2 x intervals + the lesser of 2^intervals and
        4 x (loads + relays)) points, 36 + parts + s / 2 more. Parts are branches, loads, relays and
        further sources. A fit may ask for 2,000 more: the number of cases, times one more than the
        number of intervals, times the sum of 25 and the number of parts.

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
        of its intervals, widened by the largest error of the meter. Beside each stands what is
        sound whatever was given, for a fault that was given passes; and what the reading shows
        where the relay is wired wrong. One walk a case leads from the battery along the wiring to
        the load and back by the ground, the coldest case first. A starter is read as it cranks,
        when its hold-in winding alone draws, and while its plunger moves; there is the test with a
        jumper, too. Whether the relay may be built is for ``relay-retrofit`` to say. One request
        may ask for 42,000 units of work: the sum over its cases of 200 + 8 x parts + s, where s is
        (1 + relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with intervals, for each of (2 + 2
        x intervals + the lesser of 2^intervals and 4 x (loads + relays)) points, 36 + parts + s / 2
        more. Parts are branches, loads, relays and further sources. A proposal's relay and parts
        count as well; each case counts three times, its points twice, and 2 x 24 x (12 + 0.7 x
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

    def gain_proof(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        switch: str,
        way: types.GivenWay,
        before: Sequence[types.MeterReading],
        after: Sequence[types.MeterReading],
        nominal_v: types.Nominal | Omit = OMIT,
        worst_case: str | Omit = OMIT,
        meters: Sequence[types.MeterData] | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.GainProof:
        """Whether a way brought what it promised, from readings before and after it was built.

        Both sets of readings are fitted as circuit-fit does, before to the circuit and after to the
        circuit with the way, in which what is new is not taken for well made. Then both are
        compared in one case, at one supply and the same temperatures. The winding, the wires and
        each meter's factor are the same in both, so that their errors cancel in part. A case that
        cannot be measured, such as a hot restart, is predicted from the two fits. Where the
        readings after do not go with the way as it is described, one fault at a time is tried: coil
        and contact changed about, the old wire left on the load, the feed taken from another node,
        a relay that does not open or close, a load or a part that is open or got worse. A battery
        that ran down, or was charged, between the two is told, and nobody's fault; no part is
        blamed for a loss that was not read over it. Only where none of these goes with all of them
        is a reading taken for false. A load that is live with its switch off, before or after, is a
        finding, whatever else is. One request may ask for 42,000 units of work: the sum over its
        cases of 200 + 8 x parts + s, where s is (1 + relays)^2 x (4 + parts / 36 + (parts /
        140)^3), and with intervals, for each of (2 + 2 x intervals + the lesser of 2^intervals and
        4 x (loads + relays)) points, 36 + parts + s / 2 more. Parts are branches, loads, relays and
        further sources. A proof may ask for 4,800 more: as a fit, for the circuit before and for
        that after, in which each contact and each end of a wire that is new is an interval, too,
        and 500 for each case.

        A circuit as it was, the way that was built, and what was read before and after.

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
        way : GivenWay
            What was done; a relay's nodes are then `NAME [30]`, `NAME [87]` and, at the load, `NAME
            [load]` where it has an outlet.
        before : sequence of MeterReading
            What was read before. From 1 to 60 of them.
        after : sequence of MeterReading
            What was read once the way was built. From 1 to 60 of them.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        worst_case : str, optional
            Case in which before and after are compared; by default that in which the load had the
            least to spare. From 1 to 80 characters.
        meters : sequence of MeterData, optional
            Meters that readings name; a usual one needs none. At most 20 of them, by default none.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.GainProof,
            "gain-proof",
            circuit=circuit,
            cases=cases,
            load=load,
            switch=switch,
            way=way,
            before=before,
            after=after,
            nominal_v=nominal_v,
            worst_case=worst_case,
            meters=meters,
            explain=explain,
        )

    def recording(
        self,
        *,
        time_s: Sequence[types.Number],
        volts_v: Sequence[types.Number] | Omit = OMIT,
        current_a: Sequence[types.Number] | Omit = OMIT,
        between: Literal["path", "battery", "load"] | Omit = OMIT,
        part: types.Part | Omit = OMIT,
        needed_v: types.Number | Omit = OMIT,
        nominal_v: types.Nominal | Omit = OMIT,
        winding: bool | Omit = OMIT,
        start_temperature_c: types.Number | Omit = OMIT,
        volts_accuracy_percent: types.Number | Omit = OMIT,
        volts_resolution_v: types.Number | Omit = OMIT,
        current_accuracy_percent: types.Number | Omit = OMIT,
        current_resolution_a: types.Number | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.RecordingAnswer:
        """What a recording of volts and amperes shows: inrush, plateau, events, resistance,
        warming.

        A clamp meter that records, or an oscilloscope, tells what a reading cannot: the peak at the
        beginning and what one between two samples may have been, what it settles to, how long it
        was on, bounces of the contact, and the dip in a winding's current where its plunger or
        armature pulls in. The slope of volts over amperes is a resistance, with the errors of both
        channels, the skew between them and noise that lasts all counted; volts over amperes at a
        winding tell how much it warms. Each value has its standard uncertainty, a coverage factor
        and an interval that holds it 19 times of 20, and can be handed on as a reading. A battery
        at work is judged by what a sound one keeps, the volts at a load by what it needs, a contact
        by what a sound one drops; what lacks for that is asked for. That nothing is switched is an
        answer, too: what that can be is told. A recording has from 3 to 16,000 samples: of a longer
        one send what lies round the switching.

        A recording of volts, of amperes, or of both at once. Give at least one of `volts_v`,
        `current_a`. `volts_v` and between belong together.

        Parameters
        ----------
        time_s : sequence of float or str
            When each sample was taken, rising; it may begin below 0. From 3 to 16000 of them, each
            from -1000000 to 1000000. [s]
        volts_v : sequence of float or str, optional
            What the voltmeter, or that channel of an oscilloscope, read then. From 3 to 16000 of
            them, each from -1000 to 1000. [V]
        current_a : sequence of float or str, optional
            What the clamp read then; a clamp that sits the wrong way round is noticed. From 3 to
            16000 of them, each from -10000 to 10000. [A]
        between : {"path", "battery", "load"}, optional
            What the volts are read across: a path, a part or a contact that carries the current;
            the posts of the battery; or the load. The slope of volts over amperes is the resistance
            of the path; downwards, it is that of the battery, or of all there is before the load.
        part : {"switch", "relay", "connector", "ground", "terminal", "fuse"}, optional
            Where a path is one contact, what makes it, to hold its drop against what a sound one
            has.
        needed_v : float or str, optional
            Lowest voltage at which the load works, as a solenoid's to pull in, to hold the volts
            across it against. From 0.01 to 100. [V]
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, 6, 12 or 24, to judge a battery by; by default told from
            what it has at rest. [V]
        winding : bool, optional
            Whether the load is one copper winding, such as a relay's coil or a solenoid: its
            pull-in is looked for in the current, and with the volts across the load its warming. By
            default ``False``.
        start_temperature_c : float or str, optional
            Of that winding when it is switched on. From -40 to 200, by default 20. [degC]
        volts_accuracy_percent : float or str, optional
            Largest error of the volts, of what is read; the default is practice for a usual meter.
            From 0 to 20, by default 0.5. [%]
        volts_resolution_v : float or str, optional
            One step of the last digit of the volts; their zero may be off by as much. From 0.000001
            to 10, by default 0.01. [V]
        current_accuracy_percent : float or str, optional
            Largest error of the amperes, of what is read; the default is practice for a usual
            clamp. From 0 to 20, by default 2. [%]
        current_resolution_a : float or str, optional
            One step of the last digit of the amperes; their zero may be off by as much: clamp to
            zero first, and give what is left if it is more. From 0.000001 to 100, by default 0.1.
            [A]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.RecordingAnswer,
            "recording",
            time_s=time_s,
            volts_v=volts_v,
            current_a=current_a,
            between=between,
            part=part,
            needed_v=needed_v,
            nominal_v=nominal_v,
            winding=winding,
            start_temperature_c=start_temperature_c,
            volts_accuracy_percent=volts_accuracy_percent,
            volts_resolution_v=volts_resolution_v,
            current_accuracy_percent=current_accuracy_percent,
            current_resolution_a=current_resolution_a,
            explain=explain,
        )
