"""Relays and loads that have lost their feed or their ground: no switch gives it back."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit, Relay
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import AnyLoad, is_wanting
from lastvolt_service.operations.circuits.ruled import Joints
from lastvolt_service.operations.judging import FAIL, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE


def open_coils(circuit: Circuit, case: Case) -> Iterator[Checked]:
    """Name relays that nothing can close and that a load hangs on of which more is asked.

    That is one which needs a voltage, or whose drop is held against practice. Of a relay on which
    none hangs nothing is told: what feeds it may be left out on purpose. Nor can one close that is
    fed over its own contact alone, but where its case says that it has been closed before.
    """
    asked = (each for each in circuit.loads if is_wanting(each) or known(each.circuit))
    needing = [each.nodes for each in asked]
    if not (circuit.relays and needing):
        return
    joints, posts = Joints(circuit, frozenset()), _posts(circuit)
    loads = frozenset(each.name for each in circuit.loads)
    for relay in circuit.relays:
        opens = not (relay.break_nodes or relay.name in case.held)
        past = frozenset({(relay.name, "contact")}) if opens else frozenset[tuple[str, str]]()
        led_to = [_sides_of(joints, relay, end, posts, past) for end in relay.coil_nodes]
        if _both(led_to):
            continue
        # Over loads in series with it, and over none: through filaments most things are joined.
        if any(
            _both([_sides_of(whole, relay, end, posts) for end in ends])
            and not _both([_sides_of(at_rest, relay, end, posts) for end in ends])
            for over in (frozenset[str](), loads)
            for whole, at_rest in [
                (Joints(circuit, over), Joints(circuit, over, frozenset({relay.name})))
            ]
            for ends in needing
        ):
            ends = zip(relay.coil_nodes, led_to, strict=True)
            lost = next((end for end, there in ends if not there), None)
            judged = flatly(FAIL)
            yield Checked("coil_open", judged, "V", COMMON_PRACTICE, part=relay.name, detail=lost)


def open_loads(circuit: Circuit, case: Case) -> Iterator[Checked]:
    """Name loads that no switch feeds, in a case that leaves parts out, where others are just off.

    Where it leaves out none they are told by what flows.
    """
    if not case.without:
        return
    live, grounded = circuit.sides()
    apart = [
        load
        for load in circuit.loads
        if load.name not in case.without and not ({*load.nodes} & live and {*load.nodes} & grounded)
    ]
    joints, posts = Joints(circuit, frozenset()), _posts(circuit) if apart else {}
    for load in apart:  # over other loads, as where one is in series with it
        led_to = [_sides_of(joints, load, end, posts) for end in load.nodes]
        if not _both(led_to) or _has_no_feed(circuit, load, live, grounded):
            yield Checked("not_joined", flatly(FAIL), "V", COMMON_PRACTICE, part=load.name)


def _has_no_feed(
    circuit: Circuit, load: AnyLoad, live: AbstractSet[str], grounded: AbstractSet[str]
) -> bool:
    """Whether all that hangs on one end of a load leads to the ground alone.

    Two lamps of the same lost feed do: neither feeds the other, though metal leads on from there.
    """
    loose = [node for node in load.nodes if node not in live | grounded]
    if len(loose) != 1:
        return False
    nodes = reached(loose[0], circuit.joined())
    hanging = [each.nodes for each in circuit.loads] + [each.coil_nodes for each in circuit.relays]
    beyond = {node for ends in hanging if not nodes.isdisjoint(ends) for node in ends} - nodes
    return beyond <= grounded - live


def _posts(circuit: Circuit) -> dict[str, str]:
    """Posts of all sources, each with that of the first one that is on its side."""
    live_post, ground_post = circuit.posts
    live, _ = circuit.sides()
    others = {node for each in circuit.further_sources for node in each.nodes}
    found = {node: live_post if node in live else ground_post for node in others}
    return found | {live_post: live_post, ground_post: ground_post}


def _sides_of(
    joints: Joints,
    of: Relay | AnyLoad,
    end: str,
    posts: Mapping[str, str],
    past: AbstractSet[tuple[str, str]] = frozenset(),
) -> AbstractSet[str]:
    """Posts that a node leads to, but over what it is an end of, and over nothing in `past`."""
    if end in posts:
        return {posts[end]}
    own = {(of.name, which) for which in ("coil", "")} | past
    return {side for post, side in posts.items() if joints.way(end, {post}, posts.keys(), own)}


def _both(ends: Sequence[AbstractSet[str]]) -> bool:
    """Whether one end leads to one post while the other leads to the other."""
    first, second = ends
    return bool(first and second and len(first | second) > 1)
