"""What metal joins in a circuit at rest: what is behind a fuse, and what lies in series."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import Any, TypeVar

from lastvolt_service.operations.circuits.joints import shortest_way
from lastvolt_service.operations.circuits.metal_tree import (
    HARMLESS_A,
    FedTogether,
    Tree,
    is_fuse,
    is_trickle,
    tree_of,
)
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Model, Part, Sides
from lastvolt_service.tables.limits import RATED

_CONDUCTORS = ("wires", "resistors", "contacts")
Found = TypeVar("Found")


class _OfNames(cached_property[Found]):
    """What names and nodes alone decide: of circuits that have these alike, found once."""

    def __get__(self, metal: Any, owner: type[Any] | None = None) -> Any:
        return super().__get__(metal if metal is None else metal.first, owner)


class Metal:
    """The conductors of a circuit, by the nodes that they join; loads and sources join nothing.

    Parameters
    ----------
    model : Model
        A circuit in a case. Contacts of relays count as closed, whatever they are.
    first : Metal, optional
        Of one whose parts have the same names, kinds and nodes, in the same order.
    """

    def __init__(self, model: Model, first: "Metal | None" = None) -> None:
        self.first = self if first is None else first
        self.parts = model.parts
        self.posts, self.fed_from, self.cranked = model.posts, model.fed_from, model.cranked
        self._grounded_from = {grounded for _, grounded in model.fed_between}
        self.drive_v = model.drive_v
        self.ground = model.network.node_names[model.network.reference]
        # At these no wire ends up behind a fuse.
        self._ends = {*self.fed_from, self.ground}
        self.batteries = {part.nodes[0] for part in model.parts["sources"]}
        if first is None:
            self._behind: dict[str, tuple[set[str], set[str]]] = {}
            self._answers: dict[str, set[str]] = {}
            self._nears: dict[str, set[str]] = {}
            self._sides: dict[frozenset[Part], Sides] = {}
        else:
            self._behind, self._answers = first._behind, first._answers
            self._nears, self._sides = first._nears, first._sides
        self._own = {} if first is None else _other_parts(first.parts, self.parts)
        self._firsts = {own: part for part, own in self._own.items()}
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
            past = [fuse, *self._all_own(self._links)]
            reached = self.reached([far], past, through_fuses=False) if far else (set(), set())
            found = self._behind[fuse.name] = reached
        return found

    @cached_property
    def fed_together(self) -> list[FedTogether]:
        """All that more than one fuse feeds."""
        if self.first is not self:
            return [
                FedTogether(
                    each.nodes,
                    self._all_own(each.fuses),
                    {self._all_own(some): names for some, names in each.names_by_fuses.items()},
                )
                for each in self.first.fed_together
            ]
        found, met = [], set[str]()
        # A fuse that nothing has a way past feeds alone.
        others = [fuse for fuse in self.fuses if fuse.name not in self._far_ends]
        for start in (node for fuse in others for node in fuse.nodes):
            if start in met or start in self._ends:
                continue
            tree = self._tree([start], self._links, through_fuses=False)
            nodes = {*tree.places}
            met |= nodes
            fuses = self._feeding(nodes)
            if len(fuses) > 1:
                found.append(FedTogether(nodes, fuses, self._by_fuses(tree, fuses)))
        return found

    def _by_fuses(self, tree: Tree, fuses: tuple[Part, ...]) -> dict[tuple[Part, ...], set[str]]:
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

    def _all_own(self, parts: Iterable[Part]) -> tuple[Part, ...]:
        """The parts of this circuit in the place of those of the first."""
        return tuple(self._own.get(part, part) for part in parts)

    @_OfNames
    def _links(self) -> list[Part]:
        """What lets a trickle through between nodes that are fed without it: it joins no fuses."""
        trickles = [each for each in self.parts["resistors"] if is_trickle(each, self.drive_v)]
        fed, _ = self.reached(self.fed_from, trickles) if trickles else (set[str](), None)
        return [each for each in trickles if fed.issuperset(each.nodes)]

    @_OfNames
    def _far_ends(self) -> dict[str, str]:
        """The end away from the sources of every part that nothing has a way past: its bridges.

        All sources count as one node.
        """
        tree = self._tree(self.fed_from, self._links)
        nodes = {place: node for node, place in tree.places.items()}
        return {
            came_by.name: nodes[place]
            for place, (_, came_by) in enumerate(tree.steps)
            if came_by is not None and tree.back[place] == place
        }

    def _tree(
        self, roots: Sequence[str], without: Sequence[Part] = (), *, through_fuses: bool = True
    ) -> Tree:
        joined = dict(self._joined)
        for node in {node for part in without for node in part.nodes}:
            joined[node] = [part for part in joined[node] if part not in without]
        return tree_of(joined, self._ends, roots, through_fuses=through_fuses)

    def answers_for(self, fuse: Part) -> set[str]:
        """Names of what a fuse protects: in series with it and behind it, up to other fuses.

        Beyond a load a chafe gets no more than this lets through. What lies before it, behind
        another fuse, is that one's.
        """
        found = self._answers.get(fuse.name)
        if found is None:
            chain = {part.name for part in self.in_series(fuse, of_fuse=True)}
            for other in self.fuses:
                if other is not fuse:
                    chain -= self.behind(other)[1]
            found = self._answers[fuse.name] = chain | self.behind(fuse)[1]
        return found

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
            there = self._firsts.get(part, part)
            return [*self._all_own(self._loads_beyond.get(there, []))]
        nodes, _ = self.reached(part.nodes[:1], [part])  # between loads: nothing else feeds them
        return [load for at in nodes for load in self.loads_at.get(at, ())]

    @_OfNames
    def _from_ends(self) -> Tree:
        return self._tree([*self._ends])

    @_OfNames
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
        there = frozenset(self._firsts.get(part, part) for part in left_out)
        if there not in self._sides:
            live, _ = self.reached(self.fed_from, left_out)
            grounded, _ = self.reached(self._grounded_from, left_out, ends=self.fed_from)
            self._sides[there] = Sides(live, grounded)
        return self._sides[there]

    @property
    def all_sides(self) -> Sides:
        """The two sides with all parts."""
        return self.sides()


def metals_of(models: Iterable[Model]) -> list[Metal]:
    """Look at many circuits: what is alike of those that differ in values only is found once."""
    firsts: dict[Any, Metal] = {}
    found = []
    for model in models:
        names = model.network.node_names
        parts = tuple(
            (
                *(group, part.name, part.nodes, part.is_load, is_fuse(part)),
                is_trickle(part, model.drive_v),
            )
            for group, some in model.parts.items()
            for part in some
        )
        alike = parts, model.posts, names[model.network.reference]
        metal = Metal(model, firsts.get(alike))
        firsts.setdefault(alike, metal)
        found.append(metal)
    return found


def _other_parts(
    firsts: Mapping[str, list[Part]], parts: Mapping[str, list[Part]]
) -> dict[Part, Part]:
    """Parts that are not the same object as those in their place in the first circuit."""
    return {
        first: own
        for group, some in firsts.items()
        if some is not parts[group]
        for first, own in zip(some, parts[group], strict=True)
        if first is not own
    }


def _is_fed(part: Part) -> bool:
    """Whether a part is a load or a coil."""
    return part.is_load or part.group not in {*_CONDUCTORS, "sources", "chargers"}
