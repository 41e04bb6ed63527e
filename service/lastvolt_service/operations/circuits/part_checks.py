"""Every check that applies to every part of a circuit at rest."""

import math
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.bare_wires import unfused
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fault_checks import far_shorts
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.fuse_checks import (
    fuse_load,
    protection,
    sure_to_open_a,
)
from lastvolt_service.operations.circuits.load_checks import JOINTS, load_checks
from lastvolt_service.operations.circuits.load_way import NOTHING_A
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.off_by_design import relays_not_joined
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitWire
from lastvolt_service.operations.circuits.relay_checks import relay_checks
from lastvolt_service.operations.circuits.short_checks import AS_OHMS, or_shorts, shorts_of
from lastvolt_service.operations.circuits.stall_checks import stall_checks
from lastvolt_service.operations.circuits.wire_checks import (
    Bears,
    at_best_a,
    charger_currents,
    wire_currents,
)
from lastvolt_service.operations.fuses.profile import (
    STARTER_CONTROL,
    STARTER_MOTOR,
    STARTER_SOLENOID,
)
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    NOT_ASKED,
    UNKNOWN,
    Judged,
    asked_if,
    flatly,
    in_a_moment_v,
    stays_about,
    stays_within,
    within_rating,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.wires.ampacity import judge_temperature, nothing_left
from lastvolt_service.operations.wires.drop_limits import NO_WIRE_OHM
from lastvolt_service.operations.wires.sure_heat import AT_BEST
from lastvolt_service.rows import NOT_GIVEN, number
from lastvolt_service.tables.limits import (
    GETS_HOT_S,
    HOTTEST_MULTIPLE,
    MOMENT_S,
    MOST_FOR_A_MOMENT,
    RATED,
    Limit,
    burns_w,
    contact_limit,
)
from lastvolt_service.tables.load_profiles import load_profiles

GIVEN = Given("given by the caller")
# An isolator bears a starter's current, which is some times its rating, for less than that. Common
# practice.
MOST_FOR_SECONDS = 5.0
# What carries too much behind a fuse that is sure to open does so until then.
SPARED = frozenset({"steady_current", "contact_current", "contact_heat"})
# Of what a contact carries, from which on a pilot lamp beside a plunger makes no difference. Common
# practice.
ALMOST_ALL = 0.9
# A blade fuse bears so many times its rating until a plunger is home. Common practice.
FUSE_FOR_A_MOMENT = 2.0


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
    joints_out : sequence of Branch
        Those of them that no switch makes or breaks.
    off : set of str
        Relays whose switch the case leaves out: nothing is to close them.
    """

    state: State
    nominal: int
    duration_s: float | None
    open_coil_v: Mapping[str, float]
    is_partial: bool
    joints_out: Sequence[Branch] = ()
    off: AbstractSet[str] = frozenset()

    @classmethod
    def of(
        cls,
        state: State,
        open_coil_v: Mapping[str, float],
        circuit: Circuit,
        case: Case,
        nominal: int,
        off: AbstractSet[str],
    ) -> "Rested":
        """Put together what is known of a circuit at rest in a case."""
        return cls(
            state,
            nominal,
            number(case.duration_s),
            open_coil_v,
            bool(case.without),
            joints_out(circuit, case),
            off,
        )


def joints_out(circuit: Circuit, case: Case) -> list[Branch]:
    """Terminals and grounds that a case leaves out; a strap or a return may be given as a wire."""
    left_out = [branch for branch in circuit.branches if branch.name in case.without]
    grounded = circuit.sides()[1] if left_out else frozenset[str]()
    return [
        branch
        for branch in left_out
        if (isinstance(branch, CircuitContact) and branch.part in JOINTS)
        or (isinstance(branch, CircuitWire) and grounded.issuperset(branch.nodes))
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
    durations_s = [each.duration_s for each in rested]
    protected = protection(states, metals, bears, durations_s, verdicts_only=verdicts_only)
    found = []
    for each, metal, fused in zip(rested, metals, protected, strict=True):
        timed = [*_in_time(each, metal, bears)]
        # What a short takes over a wire is no reason for a thicker one, nor what is another's.
        is_short = any(check.code == "short" and check.verdict == "fail" for check in timed)
        diverted = {check.part for check in timed if check.code == "diverted_current"}
        of_loads = load_checks(
            each.state, metal, each.nominal, each.off, each.joints_out, is_partial=each.is_partial
        )
        found.append(
            (
                *(
                    check
                    for check in of_loads
                    if check.code != "wire_drop" or not (is_short or check.part in diverted)
                ),
                *relays_not_joined(each.state, each.joints_out),
                *timed,
                *charger_currents(each.state, metal, bears),
                *fused,
                *unfused(each.state.model, metal, bears),
                *far_shorts(each.state, metal, bears),
                *stall_checks(each.state, metal, bears, each.duration_s),
            )
        )
    return found


def _in_time(rested: Rested, metal: Metal, bears: Bears) -> Iterator[Checked]:
    """Judge relays, contacts and wires; of what a fuse that is sure to open spares, say which."""
    state, open_coil_v = rested.state, rested.open_coil_v
    shorts = shorts_of(state, metal)
    contacts = [*or_shorts(_contacts(state, metal, rested.duration_s), state, shorts)]
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
    relays = relay_checks(state, metal, open_coil_v, rested.nominal, rested.off)
    timed = (_in_its_time(each, rested, metal) for each in relays)
    for check in (*(each for each in timed if each.judged.verdict != NOT_ASKED), *contacts):
        spared = check.code in SPARED and check.part in behind
        yield replace(check, detail=behind[str(check.part)]) if spared else check
    poor = {str(c.part) for c in contacts if c.code == "contact_drop" and c.verdict == "fail"}
    diverted, told = _carried_for(rested, metal, poor), set[str]()
    for check in (
        *_wires(state, rested.duration_s, shorts),
        *wire_currents(state, rested.duration_s, bears),
    ):
        name = str(check.part)
        if check.verdict != "fail" or name not in diverted:
            yield replace(check, detail=behind[name]) if name in behind else check
        elif name not in told:
            told.add(name)
            amps, may_a = (
                abs(state.current_a(name)),
                bears.least_a(state.model, {name}) or NOT_GIVEN,
            )
            judged, joint = flatly(FAIL, amps, may_a), diverted[name]
            so = {"part": name, "detail": joint}
            yield Checked("diverted_current", judged, "A", COMMON_PRACTICE, **so)


def _in_its_time(check: Checked, rested: Rested, metal: Metal) -> Checked:
    """The same check; of a relay's contact for as long as it carries its current."""
    if check.code not in {"steady_current", "contact_heat"}:
        return check
    contact = next(each for each in metal.parts["contacts"] if each.name == check.part)
    carries_s = _carries_s(rested.state, metal, contact, rested.duration_s)
    if check.code == "contact_heat":
        share = min(carries_s / GETS_HOT_S, 1.0)
        burns = check.judged.value * share > check.judged.limit
        return replace(check, judged=asked_if(burns, check.judged))
    return replace(check, judged=_for_a_while(check.judged, carries_s, isolates=False))


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


