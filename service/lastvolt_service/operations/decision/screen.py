"""A proposal looked at before it is weighed: what is unsafe in it, and what it does not say.

A new wire wants a fuse at its start, a rating of whatever carries its current, and an insulation;
the switch, its interlocks and an isolator must stay in charge. Ground leads and wires that are left
as they were bar nothing.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, TypeGuard

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.bare_wires import MOST_UNFUSED_M
from lastvolt_service.operations.circuits.bridging import Mend
from lastvolt_service.operations.circuits.fields import Circuit, RelayData
from lastvolt_service.operations.circuits.judge import Judged
from lastvolt_service.operations.circuits.load_way import in_the_way
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import (
    ChainContact,
    ChainPart,
    ChainWire,
    CircuitContact,
)
from lastvolt_service.operations.circuits.switching import Live, cuts, live, ruled
from lastvolt_service.operations.decision.proposal import DecisionRequest, Proposal
from lastvolt_service.operations.judging import FAIL, MARGINAL, UNKNOWN, stays_within
from lastvolt_service.operations.judging import Judged as Verdict
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.operations.wires.drop_limits import BY_DESIGN_V
from lastvolt_service.rows import NOT_GIVEN, optional
from lastvolt_service.units import Interval

# What a relay does by practice where its maker was not asked: warm from use it closes at a quarter
# more than cold, hot it carries half of its rating, it bears 85 degC, and one that closes at half
# of a voltage or more is made for that voltage, coil and contact.
WARMER_SHARE = 1.25
HOT_SHARE = 0.5
USUAL_HIGHEST_C = 85.0
MADE_FOR_SHARE = 0.5
# Switches for so much are battery switches. [A]. Common practice.
MASTER_A = 75.0
SAID = Verdict(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
BROKEN = Verdict(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, FAIL)


def screen(
    asked: DecisionRequest,
    new: Circuit,
    proposed: Sequence[Judged],
    poorest: State,
    costs: Sequence[Mend],
    nominal_v: float,
) -> tuple[Checked, ...]:
    """Look a proposal over.

    Parameters
    ----------
    asked, new : DecisionRequest, Circuit
        The proposal, and the circuit with it.
    proposed : sequence of Judged
        That circuit in every case.
    poorest, costs : State, sequence of Mend
        The circuit as it is in its poorest case, and what its parts cost the load there.
    nominal_v : float
        Of the system. [V]
    """
    proposal = asked.proposal
    if proposal is None:
        return ()
    return (
        *_in_charge(asked, proposal, new),
        *_fuse(asked, proposal),
        *_given(asked, proposal, proposed),
        *_unjudged_relay(proposal.relay, proposed, nominal_v),
        *_by_design(asked, proposed, poorest, costs),
    )


def _in_charge(asked: DecisionRequest, proposal: Proposal, new: Circuit) -> Iterator[Checked]:
    """Whether switch, interlocks and isolators still rule what they ruled."""
    old_load = next(each for each in asked.circuit.loads if each.name == asked.load)
    new_load = next(each for each in new.loads if each.name == asked.load)
    contacts = [each for each in asked.circuit.branches if isinstance(each, CircuitContact)]
    switches = [each for each in contacts if each.part == "switch" or each.name == asked.switch]
    # Leave out what is open, or off, in every case: the contacts are tried one by one.
    without = set.intersection(*(set(case.without) for case in asked.cases))

    def runs_on(state: Live) -> bool:
        return state.feeds(new_load.nodes) or proposal.relay.name in state.closed

    for each in switches:
        open_now = live(new, without | {each.name})
        bypassed = ruled(asked.circuit, old_load, each.name, without) and runs_on(open_now)
        isolated = (
            (each.isolates or (each.name != asked.switch and _least(each.rating_a) >= MASTER_A))
            and proposal.feed_node in open_now.plus
            and any(cuts(asked.circuit, each.name, node, without) for node in old_load.nodes)
        )
        if bypassed or isolated:
            detail = "runs_on" if bypassed else "isolator"
            # Nobody said that it is one: that is asked, and bars nothing.
            sure = bypassed or each.isolates
            judged = BROKEN if sure else BROKEN._replace(verdict=MARGINAL)
            so = {"part": each.name, "detail": detail}
            yield Checked("switch_in_charge", judged, "V", COMMON_PRACTICE, **so)
    if cuts(asked.circuit, asked.switch, proposal.feed_node, without):
        yield Checked(
            "switch_in_charge",
            BROKEN,
            "V",
            COMMON_PRACTICE,
            part=asked.switch,
            detail="not_spared",
        )
    # One of several side by side rules nothing alone; all of them together must.
    all_open = without | {each.name for each in switches if not each.isolates}
    if not live(asked.circuit, all_open).feeds(old_load.nodes) and runs_on(live(new, all_open)):
        yield Checked(
            "switch_in_charge", BROKEN, "V", COMMON_PRACTICE, part=asked.switch, detail="runs_on"
        )


def _fuse(asked: DecisionRequest, proposal: Proposal) -> Iterator[Checked]:
    """Whether a fuse stands at the start of the new wires."""
    fuse, before_m = _first_fuse(asked, proposal)
    if fuse is None:
        judged = BROKEN if proposal.fuse == "none" else SAID
        yield Checked("feed_fuse", judged, "m", COMMON_PRACTICE)
        return
    judged = stays_within(before_m, MOST_UNFUSED_M, 0.0)
    yield Checked("feed_fuse", judged, "m", COMMON_PRACTICE, part=fuse.name)
    if not known(fuse.rating_a):
        yield Checked("rating_given", SAID, "A", COMMON_PRACTICE, part=fuse.name)


def _first_fuse(asked: DecisionRequest, proposal: Proposal) -> tuple[ChainContact | None, float]:
    """The first fuse of the new wires, else one that their feed is taken from behind.

    With it the length of new wire before it. [m]
    """
    before_m = 0.0
    for each in asked.circuit.branches:
        if is_fuse(each) and cuts(asked.circuit, each.name, proposal.feed_node, frozenset()):
            return each, before_m
    for part in (*proposal.feed, *proposal.outlet):
        if isinstance(part, ChainWire):
            before_m += _most(part.length_m)
        elif is_fuse(part):
            return part, before_m
    return None, before_m


def _given(
    asked: DecisionRequest, proposal: Proposal, proposed: Sequence[Judged]
) -> Iterator[Checked]:
    """Whether the relay has a rating, and every new wire is judged."""
    if not known(proposal.relay.rating_a):
        yield Checked("rating_given", SAID, "A", COMMON_PRACTICE, part=proposal.relay.name)
    parts = (*proposal.feed, *proposal.outlet)
    fuse, _ = _first_fuse(asked, proposal)
    fused = fuse is not None and known(fuse.rating_a)
    redrawn = _unjudged(proposal.wires, proposed, fused=False)  # behind the fuse that was there
    for name, detail in (*_unjudged(parts, proposed, fused=fused), *redrawn):
        yield Checked("wire_judged", SAID, "degC", COMMON_PRACTICE, part=name, detail=detail)
    if not any(isinstance(each, ChainWire) for each in parts):
        yield Checked("wire_judged", SAID, "degC", COMMON_PRACTICE)


def _unjudged_relay(
    relay: RelayData, proposed: Sequence[Judged], nominal_v: float
) -> Iterator[Checked]:
    """What could keep the relay from closing, burn it or weld it, and was not judged."""
    found: dict[str, Check] = {}
    for each in proposed:
        mine = {check.code: check for check in each.checks if check.part == relay.name}
        for code, check in mine.items():
            if check.verdict == "unknown" and _matters(relay, mine, code, each.state, nominal_v):
                found.setdefault(code, check)
    for code, check in found.items():
        judged = SAID._replace(value=optional(check.value), limit=optional(check.limit))
        yield Checked(code, judged, check.unit, check.basis, part=relay.name)


def _matters(
    relay: RelayData, mine: Mapping[str, Check], code: str, state: State, nominal_v: float
) -> bool:
    """Whether practice does not answer what a relay's maker was not asked."""
    if code == "pick_up_warm":
        cold = mine.get("pick_up_at_ambient")
        return cold is None or (cold.value or 0.0) < WARMER_SHARE * (cold.limit or 0.0)
    if code == "steady_current":
        rated = known(relay.rating_a) and not isinstance(relay.rating_a, Interval)
        return not rated or (mine[code].value or 0.0) > HOT_SHARE * float(relay.rating_a)
    if code == "highest_ambient":
        return state.model.parts["coils"][-1].ambient_c > USUAL_HIGHEST_C
    if code in {"rated_voltage", "continuous_voltage"} and not known(relay.nominal_v):
        return _least(relay.pick_up_v) < MADE_FOR_SHARE * nominal_v
    return code in {"inrush", "hold"}  # one that lets go while the starter cranks chatters


