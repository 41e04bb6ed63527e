"""The stages in which the readings of a case are taken, and what a circuit shows in each."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import AnyLoad, SolenoidLoad
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import CircuitWire
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.decision.proposal import Proposal
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL, STARTER_MOTOR
from lastvolt_service.operations.meter.plan_bands import Held, Shown, shown, usual
from lastvolt_service.operations.meter.plan_places import Place
from lastvolt_service.tables.battery import TABLE_NOMINAL_V

Phase = Literal["at_rest", "steady", "pull_in", "held", "cranking", "switched_off"]
# Of a system of 12 V: more than any battery rests at, and less than any regulator holds. Common
# practice. [V]
RESTS_AT_MOST_V = 13.2


@dataclass(frozen=True, slots=True)
class Stages:
    """A circuit in a case with all off, with the load on, and what else is read apart from that.

    Attributes
    ----------
    off, on : Shown
        With all off; with the load on, a starter's motor, where it is there, turning.
    pulls : Shown or None
        While the plunger moves, before that motor draws; None where nothing is read so.
    after : Shown or None
        With the switch open again, and a proposed relay as it was; None where nothing is read so.
    """

    off: Shown
    on: Shown
    pulls: Shown | None = None
    after: Shown | None = None

    @property
    def decides(self) -> Shown:
        """That in which the load gets what it needs, or does not."""
        return self.pulls or self.on

    def of(self, place: Place) -> Shown | None:
        """That in which a place is read."""
        apart = {"at_rest": self.off, "pulling_in": self.pulls, "switched_off": self.after}
        return apart.get(place.code, self.on)


@dataclass(frozen=True, slots=True)
class Staged:
    """A circuit and a load of it in a case, for the stages in which it is read.

    Attributes
    ----------
    circuit, case : Circuit, Case
        With their intervals.
    load : Load
        What is read, as it stands in the circuit.
    switch : str
        What switches it.
    proposal : Proposal or None
        The relay for it, where that is in the circuit.
    goes_off : bool
        Whether it is read once the switch is open again.
    """

    circuit: Circuit
    case: Case
    load: AnyLoad
    switch: str
    proposal: Proposal | None = None
    goes_off: bool = True

    @property
    def relay(self) -> str | None:
        """What the relay is called."""
        return None if self.proposal is None else self.proposal.relay.name

    @property
    def battery_c(self) -> float:
        """Ambient of the battery, in the middle of its bounds. [degC]."""
        circuit, middle = plain(self.circuit, self.case)
        return middle.ambient_of(circuit.source.zone)

    @property
    def bridges(self) -> bool:
        """Whether a main contact closes that leaves the hold-in winding alone."""
        fed = self.load.name not in self.case.held
        return fed and isinstance(self.load, SolenoidLoad) and turns(self.circuit, self.case)

    def cases(self) -> dict[str, Case]:
        """The case of each stage, by its name in `Stages`."""
        case = self.case
        off = _all_off(self.circuit, case, self.switch)
        found = {"off": changed(case, without=off, held=[]), "on": case}
        if self.bridges:
            still = motors(self.circuit, case)
            found["pulls"] = changed(case, without=[*case.without, *still])
            closed = [self.load.name, *([self.relay] if self.relay else [])]
            found["on"] = changed(case, held=[*case.held, *closed])
        if self.goes_off:
            opened = [*case.without, self.switch]
            found["after"] = changed(case, without=opened, held=[self.relay] if self.relay else [])
        return found

    def shown(self, held: Mapping[int, Held]) -> Stages:
        """What is at places, in each stage.

        Raises
        ------
        CalculationError
            If a stage has no state of rest.
        """
        cases, load = self.cases(), self.load.name
        off = shown(self.circuit, cases["off"], held)
        on = shown(self.circuit, cases["on"], held, load)
        pulls = shown(self.circuit, cases["pulls"], held, load) if "pulls" in cases else None
        warm = as_warm(self.circuit, on.state)
        return Stages(off, on, pulls, usual(warm, cases["after"], held) if self.goes_off else None)


def as_warm(circuit: Circuit, *states: State) -> Circuit:
    """The circuit with its wires as warm as they are in states: to solve their heat costs most."""
    hot = {
        part.name: hot_c
        for state in states
        for part, hot_c in zip(state.model.parts["wires"], state.wire_temperatures_c, strict=True)
        if math.isfinite(hot_c)
    }
    branches = [
        changed(each, temperature_c=hot[each.name])
        if isinstance(each, CircuitWire) and each.name in hot
        else each
        for each in circuit.branches
    ]
    return changed(circuit, branches=branches)


def hanging(circuit: Circuit, case: Case) -> list[str]:
    """Parts that nothing joins to a post: no load, no coil and no metal."""
    off = set(case.without)
    there = [each for each in circuit.loads if each.name not in off]
    coils = [each.coil_nodes for each in circuit.relays if each.name not in off]
    joined = [
        *circuit.joined(off),
        *((first, second) for first, second in (*(each.nodes for each in there), *coils)),
    ]
    found = reached(circuit.posts[0], joined) | reached(circuit.posts[1], joined)
    return [e.name for e in circuit.branches if e.name not in off and found.isdisjoint(e.nodes)]


def turns(circuit: Circuit, case: Case) -> bool:
    """Whether a starter's motor is in the circuit."""
    return bool(motors(circuit, case))


def moves_a_plunger(load: AnyLoad) -> bool:
    """Whether it is a solenoid, or a starter's that is given as something else."""
    return isinstance(load, SolenoidLoad) or load.circuit == STARTER_CONTROL


def rests(stages: Stages, system_v: float) -> bool:
    """Whether the battery, as it is given, may be one at rest."""
    return stages.off.state.model.emf_v <= RESTS_AT_MOST_V * system_v / TABLE_NOMINAL_V


def chargers(circuit: Circuit, case: Case) -> tuple[str, ...]:
    """Names of what charges in a case."""
    there = (each for each in circuit.further_sources if isinstance(each, Charger))
    return tuple(each.name for each in there if each.name not in case.without)


def motors(circuit: Circuit, case: Case) -> list[str]:
    """Names of a starter's motors that a case has."""
    names = (each.name for each in circuit.loads if each.circuit == STARTER_MOTOR)
    return [name for name in names if name not in case.without]


def _all_off(circuit: Circuit, case: Case, switch: str) -> list[str]:
    """Parts to leave out so that the batteries stand alone, and what hangs in the air then."""
    off = {*case.without, switch}
    off |= {each.name for each in (*circuit.loads, *circuit.relays)}
    off |= {each.name for each in circuit.further_sources if isinstance(each, Charger)}
    joined = circuit.joined(off)
    there = reached(circuit.posts[0], joined) | reached(circuit.posts[1], joined)
    others = (*circuit.branches, *circuit.further_sources)
    off |= {each.name for each in others if there.isdisjoint(each.nodes)}
    return sorted(off)