def sound_contact(kind: str, current_a: float, carries_s: float) -> Limit:
    """What a sound contact may drop at a current that it carries for so long."""
    limit = contact_limit(kind, current_a)
    limit_v = float(in_a_moment_v(limit.limit_v)) if carries_s < MOMENT_S else limit.limit_v
    return limit if limit_v == limit.limit_v else Limit(limit_v, COMMON_PRACTICE)


def _contacts(state: State, metal: Metal, duration_s: float | None) -> Iterator[Checked]:
    for part, drop, current in state.carrying("resistors"):
        if part.kind != "contact":
            continue
        amps, kind = abs(current), part.asked.part
        limit = contact_limit(kind, amps)
        carries_s = _carries_s(state, metal, part, duration_s)
        may = sound_contact(kind, amps, carries_s)
        judged = stays_about(abs(drop), may.limit_v)
        yield Checked("contact_drop", judged, "V", may.citation, part=part.name, detail=kind)
        heated_w = abs(drop) * amps * min((duration_s or math.inf) / GETS_HOT_S, 1.0)
        rating = part.asked.rating_a
        most_w = burns_w(kind, float(rating) if known(rating) else NOT_GIVEN)
        if abs(drop) > HOTTEST_MULTIPLE * limit.limit_v and heated_w > most_w:
            judged = stays_within(abs(drop) * amps, most_w)
            yield Checked("contact_heat", judged, "W", COMMON_PRACTICE, part=part.name)
        if not known(rating):
            if kind == RATED:
                judged = flatly(UNKNOWN, amps)
                yield Checked("contact_current", judged, "A", GIVEN, part=part.name)
            continue
        if kind == "fuse":
            yield _of_fuse(state, metal, part, duration_s)
        else:
            judged = within_rating(amps, rating)
            isolates = part.asked.isolates or _is_cranked(metal, part)
            judged = _for_a_while(judged, carries_s, isolates=isolates)
            yield Checked("contact_current", judged, "A", Given(f"rating {GIVEN}"), part=part.name)


