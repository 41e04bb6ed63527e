"""Every check that applies to every part of a circuit at rest."""

import math
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fault_checks import far_shorts
from lastvolt_service.operations.circuits.fields import NO_WIRE_OHM, Circuit
from lastvolt_service.operations.circuits.fuse_checks import (
    fuse_load,
    protection,
    sure_to_open_a,
    unfused,
)
from lastvolt_service.operations.circuits.load_checks import JOINTS, load_checks
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.relay_checks import LEAST_A, relay_checks
from lastvolt_service.operations.circuits.wire_checks import Bears, charger_currents, wire_currents
from lastvolt_service.operations.judging import (
    FAIL,
    UNKNOWN,
    Judged,
    stays_about,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.wires.ampacity import judge_temperature
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.tables.limits import RATED, contact_limit

GIVEN = Given("given by the caller")
# A contact that drops more than twice what a sound one does, and makes so much heat, burns what
# holds it: plastic, or metal that leads it away. [W]. One that is brief has less time to: it takes
# about a minute to get hot. [s]. Common practice.
BURNS_W = {"switch": 10.0, "fuse": 10.0, "connector": 10.0, "terminal": 30.0, "ground": 30.0}
HOTTEST_MULTIPLE = 2.0
GETS_HOT_S = 60.0
# An isolator bears a starter's current, which is some times its rating, for less than that. Common
# practice.
MOST_FOR_SECONDS = 5.0


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
    joints_out : sequence of CircuitContact
        Those of them that no switch makes or breaks.
    """

    state: State
    nominal: int
    duration_s: float | None
    open_coil_v: Mapping[str, float]
    is_partial: bool
    joints_out: Sequence[CircuitContact] = ()


def joints_out(circuit: Circuit, case: Case) -> list[CircuitContact]:
    """Terminals and grounds that a case leaves out."""
    return [
        branch
        for branch in circuit.branches
        if isinstance(branch, CircuitContact)
        and branch.part in JOINTS
        and branch.name in case.without
    ]


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
    metals, bears = (
        [Metal(state.model) for state in states],
        Bears([state.model for state in states]),
    )
    protected = protection(states, metals, bears, verdicts_only=verdicts_only)
    return [
        (
            *load_checks(each.state, metal, each.nominal, is_partial=each.is_partial),
            *relay_checks(each.state, metal, each.open_coil_v, each.nominal),
            *_in_time(each, metal, bears),
            *charger_currents(each.state, metal, bears),
            *fused,
            *unfused(each.state.model, metal, bears),
            *far_shorts(each.state, metal, bears),
        )
        for each, metal, fused in zip(rested, metals, protected, strict=True)
    ]


def _in_time(rested: Rested, metal: Metal, bears: Bears) -> Iterator[Checked]:
    """Judge contacts and wires; of a wire behind a fuse that is sure to open, say which."""
    contacts = list(_or_shorts(_contacts(rested.state, rested.duration_s), rested.state, metal))
    yield from contacts
    carried = {
        c.part: float(c.judged.value)
        for c in contacts
        if c.code == "fuse_load" and c.verdict == "fail"
    }
    behind = {
        name: fuse.name
        for fuse in metal.fuses
        if fuse.name in carried and carried[fuse.name] > sure_to_open_a(fuse)
        for name in metal.answers_for(fuse)
    }
    poor = {str(c.part) for c in contacts if c.code == "contact_drop" and c.verdict == "fail"}
    diverted = _carried_for(rested, metal, poor)
    told = set[str]()
    for check in (*_wires(rested.state), *wire_currents(rested.state, rested.duration_s, bears)):
        name = str(check.part)
        if check.verdict != "fail" or name not in diverted:
            yield replace(check, detail=behind[name]) if name in behind else check
        elif name not in told:
            told.add(name)
            amps, may_a = (
                abs(rested.state.current_a(name)),
                bears.least_a(rested.state.model, {name}),
            )
            judged, so = (
                Judged(amps, may_a, NOT_GIVEN, FAIL),
                {"part": name, "detail": diverted[name]},
            )
            yield Checked("diverted_current", judged, "A", COMMON_PRACTICE, **so)


def _carried_for(rested: Rested, metal: Metal, poor: AbstractSet[str]) -> dict[str, str]:
    """Names of parts beside a contact that is poor, or a joint that is missing, with its name."""
    parts = (part for part in rested.state.model.parts["resistors"] if part.name in poor)
    joins = {part.name: part.nodes for part in parts}
    joins |= {joint.name: (joint.nodes[0], joint.nodes[1]) for joint in rested.joints_out}
    return {
        beside.name: name
        for name, (first, second) in joins.items()
        for beside in metal.way_between(first, second, name)
    }


def _or_shorts(checks: Iterator[Checked], state: State, metal: Metal) -> Iterator[Checked]:
    """The same checks; a short where what drops so much joins both sides past every load."""
    shorts = set[str]()
    for check in checks:
        name = str(check.part)
        if check.code == "contact_drop" and check.verdict == "fail" and _shorts(name, state, metal):
            shorts.add(name)
            judged = Judged(abs(state.current_a(name)), NOT_GIVEN, NOT_GIVEN, FAIL)
            yield Checked("short", judged, "A", COMMON_PRACTICE, part=name)
        elif check.code != "contact_heat" or name not in shorts:
            yield check


def _shorts(name: str, state: State, metal: Metal) -> bool:
    """Whether a part joins the live side to that of the ground, past every load."""
    part = state.named(name)
    if part is None:
        return False
    live, grounded = metal.sides([part])
    first, second = part.nodes
    return (first in live and second in grounded) or (second in live and first in grounded)


def _contacts(state: State, duration_s: float | None) -> Iterator[Checked]:
    for part, drop, current in state.carrying("resistors"):
        if part.kind != "contact":
            continue
        amps, kind = abs(current), part.asked.part
        limit = contact_limit(kind, amps)
        judged = stays_about(abs(drop), limit.limit_v)
        yield Checked("contact_drop", judged, "V", limit.citation, part=part.name, detail=kind)
        heated_w = abs(drop) * amps * min((duration_s or math.inf) / GETS_HOT_S, 1.0)
        if abs(drop) > HOTTEST_MULTIPLE * limit.limit_v and heated_w > BURNS_W.get(kind, math.inf):
            judged = stays_within(abs(drop) * amps, BURNS_W[kind])
            yield Checked("contact_heat", judged, "W", COMMON_PRACTICE, part=part.name)
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
            if part.asked.isolates and (duration_s or math.inf) < GETS_HOT_S:
                judged = _for_seconds(judged)
            yield Checked("contact_current", judged, "A", Given(f"rating {GIVEN}"), part=part.name)


def _for_seconds(judged: Judged) -> Judged:
    """The same, of an isolator: what it is rated for is for hours, and its maker tells the rest."""
    bears_more = judged.verdict == FAIL and judged.value <= MOST_FOR_SECONDS * judged.limit
    return judged._replace(verdict=UNKNOWN) if bears_more else judged


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
        if part.kind == "resistance"
        and not part.is_load
        and part.asked.resistance_ohm < NO_WIRE_OHM
        and abs(current) > LEAST_A
    ]
    if unjudged:
        judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        yield Checked("wires_heat", judged, "degC", GIVEN, detail=", ".join(unjudged))
