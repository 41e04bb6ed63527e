"""Current off its way: through other loads where a joint is missing, past a resistor, in a wire."""

import math
from collections.abc import Iterator, Sequence

from lastvolt_service.operations.circuits.fields import MOST_OHM, Circuit
from lastvolt_service.operations.circuits.load_way import NOTHING_A, Carries, Currents
from lastvolt_service.operations.circuits.loads import CurrentLoad, PowerLoad
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.off_by_design import with_joints
from lastvolt_service.operations.circuits.parts import (
    Branch,
    CircuitContact,
    CircuitResistance,
)
from lastvolt_service.operations.circuits.ruled import SWITCHES, Joints, without_ends
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.operations.judging import FAIL, UNDECIDED, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.units import high_end, low_end

# A load that needs so much of what its source has is no half of a row. Common practice.
FOR_ALL_SHARE = 0.6
# Of a resistance, that a way past it has at most, to leave it nothing to do; and how many times
# what it would get with the resistance its load then has at least. Common practice.
PAST_SHARE, RAISED_MULTIPLE = 0.1, 1.25
# Of all that resists, from which on a part is what keeps a load off. Common practice.
MOST_SHARE = 0.5


def loose_end(state: State, metal: Metal, load: Part, across_v: float) -> tuple[str, int] | None:
    """The end of a load that nothing but other loads leads on from, though it is made for it all.

    It is where all that hangs on that end comes from one post, as lamps that share a lost ground
    do, whatever is said of what they need. Of a lamp in a row of which nothing is said that is
    open: as daylight lamps two may be meant to glow. None where nothing flows in these: then its
    switch is open.
    """
    needed_v, drive_v = load.needed_v, state.model.drive_v
    if not across_v < (_worth_v(load, drive_v) if needed_v is None else needed_v):
        return None
    live, grounded = state.model.whole_sides
    loose = [node for node in load.nodes if node not in live | grounded]
    if len(loose) != 1:
        return None
    nodes, _ = metal.reached(loose)
    others = {each for at in nodes for each in metal.loads_at.get(at, ())} - {load}
    made_for_all = needed_v is not None and needed_v >= FOR_ALL_SHARE * drive_v
    verdict = FAIL
    if not made_for_all:
        coils = (each for each in state.model.parts["coils"] if not nodes.isdisjoint(each.nodes))
        beyond = {node for each in (load, *others, *coils) for node in each.nodes} - nodes
        if not (beyond <= live - grounded or beyond <= grounded - live):
            if needed_v is not None or load.kind != "lamp":
                return None
            if load.asked.rated_v < FOR_ALL_SHARE * drive_v:
                return None
            verdict = UNDECIDED
    flows = any(abs(state.current_a(each.name)) > NOTHING_A for each in others)
    return (loose[0], verdict) if flows else None


def _worth_v(load: Part, drive_v: float) -> float:
    """What a load that is fed as it is made for has at least; 0 for one that may be a resistor."""
    made_for_v = load.asked.rated_v if load.kind == "lamp" else drive_v
    return 0.0 if load.kind == "resistance" else FOR_ALL_SHARE * min(made_for_v, drive_v)


def lost_joint(load: Part, node: str, verdict: int, across_v: float) -> Checked:
    """Say that the current of a load goes on through others, where a joint should lead on."""
    judged = flatly(verdict, across_v)
    return Checked("lost_joint", judged, "V", COMMON_PRACTICE, part=load.name, detail=node)


def left_dark(state: State, metal: Metal, load: Part) -> Checked | None:
    """Ask about a load that is dark for what its case leaves out, and no switch makes or breaks.

    That is a wire, a fuse, a plug or a resistor, or a lamp over which the coil of its relay finds
    its ground.
    """
    case = state.model.case
    if lamps := _led_over(state, load):
        so = {"part": load.name, "detail": ", ".join(lamps)}
        return Checked("left_dark", flatly(UNKNOWN), "V", COMMON_PRACTICE, **so)
    taken = [
        each
        for each in state.model.circuit.branches
        if each.name in case.without and not _is_switch(each)
    ]
    if not taken or not _fed_with(metal, load, taken):
        return None
    alone = [
        each
        for each in taken
        if not _fed_with(metal, load, [other for other in taken if other is not each])
    ]
    so = {"part": load.name, "detail": ", ".join(each.name for each in alone or taken)}
    return Checked("left_dark", flatly(UNKNOWN), "V", COMMON_PRACTICE, **so)


