"""What metal joins in a circuit at rest: what is behind a fuse, and what lies in series."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from lastvolt_service.operations.circuits.joints import shortest_way
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Model, Part, Sides
from lastvolt_service.tables.limits import RATED

# Past an open switch, as through the lamp of a lit one: no wire minds so little. [A]. Common
# practice.
HARMLESS_A = 1.0
_CONDUCTORS = ("wires", "resistors", "contacts")


class FedTogether(NamedTuple):
    """What several fuses feed, up to the next fuses.

    What flows through a part to a fault comes from one of its ends: parts are listed by the fuses
    that feed either.
    """

    nodes: set[str]
    fuses: tuple[Part, ...]
    names_by_fuses: dict[tuple[Part, ...], set[str]]

    @property
    def names(self) -> set[str]:
        """Of all parts."""
        return set[str]().union(*self.names_by_fuses.values())


class _Step(NamedTuple):
    """How a node was met: from the place of which other one, and over which part."""

    before: int
    over: Part | None


class _Tree(NamedTuple):
    """A walk over what is joined.

    Attributes
    ----------
    places : dict of str to int
        When each node was met for the first time; 0 for the first.
    steps : list of _Step
        How, in that order.
    back : list of int
        The first place that anything leads back to from each and those met after it, but for the
        part over which it was met.
    """

    places: dict[str, int]
    steps: list[_Step]
    back: list[int]


class Metal:
    """The conductors of a circuit, by the nodes that they join; loads and sources join nothing.

    Parameters
    ----------
    model : Model
        A circuit in a case. Contacts of relays count as closed, whatever they are.
    """

    def __init__(self, model: Model) -> None:
        self.parts = model.parts
        self.posts, self.fed_from, self.cranked = model.posts, model.fed_from, model.cranked
        self._grounded_from = {part.nodes[1] for part in model.fed_by}
        self.drive_v = model.drive_v
        self.ground = model.network.node_names[model.network.reference]
        # At these no wire ends up behind a fuse.
        self._ends = {*self.fed_from, self.ground}
        self.batteries = {part.nodes[0] for part in model.parts["sources"]}
        self._behind: dict[str, tuple[set[str], set[str]]] = {}
        self._nears: dict[str, set[str]] = {}
        self._joined: dict[str, list[Part]] = {}
        for group in _CONDUCTORS:
            for part in model.parts[group]:
                if not part.is_load:
                    for node in part.nodes:
                        self._joined.setdefault(node, []).append(part)

    @cached_property
    def fuses(self) -> list[Part]:
        """Every fuse."""
        return [part for part in self.parts["resistors"] if is_fuse(part)]

    @cached_property
    def loads(self) -> list[Part]:
        """Every load."""
        return [part for group in LOAD_GROUPS for part in self.parts[group] if part.is_load]

    @cached_property
    def loads_at(self) -> dict[str, list[Part]]:
        """Loads by their nodes."""
        found: dict[str, list[Part]] = {}
        for load in self.loads:
            for node in load.nodes:
                found.setdefault(node, []).append(load)
        return found

    @cached_property
    def _at(self) -> dict[str, list[Part]]:
        """Parts of every kind by their nodes."""
        found: dict[str, list[Part]] = {}
        for group in self.parts.values():
            for part in group:
                for node in part.nodes:
                    found.setdefault(node, []).append(part)
        return found

    def reached(
        self,
        starts: Iterable[str],
        without: Collection[Part] = (),
        *,
        through_fuses: bool = True,
        ends: Collection[str] | None = None,
    ) -> tuple[set[str], set[str]]:
        """Nodes and names of what is joined to some nodes, past no source and no ground."""
        nodes, names = set(starts), set[str]()
        ends = self._ends if ends is None else ends
        todo = list(nodes)
        while todo:
            for part in self._joined.get(todo.pop(), ()):
                if part in without or (is_fuse(part) and not through_fuses):
                    continue
                names.add(part.name)
                for node in part.nodes:
                    if node not in nodes and node not in ends:
                        nodes.add(node)
                        todo.append(node)
        return nodes, names

    @cached_property
    def always_live(self) -> set[str]:
        """Names of parts that no switch, relay or leak of next to nothing is before."""
        made = [part for part in self.parts["resistors"] if not part.is_load]
        open_ones = [
            part
            for part in made
            if (part.kind == "contact" and part.asked.part == RATED)
            or part.asked.resistance_ohm * HARMLESS_A >= self.drive_v
        ]
        _, names = self.reached(self.fed_from, [*open_ones, *self.parts["contacts"]])
        return names

    def near_sources(self, load: Part) -> list[Part]:
        """Sources that metal joins to a load past no other source."""
        near = self._near(load.nodes[0]) | self._near(load.nodes[1])
        return [
            part
            for group in ("sources", "chargers")
            for part in self.parts[group]
            if part.nodes[0] in near
        ]

    def _near(self, start: str) -> set[str]:
        """Nodes that metal joins to one, with the ends that it leads to."""
        if start not in self._nears:
            nodes, _ = self.reached([start])
            near = {n for at in nodes for part in self._joined.get(at, ()) for n in part.nodes}
            self._nears |= dict.fromkeys({start, *nodes} - self._ends, near | nodes)
            self._nears[start] = near | nodes
        return self._nears[start]

    def behind(self, fuse: Part) -> tuple[set[str], set[str]]:
        """Nodes and names of parts that nothing but a fuse feeds, up to other fuses."""
        found = self._behind.get(fuse.name)
        if found is None:
            far = self._far_ends.get(fuse.name)  # none in the return, or with a way past it
            reached = self.reached([far], [fuse], through_fuses=False) if far else (set(), set())
            found = self._behind[fuse.name] = reached
        return found

    @cached_property
    def fed_together(self) -> list[FedTogether]:
        """All that more than one fuse feeds."""
        found, met = [], set[str]()
        # A fuse that nothing has a way past feeds alone.
        others = [fuse for fuse in self.fuses if fuse.name not in self._far_ends]
        for start in (node for fuse in others for node in fuse.nodes):
            if start in met or start in self._ends:
                continue
            tree = self._tree([start], through_fuses=False)
            nodes = {*tree.places}
            met |= nodes
            fuses = self._feeding(nodes)
            if len(fuses) > 1:
                found.append(FedTogether(nodes, fuses, self._by_fuses(tree, fuses)))
        return found

    def _by_fuses(self, tree: _Tree, fuses: tuple[Part, ...]) -> dict[tuple[Part, ...], set[str]]:
        """Names of parts by the fuses on one of their sides: all, where there is a way past."""
        beyond: list[set[Part]] = [set() for _ in tree.steps]
        for fuse in fuses:
            for node in fuse.nodes:
                if node in tree.places:
                    beyond[tree.places[node]].add(fuse)
        sides: dict[str, list[set[Part]]] = {}
        for place, (before, came_by) in reversed([*enumerate(tree.steps)]):
            if came_by is not None:
                if tree.back[place] == place:
                    sides[came_by.name] = [beyond[place], {*fuses} - beyond[place]]
                beyond[before] = beyond[before] | beyond[place]
        found: dict[tuple[Part, ...], set[str]] = {}
        for part in {each.name: each for at in tree.places for each in self._joined[at]}.values():
            for side in [] if is_fuse(part) else sides.get(part.name, [{*fuses}]):
                if side:
                    some = tuple(fuse for fuse in fuses if fuse in side)
                    found.setdefault(some, set()).add(part.name)
        return found

    def _feeding(self, nodes: set[str]) -> tuple[Part, ...]:
        """Fuses over which some nodes are fed, past none of them."""
        return tuple(
            fuse
            for fuse in self.fuses
            for node, other in (fuse.nodes, fuse.nodes[::-1])
            if node in nodes and other not in nodes and self._leads_to_a_source(other, nodes)
        )

    def _leads_to_a_source(self, start: str, past: set[str]) -> bool:
        met, todo = {start, *past}, [start]
        while todo:
            node = todo.pop()
            if node in self.fed_from:
                return True
            if node not in self._ends:
                others = {n for part in self._joined.get(node, ()) for n in part.nodes} - met
                met |= others
                todo += others
        return False

    @cached_property
    def _far_ends(self) -> dict[str, str]:
        """The end away from the sources of every part that nothing has a way past: its bridges.

        All sources count as one node.
        """
        tree = self._tree(self.fed_from)
        nodes = {place: node for node, place in tree.places.items()}
        return {
            came_by.name: nodes[place]
            for place, (_, came_by) in enumerate(tree.steps)
            if came_by is not None and tree.back[place] == place
        }

    def _tree(self, roots: Sequence[str], *, through_fuses: bool = True) -> _Tree:
        """Walk from some nodes, which count as one, over all that is joined to them.

        Tarjan, A note on finding the bridges of a graph (1974): met for the first time over a part,
        a node from which nothing leads back to those met before has no other way to the first.
        """
        met, steps, back = dict.fromkeys(roots, 0), [_Step(0, None)], [0]
        todo: list[tuple[str, int, Part | None, Iterator[Part]]] = [
            (node, 0, None, iter(self._joined.get(node, ()))) for node in roots
        ]
        while todo:
            node, place, came_by, parts = todo[-1]
            part = next(parts, None)
            if part is None:
                todo.pop()
                if place:
                    before = steps[place].before
                    back[before] = min(back[before], back[place])
                continue
            first, second = part.nodes
            other = second if first == node else first
            barred = part is came_by or (is_fuse(part) and not through_fuses)
            if barred or (other in self._ends and other not in met):
                continue
            if other in met:
                back[place] = min(back[place], met[other])
            else:
                met[other] = len(steps)
                todo.append((other, len(steps), part, iter(self._joined.get(other, ()))))
                back.append(len(steps))
                steps.append(_Step(place, part))
        return _Tree(met, steps, back)

    def answers_for(self, fuse: Part) -> set[str]:
        """Names of what a fuse protects: in series with it and behind it, up to other fuses.

        Beyond a load a chafe gets no more than this lets through. What lies before it, behind
        another fuse, is that one's.
        """
        chain = {part.name for part in self.in_series(fuse, of_fuse=True)}
        for other in self.fuses:
            if other is not fuse:
                chain -= self.behind(other)[1]
        return chain | self.behind(fuse)[1]

    def in_series(self, start: Part, *, of_fuse: bool = False) -> list[Part]:
        """Parts that must carry the same current as one: joined at nodes of two parts.

        Of a fuse, what it answers for: up to the next, and to what is fed.
        """
        chain, todo = [start], [start]
        while todo:
            part = todo.pop()
            for node in part.nodes:
                neighbours = [other for other in self._at[node] if other is not part]
                alone = len(neighbours) == 1 and node not in self._ends
                if alone and of_fuse and (_is_fed(neighbours[0]) or is_fuse(neighbours[0])):
                    continue
                if alone and neighbours[0] not in chain:
                    chain.append(neighbours[0])
                    todo.append(neighbours[0])
        return chain

    def way_past(self, fuse: Part, left_out: Collection[Part] = ()) -> list[Part]:
        """The shortest way from a fuse's one end to its other without a fuse; empty for none."""
        return self._way(*fuse.nodes, barred=[*self.fuses, *left_out], ends=[self.ground])

    def way_between(self, first: str, second: str, without: str) -> list[Part]:
        """The shortest way between two nodes, past a part of some name; empty for none."""
        barred = [part for part in self._joined.get(first, ()) if part.name == without]
        return self._way(first, second, barred, ends=self._ends - {second})

    def _way(
        self, first: str, second: str, barred: Collection[Part], ends: Collection[str]
    ) -> list[Part]:
        def beside(node: str) -> Iterator[tuple[Part, str]]:
            for part in self._joined.get(node, ()):
                other = part.nodes[1] if part.nodes[0] == node else part.nodes[0]
                if part not in barred and other not in ends:
                    yield part, other

        return shortest_way(first, {second}, beside) or []

    def lead_of(self, charger: Part) -> list[Part]:
        """Parts over which alone a charger reaches the batteries, whatever else hangs there."""
        live, _ = charger.nodes
        ways = (self._way(live, battery, (), [self.ground]) for battery in self.batteries)
        return [
            part
            for part in next(filter(None, ways), ())
            if self.batteries.isdisjoint(self.reached([live], [part], ends=[self.ground])[0])
        ]

    def loads_behind(self, part: Part) -> list[Part]:
        """Loads that are fed over a part and no other way; none where it has a way past it."""
        if part.nodes[0] in self._from_ends.places:
            return self._loads_beyond.get(part, [])
        nodes, _ = self.reached(part.nodes[:1], [part])  # between loads: nothing else feeds them
        return [load for at in nodes for load in self.loads_at.get(at, ())]

    @cached_property
    def _from_ends(self) -> _Tree:
        return self._tree([*self._ends])

    @cached_property
    def _loads_beyond(self) -> dict[Part, list[Part]]:
        """Loads by the part over which alone metal joins them to an end."""
        tree, found = self._from_ends, dict[Part, list[Part]]()
        loads: list[list[Part]] = [[] for _ in tree.steps]
        for node, place in tree.places.items():
            loads[place] += self.loads_at.get(node, ())
        for place, (before, came_by) in reversed([*enumerate(tree.steps)]):
            if came_by is not None:
                if tree.back[place] == place:
                    found[came_by] = loads[place]
                loads[before] += loads[place]
        return found

    def sides(self, left_out: Collection[Part] = ()) -> Sides:
        """Nodes that metal joins to the live side and to that of the ground, without some parts."""
        live, _ = self.reached(self.fed_from, left_out)
        grounded, _ = self.reached(self._grounded_from, left_out, ends=self.fed_from)
        return Sides(live, grounded)

    @cached_property
    def all_sides(self) -> Sides:
        """The two sides with all parts."""
        return self.sides()


def _is_fed(part: Part) -> bool:
    """Whether a part is a load or a coil."""
    return part.is_load or part.group not in {*_CONDUCTORS, "sources", "chargers"}


def is_fuse(part: Part) -> bool:
    """Whether a part is a fuse."""
    return part.kind == "contact" and part.asked.part == "fuse"
