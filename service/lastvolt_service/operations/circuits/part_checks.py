"""Every check that applies to every part of a circuit at rest."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.bare_wires import unfused
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.contact_checks import (
    carries_s,
    contact_checks,
    for_a_while,
)
from lastvolt_service.operations.circuits.fault_checks import far_shorts
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.fuse_checks import sure_to_open_a
from lastvolt_service.operations.circuits.fused_wires import (
    InDoubt,
    Where,
    protection,
    protection_within,
)
from lastvolt_service.operations.circuits.load_checks import JOINTS, load_checks
from lastvolt_service.operations.circuits.load_way import NOTHING_A
from lastvolt_service.operations.circuits.metal import Metal, metals_of
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.off_by_design import relays_not_joined
from lastvolt_service.operations.circuits.overloaded import told_by_cause
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitWire
from lastvolt_service.operations.circuits.relay_checks import relay_checks
from lastvolt_service.operations.circuits.short_checks import AS_OHMS, or_shorts, shorts_of
from lastvolt_service.operations.circuits.stall_checks import stall_checks
from lastvolt_service.operations.circuits.wire_checks import (
    Bears,
    alike_at_all,
    at_best_a,
    charger_currents,
    wire_currents,
)
from lastvolt_service.operations.judging import (
    FAIL,
    NOT_ASKED,
    UNKNOWN,
    asked_if,
    flatly,
    stays_within,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.wires.ampacity import judge_temperature, nothing_left
from lastvolt_service.operations.wires.drop_limits import NO_WIRE_OHM
from lastvolt_service.operations.wires.sure_heat import AT_BEST
from lastvolt_service.rows import NOT_GIVEN, number
from lastvolt_service.tables.limits import (
    GETS_HOT_S,
)

GIVEN = Given("given by the caller")
# What carries too much behind a fuse that is sure to open does so until then.
SPARED = frozenset({"steady_current", "contact_current", "contact_heat"})


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


def part_checks(rested: Sequence[Rested]) -> list[tuple[Checked, ...]]:
    """Make every check that applies, of many circuits at rest at once: heat costs least so."""
    bears = Bears([each.state.model for each in rested])
    where = _where(rested)
    protected = protection(where, bears)
    return [
        _checks(each, metal, bears, _InTime.of(each, metal), fused)
        for each, (_, metal, _), fused in zip(rested, where, protected, strict=True)
    ]


def checks_within(
    groups: Sequence[Sequence[Rested]],
) -> list[tuple[list[tuple[Checked, ...]], InDoubt]]:
    """Make every check of circuits at many points of their bounds, each of which is a group.

    Wires that come out alike at all points are left out, and numbers are no nearer than verdicts
    want.
    """
    bears = Bears([each.state.model for group in groups for each in group])
    where = [*map(_where, groups)]
    found = []
    for group, here, (protected, in_doubt) in zip(
        groups, where, protection_within(where, bears), strict=True
    ):
        metals = [metal for _, metal, _ in here]
        in_time = [_InTime.of(*each) for each in zip(group, metals, strict=True)]
        alike = _alike(group, in_time, bears)
        in_doubt |= {(code, name) for name, codes in alike.items() for code in codes}
        checks = [
            _checks(each, metal, bears, timed, fused, alike)
            for each, metal, timed, fused in zip(group, metals, in_time, protected, strict=True)
        ]
        found.append((checks, in_doubt))
    return found


def _where(rested: Sequence[Rested]) -> list[Where]:
    metals = metals_of(each.state.model for each in rested)
    return [
        (each.state, metal, each.duration_s) for each, metal in zip(rested, metals, strict=True)
    ]


def _alike(
    group: Sequence[Rested], in_time: Sequence["_InTime"], bears: Bears
) -> dict[str, list[str]]:
    """As `alike_at_all`, without what fails and is told in another way where others fail."""
    if not group:
        return {}
    found = alike_at_all([each.state for each in group], [each.duration_s for each in group], bears)
    otherwise = {name for each in in_time for name in (*each.behind, *each.diverted)}
    return {name: codes for name, codes in found.items() if not (codes and name in otherwise)}


def _checks(
    rested: Rested,
    metal: Metal,
    bears: Bears,
    in_time: "_InTime",
    fused: Sequence[Checked],
    left_out: Collection[str] = (),
) -> tuple[Checked, ...]:
    """Make every check of a circuit at rest; of some wires none."""
    state = rested.state
    timed = [*in_time.checks, *in_time.wires(rested, bears, left_out)]
    # What a short takes over a wire is no reason for a thicker one, nor what is another's.
    is_short = any(check.code == "short" and check.verdict == "fail" for check in timed)
    diverted = {check.part for check in timed if check.code == "diverted_current"}
    of_loads = load_checks(
        state, metal, rested.nominal, rested.off, rested.joints_out, is_partial=rested.is_partial
    )
    return (
        *(
            check
            for check in of_loads
            if check.code != "wire_drop" or not (is_short or check.part in diverted)
        ),
        *relays_not_joined(state, rested.joints_out),
        *timed,
        *charger_currents(state, metal, bears),
        *fused,
        *unfused(state.model, metal, bears),
        *far_shorts(state, metal, bears),
        *stall_checks(state, metal, bears, rested.duration_s),
    )


@dataclass(frozen=True, slots=True)
class _InTime:
    """What carries its current for a time.

    Attributes
    ----------
    checks : list of Checked
        Of relays and contacts.
    shorts : set of str
        Names of parts that are a short.
    behind, diverted : dict of str to str
        Names of parts behind a fuse that is sure to open, with its name, which spares them; and of
        those that carry for what is poor, or is missing, with the name of that.
    """

    checks: list[Checked]
    shorts: AbstractSet[str]
    behind: dict[str, str]
    diverted: dict[str, str]

    @classmethod
    def of(cls, rested: Rested, metal: Metal) -> "_InTime":
        """Judge relays and contacts; of what a fuse that is sure to open spares, say which."""
        state = rested.state
        shorts = shorts_of(state, metal)
        contacts = [*or_shorts(contact_checks(state, metal, rested.duration_s), state, shorts)]
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
        relays = relay_checks(state, metal, rested.open_coil_v, rested.nominal, rested.off)
        timed = (_in_its_time(each, rested, metal) for each in relays)
        asked = (*(each for each in timed if each.judged.verdict != NOT_ASKED), *contacts)
        checks = [
            replace(check, detail=behind[str(check.part)])
            if check.code in SPARED and check.part in behind
            else check
            for check in asked
        ]
        checks = [*told_by_cause(checks, state, metal, rested.duration_s)]
        poor = {str(c.part) for c in contacts if c.code == "contact_drop" and c.verdict == "fail"}
        diverted = _carried_for(rested, metal, poor)
        return cls([*_but_strays(checks, state, diverted)], shorts, behind, diverted)

    def wires(self, rested: Rested, bears: Bears, left_out: Collection[str]) -> Iterator[Checked]:
        """Judge all wires but some."""
        state, told = rested.state, set[str]()
        for check in (
            *_wires(state, rested.duration_s, self.shorts, left_out),
            *wire_currents(state, rested.duration_s, bears, left_out),
        ):
            name = str(check.part)
            if check.verdict != "fail" or name not in self.diverted:
                is_spared = name in self.behind
                yield replace(check, detail=self.behind[name]) if is_spared else check
            elif name not in told:
                told.add(name)
                amps, may_a = (
                    abs(state.current_a(name)),
                    bears.least_a(state.model, {name}) or NOT_GIVEN,
                )
                judged, joint = flatly(FAIL, amps, may_a), self.diverted[name]
                so = {"part": name, "detail": joint}
                yield Checked("diverted_current", judged, "A", COMMON_PRACTICE, **so)


def _but_strays(
    checks: Sequence[Checked], state: State, diverted: Mapping[str, str]
) -> Iterator[Checked]:
    """The same checks; of a cable that carries what its ground should, that ground by name.

    It is drawn as a contact, and nobody is to tighten it so that it carries more.
    """
    parts = {part.name: part for part in state.model.parts["resistors"]}
    told = set[str]()
    for check in checks:
        name = str(check.part)
        ground, stray = parts.get(diverted.get(name, "")), parts.get(name)
        is_stray = (
            check.verdict == "fail"
            and check.code in {"contact_heat", "contact_drop"}
            and stray is not None
            and stray.asked.part != "ground"
            and name in diverted
            and (ground is None or ground.asked.part == "ground")
            and (ground is None or abs(state.current_a(name)) > abs(state.current_a(ground.name)))
        )
        if not is_stray:
            yield check
        elif name not in told:
            told.add(name)
            judged, so = flatly(FAIL, abs(state.current_a(name))), {"detail": diverted[name]}
            yield Checked("diverted_current", judged, "A", COMMON_PRACTICE, part=name, **so)


def _in_its_time(check: Checked, rested: Rested, metal: Metal) -> Checked:
    """The same check; of a relay's contact for as long as it carries its current."""
    if check.code not in {"steady_current", "contact_heat"}:
        return check
    contact = next(each for each in metal.parts["contacts"] if each.name == check.part)
    on_s = carries_s(rested.state, metal, contact, rested.duration_s)
    if check.code == "contact_heat":
        share = min(on_s / GETS_HOT_S, 1.0)
        burns = check.judged.value * share > check.judged.limit
        return replace(check, judged=asked_if(burns, check.judged))
    return replace(check, judged=for_a_while(check.judged, on_s, isolates=False))


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


def _wires(
    state: State,
    duration_s: float | None,
    shorts: AbstractSet[str],
    left_out: Collection[str],
) -> Iterator[Checked]:
    bare = []
    for (part, _, current), wire, hot in zip(
        state.carrying("wires"), state.model.wires, state.wire_temperatures_c, strict=True
    ):
        if part.name in left_out:
            continue
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
