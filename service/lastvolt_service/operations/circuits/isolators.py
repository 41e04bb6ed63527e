"""Isolators past which a second battery feeds on, by its ground or by its live post."""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.ruled import Joints
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.judging import FAIL, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE


def isolator_checks(circuit: Circuit, case: Case, left_out: AbstractSet[str]) -> Iterator[Checked]:
    """Name every isolator that leaves all live, with the battery that does so.

    Parameters
    ----------
    circuit, case : Circuit, Case
        A circuit in a case.
    left_out : set of str
        All that opens, and the loads: a switch between two batteries is there to part them.
    """
    joints, (live_post, ground_post) = Joints(circuit, left_out), circuit.posts
    batteries = [each for each in circuit.further_sources if not isinstance(each, Charger)]
    for each in circuit.branches:
        if not isinstance(each, CircuitContact) or not each.isolates:
            continue
        for battery in batteries:
            so = {"part": each.name, "detail": battery.name}
            if _lies_past(joints, (ground_post, live_post), each.nodes, {*battery.nodes}):
                yield Checked("isolates_one", flatly(FAIL), "V", COMMON_PRACTICE, **so)
            elif _lies_past(joints, (live_post, ground_post), each.nodes, {*battery.nodes}):
                judged = flatly(UNKNOWN if _feeds_before(circuit, case, each.name) else FAIL)
                yield Checked("fed_past_isolator", judged, "V", COMMON_PRACTICE, **so)


def _lies_past(
    joints: Joints, posts: tuple[str, str], isolator: Sequence[str], ends: AbstractSet[str]
) -> bool:
    """Whether a battery is joined to the second of the first one's posts, but past an isolator.

    That lies at the first of them.
    """
    post, other = posts
    cut = joints.reached(post, frozenset(), frozenset())
    near, far = isolator if isolator[0] in cut else isolator[::-1]
    if near not in cut or far in cut or other in cut:
        return False
    linked = ends & joints.reached(other, {post}, frozenset())
    past = ends & joints.reached(far, {other}, frozenset())
    return bool(linked and past - linked)


def _feeds_before(circuit: Circuit, case: Case, isolator: str) -> bool:
    """Whether a load is fed before an isolator on the live side: it parts two batteries, perhaps.

    What switches open counts: a load before it is one in any case.
    """
    movable = {each.name for each in circuit.branches if isinstance(each, CircuitContact)}
    left_out = ({*case.without} - movable) | {isolator, *(load.name for load in circuit.loads)}
    coils = [(relay.name, "coil") for relay in circuit.relays]
    joints, (live_post, ground_post) = Joints(circuit, left_out), circuit.posts
    return any(
        joints.way(node, {live_post}, {ground_post}, coils)
        for load in circuit.loads
        for node in load.nodes
        if node not in {live_post, ground_post}
    ) or any(live_post in load.nodes for load in circuit.loads)
