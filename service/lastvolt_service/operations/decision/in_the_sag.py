"""Whether a starter's plunger stays while its motor pulls the battery down."""

from collections.abc import Iterator

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.states import load_states
from lastvolt_service.operations.decision.remarks import Remark, remark
from lastvolt_service.operations.decision.ways import Tried, Ways
from lastvolt_service.operations.fuses.profile import STARTER_CONTROL, STARTER_MOTOR
from lastvolt_service.tables.limits import starting_voltages

# The posts are held at the voltage of the sag. [ohm]
STIFF_OHM = 1e-6


def may_let_go(ways: Ways, plan: Tried) -> Iterator[Remark]:
    """The case in which the plunger may let go in the deepest customary sag, and has least.

    Only where no case has the motor itself: there the sag is solved, and not supposed.
    """
    circuits = {each.name: each.circuit for each in ways.asked.circuit.loads}
    load = ways.asked.load
    if circuits[load] != STARTER_CONTROL or STARTER_MOTOR in circuits.values():
        return
    sag_v = starting_voltages()[int(ways.asked.system_v)].limit_v
    short = []
    for place, judged in enumerate(plan.judged):
        found = _in_a_sag(ways, plan, place, sag_v)
        if found is not None and found[0] < found[1]:
            short.append((*found, judged.case.name))
    if short:
        volts, needed_v, case = min(short, key=lambda each: each[0] - each[1])
        values = {"supply_v": sag_v, "load_voltage_v": volts, "needed_v": needed_v}
        yield remark("may_let_go", case=case, part=load, values=values)


def _in_a_sag(ways: Ways, plan: Tried, place: int, sag_v: float) -> tuple[float, float] | None:
    """What the closed plunger gets, and what keeps it; None where that is not known. [V].

    One whose relay lets go is none of these: that is the relay's own check.
    """
    judged = plan.judged[place]
    asked = ways.question(plan.treatment, ways.asked.cases[place])
    closed = [
        part.name
        for part, on in zip(
            judged.state.model.parts["coils"], judged.state.solution.energised, strict=True
        )
        if on
    ]
    case = changed(
        asked.case, open_circuit_v=sag_v, internal_resistance_ohm=STIFF_OHM,
        held=[*closed, ways.asked.load],
    )  # fmt: skip
    try:
        state = rest(asked.circuit, case)
    except CalculationError:
        return None
    if not all(state.solution.energised[: len(closed)]) or ways.asked.load in state.unfed:
        return None
    found = next(each for each in load_states(state) if each.name == ways.asked.load)
    return None if found.needed_v is None else (found.voltage_v, found.needed_v)
