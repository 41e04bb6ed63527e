"""Whole circuits."""

from collections.abc import Sequence

from lastvolt import inputs, models
from lastvolt.inputs import OMIT, Omit
from lastvolt.operations.base import Asking


class Circuits(Asking):
    """Ask about whole circuits."""

    def circuit_check(
        self,
        *,
        circuit: inputs.Circuit,
        cases: Sequence[inputs.Case],
        nominal_v: inputs.Nominal | Omit = OMIT,
        decisive_load: str | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.CircuitCheck:
        """Check every part of a circuit in every case.

        Parameters
        ----------
        circuit : mapping
            Source, branches, loads and relays; any quantity may be an interval.
        cases : sequence of mapping
            Named conditions that are laid over it.
        nominal_v : int, optional
            6, 12 or 24, for limits of drops; by default told from the source. [V]
        decisive_load : str, optional
            Load that decides what to mend first; by default the first that needs a voltage.
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        CircuitCheck
        """
        return self._ask(
            models.CircuitCheck,
            "circuit-check",
            circuit=circuit,
            cases=list(cases),
            nominal_v=nominal_v,
            decisive_load=decisive_load,
            explain=explain,
        )

    def relay_retrofit(
        self,
        *,
        circuit: inputs.Circuit,
        cases: Sequence[inputs.Case],
        load: str,
        switch: str,
        proposal: inputs.Proposal,
        nominal_v: inputs.Nominal | Omit = OMIT,
        explain: bool | Omit = OMIT,
    ) -> models.RelayRetrofit:
        """Weigh a relay that relieves a switch: the circuit as it is and with it, side by side.

        Parameters
        ----------
        circuit : mapping
            The circuit as it is.
        cases : sequence of mapping
            Named conditions that are laid over it.
        load : str
            Name of the load to be relieved; its old wire will feed the relay's coil.
        switch : str
            Name of the switch or other contact to be spared.
        proposal : mapping
            The relay, where its contact is fed from, and its wires.
        nominal_v : int, optional
            6, 12 or 24, for limits of drops; by default told from the source. [V]
        explain : bool, optional
            Whether the answer gets the steps of its calculation, and remedies for failed checks.

        Returns
        -------
        RelayRetrofit
        """
        return self._ask(
            models.RelayRetrofit,
            "relay-retrofit",
            circuit=circuit,
            cases=list(cases),
            load=load,
            switch=switch,
            proposal=proposal,
            nominal_v=nominal_v,
            explain=explain,
        )
