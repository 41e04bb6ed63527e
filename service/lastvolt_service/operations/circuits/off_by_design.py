"""Loads that are off in a state by design, though no part of the circuit is left out for it."""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.parts import Branch
from lastvolt_service.operations.circuits.ruled import SWITCHES
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import FAIL, PASS, UNDECIDED, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE

# A motor that makes some voltage the other way round is fed so, or turned by what it moves. [V].
# Common practice.
TURNED_V = 1.0
# Of the source's voltage: with more across it a load is not dark, whatever joins its ends.
# Common practice.
DARK_SHARE = 0.1


def off_by_design(state: State, metal: Metal, joints_out: Sequence[Branch]) -> dict[str, Checked]:
    """Loads by name: on the other throw of a relay, or between two ends that are live alike.

    Those that are grounded alike past every switch have a fault, as a sender's wire that chafes; of
    one that needs a voltage that tells it. A motor that relays turn round is none; what it makes
    itself is known for one way round. What is dark for a joint that a case leaves out is so for a
    fault.
    """
    found: dict[str, Checked] = {}
    live, grounded = metal.sides()
    thrown = _thrown(state, metal)
    now_live, now_grounded = metal.sides(thrown) if thrown else (live, grounded)
    unmoved = _both_live(state, live - grounded)
    left_live, left_grounded = metal.sides(unmoved) if unmoved else (live, grounded)
    whole_live, whole_grounded = with_joints(metal, joints_out)
    bypassed = _bypassed(state, metal, grounded - live)
    for load in metal.loads:
        ends = {*load.nodes}
        across_v = abs(state.across_v(load.name))
        is_dark = across_v <= DARK_SHARE * state.model.drive_v
        if load.needed_v is None and is_dark and ends <= bypassed:
            found[load.name] = _off(state, load, FAIL, "grounded")
        elif is_dark and ends <= live and ends.isdisjoint(grounded):
            # A charge lamp is dark while the other side charges.
            charged = load.kind == "lamp" and bool(state.model.parts["chargers"])
            found[load.name] = _off(state, load, PASS if charged else UNKNOWN, "both_live")
        elif load.kind == "motor" and state.across_v(load.name) < -TURNED_V:
            found[load.name] = _off(state, load, UNKNOWN, "turned")
        elif (
            is_dark
            and not (ends & left_live and ends & left_grounded)
            and _spans(ends, live, grounded)
        ):
            found[load.name] = _off(state, load, UNKNOWN, "coil_live")
        elif (
            joints_out
            and not _spans(ends, live, grounded)
            and _spans(ends, whole_live, whole_grounded)
        ):
            judged = flatly(FAIL, 0.0)
            so = {"part": load.name, "detail": ", ".join(each.name for each in joints_out)}
            found[load.name] = Checked("not_joined", judged, "V", COMMON_PRACTICE, **so)
        elif not _spans(ends, now_live, now_grounded) and _spans(ends, live, grounded):
            bars = [*barring(state)] if load.asked.circuit in OF_CIRCUIT else []
            thrown_off = _off(state, load, PASS, "thrown")
            found[load.name] = barred(state, bars[0], load.name) if bars else thrown_off
    return found


def _bypassed(state: State, metal: Metal, grounded: AbstractSet[str]) -> AbstractSet[str]:
    """Nodes that wires and joints lead to the ground from, and nothing that opens or resists.

    None where no load has both of its ends at the ground; over a shunt what reads it may have.
    """
    if not any({*load.nodes} <= grounded for load in metal.loads):
        return frozenset()
    others = [each for each in state.model.parts["resistors"] if not _is_joint(each)]
    return metal.sides([*others, *state.model.parts["contacts"]])[1] & grounded


def _is_joint(part: Part) -> bool:
    return part.kind == "contact" and part.asked.part not in {*SWITCHES, "fuse"}


def _spans(ends: AbstractSet[str], live: AbstractSet[str], grounded: AbstractSet[str]) -> bool:
    return bool(ends & live and ends & grounded)


def _both_live(state: State, live: AbstractSet[str]) -> frozenset[Part]:
    """Contacts of relays that stay open for both ends of their coil are live, by metal."""
    coils = state.model.parts["coils"]
    return frozenset(
        part
        for part, index in _contacts(state, breaks=False)
        if not state.solution.energised[index] and {*coils[index].nodes} <= live
    )


def barring(state: State) -> Iterator[str]:
    """Names of relays that are in, and with that open their break contact."""
    for part, index in _contacts(state, breaks=True):
        if state.solution.energised[index]:
            yield part.name


def barred(state: State, relay: str, load: str, verdict: int = UNDECIDED) -> Checked:
    """Say that a relay keeps a start from its feed, as one does while the engine runs."""
    judged = flatly(verdict, abs(state.across_v(relay)))
    return Checked("barred", judged, "V", COMMON_PRACTICE, part=relay, detail=load)


def relays_not_joined(state: State, joints_out: Sequence[Branch]) -> Iterator[Checked]:
    """Relays that would close but for terminals and grounds that a case leaves out: a fault."""
    if not joints_out:
        return
    circuit, left_out = state.model.circuit, {*state.model.case.without}
    names = {joint.name for joint in joints_out}
    closed = live(circuit, left_out - names).closed - live(circuit, left_out).closed
    for relay in circuit.relays:
        if relay.name in closed - left_out:
            alone = {
                n for n in names if relay.name not in live(circuit, left_out - names | {n}).closed
            }
            judged = flatly(FAIL, abs(state.across_v(relay.name)))
            so = {"part": relay.name, "detail": ", ".join(sorted(alone or names))}
            yield Checked("not_joined", judged, "V", COMMON_PRACTICE, **so)


def with_joints(
    metal: Metal, joints: Sequence[Branch]
) -> tuple[AbstractSet[str], AbstractSet[str]]:
    """Nodes on the live side and on that of the ground, with some joints put back."""
    sides = [{*side} for side in metal.sides()]
    for _ in joints:  # one may lead to the next
        for joint in joints:
            for side, other in (sides, sides[::-1]):
                for near, far in (joint.nodes, joint.nodes[::-1]):
                    if near in side and far not in side | other:
                        side |= metal.reached([far])[0]
    return sides[0], sides[1]


def _off(state: State, load: Part, verdict: int, detail: str) -> Checked:
    judged = flatly(verdict, abs(state.across_v(load.name)))
    return Checked("load_off", judged, "V", COMMON_PRACTICE, part=load.name, detail=detail)


def _thrown(state: State, metal: Metal) -> frozenset[Part]:
    """Contacts that are open for a relay that is in: its 87a, and what loses its coil's feed by it.

    None where the relay finds no rest.
    """
    breaks = [*_contacts(state, breaks=True)]
    thrown = {part for part, index in breaks if state.solution.energised[index]}
    coils = state.model.parts["coils"]
    while thrown:
        fed = metal.sides(thrown)
        more = {
            part
            for part, index in _contacts(state, breaks=False)
            if not state.solution.energised[index] and not fed.feed(coils[index])
        }
        if more <= thrown:
            break
        thrown |= more
    return frozenset(thrown)


def _contacts(state: State, *, breaks: bool) -> Iterator[tuple[Part, int]]:
    """Break or make contacts of relays that rest, each with the index of its relay."""
    contacts = state.model.network.contacts
    for part, relay, opens in zip(
        state.model.parts["contacts"],
        contacts.relay.tolist(),
        contacts.normally_closed.tolist(),
        strict=True,
    ):
        if bool(opens) == breaks and relay not in state.solution.chatter:
            yield part, relay
