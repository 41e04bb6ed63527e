"""Every check that applies to every part of a circuit at rest."""

from collections.abc import Iterator

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuit import LOAD_GROUPS, Part, State
from lastvolt_service.operations.fuses.window import PROTECTION_MULTIPLE, carried_multiple_of
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import (
    Check,
    at_least,
    at_most,
    renamed,
    show,
    unknown,
)
from lastvolt_service.operations.voltage_drop import contact_drop_check
from lastvolt_service.operations.wires.ampacity import permissible
from lastvolt_service.operations.wires.heated_wire import HeatedWire, side_by_side
from lastvolt_service.operations.wires.spoken_heat import temperature_check
from lastvolt_service.rows import given
from lastvolt_service.tables import fuses
from lastvolt_service.tables.limits import drop_limits

GIVEN = "given by the caller"
Found = Iterator[tuple[str, Check]]


def part_checks(
    state: State,
    *,
    nominal: int,
    duration_s: float | None,
    open_coil_v: dict[str, float],
) -> tuple[tuple[str, Check], ...]:
    """Make every check that applies.

    Parameters
    ----------
    state : State
        A circuit at rest.
    nominal : int
        Nominal voltage of the system: 6, 12 or 24. [V]
    duration_s : float or None
        How long the state lasts; None for ever. [s]
    open_coil_v : dict of str to float
        Voltage at the coil of each relay that has pulled in, before its contact closed. [V]

    Returns
    -------
    tuple of (str, Check)
        Name of the part, and the check.
    """
    return (
        *_loads(state, nominal),
        *_relays(state, open_coil_v),
        *_contacts(state, duration_s),
        *_wires(state),
        *_protection(state),
    )


def named(part: str, check: Check) -> tuple[str, Check]:
    """Say in a check which part it is about.

    Parameters
    ----------
    part : str
        Name of the part.
    check : Check
        The check.

    Returns
    -------
    part : str
    check : Check
    """
    return part, renamed(check, f"{check.name}: {part}", f"{part}: {check.message}")


def _loads(state: State, nominal: int) -> Found:
    source = state.flow("sources")
    at_source = float(source.drop_v[0])
    for group in LOAD_GROUPS:
        for part, drop in zip(state.model.parts[group], state.flow(group).drop_v, strict=True):
            if not part.is_load:
                continue
            voltage = float(drop)
            if part.needed_v is not None:
                yield named(part.name, _voltage_check(part, voltage))
            elif part.kind == "solenoid":
                message = "Give what keeps it closed to judge whether it holds."
                yield named(part.name, unknown("voltage", "V", SCALING, message, value=voltage))
            if "circuit" in part.data:
                limit = drop_limits()[part.data["circuit"], nominal]
                yield named(
                    part.name,
                    at_most(
                        "drop of the whole path",
                        at_source - voltage,
                        limit.limit_v,
                        "V",
                        limit.citation,
                        {
                            "pass": f"{show(at_source - voltage, 'V')} of the "
                            f"{show(limit.limit_v, 'V')} allowed are lost on the way.",
                            "fail": f"{show(at_source - voltage, 'V')} are lost on the way, more "
                            f"than {show(limit.limit_v, 'V')}.",
                        },
                    ),
                )


def _voltage_check(part: Part, voltage: float) -> Check:
    needed = part.needed_v or 0.0
    return at_least(
        "voltage",
        voltage,
        needed,
        "V",
        SCALING if part.kind == "solenoid" else GIVEN,
        {
            "pass": f"{show(voltage, 'V')} arrive and {show(needed, 'V')} are needed.",
            "fail": f"only {show(voltage, 'V')} arrive and {show(needed, 'V')} are needed.",
        },
    )


def _relays(state: State, open_coil_v: dict[str, float]) -> Found:
    solution, model = state.solution, state.model
    coils = state.flow("coils")
    for index, relay in enumerate(model.relays):
        voltage = abs(float(coils.drop_v[index]))
        if index in solution.chatter:
            yield named(relay.name, _chatter(voltage, relay.pick_up_v))
        elif model.held[index]:
            yield named(relay.name, _hold_check(voltage, relay.drop_out_v))
        elif solution.energised[index]:
            before = open_coil_v.get(relay.name, voltage)
            yield named(relay.name, _pick_up_check(before, relay.pick_up_v))
            yield named(relay.name, _hold_check(voltage, relay.drop_out_v))
        elif voltage >= relay.drop_out_v:  # meant to pull in: a released coil has no such voltage
            yield named(relay.name, _pick_up_check(voltage, relay.pick_up_v))


def _chatter(voltage: float, pick_up_v: float) -> Check:
    return Check(
        "relay at rest",
        "fail",
        voltage,
        pick_up_v,
        "V",
        None,
        SCALING,
        "it neither holds nor releases: its contact takes away its own coil's voltage. Feed the "
        "coil from a point that sags less.",
    )


def _pick_up_check(voltage: float, needed: float) -> Check:
    return at_least(
        "pick-up",
        voltage,
        needed,
        "V",
        SCALING,
        {
            "pass": f"{show(voltage, 'V')} reach the coil and {show(needed, 'V')} close it.",
            "fail": f"only {show(voltage, 'V')} reach the coil and {show(needed, 'V')} are needed "
            "to close it.",
        },
    )


