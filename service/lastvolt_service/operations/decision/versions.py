"""A circuit as it is and with a relay, side by side in a case, and how far each is from failing."""

import math
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import open_coil_v, rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.judge import Asked, Judged
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact
from lastvolt_service.operations.circuits.states import Influence, OutputSpread, load_states
from lastvolt_service.operations.decision.proposal import DecisionRequest
from lastvolt_service.operations.judging import Verdict
from lastvolt_service.operations.results import worst
from lastvolt_service.physics.roots import rising_crossing

# Extra resistance of the switch is searched up to here, and winding temperature to there.
HIGHEST_EXTRA_OHM = 1000.0
HIGHEST_WINDING_C = 400.0
LOWEST_WINDING_C = -60.0


@dataclass(frozen=True, slots=True)
class Version:
    """The circuit as it is, or as proposed, in one case."""

    load_voltage_v: Annotated[float, "voltage that reaches the load"]
    needed_v: Annotated[float, "lowest voltage that it works at in this case"]
    margin_v: Annotated[float, "load_voltage_v over needed_v"]
    switch_current_a: Annotated[float, "through the switch"]
    switch_power_w: Annotated[float, "heat made in the switch"]
    tolerated_contact_ohm: Annotated[
        float | None,
        "further resistance of the switch until the load fails, at most 1000; null where it fails "
        "as it is",
    ]
    hottest_winding_c: Annotated[
        float | None,
        "highest temperature of the load at which it still works, at most 400; null where it "
        "works at none",
    ]
    coil_v: Annotated[float | None, "at the relay's coil before it closes; null as it is"]
    pick_up_v: Annotated[float | None, "that closes the relay, its coil warm; null as it is"]
    spreads: Annotated[tuple[OutputSpread, ...], "empty where no input is an interval"]
    influences: Annotated[tuple[Influence, ...], "of the inputs that are, strongest first"]
    verdict: Annotated[Verdict, "the worst check of the load and of the proposed parts"]


@dataclass(frozen=True, slots=True)
class RetrofitCase:
    """Both versions in one case."""

    name: Annotated[str, "the case as the request names it"]
    as_is: Annotated[Version, "the circuit as it is"]
    proposed: Annotated[Version, "the circuit with the relay"]
    gain_v: Annotated[float, "more voltage at the load with the relay"]


@dataclass(frozen=True, slots=True)
class AtRest:
    """What one version is at rest, as `Version` names it."""

    load_voltage_v: float
    needed_v: float
    margin_v: float
    switch_current_a: float


@dataclass(frozen=True, slots=True)
class Brief:
    """Both versions in one case, as `RetrofitCase` names them, without what is searched for."""

    name: str
    as_is: AtRest
    proposed: AtRest
    gain_v: float


@dataclass(frozen=True, slots=True)
class Both:
    """One case of both versions: at rest with their checks, and what reaches the load."""

    as_is: Judged
    proposed: Judged
    told: Brief

    @property
    def share(self) -> float:
        """Margin of the load as it is over what it needs."""
        return self.told.as_is.margin_v / self.told.as_is.needed_v


def side_by_side(load: str, switch: str, as_is: Judged, proposed: Judged) -> Both:
    """Put the circuit as it is beside the new one with the relay, in one case."""
    gain_v = proposed.state.across_v(load) - as_is.state.across_v(load)
    told = Brief(
        as_is.case.name, _at_rest(load, switch, as_is), _at_rest(load, switch, proposed), gain_v
    )
    return Both(as_is, proposed, told)


def _at_rest(load: str, switch: str, judged: Judged) -> AtRest:
    state = judged.state
    found = next(each for each in load_states(state) if each.name == load)
    needed_v = found.needed_v or math.nan  # the schema asks for it
    return AtRest(
        found.voltage_v,
        needed_v,
        found.voltage_v - needed_v,
        state.model.sign * state.current_a(switch),
    )


