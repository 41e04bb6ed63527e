"""What requests say of a circuit: its parts and its sources.

Any quantity may be an `Interval`; where one number of each is wanted, `Pins` has put it there.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from difflib import get_close_matches
from typing import TypeAlias

from lastvolt_service.errors import Path
from lastvolt_service.fields import ABSENT, Broken, Fields, choice, flag, many, part, quantity
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.joints import Joined, is_turned, reached, sides_of
from lastvolt_service.operations.circuits.loads import LOADS, AnyLoad
from lastvolt_service.operations.circuits.parts import (
    BRANCHES,
    Branch,
    CircuitResistance,
    Placed,
    Toleranced,
    nodes,
)
from lastvolt_service.operations.circuits.sources import SOURCES, AnySource, Source
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.relays.data import CoilData, ContactData
from lastvolt_service.rows import Numbers
from lastvolt_service.tables.limits import inrush
from lastvolt_service.tables.practice import GROUND
from lastvolt_service.units import low_end

MAX_NODES = 200
MAX_BRANCHES = 500
MAX_SOURCES = 10
# How much alike two names are that may be one misspelt.
NEAR, FEWEST_LETTERS = 0.8, 2
# A resistance of so much and more joins no side of a circuit that it is not in the way of. [ohm].
# Common practice.
MOST_OHM = 0.1
GROUPS = ("branches", "loads", "relays", "further_sources")
JOINTS = ("nodes", "coil_nodes", "contact_nodes", "break_nodes")


class RelayData(CoilData, ContactData, Placed):
    """What is known of a relay, wherever it is wired; what is not given is not judged, and told."""

    drop_out_v: Numbers = supply(CoilData.described["drop_out_v"].meaning, minimum=0.01)
    maximum_v: Numbers = supply(
        "highest lasting voltage at the coil; by default that of the source without load, which "
        "is too much where a resistor lies before the coil",
        default=ABSENT,
    )
    contact_resistance_ohm: float = quantity("of the closed contact", maximum=1e3)
    break_rating_a: Numbers = quantity(
        "steady current that the break contact, 87a, is rated for at rating_ambient_c",
        minimum=1e-3,
        default=ABSENT,
    )
    load_kind: str | None = choice(
        "kind of load that the contact closes on, for its inrush; that of a single solenoid or "
        "coil is told from the circuit",
        tuple(inrush()),
        default=ABSENT,
    )
    ages: bool = flag("whether the ageing factor of a case acts on its contact", default=True)

    def broken_rules(self) -> Iterator[Broken]:
        """Those of coil and contact."""
        yield from CoilData.broken_rules(self)
        yield from ContactData.broken_rules(self)


class Relay(RelayData):
    """A relay of a circuit: terminals 85, 86, 30 and 87, and 87a where it changes over."""

    coil_nodes: Sequence[str] = nodes("nodes at 86 and 85")
    contact_nodes: Sequence[str] = nodes("nodes at 30 and 87")
    break_nodes: Sequence[str] = nodes("nodes at 30 and 87a", optional=True)


AnyPart: TypeAlias = Branch | AnyLoad | Relay | AnySource


class Circuit(Toleranced):
    """A network as it lies in the vehicle; nodes are there because parts name them."""

    ground: str | None = label(f"node at 0 V; by default {GROUND!r}", default=ABSENT)
    source: Source = part(Source, "what feeds the circuit")
    branches: Sequence[Branch] = many(
        BRANCHES,
        "wires, contacts and resistances, the body and its joints included",
        minimum=0,
        optional=False,
        maximum=MAX_BRANCHES,
    )
    loads: Sequence[AnyLoad] = many(LOADS, "what is fed", maximum=MAX_BRANCHES)
    relays: Sequence[Relay] = many(Relay, "relays", minimum=0, maximum=50)
    further_sources: Sequence[AnySource] = many(
        SOURCES, "other batteries, and what charges", minimum=0, maximum=MAX_SOURCES
    )

    @property
    def parts(self) -> list[AnyPart]:
        """Every part, in the order of the request."""
        return [*self.branches, *self.loads, *self.relays, *self.further_sources]

    @property
    def positive_ground(self) -> bool:
        """Whether metal joins the ground to the positive post and not to the negative one."""
        plus, minus = self._plus_and_minus
        if self.ground_node in {plus, minus}:
            return plus == self.ground_node
        # A chafe joins both posts to it.
        for most_ohm in (0.0, MOST_OHM, math.inf):
            at_ground = reached(self.ground_node, self.joined(most_ohm=most_ohm))
            if (plus in at_ground) != (minus in at_ground):
                return plus in at_ground
        return False

    @property
    def posts(self) -> tuple[str, str]:
        """Nodes at the live post of the source and at the one that is joined to the ground."""
        plus, minus = self._plus_and_minus
        return (minus, plus) if self.positive_ground else (plus, minus)

    def joined(
        self, left_out: AbstractSet[str] = frozenset(), *, most_ohm: float = math.inf
    ) -> list[Joined]:
        """What metal joins, all contacts of relays taken as closed, without some parts.

        Without resistances of `most_ohm` or more, too: a pilot lamp joins no sides.
        """
        pairs = [
            each.nodes
            for each in self.branches
            if each.name not in left_out and not resists(each, most_ohm)
        ]
        for relay in self.relays:
            if relay.name not in left_out:
                pairs += [relay.contact_nodes, *([relay.break_nodes] if relay.break_nodes else [])]
        return [(first, second) for first, second in pairs]

    def sides(
        self, left_out: AbstractSet[str] = frozenset()
    ) -> tuple[frozenset[str], frozenset[str]]:
        """Nodes on the live side and on that of the ground, without some parts.

        What a resistance joins to one side is on it, but for what is on the other without it.
        """
        metal, joined = self.joined(left_out, most_ohm=MOST_OHM), self.joined(left_out)
        return sides_of(self.posts, tuple(metal), tuple(joined))

    def is_turned(self, ends: tuple[str, str], left_out: AbstractSet[str] = frozenset()) -> bool:
        """Whether a source beside the battery is the wrong way round; its live end comes first."""
        joined = self.joined(left_out, most_ohm=MOST_OHM)
        return is_turned(ends, self.posts, self.sides(left_out), joined)

    @property
    def _plus_and_minus(self) -> tuple[str, str]:
        return self.source.plus, self.source.minus or self.ground_node

    @property
    def ground_node(self) -> str:
        """Node at 0 V."""
        return self.ground or GROUND

    def node_names(self) -> set[str]:
        """Collect the nodes."""
        joined = (node for each in self.parts for ends in joints_of(each).values() for node in ends)
        return {self.ground_node, *self.posts, *joined}

    def open_ends(self) -> Iterator[tuple[Path, str, str]]:
        """Ends at which nothing else is: field, part and node.

        An unused 87a is no such end, nor an unused 87 where the other one leads on.
        """
        over_87a = {name for name, _, leads_on in self.idle_contacts() if leads_on}
        for path, name, node in self._ends_alone():
            is_87 = path[-2] == "contact_nodes" and name in over_87a
            if path[-2] != "break_nodes" and not is_87:
                yield path, name, node

    def idle_contacts(self) -> Iterator[tuple[str, str, bool]]:
        """Make contacts with one end at which nothing is: relay, node, whether 87a leads on."""
        alone = {(name, path[-2], node) for path, name, node in self._ends_alone()}
        for each in self.relays:
            idle = [n for n in each.contact_nodes if (each.name, "contact_nodes", n) in alone]
            breaks = each.break_nodes or ()
            leads_on = bool(breaks) and not any(
                (each.name, "break_nodes", n) in alone for n in breaks
            )
            if len(idle) == 1:
                yield each.name, idle[0], leads_on

    def _ends_alone(self) -> Iterator[tuple[Path, str, str]]:
        ends = [
            ((group, index, field, side), each.name, node)
            for group in GROUPS
            for index, each in enumerate(getattr(self, group))
            for field, pair in joints_of(each).items()
            for side, node in enumerate(pair)
        ]
        counted = Counter([self.ground_node, *self.posts, *(node for *_, node in ends)])
        return (each for each in ends if counted[each[-1]] == 1)

    def _misspelt(self) -> Iterator[Broken]:
        names = self.node_names()
        for path, _, node in self._ends_alone():
            mine = _letters(node)
            if len(mine) < FEWEST_LETTERS or path[-2] == "break_nodes":
                continue
            others = [other for other in names - {node} if _letters(other) != mine]
            for meant in get_close_matches(node, others, 1, NEAR):
                yield True, path, f"Nothing else is at this node: did you mean {meant!r}?"

    def _apart(self) -> Iterator[Broken]:
        """Sources that are not beside the battery: in series with it they would feed each other."""
        live, grounded = self.sides()
        for index, each in enumerate(self.further_sources):
            first, second = each.nodes
            beside = (first in live and second in grounded) or (
                first in grounded and second in live
            )
            lost = [repr(node) for node in each.nodes if node not in live | grounded]
            ends = " and ".join(lost) or "its two posts"
            yield (
                not beside,
                ("further_sources", index, "nodes"),
                f"No wire or contact joins {ends} of {each.name} to the two sides of the battery: "
                "give the cable that does. If it is in series with the battery, give both as one "
                "source of the sum of their voltages, and what hangs on a tap between them as a "
                "circuit of its own, with the lower battery alone.",
            )

    def broken_rules(self) -> Iterator[Broken]:
        """Each part has a name of its own and joins two nodes, and the solver takes so many."""
        counted = Counter(each.name for each in self.parts)
        for group in GROUPS:
            for index, each in enumerate(getattr(self, group)):
                twice = counted[each.name] > 1
                yield twice, (group, index, "name"), "Another part has this name."
                for field, (first, second) in joints_of(each).items():
                    same = first == second
                    yield same, (group, index, field), "A part must join two different nodes."
        plus, minus = self._plus_and_minus
        yield plus == minus, ("source", "minus"), "Both posts are at this node: name the other."
        few = len(self.parts) <= MAX_BRANCHES
        yield not few, (), f"A circuit may have {MAX_BRANCHES} parts at most."
        if few:
            yield from self._misspelt()
            yield from self._apart()
        many_nodes = few and len(self.node_names()) > MAX_NODES
        yield many_nodes, (), f"A circuit may have {MAX_NODES} nodes at most."


def resists(branch: Branch, most_ohm: float) -> bool:
    """Whether a part is a resistance of so much or more."""
    return isinstance(branch, CircuitResistance) and low_end(branch.resistance_ohm) >= most_ohm


def _letters(node: str) -> str:
    """A name without its digits: 30 and 31, 87 and 87a mean what they say."""
    return "".join(each for each in node if not each.isdigit())


def joints_of(each: Fields) -> dict[str, Sequence[str]]:
    """The pairs of nodes that a part joins, by field."""
    return {field: ends for field in JOINTS if (ends := getattr(each, field, None))}
