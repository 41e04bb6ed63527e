"""What requests say of the loads of a circuit."""

from collections.abc import Iterable
from typing import ClassVar, TypeAlias

from lastvolt_service.fields import ABSENT, Groups, choice, flag, known, part, quantity
from lastvolt_service.operations.circuits.parts import Joined, Toleranced
from lastvolt_service.operations.common_fields import MAX_SUPPLY_V, supply
from lastvolt_service.operations.results import STARTER
from lastvolt_service.operations.solenoids.descriptions import (
    Plunger,
    RatedSolenoid,
    SolenoidWindings,
)
from lastvolt_service.operations.wires.fields import CIRCUITS

WORKS_FROM = "voltage below which it draws nothing; by default it draws at any"


class Load(Joined):
    """What every load has."""

    needed_v: float = quantity(
        "lowest voltage that it works at", minimum=0.1, maximum=MAX_SUPPLY_V, default=ABSENT
    )
    circuit: str | None = choice(
        "kind of circuit, to hold the drop from the source to the load and back against practice",
        CIRCUITS,
        default=ABSENT,
    )


class ResistanceLoad(Load):
    """A load of constant resistance, or of a copper winding."""

    kind: str = choice("resistance", ("resistance",))
    resistance_ohm: float = quantity("of the load at 20 degC", minimum=1e-4)
    copper: bool = flag("whether it is a copper winding as warm as its zone", default=False)


class CurrentLoad(Load):
    """A load of constant current."""

    kind: str = choice("current", ("current",))
    current_a: float = quantity("that it takes at any voltage")
    works_from_v: float = supply(WORKS_FROM, minimum=0.01, default=ABSENT)


class PowerLoad(Load):
    """A load of constant power."""

    kind: str = choice("power", ("power",))
    power_w: float = quantity("that it takes at any voltage")
    works_from_v: float = supply(WORKS_FROM, minimum=0.01, default=ABSENT)


class LampLoad(Load):
    """A filament lamp: it takes less current at less voltage, but not in proportion."""

    kind: str = choice("lamp", ("lamp",))
    rated_power_w: float = quantity("that is stamped on it", minimum=0.01)
    rated_v: float = supply("voltage that this power is for", minimum=0.1)


class MotorLoad(Load):
    """A motor: a resistance behind the back voltage of its speed."""

    kind: str = choice("motor", ("motor",))
    resistance_ohm: float = quantity("between its terminals", minimum=1e-4)
    back_v: float = quantity(
        "voltage that it makes at its speed; 0 where it stands", maximum=MAX_SUPPLY_V, default=0.0
    )


class CircuitRated(Toleranced, RatedSolenoid):
    """A solenoid of a circuit by its pull-in voltage."""

    resistance_ohm: float = quantity(
        "between its terminal and ground before it closes", minimum=1e-3
    )
    held_resistance_ohm: float = quantity(
        "the same once it has closed, as of a starter's, of which one winding then holds alone; if "
        "not given, as before",
        minimum=1e-3,
        default=ABSENT,
    )


class CircuitWindings(Toleranced, SolenoidWindings):
    """A starter solenoid of a circuit by its two windings."""


class CircuitPlunger(Toleranced, Plunger):
    """A solenoid of a circuit by the force that its plunger needs."""


class SolenoidLoad(Load):
    """A solenoid as warm as its zone; the voltage it needs follows from that."""

    exactly_one_of: ClassVar[Groups] = (("rated", "windings", "plunger"),)

    kind: str = choice("solenoid", ("solenoid",))
    rated: CircuitRated | None = part(
        CircuitRated, "the solenoid by its pull-in voltage", default=ABSENT
    )
    windings: CircuitWindings | None = part(
        CircuitWindings, "the solenoid by its two windings", default=ABSENT
    )
    plunger: CircuitPlunger | None = part(
        CircuitPlunger, "the solenoid by force and air gap", default=ABSENT
    )


AnyLoad: TypeAlias = ResistanceLoad | CurrentLoad | PowerLoad | LampLoad | MotorLoad | SolenoidLoad
LOADS = {
    "resistance": ResistanceLoad,
    "current": CurrentLoad,
    "power": PowerLoad,
    "lamp": LampLoad,
    "motor": MotorLoad,
    "solenoid": SolenoidLoad,
}


def is_wanting(load: AnyLoad) -> bool:
    """Whether it is known to need some voltage: a solenoid does, whatever is said of it."""
    return isinstance(load, SolenoidLoad) or known(load.needed_v)


def starter_cautions(loads: Iterable[AnyLoad]) -> tuple[str, ...]:
    """What to beware of where a load may start an engine.

    A plunger may, and the end of a starter's circuit, and whatever nobody said the kind of; a lamp
    never does.
    """
    may_start = any(
        isinstance(each, SolenoidLoad)
        or ((each.circuit or "starter").startswith("starter") and not isinstance(each, LampLoad))
        for each in loads
    )
    return (STARTER,) if may_start else ()
