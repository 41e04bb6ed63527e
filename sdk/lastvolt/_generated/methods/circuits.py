# Generated from openapi.json by sdk/generate: do not edit.
"""Whole circuits."""

from __future__ import annotations

from collections.abc import Sequence

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
        may ask for 60,000 units of work: the sum over its cases of solutions x (1 + relays / 4) x
        (30 + parts + (parts / 55)^3), where solutions is 1 + relays, and with intervals (2 +
        relays) x (2 + 2 x intervals + the lesser of 2^intervals and 4 x (loads + relays)) more.
        Parts are branches, loads and relays.

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
        the reasons. One request may ask for 60,000 units of work: the sum over its cases of
        solutions x (1 + relays / 4) x (30 + parts + (parts / 55)^3), where solutions is 1 + relays,
        and with intervals (2 + relays) x (2 + 2 x intervals + the lesser of 2^intervals and 4 x
        (loads + relays)) more. Parts are branches, loads and relays. A proposal's relay and parts
        count as well; solutions count three times, and 20 x (2 + relays) come on top.

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
