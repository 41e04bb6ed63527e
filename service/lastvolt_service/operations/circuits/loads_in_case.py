"""The loads of a circuit in a case: as warm as their zones, their live end first."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from typing import NamedTuple

from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.loads import (
    AnyLoad,
    CurrentLoad,
    LampLoad,
    MotorLoad,
    PowerLoad,
    ResistanceLoad,
)
from lastvolt_service.operations.circuits.model import Part
from lastvolt_service.operations.solenoids.descriptions import needed_by_load
from lastvolt_service.operations.wires.conductors import copper_changes
from lastvolt_service.rows import number
from lastvolt_service.tables import Unproven

# A filament is the hotter the more voltage it has: its current goes with this power of it.
FILAMENT_EXPONENT = 0.55
FILAMENT = Unproven("a filament's current goes with the power 0.55 of its voltage")
# What the network takes of each kind of load, in this order.
VALUES = {
    "resistors": ("resistance_ohm",),
    "current_loads": ("current_a", "works_from_v"),
    "power_loads": ("power_w", "works_from_v"),
    "lamps": ("rated_v", "rated_a", "exponent"),
    "motors": ("resistance_ohm", "back_v"),
}


class LoadInCase(NamedTuple):
    """A load: its part, what the network takes of it as `VALUES` says, and what that rests on."""

    part: Part
    values: tuple[float, ...]
    basis: tuple[str, ...]


class Sides:
    """What metal joins to either post of the battery, all contacts of relays taken as closed."""

    def __init__(self, circuit: Circuit, left_out: AbstractSet[str] = frozenset()) -> None:
        self.live, self.grounded = circuit.sides(left_out)

    def live_first(self, ends: Sequence[str]) -> tuple[str, str]:
        """Nodes of a load, its live end first: it is the same load whichever way round it is."""
        first, second = ends
        turned = second in self.live and first not in self.live and first in self.grounded
        return (second, first) if turned else (first, second)


def load_in_case(load: AnyLoad, case: Case, ends: tuple[str, str]) -> LoadInCase:
    """Bring a load to the temperature of its zone; `ends` are its nodes, the live one first."""
    ambient, held = case.ambient_c_of(load), load.name in case.held
    needed, basis, group = number(load.needed_v), tuple[str, ...](), "resistors"
    values: tuple[float, ...]
    if isinstance(load, CurrentLoad):
        group, values = "current_loads", (load.current_a, number(load.works_from_v) or 0.0)
    elif isinstance(load, PowerLoad):
        group, values = "power_loads", (load.power_w, number(load.works_from_v) or 0.0)
    elif isinstance(load, LampLoad):
        rated_a = load.rated_power_w / load.rated_v
        group, values = "lamps", (load.rated_v, rated_a, FILAMENT_EXPONENT)
        basis = (FILAMENT,)
    elif isinstance(load, MotorLoad):
        group, values = "motors", (load.resistance_ohm, load.back_v)
    elif isinstance(load, ResistanceLoad):
        change = float(copper_changes(ambient, 20.0)) if load.copper else 1.0
        values = (load.resistance_ohm * change,)
    else:
        found = needed_by_load(load, ambient, held=held)
        needed = needed if number(found.volts) is None else float(found.volts)
        values, basis = (float(found.resistance_ohm),), found.basis
    if needed is None and isinstance(load, CurrentLoad | PowerLoad):
        needed = number(load.works_from_v)
    of_load = {"needed_v": needed, "is_load": True, "is_held": held}
    part = Part.of(load, load.kind, group, ambient, ends, **of_load)
    return LoadInCase(part, values, basis)
