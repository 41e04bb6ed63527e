"""The supply or a load that is another than it is given: what a proof must not blame on the way.

A battery runs down between before and after, or a charger is on in one of the two; a winding's
turns are shorted meanwhile, or something runs beside it.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from lastvolt_service.errors import Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.meter.fit_about import OHMS, with_supplies
from lastvolt_service.operations.meter.proof_circuits import Built
from lastvolt_service.units import Interval

# So far from what is given a load is looked for: turns are shorted, or a part of it is open.
OF_A_LOAD = 1000.0
_SIZES = ("resistance_ohm", "current_a", "power_w", "rated_power_w")
_INNER = (
    ("rated", "resistance_ohm"),
    ("windings", "pull_in_resistance_ohm"),
    ("windings", "hold_in_resistance_ohm"),
    ("plunger", "resistance_ohm"),
)


class Size(NamedTuple):
    """How large a load is: the circuit with that left open, its path, what is given, the unit."""

    circuit: Circuit
    load: str
    path: Path
    given: Interval
    unit: str


def with_any_supply(built: Built, ohms: float = OHMS[1]) -> Built:
    """A circuit whose supply may be another than it is given; numbers that went with it stay.

    It has so many times the ohms that were given, at most.
    """
    circuit, _ = with_supplies(built.circuit, numbers=False, intervals=True, ohms=ohms)
    return replace(built, circuit=circuit)


def sizes(circuit: Circuit) -> Iterator[Size]:
    """Every load with its size left open."""
    for place, load in enumerate(circuit.loads):
        for keys in (*((each,) for each in _SIZES), *_INNER):
            inner: Any = load if len(keys) == 1 else getattr(load, keys[0], None)
            value = getattr(inner, keys[-1], None)
            if not isinstance(value, float | int | Interval) or isinstance(value, bool):
                continue
            given = value if isinstance(value, Interval) else Interval(value, value)
            if not 0.0 < given.high < float("inf"):
                continue
            wide = {keys[-1]: Interval(given.low / OF_A_LOAD, given.high * OF_A_LOAD)}
            put = wide if len(keys) == 1 else {keys[0]: changed(inner, **wide)}
            loads = [*circuit.loads[:place], changed(load, **put), *circuit.loads[place + 1 :]]
            unit = {"ohm": "ohm", "a": "A", "w": "W"}[keys[-1].rsplit("_", 1)[-1]]
            path: Path = ("circuit", "loads", place, *keys)
            yield Size(changed(circuit, loads=loads), load.name, path, given, unit)