def in_full(asked: DecisionRequest, new: Circuit, both: Both) -> RetrofitCase:
    """Tell all of a case; how far each version is from failing is searched for, which costs."""
    load, own = asked.load, asked.new_names
    return RetrofitCase(
        name=both.told.name,
        as_is=_version(asked, asked.circuit, both.as_is, both.told.as_is, {load}),
        proposed=_version(asked, new, both.proposed, both.told.proposed, {load} | own),
        gain_v=both.told.gain_v,
    )


def _version(
    asked: DecisionRequest,
    circuit: Circuit,
    judged: Judged,
    at_rest: AtRest,
    parts: AbstractSet[str],
) -> Version:
    state = judged.state
    relay = state.model.relays[-1] if len(parts) > 1 else None
    coil_v = None
    if relay is not None:
        resting = abs(float(state.solution.coils.drop_v[-1]))
        coil_v = open_coil_v(state).get(relay.name, resting)
    headroom = _Headroom(
        *plain(circuit, judged.case), asked.load, asked.switch, relay.name if relay else None, state
    )
    return Version(
        load_voltage_v=at_rest.load_voltage_v,
        needed_v=at_rest.needed_v,
        margin_v=at_rest.margin_v,
        switch_current_a=at_rest.switch_current_a,
        switch_power_w=abs(at_rest.switch_current_a * state.across_v(asked.switch)),
        tolerated_contact_ohm=headroom.tolerated_contact_ohm(),
        hottest_winding_c=headroom.hottest_winding_c(),
        coil_v=coil_v,
        pick_up_v=None if relay is None else relay.pick_up_v,
        spreads=judged.within.spreads,
        influences=judged.within.influences(asked.load),
        verdict=worst(check.verdict for check in judged.checks if check.part in parts),
    )


def headroom(asked: Asked, switch: str, relay: str | None, near: State) -> float | None:
    """Further resistance of the switch until the load fails; None where it does as it is. [ohm]."""
    circuit, case = plain(asked.circuit, asked.case)
    return _Headroom(circuit, case, asked.load, switch, relay, near).tolerated_contact_ohm()


@dataclass(frozen=True, slots=True)
class _Headroom:
    """How far a version is from failing, as one input is moved."""

    circuit: Circuit
    case: Case
    load: str
    switch: str
    relay: str | None
    near: State

    def shortfall(self, circuit: Circuit) -> float:
        """Needed voltage over what arrives, less one: above zero the load fails.

        Nearly straight in the resistance of the path and in the temperature of the load, since
        both enter the current by their sum.
        """
        try:
            state = rest(circuit, self.case, self.near)
        except CalculationError:
            return math.inf
        if state.solution.chatter or self.load in state.unfed:
            return math.inf
        found = next(each for each in load_states(state) if each.name == self.load)
        short = _over(found.needed_v or 0.0, found.voltage_v)
        if self.relay is None:
            return short
        place = next(i for i, each in enumerate(state.model.relays) if each.name == self.relay)
        coil = _coil_shortfall(state, place)
        # An open relay's load gets nothing; its coil alone tells how far it is from closing.
        return max(short, coil) if state.solution.energised[place] else coil

    def tolerated_contact_ohm(self) -> float | None:
        """Further resistance of the switch until the load fails."""

        def short(extra_ohm: float) -> float:
            branches = [self._worn(each, extra_ohm) for each in self.circuit.branches]
            return self.shortfall(changed(self.circuit, branches=branches))

        return rising_crossing(function=short, low=0.0, high=HIGHEST_EXTRA_OHM, tolerance=1e-6)

    def _worn(self, branch: Branch, extra_ohm: float) -> Branch:
        """The switch as old as the case makes it, and worn further; any other part as it is."""
        if branch.name != self.switch or not isinstance(branch, CircuitContact):
            return branch
        factor = self.case.ageing_factor if branch.ages else 1.0
        ohm = branch.resistance_ohm * factor + extra_ohm
        return changed(branch, resistance_ohm=ohm, ages=False)

    def hottest_winding_c(self) -> float | None:
        """Highest temperature of the load at which it still works."""

        def short(winding_c: float) -> float:
            # As of a part that gives its own ambient.
            loads = [
                changed(each, ambient_c=winding_c) if each.name == self.load else each
                for each in self.circuit.loads
            ]
            return self.shortfall(changed(self.circuit, loads=loads))

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
