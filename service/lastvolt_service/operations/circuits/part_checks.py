"""Every check that applies to every part of a circuit at rest."""

from collections.abc import Iterator, Mapping

import numpy as np

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.circuits.relay_checks import relay_checks
from lastvolt_service.operations.circuits.series import in_series
from lastvolt_service.operations.circuits.wire_checks import wire_currents
from lastvolt_service.operations.fuses.window import PROTECTION_MULTIPLE, carried_multiple_of
from lastvolt_service.operations.judging import UNKNOWN, Judged, reaches, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.ampacity import judge_temperature, permissible
from lastvolt_service.operations.wires.heated_wire import side_by_side
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables import fuses
from lastvolt_service.tables.limits import contact_limits, drop_limits

GIVEN = Given("given by the caller")


def part_checks(
    state: State,
    *,
    nominal: int,
    duration_s: float | None,
    open_coil_v: Mapping[str, float],
) -> tuple[Checked, ...]:
    """Make every check that applies.

    Parameters
    ----------
    state : State
        A circuit at rest.
    nominal : int
        Nominal voltage of the system: 6, 12 or 24. [V]
    duration_s : float or None
        How long the state lasts; None for ever. [s]
    open_coil_v : mapping of str to float
        Voltage at the coil of each relay that has pulled in, before its contact closed. [V]
    """
    return (
        *_loads(state, nominal),
        *relay_checks(state, open_coil_v),
        *_contacts(state, duration_s),
        *_wires(state),
        *wire_currents(state, duration_s),
        *_protection(state),
    )


def _loads(state: State, nominal: int) -> Iterator[Checked]:
    at_source = float(state.flow("sources").drop_v[0])
    for part, voltage, _ in state.carrying(*LOAD_GROUPS):
        if not part.is_load:
            continue
        if part.needed_v is not None:
            basis = SCALING if part.kind == "solenoid" else GIVEN
            yield Checked(
                "load_voltage", reaches(voltage, part.needed_v), "V", basis, part=part.name
            )
        elif part.kind == "solenoid":
            judged = Judged(voltage, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
            yield Checked("load_voltage", judged, "V", SCALING, part=part.name)
        if part.asked.circuit is not None:
            limit = drop_limits()[part.asked.circuit, nominal]
            judged = stays_within(at_source - voltage, limit.limit_v)
            yield Checked("path_drop", judged, "V", limit.citation, part=part.name)


def _contacts(state: State, duration_s: float | None) -> Iterator[Checked]:
    for part, drop, current in state.carrying("resistors"):
        if part.kind != "contact":
            continue
        amps, kind = abs(current), part.asked.part
        limit = contact_limits()[kind]
        judged = stays_within(abs(drop), limit.limit_v)
        yield Checked("contact_drop", judged, "V", limit.citation, part=part.name, detail=kind)
        rating = part.asked.rating_a
        if not known(rating):
            continue
        if kind == "fuse":
            yield _fuse_check(part, amps, rating, duration_s)
        else:
            judged = stays_within(amps, rating)
            yield Checked("contact_current", judged, "A", Given(f"rating {GIVEN}"), part=part.name)


def _fuse_check(part: Part, current: float, rating: float, duration_s: float | None) -> Checked:
    """Whether a fuse carries the current, for ever or for as long as the case lasts."""
    try:
        factor = fuses.ambient_factor(part.ambient_c)
    except CalculationError as error:
        judged = Judged(current, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        basis = fuses.ambient_citation()
        return Checked("fuse_load", judged, "A", basis, part=part.name, detail=error.detail)
    limit, basis = fuses.CONTINUOUS_SHARE * rating * factor, fuses.continuous_citation()
    if duration_s is not None:
        multiple, cited = carried_multiple_of(fuses.fuse_families()[0], duration_s)
        if multiple * rating * factor > limit:
            limit, basis = multiple * rating * factor, cited
    return Checked("fuse_load", stays_within(current, limit), "A", basis, part=part.name)


def _wires(state: State) -> Iterator[Checked]:
    unjudged = []
    temperatures = state.solution.wire_temperature_c.tolist()
    for part, wire, hot in zip(
        state.model.parts["wires"], state.model.wires, temperatures, strict=True
    ):
        if wire is not None and known(wire.limit_c):
            judged = judge_temperature(hot, wire.limit_c, wire.ambient_c)
            basis = wire.one.insulation.citation
            yield Checked("conductor_temperature", judged, "degC", basis, part=part.name)
        else:
            unjudged.append(part.name)
    if unjudged:
        judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        yield Checked("wires_heat", judged, "degC", "", detail=", ".join(unjudged))


def _protection(state: State) -> Iterator[Checked]:
    """Whether each fuse protects the wires that lie in series with it."""
    fused = [
        part
        for part in state.model.parts["resistors"]
        if part.kind == "contact" and part.asked.part == "fuse" and known(part.asked.rating_a)
    ]
    limited = [
        (part.name, wire)
        for part, wire in zip(state.model.parts["wires"], state.model.wires, strict=True)
        if wire is not None and known(wire.limit_c)
    ]
    if not (fused and limited):
        return
    bears = permissible(side_by_side([wire for _, wire in limited]))
    currents_a = np.atleast_1d(bears.current_a).tolist()
    for fuse in fused:
        chain = {part.name for part in in_series(state, fuse)}
        holds = PROTECTION_MULTIPLE * fuse.asked.rating_a  # the multiple is the margin
        for row, ((name, _), may_a) in enumerate(zip(limited, currents_a, strict=True)):
            if name in chain:
                judged, basis = stays_within(holds, may_a, 0.0), bears.citation(row)
                yield Checked("fuse_protection", judged, "A", basis, part=name, detail=fuse.name)
