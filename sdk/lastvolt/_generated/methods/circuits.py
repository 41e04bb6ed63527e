# Generated from openapi.json by sdk/generate: do not edit.
"""Whole circuits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from lastvolt._generated import types
from lastvolt.asking import OMIT, Asking, Omit


class Circuits(Asking):
    """Whole circuits."""

    def circuit_check(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        nominal_v: types.Nominal | Omit = OMIT,
        decisive_load: str | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.CircuitCheck:
        """A whole circuit as a network, in every case: all voltages, currents, heat and checks.

        Wires heat themselves, contacts age, relays close on their coil's voltage, and solenoids
        need more voltage when they are warm. Any quantity may be an interval; the answer then says
        what the decisive voltages do within all bounds, and which input matters most. One request
        may ask for 42,000 units of work: the sum over its cases of 200 + 8 x parts + s, where s is
        (1 + relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with intervals, for each of (2 + 2
        x intervals + the lesser of 2^intervals and 4 x (loads + relays)) points, 36 + parts + s / 2
        more. Parts are branches, loads, relays and further sources.

        A circuit, to be checked in every case.

        Parameters
        ----------
        circuit : Circuit
            The network.
        cases : sequence of Case
            Named conditions. From 1 to 20 of them.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        decisive_load : str, optional
            Load whose voltage decides what to mend first; by default the first that needs a
            voltage. From 1 to 80 characters.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.CircuitCheck,
            "circuit-check",
            circuit=circuit,
            cases=cases,
            nominal_v=nominal_v,
            decisive_load=decisive_load,
            explain=explain,
        )

    def start_sequence(
        self,
        *,
        circuit: types.StartCircuit,
        cases: Sequence[types.Case],
        starter: types.Starter,
        key: str,
        nominal_v: types.Nominal | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.StartSequence:
        """What happens when the key is turned: whether the starter pulls in, holds, cranks and
        lets go.

        The network is brought to rest four times: with the key on and both windings in, with the
        main contact closed and the motor at a stand, while it cranks, and with the key let go. The
        plunger's force is by the ampere-turns of both windings, each with its sign: the pull-in
        winding returns through the motor, and its current turns round when the key is let go.
        Nothing moves within a stage: what bounces through a sag by its mass is called clicking
        here. One request may ask for 42,000 units of work: the sum over its cases of 200 + 8 x
        parts + s, where s is (1 + relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with
        intervals, for each of (2 + 2 x intervals + the lesser of 2^intervals and 4 x (loads +
        relays)) points, 36 + parts + s / 2 more. Parts are branches, loads, relays and further
        sources. The starter counts as four parts; each case counts twice, and 2 x s come on top.

        A starter in its circuit, and the key that switches it.

        Parameters
        ----------
        circuit : StartCircuit
            The network round the starter.
        cases : sequence of Case
            Named conditions. From 1 to 20 of them.
        starter : Starter
            The starter.
        key : str
            The contact that opens when the key is let go. From 1 to 80 characters.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.StartSequence,
            "start-sequence",
            circuit=circuit,
            cases=cases,
            starter=starter,
            key=key,
            nominal_v=nominal_v,
            explain=explain,
        )

    def relay_retrofit(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        switch: str,
        proposal: types.Proposal,
        nominal_v: types.Nominal | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.RelayRetrofit:
        """What to do for a load: mend, charge, fit the relay that is proposed, or leave it as it
        is.

        The proposal is looked at first: fuse, ratings and insulation of what is new, a relay for
        this voltage, switches that stay in charge. Then the circuit as it is, with a sound battery,
        with its poor contacts mended, with the relay, and with several of these is solved in every
        case, and the plainest way that gives the load enough with a tenth to spare is advised, with
        the reasons. One request may ask for 42,000 units of work: the sum over its cases of 200 + 8
        x parts + s, where s is (1 + relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with
        intervals, for each of (2 + 2 x intervals + the lesser of 2^intervals and 4 x (loads +
        relays)) points, 36 + parts + s / 2 more. Parts are branches, loads, relays and further
        sources. A proposal's relay and parts count as well; each case counts three times, its
        points twice, and 2 x 24 x (12 + 0.7 x parts + s) come on top.

        A circuit as it is, and the relay that is proposed for one of its loads.

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
        proposal : Proposal
            The relay and its wires.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.RelayRetrofit,
            "relay-retrofit",
            circuit=circuit,
            cases=cases,
            load=load,
            switch=switch,
            proposal=proposal,
            nominal_v=nominal_v,
            explain=explain,
        )

    def remedy_choice(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        switch: str,
        nominal_v: types.Nominal | Omit = OMIT,
        ways: Sequence[types.GivenWay] | Omit = OMIT,
        not_to_be_had: Sequence[str] | Omit = OMIT,
        starter: types.StarterMotor | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.RemedyChoice:
        """Which way to help a load, in which order, and what each step brings.

        Ways that are given stand beside those that are made: the circuit as it is, the battery seen
        to, each poor contact mended, all of them. Each is screened, solved in every case and held
        against what the load needs; the plainest that works with a reserve is taken. Of several
        relays the one that is safe, works and asks for least is weighed. Where the advice is not
        the same within all bounds, what to measure comes first. One request may ask for 42,000
        units of work: the sum over its cases of 200 + 8 x parts + s, where s is (1 + relays)^2 x (4
        + parts / 36 + (parts / 140)^3), and with intervals, for each of (2 + 2 x intervals + the
        lesser of 2^intervals and 4 x (loads + relays)) points, 36 + parts + s / 2 more. Parts are
        branches, loads, relays and further sources. The largest of the relays given, with its
        parts, counts as well. Each case counts three times for each relay, its points twice; 200 +
        8 x parts + s for each way, and (2 + ways / 4) x 24 x (12 + 0.7 x parts + s) come on top.
        With a starter, which counts as four parts, 3 x (12 x relays given + ways) x (20 + 1.2 x
        parts + s) more.

        A circuit as it is, a load that is to be helped, and the ways that are thought of.

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
        ways : sequence of GivenWay, optional
            Ways beside those that are made. At most 8 of them, by default none.
        not_to_be_had : sequence of str, optional
            Contacts that can be neither cleaned nor bought, such as an old key switch. At most 100
            of them, by default none.
        starter : StarterMotor, optional
            Main contact and motor of the starter whose solenoid the load is: each way is held
            against a whole start, and one in which a relay or the plunger lets go is not advised.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.RemedyChoice,
            "remedy-choice",
            circuit=circuit,
            cases=cases,
            load=load,
            switch=switch,
            nominal_v=nominal_v,
            ways=ways,
            not_to_be_had=not_to_be_had,
            starter=starter,
            explain=explain,
        )

    def relay_choice(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        switch: str,
        candidates: Sequence[types.RelayCandidate],
        places: Sequence[types.RelayPlace],
        nominal_v: types.Nominal | Omit = OMIT,
        load_kind: types.LoadKind | Omit = OMIT,
        standard: types.Standard | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.RelayChoice:
        """Which relay of those at hand, and where to mount it: the best of all, with wires and
        fuse.

        For each place feed and outlet are sized as one wire, with a fuse at its start, by
        wire-sizing, for what the load takes there. Each relay is put into the circuit in each place
        and judged, in every case, as relay-retrofit judges a proposal. Of those that work, with a
        tenth to spare, the one in the kindest place is taken: not on the hot part, which soaks
        through in the 15 to 30 minutes after a stop, near, and dry, each step of which is worth 2 m
        of wire, and not over 85 degC, which is worth 4 m to one that bears it (practice); then the
        cheapest, then the one with most in hand. It comes as a whole proposal, to be posted to
        relay-retrofit, and all others with the reason against them. One request may ask for 42,000
        units of work: the sum over its cases of 200 + 8 x parts + s, where s is (1 + relays)^2 x (4
        + parts / 36 + (parts / 140)^3), and with intervals, for each of (2 + 2 x intervals + the
        lesser of 2^intervals and 4 x (loads + relays)) points, 36 + parts + s / 2 more. Parts are
        branches, loads, relays and further sources. Here one may ask for twice as many, and a relay
        and three parts more count. All relays in all places are looked at alone first; those that
        are left are put into the circuit, the best place and the cheapest first, for as long as the
        units last: the answer says how many were not. The circuit as it is counts as much as one of
        them, and so does each place; the relay that is advised counts once more as in
        relay-retrofit.

        A circuit as it is, relays that one has, and places for one of them.

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
        candidates : sequence of RelayCandidate
            The relays to choose from. From 1 to 200 of them.
        places : sequence of RelayPlace
            The places to choose from. From 1 to 6 of them.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        load_kind : LoadKind, optional
            Kind of load, for the inrush on the contacts of relays that do not say theirs; that of
            lamps is told from the circuit.
        standard : {"AWG", "SAE", "IEC 60228", "ISO 6722"}, optional
            Standard of the sizes of new wires. By default ``"AWG"``.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.RelayChoice,
            "relay-choice",
            circuit=circuit,
            cases=cases,
            load=load,
            switch=switch,
            candidates=candidates,
            places=places,
            nominal_v=nominal_v,
            load_kind=load_kind,
            standard=standard,
            explain=explain,
        )

    def work_sheet(
        self,
        *,
        circuit: types.Circuit,
        cases: Sequence[types.Case],
        load: str,
        switch: str,
        proposal: types.Proposal,
        nominal_v: types.Nominal | Omit = OMIT,
        vehicle: str | Omit = OMIT,
        colours: Mapping[str, str] | Omit = OMIT,
        slack_percent: types.Number | Omit = OMIT,
        slack_of_wire_percent: Mapping[str, types.Number] | Omit = OMIT,
        blade_mm: Mapping[str, types.Number] | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.WorkSheet:
        """The sheet to take under the vehicle for a relay: what to cut, where it goes, in which
        order.

        The proposal is looked at as ``relay-retrofit`` does. One that must not be built, or of
        which a fuse or a rating is not known, gives no sheet, and the answer says what is wrong or
        missing. Else there are the leads with their slack, the parts and terminals, the wiring
        terminal by terminal, the order of work with its cautions, and the readings before and after
        with the volts to expect; how these come about is told by ``relay-retrofit``. One request
        may ask for 42,000 units of work: the sum over its cases of 200 + 8 x parts + s, where s is
        (1 + relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with intervals, for each of (2 + 2
        x intervals + the lesser of 2^intervals and 4 x (loads + relays)) points, 36 + parts + s / 2
        more. Parts are branches, loads, relays and further sources. A proposal's relay and parts
        count as well; each case counts three times, its points twice, and 2 x 24 x (12 + 0.7 x
        parts + s) come on top. For a sheet each case counts five times, its points thrice.

        A proposed relay, and what a sheet for it says besides.

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
        proposal : Proposal
            The relay and its wires.
        nominal_v : {6, 12, 24}, optional
            Nominal voltage of the system, for limits of drops; by default told from the source. [V]
        vehicle : str, optional
            Title of the sheet. From 1 to 80 characters.
        colours : mapping of str to str, optional
            Colour of each wire as it is in the vehicle, or is to be, in the caller's own words; of
            the leads that a proposal implies by ground lead of the load, lead to 85, lead to 86. At
            most 100 of them.
        slack_percent : float or str, optional
            Added to the length of every new wire; by default 10, 25 to an engine that moves, and
            0.1 m at least, by practice. From 0 to 100. [%]
        slack_of_wire_percent : mapping of str to float or str, optional
            The same for single wires, by name. At most 100 of them, each from 0 to 100. [%]
        blade_mm : mapping of str to float or str, optional
            Width of the relay's blades, by terminal: 30, 85, 86, 87. At most 4 of them, each from 1
            to 20. [mm]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.WorkSheet,
            "work-sheet",
            circuit=circuit,
            cases=cases,
            load=load,
            switch=switch,
            proposal=proposal,
            nominal_v=nominal_v,
            vehicle=vehicle,
            colours=colours,
            slack_percent=slack_percent,
            slack_of_wire_percent=slack_of_wire_percent,
            blade_mm=blade_mm,
            explain=explain,
        )

    def quick_answer(
        self,
        *,
        system_v: types.Nominal,
        distance_m: types.Number,
        load: types.QuickAnswerLoad | Omit = OMIT,
        current_a: types.Number | Omit = OMIT,
        return_path: Literal["body", "positive_body", "wire"] | Omit = OMIT,
        wear: types.Wear | Omit = OMIT,
        zone: types.QuickAnswerZone | Omit = OMIT,
        fails: types.Fails | Omit = OMIT,
        wire: str | Omit = OMIT,
        switch_to_be_had: bool | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> types.QuickAnswer:
        """What to do for a load that is weak or fails, from the little that anyone can say of
        it.

        The whole circuit is made up from what is usual: battery, fuse, wires, switch, plug, ground.
        What is not known stands within bounds, each with its reason. remedy-choice weighs it as it
        is, mended, and with a relay of the trade; the advice holds within all of these bounds, or a
        reading with a meter comes first, with what follows from it. The full request is given to go
        on with.

        A load, how far off it is, and whatever else is known.

        Parameters
        ----------
        system_v : {6, 12, 24}
            Nominal voltage of the system. [V]
        distance_m : float or str
            About how far it is from the battery to the load, along the wire. From 0.2 to 50. [m]
        load : QuickAnswerLoad, optional
            What is fed; by default something else, and then what it takes must be given.
        current_a : float or str, optional
            What the load takes, up to 100; by default what is usual for it. From 0.1 to 10000. [A]
        return_path : {"body", "positive_body", "wire"}, optional
            How the current comes back: through the body at the negative post, through the body at
            the positive post, or through a wire of its own (of a starter: at it the heavy cable
            back begins). By default ``"body"``.
        wear : {"new", "used", "old", "very_old"}, optional
            How worn switch, plugs and grounds are; by default anything from new to very old.
        zone : {"cabin", "engine_bay", "on_the_engine", "outside"}, optional
            Where the load lies; by default where such a load does.
        fails : Fails, optional
            When the load fails or is weak, sometimes if it comes and goes, or how: its fuse blows;
            switch, button or plug gets hot or melts; a starter pulls in and turns slowly; the
            battery is not charged; by default it is not known.
        wire : str, optional
            Size of its wire: '12 AWG', '2/0 AWG', '12 SAE' or '2.5 mm2'; by default what is usual
            for its current.
        switch_to_be_had : bool, optional
            Whether its switch can be cleaned, or bought new. By default ``True``.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for its failed
            checks. By default ``False``.
        """
        return self._ask(
            types.QuickAnswer,
            "quick-answer",
            system_v=system_v,
            distance_m=distance_m,
            load=load,
            current_a=current_a,
            return_path=return_path,
            wear=wear,
            zone=zone,
            fails=fails,
            wire=wire,
            switch_to_be_had=switch_to_be_had,
            explain=explain,
        )
