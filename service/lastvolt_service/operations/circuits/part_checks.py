"""Every check that applies to every part of a circuit at rest."""

from collections.abc import Iterator, Mapping

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fault_checks import far_shorts
from lastvolt_service.operations.circuits.fuse_checks import fuse_load, protection
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, State
from lastvolt_service.operations.judging import FAIL, UNKNOWN, Judged, reaches, stays_within
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.ampacity import judge_temperature
from lastvolt_service.operations.wires.drop_limits import BOTH_WINDINGS, judge_path
from lastvolt_service.rows import NOT_GIVEN, optional
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
        *_relays(state, open_coil_v),
        *_contacts(state, duration_s),
        *_wires(state),
        *protection(state),
        *far_shorts(state),
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
            judged = judge_path(
                limit.limit_v,
                optional(part.needed_v),
                at_source - voltage,
                is_for_both_windings=limit.applies_to == BOTH_WINDINGS,
            )
            yield Checked("path_drop", judged, "V", limit.citation, part=part.name)


def _relays(state: State, open_coil_v: Mapping[str, float]) -> Iterator[Checked]:
    solution, model = state.solution, state.model
    for index, (relay, drop) in enumerate(
        zip(model.relays, state.flow("coils").drop_v.tolist(), strict=True)
    ):
        volts = abs(drop)
        if index in solution.chatter:
            judged = Judged(volts, relay.pick_up_v, NOT_GIVEN, FAIL)
            yield Checked("relay_rest", judged, "V", SCALING, part=relay.name)
            continue
        closed = bool(solution.energised[index])
        # One that is meant to pull in, too: a released coil has no voltage to speak of.
        if not model.held[index] and (closed or volts >= relay.drop_out_v):
            before = open_coil_v.get(relay.name, volts) if closed else volts
            judged = reaches(before, relay.pick_up_v)
            yield Checked("relay_pick_up", judged, "V", SCALING, part=relay.name)
        if model.held[index] or closed:
            judged = reaches(volts, relay.drop_out_v)
            yield Checked("relay_hold", judged, "V", SCALING, part=relay.name)


def _contacts(state: State, duration_s: float | None) -> Iterator[Checked]:
    for part, drop, current in state.carrying("resistors", "contacts"):
        amps = abs(current)
        # An open contact of a relay carries nothing.
        if part.kind not in {"contact", "relay"} or (part.kind == "relay" and amps == 0.0):
            continue
        kind = "relay" if part.kind == "relay" else part.asked.part
        limit = contact_limits()[kind]
        judged = stays_within(abs(drop), limit.limit_v)
        yield Checked("contact_drop", judged, "V", limit.citation, part=part.name, detail=kind)
        rating = part.asked.rating_a
        if not known(rating):
            continue
        if kind == "fuse":
            yield fuse_load(part, amps, duration_s)
        else:
            judged = stays_within(amps, rating)
            yield Checked("contact_current", judged, "A", Given(f"rating {GIVEN}"), part=part.name)


def _wires(state: State) -> Iterator[Checked]:
    temperatures = state.solution.wire_temperature_c.tolist()
    for part, wire, hot in zip(
        state.model.parts["wires"], state.model.wires, temperatures, strict=True
    ):
        if wire is not None and known(wire.limit_c):
            judged = judge_temperature(hot, wire.limit_c, wire.ambient_c)
            basis = wire.one.insulation.citation
            yield Checked("conductor_temperature", judged, "degC", basis, part=part.name)
