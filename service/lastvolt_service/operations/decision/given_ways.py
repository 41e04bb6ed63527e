"""Ways that a caller gives: what each does to the circuit and costs, and whether it can be had."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from lastvolt_service.errors import Path
from lastvolt_service.fields import (
    ABSENT,
    Broken,
    changed,
    flag,
    known,
    many,
    part,
    quantity,
)
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.bridging import Mend
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.load_checks import JOINTS
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.mended import contact_kinds
from lastvolt_service.operations.circuits.parts import (
    CHAIN,
    Branch,
    ChainPart,
    ChainWire,
    CircuitContact,
    CircuitWire,
    Toleranced,
)
from lastvolt_service.operations.decision import blades
from lastvolt_service.operations.decision.proposal import (
    MAX_CHAIN,
    DecisionRequest,
    Proposal,
    chain,
    drawn_anew,
    is_fed,
    proposal_fits,
    replaces,
)
from lastvolt_service.operations.decision.screen import SAID
from lastvolt_service.operations.decision.ways import MOST_TOGETHER, Treatment, WayCode
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.remedies.options import larger_sizes, sound_ohm
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.rows import number

# A wire that costs less is not replaced for its drop; one that is, is by one of some sizes more, of
# twice the metal and more. Common practice.
WORTH_REWIRING_V, SIZES_UP = 0.1, 4
ChangeCode = Literal["own_ground", "new_wire", "new_switch"]


class NewSwitch(Toleranced):
    """A new switch in the place of the old one."""

    resistance_ohm: float = quantity("of its contact", maximum=1e3)
    rating_a: float = quantity("that it is rated for", minimum=1e-3, default=ABSENT)


class GivenWay(Toleranced):
    """Something that may be done for the load; several things together, where several are given."""

    name: str = label("what the answer calls this way")
    relay: Proposal | None = part(Proposal, "a relay and its wires", default=ABSENT)
    sound: Sequence[str] = many(
        label("a contact"),
        "contacts that are cleaned, tightened or replaced; of a relay, that it is replaced",
        minimum=0,
    )
    wires: Sequence[ChainWire] = many(
        ChainWire,
        "wires that are replaced, each with the name of the one whose place it takes",
        minimum=0,
        maximum=MAX_CHAIN,
    )
    switch: NewSwitch | None = part(
        NewSwitch, "a new switch in the place of `switch`", default=ABSENT
    )
    own_ground: Sequence[ChainPart] = many(
        CHAIN,
        "parts of a ground of its own, from the load's ground end to the ground, in order",
        minimum=0,
        maximum=MAX_CHAIN,
    )
    battery: bool = flag(
        "whether the battery is charged, or replaced, until it is sound", default=False
    )
    cost: float = quantity("what it costs, in the same money as the others", default=ABSENT)
    work_h: float = quantity("time that it takes", minimum=0.0, maximum=1000.0, default=ABSENT)
    available: bool = flag("whether it can be had", default=True)

    def fits(self, asked: DecisionRequest, taken: set[str], path: Path) -> Iterator[Broken]:
        """Hold it against the circuit: what it mends and replaces is there, what is new is not."""
        nothing = self.relay is None and not self.has_more
        yield nothing, path, "Say what is done: a relay, sound contacts, wires, a switch, or more."
        contacts = contact_kinds(asked.circuit)
        for place, name in enumerate(self.sound):
            wrong = name not in contacts
            yield (
                wrong,
                (*path, "sound", place),
                "No contact or relay of the circuit has this name.",
            )
        yield from replaces(asked.circuit, self.wires, (*path, "wires"))
        met = set(taken)
        for place, new in enumerate(self.own_ground):
            used = new.name in met
            yield used, (*path, "own_ground", place), f"Another part is called {new.name!r}."
            met.add(new.name)
        if self.relay is not None:
            yield from proposal_fits(asked.circuit, self.relay, met, (*path, "relay"))
            yield from is_fed(asked, self.relay.feed_node, (*path, "relay", "feed_node"))

    @property
    def asks_for(self) -> tuple[int, float, float]:
        """New parts beside a relay, cost and hours: of two that bring as much the plainer is first.

        What costs nothing that is told comes before what does.
        """
        new = len(self.wires) + len(self.own_ground) + (self.switch is not None)
        return new, number(self.cost) or 0.0, number(self.work_h) or 0.0

    @property
    def has_more(self) -> bool:
        """Whether it is more than its relay."""
        return bool(self.sound or self.wires or self.switch or self.own_ground or self.battery)

    def treatment(self, asked: DecisionRequest, currents_a: Mapping[str, float]) -> Treatment:
        """What it does to the circuit, as a way that is weighed; given what contacts carry."""
        kinds = contact_kinds(asked.circuit)
        sound = {  # what no case has in it carries nothing
            name: sound_ohm(kinds[name], currents_a.get(name, 0.0)) for name in self.sound
        }
        switch = asked.switch if self.switch else None
        changes = Replaced(self.wires, self.switch, switch, self.own_ground)
        others = bool(sound or self.wires or self.switch or self.own_ground)
        code: WayCode
        if self.relay is not None:
            code = "mend_then_relay" if others else "relay"
        elif self.battery:
            code = "battery_and_mend" if others else "battery"
        else:
            code = "mend"
        return Treatment(
            code,
            sound,
            battery=self.battery,
            relay=self.relay is not None,
            changes=changes if changes.names else None,
            name=self.name,
            available=self.available,
        )


def size_of(part: ChainPart) -> str | None:
    """The size of a wire; of a contact there is none."""
    return str(part.size) if isinstance(part, ChainWire) else None


@dataclass(frozen=True, slots=True, eq=False)
class Replaced:
    """New wires, a new switch, and a ground of its own."""

    wires: Sequence[ChainWire]
    switch: NewSwitch | None
    switch_name: str | None
    own_ground: Sequence[ChainPart]

    @property
    def replaced(self) -> frozenset[str]:
        """Names of what is replaced."""
        names = {each.name for each in self.wires}
        return frozenset(names | ({self.switch_name} if self.switch_name else set()))

    @property
    def names(self) -> tuple[str, ...]:
        """What is new, in the order of work."""
        switch = (self.switch_name,) if self.switch_name else ()
        return (*(e.name for e in self.own_ground), *(e.name for e in self.wires), *switch)

    @property
    def described(self) -> tuple[str, ...]:
        """The same, a wire with its size."""
        sizes = {each.name: size_of(each) for each in (*self.own_ground, *self.wires)}
        return tuple(f"{name} ({sizes[name]})" if sizes.get(name) else name for name in self.names)

    @property
    def unjudged(self) -> Iterator[Checked]:
        """What is not said of it, and decides whether it bears its current."""
        for each in (*self.own_ground, *self.wires):
            if isinstance(each, ChainWire) and not known(each.insulation):
                yield Checked(
                    "wire_judged", SAID, "degC", COMMON_PRACTICE, part=each.name,
                    detail="insulation",
                )  # fmt: skip
        if self.switch is not None and not known(self.switch.rating_a):
            yield Checked("rating_given", SAID, "A", COMMON_PRACTICE, part=self.switch_name)

    def one_by_one(self) -> Iterator[tuple[ChangeCode, str, str | None, "Replaced"]]:
        """What is changed, each with all before it: the ground, the wires, the switch.

        With the name of each, and the size of a wire.
        """
        done = replace(self, wires=(), switch=None, switch_name=None)
        if self.own_ground:
            sizes = ", ".join(filter(None, map(size_of, self.own_ground)))
            yield "own_ground", ", ".join(e.name for e in self.own_ground), sizes or None, done
        for place, each in enumerate(self.wires, 1):
            done = replace(done, wires=self.wires[:place])
            yield "new_wire", each.name, size_of(each), done
        if self.switch_name:
            yield "new_switch", self.switch_name, None, self

    def made(self, circuit: Circuit, asked: DecisionRequest) -> Circuit:
        """Make the circuit so."""
        branches = [self._put(each) for each in circuit.branches]
        if self.own_ground:
            load = next(each for each in circuit.loads if each.name == asked.load)
            _, ground = Sides(circuit).live_first(load.nodes)
            branches += chain(self.own_ground, ground, circuit.ground_node)
        return changed(circuit, branches=branches)

    def _put(self, branch: Branch) -> Branch:
        if branch.name == self.switch_name and self.switch is not None:
            return changed(branch, **vars(self.switch))
        return drawn_anew(branch, self.wires)


def thicker(
    asked: DecisionRequest, costs: Sequence[Mend], mends: Sequence[Mend]
) -> Iterator[Treatment]:
    """The wire that costs the load most replaced by a thicker one, with all that is poor mended.

    Then all that cost it much: one is little where the way out and the way back are thin.
    """
    new = _thicker(asked, costs)
    sound = {each.name: each.sound_ohm or 0.0 for each in mends[:MOST_TOGETHER]}
    for wires in (new[:1], new)[: len(new)]:
        yield Treatment("mend", sound, changes=Replaced(wires, None, None, ()))


def thicker_beside_relay(
    asked: DecisionRequest, costs: Sequence[Mend], mends: Sequence[Mend]
) -> Iterator[Treatment]:
    """What costs the load much with the relay, too, replaced beside it: a thin way back."""
    if wires := _thicker(asked, costs):
        sound = {each.name: each.sound_ohm or 0.0 for each in mends[:MOST_TOGETHER]}
        changes = Replaced(wires, None, None, ())
        yield Treatment("mend_then_relay", sound, relay=True, changes=changes)


def _thicker(asked: DecisionRequest, costs: Sequence[Mend]) -> list[ChainWire]:
    """Thicker ones for the wires of the circuit that cost much, the dearest first."""
    wires = {each.name: each for each in asked.circuit.branches if isinstance(each, CircuitWire)}
    onto_blades, found = _with_blades(asked.circuit), []
    for name in (e.name for e in costs if e.name in wires and e.costs_v >= WORTH_REWIRING_V):
        old: Any = wires[name]
        on_one = not onto_blades.isdisjoint(old.nodes)
        most_mm2 = blades.most_mm2_for(old.size, old.standard) if on_one else math.inf
        sizes = [
            each
            for each in larger_sizes(old.size, old.standard)[:SIZES_UP]
            if conductor(each, old.standard).area_mm2 <= most_mm2
        ]
        if sizes:
            values = {key: each for key, each in vars(old).items() if key != "nodes"}
            found.append(ChainWire(**{**values, "size": sizes[-1]}))
    return found


def _with_blades(circuit: Circuit) -> set[str]:
    """Nodes where a fuse, a switch, a connector or a relay is: a wire must go onto what it has."""
    parts = [
        each.nodes
        for each in circuit.branches
        if isinstance(each, CircuitContact) and each.part not in JOINTS
    ]
    nodes = [*parts, *(each.contact_nodes for each in circuit.relays)]
    return {node for each in nodes for node in each}