def _of_fuse(state: State, metal: Metal, part: Part, duration_s: float | None) -> Checked:
    """Judge a fuse; one that bears a plunger's first moment may open only if that sticks."""
    amps = abs(state.current_a(part.name))
    found = fuse_load(part, amps, duration_s)
    if found.verdict == "fail":
        found = replace(found, detail=_takes_most(state, metal, part, amps))
    carries_s = _carries_s(state, metal, part, duration_s)
    if found.verdict != "fail" or carries_s >= MOMENT_S:
        return found
    moment = fuse_load(part, amps, carries_s)
    eased = found.judged._replace(verdict=MARGINAL)
    bears = moment.verdict != "fail" or amps <= FUSE_FOR_A_MOMENT * float(part.asked.rating_a)
    return replace(found, judged=eased) if bears else found


def _takes_most(state: State, metal: Metal, part: Part, amps: float) -> str | None:
    """Of several loads behind a fuse the one that takes most of what flows through it."""
    takes_a = {load.name: abs(state.current_a(load.name)) for load in metal.loads_behind(part)}
    most = max(takes_a, key=takes_a.__getitem__, default=None)
    return most if most and len(takes_a) > 1 and takes_a[most] > amps / 2 else None


def _carries_s(state: State, metal: Metal, part: Part, duration_s: float | None) -> float:
    """How long a contact carries its current: what moves a plunger does so for a moment. [s]."""
    loads = metal.loads_behind(part)
    on_s = duration_s or math.inf
    takes_a = {load: abs(state.current_a(load.name)) for load in loads}
    moving_a = sum(amps for load, amps in takes_a.items() if _pulls_in(state, load))
    moves = moving_a > 0.0 and moving_a >= ALMOST_ALL * sum(takes_a.values())
    return min(on_s, load_profiles()[STARTER_SOLENOID].first_time_s) if moves else on_s


def _is_cranked(metal: Metal, part: Part) -> bool:
    """Whether a starter motor hangs on a contact: what switches it off is an isolator."""
    return any(load.asked.circuit == STARTER_MOTOR for load in metal.loads_behind(part))


def _pulls_in(state: State, load: Part) -> bool:
    """Whether it is a starter's solenoid that moves its plunger; one that is held did so before."""
    windings = getattr(load.asked, "windings", None)
    two = windings is not None and known(windings.pull_in_resistance_ohm)
    is_one = two or load.asked.circuit == STARTER_CONTROL
    if load.is_held or not is_one or load.needed_v is None:
        return False
    return state.across_v(load.name) >= load.needed_v


def _for_a_while(judged: Judged, duration_s: float, *, isolates: bool) -> Judged:
    """The same, of what is rated for hours and carries its current for a moment, or for seconds."""
    multiple = judged.value / judged.limit
    if judged.verdict == FAIL and duration_s < MOMENT_S and multiple <= MOST_FOR_A_MOMENT:
        return judged._replace(verdict=MARGINAL)
    if judged.verdict == FAIL and isolates and duration_s < GETS_HOT_S:
        bears_more = multiple <= MOST_FOR_SECONDS  # its maker tells
        return judged._replace(verdict=UNKNOWN) if bears_more else judged
    return judged


def _wires(state: State, duration_s: float | None, shorts: AbstractSet[str]) -> Iterator[Checked]:
    bare = []
    for (part, _, current), wire, hot in zip(
        state.carrying("wires"), state.model.wires, state.wire_temperatures_c, strict=True
    ):
        if wire is not None and (known(wire.limit_c) or not known(hot)):
            judged = judge_temperature(hot, wire.limit_c, wire.ambient_c)
            basis = wire.one.insulation.citation
            why = nothing_left(wire.limit_c, wire.ambient_c)
            yield Checked(
                "conductor_temperature", judged, "degC", basis, part=part.name, detail=why
            )
            continue
        judged = stays_within(abs(current), at_best_a(part.asked, duration_s))
        if judged.verdict == FAIL:
            yield Checked("wires_heat", judged, "A", AT_BEST, part=part.name)
        else:
            bare.append(part.name)
    # What is given as ohms alone may be a wire as well: nobody tells what it bears.
    as_ohms = [
        part.name
        for part, _, current in state.carrying("resistors")
        if part.kind == AS_OHMS
        and not part.is_load
        and part.name not in shorts
        and part.asked.resistance_ohm < NO_WIRE_OHM
        and abs(current) > NOTHING_A
    ]
    judged = flatly(UNKNOWN)
    for code, names in (("wires_heat", bare), ("ohms_heat", as_ohms)):
        if names:
            yield Checked(code, judged, "degC", GIVEN, detail=", ".join(names))
