"""What requests say of what feeds a circuit: its battery, others beside it, and what charges."""

from collections.abc import Sequence
from typing import ClassVar, TypeAlias

from lastvolt_service.fields import ABSENT, Groups, choice, part, quantity
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.parts import ZONE, Toleranced, nodes
from lastvolt_service.operations.common_fields import supply
from lastvolt_service.operations.sources.battery import Battery


class CircuitBattery(Toleranced, Battery):
    """The battery of a circuit by its ratings and state."""


class Source(Toleranced):
    """What feeds the circuit, at a battery post."""

    exactly_one_of: ClassVar[Groups] = (("open_circuit_v", "battery"),)
    needs: ClassVar[Groups] = (("open_circuit_v", "internal_resistance_ohm"),)

    plus: str = label("node at the positive post; with positive ground that is the ground's")
    minus: str | None = label("node at the negative post; by default the ground", default=ABSENT)
    zone: str | None = label(ZONE, default=ABSENT)
    open_circuit_v: float = supply("voltage without load", default=ABSENT)
    internal_resistance_ohm: float = quantity("of the source", maximum=10.0, default=ABSENT)
    battery: CircuitBattery | None = part(
        CircuitBattery, "the battery by its ratings", default=ABSENT
    )


class FurtherSource(Toleranced):
    """What feeds the circuit beside its battery."""

    name: str = label("what the answer calls it")
    zone: str | None = label(ZONE, default=ABSENT)
    nodes: Sequence[str] = nodes("the nodes at its positive and at its negative post")


class FurtherBattery(FurtherSource):
    """Another battery: a second one of the vehicle, or that of a helper."""

    kind: str = choice("battery", ("battery",))
    open_circuit_v: float = supply("voltage without load")
    internal_resistance_ohm: float = quantity("of it", minimum=1e-5, maximum=10.0)

    @property
    def drive_v(self) -> float:
        """Voltage without load. [V]."""
        return self.open_circuit_v


class Charger(FurtherSource):
    """A generator or charger with a regulator: it gives its limit at most, and takes nothing."""

    kind: str = choice("charger", ("charger",))
    regulated_v: float = supply("voltage that it holds")
    internal_resistance_ohm: float = quantity(
        "of it, with what its voltage falls by under load", minimum=1e-4, maximum=10.0
    )
    limit_a: float = quantity("most that it gives at this speed", minimum=1e-3)

    @property
    def drive_v(self) -> float:
        """Voltage without load. [V]."""
        return self.regulated_v


AnySource: TypeAlias = FurtherBattery | Charger
SOURCES = {"battery": FurtherBattery, "charger": Charger}
