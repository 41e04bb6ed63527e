"""What joins that which two switches should switch apart, as a chafe in a loom does."""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from itertools import product

from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.needless import (
    Needless,
    how_surely,
    may_be_ballast,
)
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact, CircuitResistance
from lastvolt_service.operations.circuits.ruled import SWITCHES, Joints
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import FAIL, UNDECIDED, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.rows import NOT_GIVEN


def crossed(
    circuit: Circuit, case: Case, drive_v: float, chafes: Sequence[Needless]
) -> Iterator[Checked]:
    """Name parts over each of which either of two switches runs what the other feeds.

    What is given as few ohms is a chafe, as is a joint that conducts badly; a wire or a sound one
    may be there by mistake, or belong there, and a ballast does; but what leads a start to
    something else does not: that then feeds the starter, too.
    """
    metal = _Metal(circuit, case)
    apart = {each.part.name: each.between for each in chafes if each.between}
    if len(metal.switches) < 2 and not apart:
        return
    for part in circuit.branches:
        if part.name in metal.left_out or _opens(part):
            continue
        may_join = part.name in apart or metal.may_join(part)
        verdict = how_surely(part, drive_v) if may_join else None
        if verdict is None:
            continue
        pair: Sequence[str] = metal.joined(part) or ()
        if len(pair) > 1:
            if metal.leads_from_a_start(part, (pair[0], pair[1])):
                verdict = FAIL
            elif verdict == FAIL and may_be_ballast(part, drive_v):
                verdict = UNDECIDED
        elif part.name in apart:
            pair = tuple(dict.fromkeys(each.name for each in apart[part.name]))
        if pair:
            # Of one alone, a relay that changes over, both contacts are meant.
            judged = flatly(verdict, NOT_GIVEN if len(pair) > 1 else 2)
            so = {"part": part.name, "detail": ", ".join(pair)}
            yield Checked("crossed", judged, "1", COMMON_PRACTICE, **so)


def _opens(part: Branch) -> bool:
    return isinstance(part, CircuitContact) and (part.part in SWITCHES or part.part == "fuse")


class _Metal:
    """The metal of a circuit as it lies in the vehicle, and what its switches rule."""

    def __init__(self, circuit: Circuit, case: Case) -> None:
        made = [e for e in circuit.branches if isinstance(e, CircuitContact) and not e.isolates]
        ends = {each.name: each.nodes for each in made if each.part in SWITCHES}
        ends |= {each.name: each.contact_nodes for each in circuit.relays}
        self.switches = ends.keys()
        loads = frozenset(each.name for each in circuit.loads)
        self.left_out = (frozenset(case.without) - self.switches) | loads
        self._circuit = circuit
        self._coils = frozenset((each.name, "coil") for each in circuit.relays)
        self._posts = {*circuit.posts}
        self._hang = [(each.name, {*each.nodes}) for each in circuit.loads]
        self._hang += [(each.name, {*each.coil_nodes}) for each in circuit.relays]
        self._starting = {each.name for each in circuit.loads if each.circuit in OF_CIRCUIT}
        self._ohms = frozenset(
            each.name for each in circuit.branches if isinstance(each, CircuitResistance)
        )
        # Nodes that several switches are at, past no switch: nothing else joins what two rule.
        self._between: set[str] = set()
        plain = self._joints(frozenset(self.switches))
        for nodes in {plain.reached(n, frozenset(), frozenset()) for e in ends.values() for n in e}:
            at = [name for name, some in ends.items() if not nodes.isdisjoint(some)]
            if len(at) > 1 and self._posts.isdisjoint(nodes):
                self._between |= nodes

    def _joints(self, but: AbstractSet[str]) -> Joints:
        return Joints(self._circuit, self.left_out | but)

    def may_join(self, part: Branch) -> bool:
        """Whether a part lies where several switches are."""
        return self._between.issuperset(part.nodes)

    def joined(self, part: Branch) -> tuple[str, str] | None:
        """Two switches that alone rule loads at its ends, each at one; None where there are not.

        Past that part alone, and past all that is ohms, for several may chafe at once.
        """
        for post, without in product(self._circuit.posts, ({part.name}, self._ohms | {part.name})):
            first, second = (self._ruling(without, node, post) for node in part.nodes)
            own, other = (
                next((name for name in some if name not in others), None)
                for some, others in ((first, second), (second, first))
            )
            if own is None or other is None:
                continue
            pair = own, other
            if all(
                self._feeds(without, node, name, pair)
                for node, name in zip(part.nodes, pair, strict=True)
            ):
                return pair
        return None

    def _ruling(self, without: AbstractSet[str], node: str, post: str) -> Sequence[str]:
        """Switches that lie on every way from a node to a post past parts, the nearest first."""
        stop = self._posts - {post}
        way = self._joints(without).way(node, {post}, stop, self._coils)
        return [
            name
            for name in way
            if name in self.switches
            and not self._joints(without | {name}).way(node, {post}, stop, self._coils)
        ]

    def _feeds(
        self, without: AbstractSet[str], node: str, switch: str, pair: tuple[str, str]
    ) -> bool:
        """Whether anything hangs behind a switch, but for the coil of one of the two itself."""
        return not self._behind(without | {switch}, node) <= {*pair}

    def _behind(self, without: AbstractSet[str], node: str) -> set[str]:
        """Names of what hangs on a node past some parts."""
        nodes = self._joints(without).reached(node, self._posts, frozenset()) - self._posts
        return {name for name, ends in self._hang if not nodes.isdisjoint(ends)}

    def leads_from_a_start(self, part: Branch, pair: tuple[str, str]) -> bool:
        """Whether a starter alone hangs at one end of a part, and none at its other."""
        first, second = (
            self._behind({part.name, switch}, node)
            for node, switch in zip(part.nodes, pair, strict=True)
        )
        return any(
            one <= self._starting and other.isdisjoint(self._starting)
            for one, other in ((first, second), (second, first))
        )