def _fed_with(metal: Metal, load: Part, joints: Sequence[Branch]) -> bool:
    live, grounded = with_joints(metal, joints)
    return not (live.isdisjoint(load.nodes) or grounded.isdisjoint(load.nodes))


def shunted(state: State, metal: Metal, currents: Currents) -> Iterator[Checked]:
    """Say past which resistors a way leads, so that their loads get more than they need.

    With the resistor alone a load that needs no more has enough: it is there by design. What it
    would get then is reckoned by the load's own volts over amperes. What resists itself and leads
    from a sender's wire to the frame may belong there.
    """
    circuit, needing = state.model.circuit, [each for each in metal.loads if each.needed_v]
    if not needing:
        return
    for part in state.model.parts["resistors"]:
        if part.kind != "resistance" or part.is_load or part.asked.resistance_ohm < MOST_OHM:
            continue
        ohm, verdict = float(part.asked.resistance_ohm), FAIL
        left_out = {*state.model.case.without, part.name}
        over = _past(circuit, left_out, part, PAST_SHARE * ohm)
        over = over or _always_live(circuit, left_out, part, PAST_SHARE * ohm)
        if not over:
            over, verdict = _past(circuit, left_out, part, ohm, to_frame=True), UNDECIDED
        aside = circuit.sides(frozenset(left_out | over)) if over else ()
        for load in needing if over else ():
            own = currents.of[load]
            if all(not side.isdisjoint(load.nodes) for side in aside):
                continue  # it is fed past them both
            if own.amps < NOTHING_A or over.isdisjoint(
                each.part.name for each in currents.in_the_way(load)
            ):
                continue
            own_ohm = own.across_v / own.amps
            both_v = own.across_v + abs(state.across_v(part.name))
            with_it_v = both_v * own_ohm / (own_ohm + ohm)
            if own.across_v >= RAISED_MULTIPLE * with_it_v and with_it_v >= (load.needed_v or 0.0):
                judged = flatly(verdict, own.across_v, with_it_v)
                so = {"part": part.name, "detail": ", ".join(sorted(over))}
                yield Checked("shunted", judged, "V", COMMON_PRACTICE, **so)
                break


def _past(
    circuit: Circuit, left_out: set[str], part: Part, most_ohm: float, *, to_frame: bool = False
) -> set[str]:
    """Names of what leads past a resistance and has no more than so much; of its own way nothing.

    To a post only, that of the frame, where that is asked.
    """
    no_metal = {each.name for each in (*circuit.loads, *circuit.relays)}
    poor = {each.name for each in circuit.branches if not _is_plain(each, most_ohm)}
    joints, posts = Joints(circuit, left_out | no_metal | poor), {*circuit.posts}
    # Its own ground may be as poor as it likes.
    opens = {e.name for e in circuit.branches if not _is_plain(e, math.inf)}
    opens |= {e.name for e in circuit.branches if isinstance(e, CircuitResistance)}
    own = Joints(circuit, left_out | no_metal | opens)
    for first, second in (part.nodes, part.nodes[::-1]):
        # A sender that has a ground of its own ends there as well as one at the frame.
        ends = {second, *(post for post in posts if own.way(second, {post}, posts))}
        if to_frame:
            ends &= posts
        if first not in ends and (over := joints.way(first, ends, posts)):
            return {*without_ends(circuit, over, part.nodes)}
    return set()


def _always_live(circuit: Circuit, left_out: set[str], part: Part, most_ohm: float) -> set[str]:
    """Name of what feeds one end of a resistance past the switch that is before its other end.

    As a ballast's start contact that was joined to the battery: the coil stays on with the key off.
    It is what begins at the resistance: on the rest of that way more may hang.
    """
    no_metal = {each.name for each in (*circuit.loads, *circuit.relays)} | {part.name}
    opens = {
        each.name
        for each in circuit.branches
        if not _is_plain(each, most_ohm)
        and not (isinstance(each, CircuitContact) and each.part == "fuse")
    }
    joints = Joints(circuit, left_out | no_metal | opens)
    live_post, ground_post = circuit.posts
    goal, stop = {live_post}, {live_post, ground_post, *part.nodes}
    for first, second in (part.nodes, part.nodes[::-1]):
        if not joints.way(first, goal, stop) and (over := joints.way(second, goal, stop)):
            return {*over[:1]}
    return set()


