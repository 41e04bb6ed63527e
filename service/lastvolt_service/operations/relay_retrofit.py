"""A relay that relieves a switch: the circuit as it is and as proposed, side by side."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Annotated, Any

from lastvolt_service.errors import CalculationError, NetworkFault
from lastvolt_service.operations.circuit import Data, State
from lastvolt_service.operations.circuit_bounds import plain
from lastvolt_service.operations.circuit_build import rest
from lastvolt_service.operations.circuit_check import (
    Judged,
    in_case,
    judge_case,
    open_coil_v,
)
from lastvolt_service.operations.circuit_state import load_states
from lastvolt_service.operations.mending import Mend, mending
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    HOT_SURFACE,
    SHORT_CIRCUIT,
    STARTER,
    Result,
    merge,
    worst,
)
from lastvolt_service.operations.retrofit_advice import (
    ADVICE,
    NEW_RISKS,
    Advice,
    Both,
    RetrofitCase,
    Version,
    advise,
)
from lastvolt_service.physics.roots import rising_crossing

# Extra resistance of the switch is searched up to here, and winding temperature to there.
HIGHEST_EXTRA_OHM = 1000.0
HIGHEST_WINDING_C = 400.0
LOWEST_WINDING_C = -60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RelayRetrofit(Result):
    """Answer of ``relay-retrofit``."""

    advice: Annotated[Advice, "worth_it, insurance_only, not_the_remedy or change_the_proposal"]
    advice_text: Annotated[str, "the same in words"]
    reasons: Annotated[tuple[str, ...], "why, in order of weight"]
    new_risks: Annotated[tuple[str, ...], "what the relay brings with it"]
    cases: Annotated[tuple[RetrofitCase, ...], "both versions in every case"]
    mend_first: Annotated[
        tuple[Mend, ...], "parts by the volts they cost the load as it is, in its worst case"
    ]


def relay_retrofit(
    *,
    circuit: Data,
    cases: Sequence[Data],
    load: str,
    switch: str,
    proposal: Data,
    nominal_v: int | None = None,
) -> RelayRetrofit:
    """Whether a relay close to a load, its coil on the old wire, is worth fitting.

    The circuit as it is and with the relay are solved in every case: voltage at the load, margin
    to what it needs, current and heat in the switch, how much more contact resistance each
    stands, and the hottest winding that still pulls in. The advice says whether the relay is
    worth it, insurance only, or not the remedy, and why.

    Returns
    -------
    RelayRetrofit

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a part is in no table.
    NetworkFault
        If a version has no state of rest.
    """
    new = with_relay(circuit, load, proposal)
    own = _proposed_names(proposal)
    try:
        both = [_solve_both(circuit, new, case, load, switch, own, nominal_v) for case in cases]
    except CalculationError as error:
        raise _as_requested(error, circuit, proposal) from error
    poorest = min(both, key=lambda item: item.told.as_is.margin_v / item.told.as_is.needed_v)
    mend = mending(poorest.as_is.state, load)
    advice, reasons = advise(both, poorest, mend, load, switch, own)
    return RelayRetrofit(
        advice=advice,
        advice_text=ADVICE[advice],
        reasons=reasons,
        new_risks=NEW_RISKS,
        cases=tuple(item.told for item in both),
        mend_first=mend,
        checks=tuple(
            replace(check, name=f"{item.case['name']}, {version}: {check.name}")
            for item in both
            for version, judged in (("as it is", item.as_is), ("with the relay", item.proposed))
            for part, check in judged.checks
            if part in {load, switch} | own
        ),
        basis=merge(*(item.proposed.state.model.basis for item in both)),
        cautions=(STARTER, SHORT_CIRCUIT, FUSE_NEAR_SOURCE, HOT_SURFACE, DEFERENCE),
    )


def _proposed_names(proposal: Data) -> set[str]:
    chains = (part["name"] for field in ("feed", "outlet") for part in proposal[field])
    return {proposal["relay"]["name"], *chains}


def with_relay(circuit: Data, load: str, proposal: Data) -> dict[str, Any]:
    """Move a load of a circuit to the proposed relay, and put its old wire on the coil.

    Parameters
    ----------
    circuit, proposal : mapping
        As loaded.
    load : str
        Name of the load.

    Returns
    -------
    dict
        The circuit as proposed.
    """
    relay = proposal["relay"]["name"]
    old = next(item for item in circuit["loads"] if item["name"] == load)
    terminal, ground = old["nodes"]
    at_30, at_87, at_load = (f"{relay} [{end}]" for end in ("30", "87", "load"))
    feed = _chain(proposal["feed"], proposal["feed_node"], at_30)
    outlet = _chain(proposal["outlet"], at_87, at_load)
    return {
        **circuit,
        "branches": [*circuit["branches"], *feed, *outlet],
        "loads": [
            {**item, "nodes": [outlet[-1]["nodes"][1] if outlet else at_87, ground]}
            if item["name"] == load
            else item
            for item in circuit["loads"]
        ],
        "relays": [
            *circuit["relays"],
            {
                **proposal["relay"],
                "coil_nodes": [terminal, proposal.get("coil_ground_node", ground)],
                "contact_nodes": [at_30 if feed else proposal["feed_node"], at_87],
            },
        ],
    }


def _chain(parts: Sequence[Data], start: str, end: str) -> list[dict[str, Any]]:
    nodes = [start, *(f"{end} {place}" for place in range(1, len(parts))), end]
    return [
        {**part, "nodes": list(pair)} for part, pair in zip(parts, pairwise(nodes), strict=False)
    ]


def _solve_both(
    circuit: Data,
    new: Data,
    case: Data,
    load: str,
    switch: str,
    own: set[str],
    nominal_v: int | None,
) -> Both:
    as_is = _judge(circuit, case, nominal_v, load, "as it is")
    proposed = _judge(new, case, nominal_v, load, "with the relay")
    told = RetrofitCase(
        name=case["name"],
        as_is=_version(circuit, case, as_is, load, switch, {load}),
        proposed=_version(new, case, proposed, load, switch, {load} | own),
        gain_v=proposed.state.across_v(load) - as_is.state.across_v(load),
    )
    return Both(case, as_is, proposed, told)


def _judge(circuit: Data, case: Data, nominal_v: int | None, load: str, version: str) -> Judged:
    try:
        return judge_case(circuit, case, nominal_v, load)
    except NetworkFault as error:
        raise in_case(error, f"{case['name']}, {version}") from error


def _as_requested(error: CalculationError, circuit: Data, proposal: Data) -> CalculationError:
    """The same error, pointing at the proposal where a proposed part is at fault."""
    where, branches = error.path, len(circuit["branches"])
    if where[:2] != ("circuit", "branches") or int(where[2]) < branches:
        return error
    place, feed = int(where[2]) - branches, len(proposal["feed"])
    chain = ("feed", place) if place < feed else ("outlet", place - feed)
    return type(error)(error.detail, ("proposal", *chain, *where[3:]))


def _version(
    circuit: Data, case: Data, judged: Judged, load: str, switch: str, judged_parts: set[str]
) -> Version:
    state = judged.state
    found = next(item for item in load_states(state) if item.name == load)
    needed = found.needed_v or math.nan  # the schema asks for it
    relay = state.model.relays[-1] if len(judged_parts) > 1 else None
    coil_v = None
    if relay is not None:
        place = len(state.model.relays) - 1
        resting = abs(float(state.solution.coils.drop_v[place]))
        coil_v = open_coil_v(state).get(relay.name, resting)
    current = state.current_a(switch)
    plain_circuit, plain_case = plain(circuit, case)
    want = _Want(plain_circuit, plain_case, load, switch, relay.name if relay else None)
    return Version(
        load_voltage_v=found.voltage_v,
        needed_v=needed,
        margin_v=found.voltage_v - needed,
        switch_current_a=current,
        switch_power_w=abs(current * state.across_v(switch)),
        tolerated_contact_ohm=want.tolerated_contact_ohm(),
        hottest_winding_c=want.hottest_winding_c(),
        coil_v=coil_v,
        pick_up_v=None if relay is None else relay.pick_up_v,
        spreads=judged.within.spreads,
        influences=judged.within.influences(load),
        verdict=worst(check.verdict for part, check in judged.checks if part in judged_parts),
    )


@dataclass(frozen=True, slots=True)
class _Want:
    """How far a version is from failing, as one input is moved."""

    circuit: Data
    case: Data
    load: str
    switch: str
    relay: str | None

    def shortfall(self, circuit: Data) -> float:
        """Needed voltage over what arrives, less one: above zero the load fails.

        Nearly straight in the resistance of the path and in the temperature of the load, since
        both enter the current by their sum.
        """
        try:
            state = rest(circuit, self.case)
        except CalculationError:
            return math.inf
        if state.solution.chatter:
            return math.inf
        found = next(item for item in load_states(state) if item.name == self.load)
        short = _over(found.needed_v or 0.0, found.voltage_v)
        if self.relay is None:
            return short
        place = next(i for i, item in enumerate(state.model.relays) if item.name == self.relay)
        coil = _coil_shortfall(state, place)
        # An open relay's load gets nothing; its coil alone tells how far it is from closing.
        return max(short, coil) if state.solution.energised[place] else coil

    def tolerated_contact_ohm(self) -> float | None:
        """Further resistance of the switch until the load fails."""

        def short(extra_ohm: float) -> float:
            branches = [
                {**item, "resistance_ohm": item["resistance_ohm"] + extra_ohm, "ages": False}
                if item["name"] == self.switch
                else item
                for item in self._aged()
            ]
            return self.shortfall({**self.circuit, "branches": branches})

        return rising_crossing(function=short, low=0.0, high=HIGHEST_EXTRA_OHM, tolerance=1e-6)

    def _aged(self) -> list[Data]:
        """The branches with the switch as old as the case makes it."""
        factor = self.case["ageing_factor"]
        return [
            {**item, "resistance_ohm": item["resistance_ohm"] * factor}
            if item["name"] == self.switch and item.get("ages", False)
            else item
            for item in self.circuit["branches"]
        ]

    def hottest_winding_c(self) -> float | None:
        """Highest temperature of the load at which it still works."""

        def short(winding_c: float) -> float:
            loads = [
                {**item, "ambient_c": winding_c} if item["name"] == self.load else item
                for item in self.circuit["loads"]
            ]
            return self.shortfall({**self.circuit, "loads": loads})

        return rising_crossing(
            function=short, low=LOWEST_WINDING_C, high=HIGHEST_WINDING_C, tolerance=1e-4
        )


def _coil_shortfall(state: State, place: int) -> float:
    relay = state.model.relays[place]
    resting = abs(float(state.solution.coils.drop_v[place]))
    if state.model.held[place]:
        return _over(relay.drop_out_v, resting)
    return _over(relay.pick_up_v, open_coil_v(state).get(relay.name, resting))


def _over(needed: float, given: float) -> float:
    return math.inf if given <= 0 else needed / given - 1.0
