"""Ballasts and speed resistors that have burnt out: a load that gets next to nothing past one."""

from lastvolt_service.operations.circuits.load_way import Currents
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.parts import CircuitContact, CircuitResistance
from lastvolt_service.operations.circuits.ruled import SWITCHES
from lastvolt_service.operations.circuits.switching import live
from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import UNDECIDED, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.wires.drop_limits import NO_WIRE_OHM

# Of the source's voltage: no ballast and no speed resistor leaves its load so little, and such a
# one takes most of the rest. Common practice.
LEFT_SHARE, TAKEN_SHARE = 0.2, 0.7


def burnt(state: State, currents: Currents, load: Part, voltage: float) -> Checked | None:
    """Name the resistor past which a load gets next to nothing; None where that is no matter.

    Past a tell-tale a lamp glows, or stays dark, by design, and a starter is not to be fed so. The
    lamp of a lit switch lies across that switch, where a ballast has a switch of its own.
    """
    drive_v = state.model.drive_v
    if load.kind == "lamp" or load.asked.circuit in OF_CIRCUIT or voltage > LEFT_SHARE * drive_v:
        return None
    taken = (
        each
        for each in currents.through(load)
        if each.part.kind == "resistance"
        and not each.part.is_load
        and each.part.asked.resistance_ohm >= NO_WIRE_OHM
        and each.across_v >= TAKEN_SHARE * drive_v
    )
    for each in taken:
        is_led_past, has_own = _ways(state, load)
        if has_own or not is_led_past:
            judged = flatly(UNDECIDED if has_own else UNKNOWN, voltage)
            so = {"part": each.part.name, "detail": load.name}
            return Checked("resistor_open", judged, "V", COMMON_PRACTICE, **so)
    return None


def _ways(state: State, load: Part) -> tuple[bool, bool]:
    """Whether switches lead past resistors to a load, and it is fed by one that those need not.

    That one is closed; what leads past may be open.
    """
    circuit, open_now = state.model.circuit, {*state.model.case.without}
    resistors = {each.name for each in circuit.branches if isinstance(each, CircuitResistance)}
    if not live(circuit, resistors).feeds(load.nodes):
        return False, False
    own = [
        each.name
        for each in circuit.branches
        if isinstance(each, CircuitContact) and each.part in SWITCHES and each.name not in open_now
    ]
    own += [relay.name for relay in circuit.relays if relay.name not in open_now]
    return True, any(
        not live(circuit, open_now | {name}).feeds(load.nodes)
        and live(circuit, resistors | {name}).feeds(load.nodes)
        for name in own
    )
