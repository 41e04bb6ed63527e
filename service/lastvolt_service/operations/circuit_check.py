"""A whole circuit in every case: every part checked, the weakest named, the mending ordered."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from lastvolt_service.errors import NetworkFault
from lastvolt_service.operations.circuit import Data, State
from lastvolt_service.operations.circuit_bounds import Bounds, bounds, plain
from lastvolt_service.operations.circuit_build import rest
from lastvolt_service.operations.circuit_checks import part_checks
from lastvolt_service.operations.circuit_state import (
    CaseState,
    load_states,
    node_voltages,
    part_states,
    relay_states,
)
from lastvolt_service.operations.drop_limits import nominal_voltage
from lastvolt_service.operations.mending import Mend, mending
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    STARTER,
    VERDICTS_WORST_FIRST,
    Check,
    Result,
    merge,
    worst,
)
from lastvolt_service.physics.network import solve


@dataclass(frozen=True, slots=True)
class WeakestPart:
    """The part that fails first."""

    name: Annotated[str, "the part"]
    case: Annotated[str, "the case that shows it"]
    check: Annotated[Check, "its check"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitCheck(Result):
    """Answer of ``circuit-check``."""

    cases: Annotated[tuple[CaseState, ...], "the circuit in every case"]
    worst_case: Annotated[str, "the case with the worst check"]
    weakest_part: Annotated[WeakestPart | None, "null where nothing could be judged"]
    decisive_load: Annotated[str, "the load that the mending is ordered by"]
    mend_first: Annotated[
        tuple[Mend, ...], "parts by the volts that they cost the decisive load in the worst case"
    ]


@dataclass(frozen=True, slots=True)
class Judged:
    """A case with its checks by part.

    Attributes
    ----------
    state : State
        The circuit at rest.
    checks : tuple of (str, Check)
        Name of the part, and the check.
    within : Bounds
        What the decisive voltages do within the bounds of the inputs.
    """

    state: State
    checks: tuple[tuple[str, Check], ...]
    within: Bounds


def circuit_check(
    *,
    circuit: Data,
    cases: Sequence[Data],
    nominal_v: int | None = None,
    decisive_load: str | None = None,
) -> CircuitCheck:
    """A whole circuit as a network, in every case: all voltages, currents, heat and checks.

    Wires heat themselves, contacts age, relays close on their coil's voltage, and solenoids need
    more voltage when they are warm. Any quantity may be an interval; the answer then says what
    the decisive voltages do within all bounds, and which input matters most.

    Returns
    -------
    CircuitCheck

    Raises
    ------
    UnknownSize, NotCovered, ConflictingFields
        If a part is in no table.
    NetworkFault
        If the network has no state of rest: parts that float, shorts, loads that cannot be fed.
    """
    decisive = decisive_load or _decisive(circuit["loads"])
    judged: list[Judged] = []
    states: list[CaseState] = []
    for case in cases:
        try:
            judged.append(judge_case(circuit, case, nominal_v, decisive))
        except NetworkFault as error:
            raise in_case(error, case["name"]) from error
        states.append(_case_state(judged[-1], case, decisive))
    place, weakest = _weakest(judged, cases)
    return CircuitCheck(
        cases=tuple(states),
        worst_case=cases[place]["name"],
        weakest_part=weakest,
        decisive_load=decisive,
        mend_first=mending(judged[place].state, decisive),
        checks=tuple(
            replace(check, name=f"{case['name']}: {check.name}")
            for case, item in zip(cases, judged, strict=True)
            for part, check in item.checks
            if part == decisive or check.verdict in {"fail", "marginal"}
        ),
        basis=merge(*(item.state.model.basis for item in judged)),
        cautions=(STARTER, SHORT_CIRCUIT, FUSE_NEAR_SOURCE, DEFERENCE),
    )


def _decisive(loads: Sequence[Data]) -> str:
    wanting = [load for load in loads if load["kind"] == "solenoid" or "needed_v" in load]
    found: str = (wanting or loads)[0]["name"]
    return found


def in_case(error: NetworkFault, case: str) -> NetworkFault:
    """Say in an error which case it is about.

    Parameters
    ----------
    error : NetworkFault
        The error.
    case : str
        Name of the case.

    Returns
    -------
    NetworkFault
        Of the same class.
    """
    return type(error)(f"In {case}: {error.detail}", error.path, error.nodes)


def judge_case(circuit: Data, case: Data, nominal_v: int | None, load: str) -> Judged:
    """Find a circuit's state of rest in a case and check all its parts.

    Parameters
    ----------
    circuit, case : mapping
        As loaded; intervals are taken at their middle, and then within all of their bounds.
    nominal_v : int or None
        6, 12 or 24; told from the source where it is None. [V]
    load : str
        The load that decides.

    Returns
    -------
    Judged

    Raises
    ------
    CalculationError
        As `circuit_check`.
    """
    plain_circuit, plain_case = plain(circuit, case)
    state = rest(plain_circuit, plain_case)
    checks = part_checks(
        state,
        nominal=nominal_v or nominal_voltage(state.model.emf_v),
        duration_s=plain_case.get("duration_s"),
        open_coil_v=open_coil_v(state),
    )
    within = bounds(circuit, case)
    return Judged(state, (*checks, *within.checks(load)), within)


def open_coil_v(state: State) -> dict[str, float]:
    """Voltage at each coil before its relay closed.

    Parameters
    ----------
    state : State
        A circuit at rest.

    Returns
    -------
    dict of str to float
        For the relays that have pulled in. [V]
    """
    network, found = state.model.network, {}
    for index, relay in enumerate(state.model.relays):
        if state.solution.energised[index] and not state.model.held[index]:
            never = network.coils.pick_up_v.copy()
            never[index] = np.inf
            before = solve(network=replace(network, coils=replace(network.coils, pick_up_v=never)))
            found[relay.name] = abs(float(before.coils.drop_v[index]))
    return found


def _case_state(judged: Judged, case: Data, decisive: str) -> CaseState:
    state = judged.state
    return CaseState(
        name=case["name"],
        verdict=worst(check.verdict for _, check in judged.checks),
        source_v=float(state.solution.sources.drop_v[0]),
        source_current_a=float(state.solution.sources.current_a[0]),
        nodes=node_voltages(state),
        parts=part_states(state),
        loads=load_states(state),
        relays=relay_states(state),
        checks=tuple(check for _, check in judged.checks),
        spreads=judged.within.spreads,
        influences=judged.within.influences(decisive),
        residual_a=state.solution.residual_a,
        iterations=state.solution.iterations,
    )


def _weakest(judged: Sequence[Judged], cases: Sequence[Data]) -> tuple[int, WeakestPart | None]:
    """Place of the worst case, and the worst check of all."""
    ranked = sorted(
        (
            (VERDICTS_WORST_FIRST.index(check.verdict), _relative(check), place, part, check)
            for place, item in enumerate(judged)
            for part, check in item.checks
            if check.margin is not None or check.verdict == "fail"
        ),
        key=lambda row: row[:3],
    )
    if not ranked:
        return 0, None
    _, _, place, part, check = ranked[0]
    return place, WeakestPart(part, cases[place]["name"], check)


def _relative(check: Check) -> float:
    """Margin over limit: what fails most comes first."""
    if check.margin is None:
        return -np.inf
    return check.margin / max(abs(check.limit or 0.0), 1e-9)
