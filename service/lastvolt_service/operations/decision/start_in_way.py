"""Whether a start goes through in a way: its relays and its plunger stay while the motor cranks."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import takewhile
from typing import Any

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.contact_checks import contact_checks
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.judge import Asked
from lastvolt_service.operations.circuits.loads_in_case import Sides
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.decision.ways import Tried, Ways
from lastvolt_service.operations.fuses.profile import (
    STARTER_CONTROL,
    STARTER_MOTOR,
    STARTER_SOLENOID,
)
from lastvolt_service.operations.judging import FAIL, Judged
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.operations.starting.stages import Stage, as_it_cranks, stages
from lastvolt_service.operations.starting.starter import (
    MAIN,
    MOTOR,
    StartCircuit,
    Starter,
    StarterMotor,
    StartSequenceRequest,
)
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.words import catalogue

CODE = "start"
# Of the motor's current, from which on a contact lies in the motor's own way.
MOST_SHARE = 0.5
# Of the system's voltage: what one contact there takes at most that is not mended first: sound ones
# that have aged take half as much. Common practice.
MUCH_SHARE = 1.0 / 12.0

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
    _costs: dict[int, tuple[Check, ...]] = field(default_factory=dict)

    def broken(self, tried: Tried) -> tuple[Check, ...]:
        """What breaks the start off in a way, in each case; nothing where no motor is given."""
        if self.ways.starter is None:
            return ()
        known = self._found.get(id(tried))
        if known is None:
            known = self._found[id(tried)] = tuple(self._broken(tried, self.ways.starter))
        return known

    def lost_as_it_cranks(self, tried: Tried) -> tuple[Check, ...]:
        """Contacts in the motor's own way that take what a sound one does not, the worst first.

        The motor lacks that, and so does all that hangs on the same ground or clamp.
        """
        if self.ways.starter is None:
            return ()
        if id(tried) not in self._costs:
            worst: dict[str, Check] = {}
            for check in self._lost(tried, self.ways.starter):
                known = worst.setdefault(str(check.part), check)
                worst[str(check.part)] = max(known, check, key=_value)
            self._costs[id(tried)] = tuple(sorted(worst.values(), key=_value, reverse=True))
        return self._costs[id(tried)]

    def _lost(self, tried: Tried, motor: StarterMotor) -> Iterator[Check]:
        words = catalogue()["relay-retrofit"]
        for case in self.ways.asked.cases:
            if case.held:
                continue
            asked = _start(self.ways, self.ways.question(tried.treatment, case), motor)
            try:
                state = as_it_cranks(asked, case, [*stages(asked, case)])
            except CalculationError:
                continue  # as above
            if state is None:
                continue
            motor_a = abs(state.current_a(asked.starter.called(MOTOR)))
            for check in contact_checks(state, Metal(state.model), case.usual_duration_s):
                name = str(check.part)
                is_poor = check.code == "contact_drop" and check.verdict == "fail"
                if (
                    is_poor
                    and check.judged.value >= MUCH_SHARE * self.ways.asked.system_v
                    and abs(state.current_a(name)) >= MOST_SHARE * motor_a
                    and name != asked.starter.called(MAIN)
                ):
                    yield replace(check, case=case.name, way=tried.treatment.code).told(words)

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


def _value(check: Check) -> float:
    return check.value or 0.0


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
