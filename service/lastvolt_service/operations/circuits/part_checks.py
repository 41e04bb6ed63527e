"""Every check that applies to every part of a circuit at rest."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.fault_checks import far_shorts
from lastvolt_service.operations.circuits.fuse_checks import fuse_load, protection, unfused
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Part, State
from lastvolt_service.operations.circuits.relay_checks import LEAST_A, relay_checks
from lastvolt_service.operations.circuits.wire_checks import Bears, wire_currents
from lastvolt_service.operations.fuses.profile import CRANKING
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL_SHARE,
    PASS,
    UNKNOWN,
    Judged,
    reaches,
    stays_about,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.relays.coil import SCALING
from lastvolt_service.operations.results import Given
from lastvolt_service.operations.wires.ampacity import judge_temperature
from lastvolt_service.operations.wires.drop_limits import BOTH_WINDINGS, judge_path
from lastvolt_service.rows import NOT_GIVEN, optional
from lastvolt_service.tables.limits import RATED, contact_limit, drop_limits

GIVEN = Given("given by the caller")
# Of all that a source has above what a load needs: more than that to spare is not little.
# Common practice.
SPARE_SHARE = 0.5
# Ends of a cable; other contacts lie between cables.
JOINTS = frozenset({"terminal", "ground"})


@dataclass(frozen=True, slots=True)
class Rested:
    """A circuit at rest, with all that its checks want to know.

    Attributes
    ----------
    state : State
        The circuit.
    nominal : int
        Nominal voltage of the system: 6, 12 or 24. [V]
    duration_s : float or None
        How long the state lasts; None for ever. [s]
    open_coil_v : mapping of str to float
        Voltage at the coil of each relay that has pulled in, before its contact closed. [V]
    is_partial : bool
        Whether the case leaves parts out: a load that then has no way to both posts is off.
    """

    state: State
    nominal: int
    duration_s: float | None
    open_coil_v: Mapping[str, float]
    is_partial: bool


def part_checks(
    rested: Sequence[Rested], *, verdicts_only: bool = False
) -> list[tuple[Checked, ...]]:
    """Make every check that applies, of many circuits at rest at once: heat costs least so.

    Parameters
    ----------
    rested : sequence of Rested
        The circuits.
    verdicts_only : bool
        Whether the numbers of checks need be no nearer than their verdicts want.
    """
    states = [each.state for each in rested]
    metals, bears = [Metal(state) for state in states], Bears(states)
    protected = protection(states, metals, bears, verdicts_only=verdicts_only)
    return [
        (
            *_loads(each.state, metal, each.nominal, is_partial=each.is_partial),
            *relay_checks(each.state, metal, each.open_coil_v, each.nominal),
            *_contacts(each.state, each.duration_s),
            *_wires(each.state),
            *wire_currents(each.state, each.duration_s, bears),
            *fused,
            *unfused(metal, each.state.model.order),
            *far_shorts(each.state, metal),
        )
        for each, metal, fused in zip(rested, metals, protected, strict=True)
    ]


def _loads(state: State, metal: Metal, nominal: int, *, is_partial: bool) -> Iterator[Checked]:
    at_source = float(state.flow("sources").drop_v[0])
    for part, voltage, _ in state.carrying(*LOAD_GROUPS):
        if not part.is_load:
            continue
        if is_partial and not metal.feeds(part):
            judged = Judged(voltage, NOT_GIVEN, NOT_GIVEN, PASS)
            yield Checked("load_off", judged, "V", GIVEN, part=part.name)
            continue
        if part.name in state.unfed:
            judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, FAIL)
            detail = state.unfed[part.name].detail
            yield Checked("operating_point", judged, "V", GIVEN, part=part.name, detail=detail)
            continue
        if part.needed_v is not None:
            basis = SCALING if part.kind == "solenoid" else GIVEN
            to_spare_v = max(state.model.drive_v - part.needed_v, 0.0)
            scale_v = min(part.needed_v, to_spare_v * SPARE_SHARE / MARGINAL_SHARE)
            judged = reaches(voltage, part.needed_v, scale_v)
            yield Checked("load_voltage", judged, "V", basis, part=part.name)
        elif part.kind == "solenoid":
            judged = Judged(voltage, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
            yield Checked("load_voltage", judged, "V", SCALING, part=part.name)
        if part.asked.circuit is not None:
            limit = drop_limits()[part.asked.circuit, nominal]
            lost_v = at_source - voltage
            if limit.applies_to == CRANKING:
                lost_v -= _between_cables_v(state, metal.in_series(part))
            judged = judge_path(
                limit.limit_v,
                optional(part.needed_v),
                lost_v,
                is_for_both_windings=limit.applies_to == BOTH_WINDINGS,
            )
            yield Checked("path_drop", judged, "V", limit.citation, part=part.name)


def _between_cables_v(state: State, in_its_way: Sequence[Part]) -> float:
    """What contacts between the cables of a load take, of which its limit does not speak. [V]."""
    return sum(
        abs(drop_v)
        for part, drop_v, _ in state.carrying("resistors", "contacts")
        if part in in_its_way
        and (part.kind == "relay" or (part.kind == "contact" and part.asked.part not in JOINTS))
    )


def _contacts(state: State, duration_s: float | None) -> Iterator[Checked]:
    for part, drop, current in state.carrying("resistors"):
        if part.kind != "contact":
            continue
        amps, kind = abs(current), part.asked.part
        limit = contact_limit(kind, amps)
        judged = stays_about(abs(drop), limit.limit_v)
        yield Checked("contact_drop", judged, "V", limit.citation, part=part.name, detail=kind)
        rating = part.asked.rating_a
        if not known(rating):
            if kind == RATED:
                judged = Judged(amps, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
                yield Checked("contact_current", judged, "A", GIVEN, part=part.name)
            continue
        if kind == "fuse":
            yield fuse_load(part, amps, duration_s)
        else:
            judged = stays_within(amps, rating)
            yield Checked("contact_current", judged, "A", Given(f"rating {GIVEN}"), part=part.name)


def _wires(state: State) -> Iterator[Checked]:
    unjudged = []
    for part, wire, hot in zip(
        state.model.parts["wires"], state.model.wires, state.wire_temperatures_c, strict=True
    ):
        if wire is not None and (known(wire.limit_c) or not known(hot)):
            judged = judge_temperature(hot, wire.limit_c, wire.ambient_c)
            basis = wire.one.insulation.citation
            yield Checked("conductor_temperature", judged, "degC", basis, part=part.name)
        else:
            unjudged.append(part.name)
    # What is given as ohms alone may be a wire as well: nobody tells what it bears.
    unjudged += [
        part.name
        for part, _, current in state.carrying("resistors")
        if part.kind == "resistance" and not part.is_load and abs(current) > LEAST_A
    ]
    if unjudged:
        judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        yield Checked("wires_heat", judged, "degC", GIVEN, detail=", ".join(unjudged))
