"""The circuit with a way in it: as it was promised, as it may have been built, and built wrong."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from lastvolt_service.errors import Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.intervals import Pins, middle
from lastvolt_service.operations.circuits.mended import contact_kinds, with_ohms
from lastvolt_service.operations.circuits.parts import (
    Branch,
    CircuitContact,
    CircuitResistance,
    CircuitWire,
)
from lastvolt_service.operations.decision.given_ways import GivenWay, Replaced
from lastvolt_service.operations.decision.proposal import DecisionRequest, with_relay
from lastvolt_service.operations.meter.fit_beyond import OPEN_OHM
from lastvolt_service.operations.meter.fit_ends import end_of
from lastvolt_service.operations.meter.miswired import miswired
from lastvolt_service.operations.meter.proof_answer import Wired
from lastvolt_service.operations.remedies.options import sound_ohm
from lastvolt_service.units import Interval, high_end

# What a new contact, or the ends of a new wire, may have when they are built badly. [ohm]
# Common practice: what lies beyond it is an open circuit.
MOST_NEW_OHM = 0.5


@dataclass(frozen=True, slots=True)
class Built:
    """A circuit with the way in it.

    Attributes
    ----------
    circuit, described : Circuit, mapping of Path to float
        What is new is open in it; and what that is thought to be beforehand, by its path. [ohm]
    wired : str
        As it is described, or what was done wrong in it.
    node : str or None
        Where the relay's contact is fed from then.
    """

    circuit: Circuit
    described: Mapping[Path, float]
    wired: Wired = "as_described"
    node: str | None = None


def settled_way(way: GivenWay) -> GivenWay:
    """A way in plain numbers, the middle of each interval."""
    pins = Pins(way)
    found: GivenWay = pins.put(iter(middle([each for _, each in pins.given])))
    return found


def sound(
    asked: DecisionRequest, way: GivenWay, currents_a: Mapping[str, float]
) -> dict[str, float]:
    """What contacts have that are made sound, and the ends of new wires. [ohm]."""
    kinds = contact_kinds(asked.circuit)
    ends = {end_of(each.name): 0.0 for each in way.wires}
    made = {name: sound_ohm(kinds[name], currents_a[name]) for name in way.sound}
    return ends | made


def promised(asked: DecisionRequest, way: GivenWay, ohms: Mapping[str, float]) -> Circuit:
    """The circuit as it is to become."""
    circuit = with_relay(asked)
    circuit = with_ohms(circuit, ohms)
    switch = asked.switch if way.switch else None
    return Replaced(way.wires, way.switch, switch, way.own_ground).made(circuit, asked)


def new_names(asked: DecisionRequest, way: GivenWay) -> frozenset[str]:
    """Names of all that is new, replaced or made sound."""
    own = {*way.sound, *(each.name for each in (*way.wires, *way.own_ground))}
    if way.switch is not None:
        own.add(asked.switch)
    return asked.new_names | own


def ends_of(wire: str) -> str:
    """What the ends of a new wire are called."""
    return f"ends of {wire}"


def built(circuit: Circuit, new: frozenset[str], thought: Mapping[Path, float]) -> Built:
    """The circuit with what is new left open: nobody knows how well it was built.

    Of what was left open before it is `thought` what it was then.
    """
    branches: list[Branch] = list(circuit.branches)
    described = dict(thought)
    for place, each in enumerate(circuit.branches):
        if each.name not in new:
            continue
        if not isinstance(each, CircuitContact):
            first, second = each.nodes
            end = f"{each.name} [end]"
            branches[place] = changed(each, nodes=[first, end])
            described["circuit", "branches", len(branches), "resistance_ohm"] = 0.0
            branches.append(open_ends(each, end, second, MOST_NEW_OHM))
        else:
            described["circuit", "branches", place, "resistance_ohm"] = each.resistance_ohm
            branches[place] = changed(each, resistance_ohm=_open(each.resistance_ohm))
    relays = list(circuit.relays)
    for place, relay in enumerate(circuit.relays):
        if relay.name in new:
            ohm = relay.contact_resistance_ohm
            described["circuit", "relays", place, "contact_resistance_ohm"] = ohm
            relays[place] = changed(relay, contact_resistance_ohm=_open(ohm))
    return Built(changed(circuit, branches=branches, relays=relays), described)


def poorly_built(built: Built, new: frozenset[str]) -> Built | None:
    """The same with several new contacts that may have anything; None where there is no two."""
    branches = list(built.circuit.branches)
    contacts = [
        place
        for place, each in enumerate(branches)
        if isinstance(each, CircuitContact) and each.name in new
    ]
    if len(contacts) < 2:
        return None
    for place in contacts:
        branches[place] = changed(branches[place], resistance_ohm=Interval(0.0, OPEN_OHM))
    return replace(built, circuit=changed(built.circuit, branches=branches))


def built_wrong(
    asked: DecisionRequest,
    circuit: Circuit,
    new: frozenset[str],
    refeed: Callable[[str], Circuit],
    thought: Mapping[Path, float],
) -> Iterator[Built]:
    """The same with what is done wrong to a relay; `refeed` makes it fed from another node."""
    for each in miswired(asked, circuit, refeed):
        found = built(each.circuit, new, thought)
        yield Built(found.circuit, found.described, each.wired, each.node)


def _open(ohm: float | Interval) -> Interval:
    return Interval(0.0, max(MOST_NEW_OHM, 2.0 * high_end(ohm)))


def open_ends(
    wire: CircuitWire | CircuitResistance, first: str, second: str, most_ohm: float
) -> CircuitContact:
    """The ends of a wire, as a contact in its zone."""
    name = ends_of(wire.name)
    found = CircuitContact(
        name=name, kind="contact", part="connector", nodes=[first, second], zone=wire.zone,
        resistance_ohm=0.0, ages=True, isolates=False,
    )  # fmt: skip
    return changed(found, resistance_ohm=Interval(0.0, most_ohm))
