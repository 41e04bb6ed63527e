"""What contacts carry once they are mended, and what burns only then: they limited the current."""

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import open_coil_v, rest
from lastvolt_service.operations.circuits.bridging import JUMPER_OHM
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.part_checks import Rested, part_checks
from lastvolt_service.operations.circuits.parts import Branch, CircuitContact
from lastvolt_service.operations.circuits.weakest import CURRENTS
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.remedies.options import sound_ohm

# Of a load that is worth a wire of its own. [A]. Common practice.
USUAL_A = 10.0


def burns_once_mended(
    circuit: Circuit, case: Case, rested: Rested, checks: Sequence[Checked]
) -> tuple[Checked, ...]:
    """Wires that carry too much as soon as the contacts that fail are as they should be.

    Parameters
    ----------
    circuit, case : Circuit, Case
        Both in plain numbers.
    rested : Rested
        The circuit as it is.
    checks : sequence of Checked
        Of it.
    """
    failed = [check for check in checks if check.verdict == "fail"]
    poor = {str(check.part) for check in failed if check.code == "contact_drop"}
    if not poor or not any(check.code == "no_fuse" for check in checks):
        return ()
    sound = changed(circuit, branches=[_sound(e, poor, rested) for e in circuit.branches])
    try:
        state = rest(sound, case)
        coils = open_coil_v(state)
    except CalculationError:
        return ()
    (then,) = part_checks([replace(rested, state=state, open_coil_v=coils)])
    before = {check.part for check in failed if check.code in CURRENTS}
    contacts = ", ".join(sorted(poor))
    return tuple(
        replace(check, code="burns_once_mended", detail=contacts)
        for check in then
        if check.code in CURRENTS and check.verdict == "fail" and check.part not in before
    )


def _sound(branch: Branch, poor: set[str], rested: Rested) -> Branch:
    if branch.name not in poor or not isinstance(branch, CircuitContact):
        return branch
    # What carries next to nothing now will carry what it is there for.
    amps = max(abs(rested.state.current_a(branch.name)), USUAL_A)
    ohm = min(sound_ohm(branch.part, amps), branch.resistance_ohm)
    return changed(branch, resistance_ohm=ohm, ages=False)


def with_ohms(circuit: Circuit, ohms: Mapping[str, float]) -> Circuit:
    """The circuit with other resistances of contacts, a relay's too, by their names. [ohm]."""
    branches = [
        changed(each, resistance_ohm=ohms[each.name]) if each.name in ohms else each
        for each in circuit.branches
    ]
    relays = [
        changed(each, contact_resistance_ohm=ohms[each.name]) if each.name in ohms else each
        for each in circuit.relays
    ]
    return changed(circuit, branches=branches, relays=relays)


def contact_kinds(circuit: Circuit) -> dict[str, str]:
    """What makes each contact of a circuit, by its name; a relay has one of its own."""
    kinds = {e.name: str(e.part) for e in circuit.branches if isinstance(e, CircuitContact)}
    return kinds | {each.name: "relay" for each in circuit.relays}


def carried_once_sound_a(states: Iterable[State], names: Iterable[str]) -> dict[str, float]:
    """The most that contacts carry once all of them are sound, in any state. [A].

    What is open carries nothing, and tells nothing of what a new one will drop.
    """
    found = dict.fromkeys(names, 0.0)
    for state in states if found else ():
        circuit = with_ohms(state.model.circuit, dict.fromkeys(found, JUMPER_OHM))
        with suppress(CalculationError):
            free = rest(circuit, state.model.case)
            found = {name: max(amps, abs(free.contact_a(name))) for name, amps in found.items()}
    return found
