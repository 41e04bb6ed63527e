"""Whether a start goes through in a way: its relays and its plunger stay while the motor cranks."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import takewhile
from typing import Any

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.judge import Asked
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.decision.ways import Tried, Ways
from lastvolt_service.operations.fuses.profile import (
    STARTER_CONTROL,
    STARTER_MOTOR,
    STARTER_SOLENOID,
)
from lastvolt_service.operations.judging import FAIL, Judged
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.operations.starting.stages import Stage, stages
from lastvolt_service.operations.starting.starter import (
    StartCircuit,
    Starter,
    StarterMotor,
    StartSequenceRequest,
)
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.words import catalogue

CODE = "start"

LEAVES_START_OPEN = (
    "true of a starter's solenoid: whether it and a relay stay while the motor draws is not "
    "judged here, but by remedy-choice with its starter; false of any other load"
)


def leaves_start_open(circuit: Circuit, load: str, kind: str | None = None) -> bool:
    """Whether it is a solenoid of a starter whose motor is not there, so that no start is judged.

    What it is its circuit says, or the kind of load that a relay's contact is told.
    """
    circuits = {each.name: each.circuit for each in circuit.loads}
    of_a_start = circuits[load] == STARTER_CONTROL or kind == STARTER_SOLENOID
    return of_a_start and STARTER_MOTOR not in circuits.values()


@dataclass(frozen=True, slots=True)
class Starts:
    """The starts of one decision, each gone through once.

    Attributes
    ----------
    ways : Ways
        With the starter's motor, or none.
    """

    ways: Ways
    _found: dict[int, tuple[Check, ...]] = field(default_factory=dict)

    def broken(self, tried: Tried) -> tuple[Check, ...]:
        """What breaks the start off in a way, in each case; nothing where no motor is given."""
        if self.ways.starter is None:
            return ()
        known = self._found.get(id(tried))
        if known is None:
            known = self._found[id(tried)] = tuple(self._broken(tried, self.ways.starter))
        return known

    def _broken(self, tried: Tried, motor: StarterMotor) -> Iterator[Check]:
        words = catalogue()["relay-retrofit"]
        for case in self.ways.asked.cases:
            if case.held:
                continue  # the start is over, or half done
            asked = _start(self.ways, self.ways.question(tried.treatment, case), motor)
            try:
                last = [*takewhile(lambda each: each.name != "key_off", stages(asked, case))][-1]
            except CalculationError:
                continue  # as for any way: where there is no rest, nothing is said
            if last.breaks_off:
                told = _told(last, self.ways.asked.load)
                yield replace(told, case=case.name, way=tried.treatment.code).told(words)


def _start(ways: Ways, asked: Asked, motor: StarterMotor) -> StartSequenceRequest:
    """Ask for the start of the circuit so; a motor that the circuit has gives way to this one."""
    circuit, case = asked.circuit, asked.case
    load: Any = next(each for each in circuit.loads if each.name == ways.asked.load)
    control, ground = Sides(circuit).live_first(load.nodes)
    others = [each for each in circuit.loads if each is not load and each.circuit != STARTER_MOTOR]
    gone = {each.name for each in circuit.loads} - {each.name for each in others}
    given = {**vars(load.windings), **vars(motor)}  # the motor by what is said of it itself
    starter = Starter(
        **{key: each for key, each in given.items() if key in Starter.described},
        name=load.name,
        zone=load.zone,
        control_node=control,
        ground_node=ground,
    )
    return StartSequenceRequest(
        circuit=StartCircuit(**{**vars(circuit), "loads": others}),
        cases=[changed(case, without=[each for each in case.without if each not in gone])],
        nominal_v=ways.asked.system_v,
        starter=starter,
        key=ways.asked.switch,
    )


def _told(last: Stage, load: str) -> Checked:
    """Say what lets go, or does not go home, and what the posts have left."""
    model, chatter = last.state.model, last.state.solution.chatter
    relays = [*last.dropped, *(model.relays[place].name for place in chatter)]
    detail = "relay" if relays else "pulls_in" if last.name == "key_on" else "plunger"
    judged = Judged(float(last.state.flow("sources").drop_v[0]), NOT_GIVEN, NOT_GIVEN, FAIL)
    part = relays[0] if relays else load
    return Checked(CODE, judged, "V", COMMON_PRACTICE, part=part, detail=detail)