def _unjudged(
    parts: Sequence[ChainPart], proposed: Sequence[Judged], *, fused: bool
) -> Iterator[tuple[str, str | None]]:
    """New wires whose heat, or whose fuse, no check judges."""
    heat, fuse = (
        {
            check.part
            for each in proposed
            for check in each.checks
            if check.code == code and check.verdict != "unknown"
        }
        for code in ("conductor_temperature", "fuse_protection")
    )
    for each in parts:
        if isinstance(each, ChainContact):
            continue
        if each.name not in heat:
            bare = isinstance(each, ChainWire) and not known(each.insulation)
            yield each.name, "insulation" if bare else None
        elif fused and each.name not in fuse:
            yield each.name, "no_fuse"


def _by_design(
    asked: DecisionRequest, proposed: Sequence[Judged], poorest: State, costs: Sequence[Mend]
) -> Iterator[Checked]:
    """Known resistances in the way of the load that the relay would go round.

    What feeds it beside that way takes nothing from it.
    """
    way = in_the_way(poorest, asked.load)
    known_ones = {each.part.name for each in way if each.part.kind == "resistance"}
    for each in costs:
        if each.name in known_ones and each.costs_v >= BY_DESIGN_V:
            left_v = max(abs(one.state.across_v(each.name)) for one in proposed)
            if left_v < each.costs_v / 2:
                judged = SAID._replace(value=each.costs_v)
                yield Checked("by_design", judged, "V", COMMON_PRACTICE, part=each.name)


def is_fuse(part: object) -> TypeGuard[ChainContact]:
    """Whether a part is a fuse."""
    return isinstance(part, ChainContact) and part.part == "fuse"


def _least(value: Any) -> float:
    return value.low if isinstance(value, Interval) else float(value)


def _most(value: float | Interval) -> float:
    return value.high if isinstance(value, Interval) else value