def resists(state: State, metal: Metal, load: Part) -> Iterator[Checked]:
    """The part that keeps a load from its current: most of what resists on the only way to it."""
    solution, network = state.solution, state.model.network
    ohms = {
        "wires": solution.wire_resistance_ohm,
        "resistors": network.resistors.resistance_ohm,
        "contacts": network.contacts.resistance_ohm,
    }
    on_it = [
        (float(ohm), part.name)
        for group, each in ohms.items()
        for part, ohm in zip(state.model.parts[group], each, strict=True)
        if not part.is_load and load.name in {one.name for one in metal.loads_behind(part)}
    ]
    most_ohm, name = max(on_it, default=(0.0, ""))
    all_ohm = state.model.internal_ohm + sum(ohm for ohm, _ in on_it)
    can_work = _works_over(all_ohm - most_ohm, load, state.model.drive_v)
    if can_work and most_ohm > MOST_SHARE * all_ohm:
        judged = flatly(FAIL, most_ohm)
        so = {"part": name, "detail": load.name}
        yield Checked("resists", judged, "ohm", COMMON_PRACTICE, **so)


def _works_over(ohm: float, load: Part, drive_v: float) -> bool:
    """Whether a load could work at all over so much; what asks for too much is no part's fault."""
    if isinstance(load.asked, PowerLoad):
        return bool(4.0 * float(load.asked.power_w) * ohm <= drive_v**2)
    if isinstance(load.asked, CurrentLoad):
        return bool(float(load.asked.current_a) * ohm <= drive_v)
    return True


def wire_drop(state: State, currents: Currents, load: Part, across_v: float) -> Checked | None:
    """The wire that costs a load most, where no clean contact brings it what it lacks.

    None where the source itself sags by more, as every one does while an engine is cranked.
    """
    on_it = currents.in_the_way(load)
    lacks_v = (load.needed_v or 0.0) - across_v
    wires = [each for each in on_it if each.part.kind == "wire"]
    contacts_v = sum(each.across_v for each in on_it if each.part.kind in {"contact", "relay"})
    if sum(each.across_v for each in wires) < lacks_v or contacts_v >= lacks_v:
        return None
    most: Carries = max(wires, key=lambda each: each.across_v)
    sags_v = state.model.emf_v - float(state.flow("sources").drop_v[0])
    if most.across_v < max(sags_v, *(each.across_v for each in on_it)):
        return None
    so = {"part": most.part.name, "detail": load.name}
    return Checked("wire_drop", flatly(FAIL, most.across_v), "V", COMMON_PRACTICE, **so)


def _led_over(state: State, load: Part) -> list[str]:
    """Names of loads that the case leaves out, with each of which alone a load is fed."""
    circuit, left_out = state.model.circuit, {*state.model.case.without}
    lamps = [each for each in circuit.loads if each.name in left_out and each.name != load.name]
    if not circuit.relays or not lamps or live(circuit, left_out).feeds(load.nodes):
        return []
    _, ground_post = circuit.posts
    found = ((lamp.name, live(circuit, left_out, [lamp])) for lamp in lamps)
    # One that is fed itself joins both sides.
    return [n for n, then in found if then.feeds(load.nodes) and ground_post not in then.plus]


def _is_switch(branch: Branch) -> bool:
    return isinstance(branch, CircuitContact) and branch.part in SWITCHES


def _is_plain(branch: Branch, most_ohm: float) -> bool:
    """Whether a part is metal that nobody opens, and has no more than so much."""
    if isinstance(branch, CircuitContact):
        opens = branch.part in SWITCHES or branch.part == "fuse"
        return not opens and low_end(branch.resistance_ohm) <= most_ohm
    if isinstance(branch, CircuitResistance):
        return bool(high_end(branch.resistance_ohm) <= most_ohm)
    return True
