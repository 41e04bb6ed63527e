"""A whole circuit in every case: every part checked, the weakest named, the mending ordered."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from lastvolt_service.errors import NetworkFault, Path
from lastvolt_service.operations.circuit import Data, State
from lastvolt_service.operations.circuit_build import rest
from lastvolt_service.operations.circuit_checks import GIVEN, named, part_checks
from lastvolt_service.operations.circuit_state import (
    CaseState,
    Influence,
    OutputSpread,
    load_states,
    node_voltages,
    part_states,
    relay_states,
)
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
from lastvolt_service.operations.tolerance import (
    NOT_STUDIED,
    Study,
    intervals,
    middle,
    pinned,
    study,
)
from lastvolt_service.operations.voltage_drop import nominal_voltage
from lastvolt_service.physics.network import solve
from lastvolt_service.units import Interval


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
    """

    state: State
    checks: tuple[tuple[str, Check], ...]


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
            item = judge_case(circuit, case, nominal_v)
            bounds = _bounds(circuit, case)
            known = _within_bounds(bounds, circuit, case)
        except NetworkFault as error:
            raise in_case(error, case["name"]) from error
        item = replace(item, checks=(*item.checks, *_unsolved(known, decisive)))
        judged.append(item)
        states.append(_case_state(item, case, bounds, known, decisive))
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


def judge_case(circuit: Data, case: Data, nominal_v: int | None) -> Judged:
    """Find a circuit's state of rest in a case and check all its parts.

    Parameters
    ----------
    circuit, case : mapping
        As loaded; intervals are taken at their middle.
    nominal_v : int or None
        6, 12 or 24; told from the source where it is None. [V]

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
    return Judged(state, checks)


def plain(circuit: Data, case: Data, values: tuple[float, ...] | None = None) -> tuple[Data, Data]:
    """Put numbers in the place of intervals.

    Parameters
    ----------
    circuit, case : mapping
        As loaded.
    values : tuple of float, optional
        One for each interval; by default their middles.

    Returns
    -------
    circuit, case : mapping
    """
    found = [interval for _, interval in _bounds(circuit, case)]
    if not found:
        return circuit, case
    numbers = middle(found) if values is None else values
    both = pinned([circuit, case], iter(numbers))
    return both[0], both[1]


def _bounds(circuit: Data, case: Data) -> list[tuple[Path, Interval]]:
    """Intervals of a circuit in a case, in the order in which `pinned` meets them."""
    return [*intervals(circuit, ("circuit",)), *intervals(case, ("cases", case["name"]))]


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


def _case_state(
    judged: Judged,
    case: Data,
    bounds: Sequence[tuple[Path, Interval]],
    known: Study,
    decisive: str,
) -> CaseState:
    state = judged.state
    effects = known.effects.get(_load_voltage(decisive), ())
    influences = (
        Influence("/".join(map(str, path)), effect)
        for (path, _), effect in zip(bounds, effects, strict=False)
    )
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
        spreads=tuple(
            OutputSpread(name, spread.nominal, spread.low, spread.high)
            for name, spread in known.spreads.items()
        ),
        influences=tuple(sorted(influences, key=lambda item: -abs(item.change_v))),
        residual_a=state.solution.residual_a,
        iterations=state.solution.iterations,
    )


def _within_bounds(bounds: Sequence[tuple[Path, Interval]], circuit: Data, case: Data) -> Study:
    if not bounds:
        return NOT_STUDIED

    def outputs(values: tuple[float, ...]) -> dict[str, float]:
        return _decisive_outputs(rest(*plain(circuit, case, values)))

    return study([interval for _, interval in bounds], outputs)


def _unsolved(known: Study, decisive: str) -> list[tuple[str, Check]]:
    """A failed check where some ends of the bounds leave the circuit without a state of rest."""
    if not known.unsolved:
        return []
    message = f"at some ends of the given bounds it has no state of rest: {known.unsolved[0]}"
    check = Check("within all bounds", "fail", None, None, "V", None, GIVEN, message)
    return [named(decisive, check)]


def _load_voltage(name: str) -> str:
    return f"voltage at {name}"


def _decisive_outputs(state: State) -> dict[str, float]:
    found = {}
    for load in load_states(state):
        found[_load_voltage(load.name)] = load.voltage_v
        if load.margin_v is not None:
            found[f"margin of {load.name}"] = load.margin_v
    for relay in relay_states(state):
        found[f"coil voltage of {relay.name}"] = relay.coil_v
        found[f"margin of {relay.name} to pick-up"] = relay.coil_v - relay.pick_up_v
    return found


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