def _hold_check(voltage: float, needed: float) -> Check:
    return at_least(
        "hold",
        voltage,
        needed,
        "V",
        SCALING,
        {
            "pass": f"{show(voltage, 'V')} at the coil hold it; it opens below "
            f"{show(needed, 'V')}.",
            "fail": f"{show(voltage, 'V')} at the coil do not hold it: it opens below "
            f"{show(needed, 'V')}.",
        },
    )


def _contacts(state: State, duration_s: float | None) -> Found:
    for group in ("resistors", "contacts"):
        flow = state.flow(group)
        for part, current, drop in zip(
            state.model.parts[group], flow.current_a, flow.drop_v, strict=True
        ):
            if part.kind not in {"contact", "relay"}:
                continue
            amps = abs(float(current))
            if group == "contacts" and amps == 0.0:
                continue  # open
            kind = part.data.get("part", "relay")
            yield named(part.name, contact_drop_check(kind, abs(float(drop))))
            if "rating_a" in part.data:
                rating = part.data["rating_a"]
                if kind == "fuse":
                    yield named(part.name, _fuse_check(part, amps, rating, duration_s))
                else:
                    yield named(part.name, _rating_check(amps, rating))


def _rating_check(current: float, rating: float) -> Check:
    return at_most(
        "current",
        current,
        rating,
        "A",
        f"rating {GIVEN}",
        {
            "pass": f"it carries {show(current, 'A')} of its {show(rating, 'A')}.",
            "fail": f"it carries {show(current, 'A')}, more than its {show(rating, 'A')}.",
        },
    )


def _fuse_check(part: Part, current: float, rating: float, duration_s: float | None) -> Check:
    """Whether a fuse carries the current, for ever or for as long as the case lasts."""
    try:
        factor = fuses.ambient_factor(part.ambient_c)
    except CalculationError as error:
        return unknown("fuse", "A", fuses.ambient_citation(), error.detail, value=current)
    limit, basis = fuses.CONTINUOUS_SHARE * rating * factor, fuses.continuous_citation()
    if duration_s is not None:
        multiple, cited = carried_multiple_of(fuses.fuse_families()[0], duration_s)
        if multiple * rating * factor > limit:
            limit, basis = multiple * rating * factor, cited
    return at_most(
        "fuse",
        current,
        limit,
        "A",
        basis,
        {
            "pass": f"it carries {show(current, 'A')} and may carry {show(limit, 'A')} for as "
            "long.",
            "fail": f"it carries {show(current, 'A')} and may carry {show(limit, 'A')} for as "
            "long: it will open.",
        },
    )


def _wires(state: State) -> Found:
    temperatures = state.solution.wire_temperature_c.tolist()
    for part, wire, hot in zip(
        state.model.parts["wires"], state.model.wires, temperatures, strict=True
    ):
        if wire is not None and given(wire.limit_c):
            yield named(part.name, temperature_check(hot, wire))


def _protection(state: State) -> Found:
    """Whether each fuse protects the wires that lie in series with it."""
    fused = [
        part
        for part in state.model.parts["resistors"]
        if part.data.get("part") == "fuse" and "rating_a" in part.data
    ]
    if not fused:
        return
    limited = [
        (part, wire)
        for part, wire in zip(state.model.parts["wires"], state.model.wires, strict=True)
        if wire is not None and given(wire.limit_c)
    ]
    may = _permissible([wire for _, wire in limited])
    for fuse in fused:
        chain = _in_series(state, fuse)
        for (part, _), (bears, citation) in zip(limited, may, strict=True):
            if part.name in chain:
                holds = PROTECTION_MULTIPLE * fuse.data["rating_a"]
                yield named(part.name, _protection_check(fuse.name, holds, bears, citation))


def _permissible(wires: list[HeatedWire]) -> list[tuple[float, str]]:
    if not wires:
        return []
    found = permissible(side_by_side(wires))
    currents_a = np.atleast_1d(found.current_a).tolist()
    return [(current_a, found.citation(row)) for row, current_a in enumerate(currents_a)]


def _protection_check(fuse: str, holds: float, bears: float, citation: str) -> Check:
    return at_most(
        "protection by fuse",
        holds,
        bears,
        "A",
        citation,
        {
            "pass": f"{fuse} holds {show(holds, 'A')} at most for ever and the wire bears "
            f"{show(bears, 'A')}.",
            "fail": f"{fuse} holds {show(holds, 'A')} for ever and the wire bears only "
            f"{show(bears, 'A')}: fit a smaller fuse or a larger wire.",
        },
        scale=0.0,  # the multiple is the margin
    )


def _in_series(state: State, start: Part) -> set[str]:
    """Names of the parts that must carry the same current: joined at nodes of two parts."""
    network = state.model.network
    own = {network.node_names[network.sources.start[0]], network.node_names[network.reference]}
    at: dict[str, list[Part]] = {}
    for group in state.model.parts.values():
        for part in group:
            for node in part.nodes:
                at.setdefault(node, []).append(part)
    chain = {start.name}
    todo = [start]
    while todo:
        part = todo.pop()
        for node in part.nodes:
            neighbours = [other for other in at[node] if other is not part]
            if len(neighbours) == 1 and node not in own and neighbours[0].name not in chain:
                chain.add(neighbours[0].name)
                todo.append(neighbours[0])
    return chain
