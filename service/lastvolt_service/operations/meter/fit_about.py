"""What was given as a number and is about that only: lengths of wires, and the supply.

Nobody measures a harness to the centimetre, and a battery's volts are often those of a
sound one.
What such a number is off by no contact takes up, and for it no reading is called false.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.parts import CircuitWire
from lastvolt_service.operations.meter.fit_model import CircuitModel, has_width
from lastvolt_service.operations.meter.fit_request import MOST_FIT, units_of
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_verdict import Verdict, judged
from lastvolt_service.units import Interval

# A length that was given as a number may be off by so much of it, joints and lay included. Common
# practice.
LENGTH_SHARE = 0.1
# So far from what is given a supply is looked for, as factors of its ends: a flat battery, a
# charger; and a cold or worn one, which has no less than a tenth and no more than these ohms.
VOLTS, OHMS, MOST_OHM = (0.5, 1.3), (0.1, 10.0), 10.0
OF_SOURCES = {"open_circuit_v": VOLTS, "regulated_v": VOLTS, "internal_resistance_ohm": OHMS}


def about(
    model: CircuitModel, taken: Sequence[Taken], verdict: Verdict
) -> tuple[CircuitModel, Verdict]:
    """The fit with numbers that are about as given, where readings do not hold together else.

    First the lengths; then the supply, too, where that makes them hold together.
    """
    first = None
    for opened in () if verdict.whole.check.agrees else _opened(model):
        units = units_of(len(opened.unknowns), len(model.circuit.parts))
        if len(model.cases) * units > MOST_FIT:
            break
        try:
            found = opened, judged(opened, taken)
        except CalculationError:
            continue
        if found[1].whole.check.agrees:
            return found
        # More is opened for a reason only: else what was fitted first stands.
        first = first or (found if opened.circuit.source is model.circuit.source else None)
    return first or (model, verdict)


def _opened(model: CircuitModel) -> Iterator[CircuitModel]:
    """The model with more and more of its numbers open."""
    thought = dict(model.described or {})
    circuit, lengths = with_lengths(model.circuit)
    if lengths:
        yield CircuitModel(circuit, model.cases, thought | lengths)
    circuit, supplies = with_supplies(circuit, numbers=True, intervals=False)
    if supplies:
        yield CircuitModel(circuit, model.cases, thought | lengths | supplies)


def with_lengths(circuit: Circuit) -> tuple[Circuit, dict[Path, float]]:
    """The circuit with its lengths open, and what each is thought to be. [m]."""
    branches, thought = list(circuit.branches), dict[Path, float]()
    for place, each in enumerate(branches):
        if isinstance(each, CircuitWire) and not isinstance(each.length_m, Interval):
            length = float(each.length_m)
            ends = Interval((1.0 - LENGTH_SHARE) * length, (1.0 + LENGTH_SHARE) * length)
            if has_width(ends):
                branches[place] = changed(each, length_m=ends)
                thought["circuit", "branches", place, "length_m"] = length
    return changed(circuit, branches=branches), thought


def with_supplies(
    circuit: Circuit, *, numbers: bool, intervals: bool
) -> tuple[Circuit, dict[Path, float]]:
    """The circuit with its sources open, and what those given as numbers are thought to be."""
    thought: dict[Path, float] = {}

    def opened(source: Any, path: Path) -> Any:
        found = {}
        for field, (least, most) in OF_SOURCES.items():
            given: Any = getattr(source, field, None)
            is_interval = isinstance(given, Interval)
            if not (intervals if is_interval else numbers and isinstance(given, float | int)):
                continue
            own: Any = given if is_interval else Interval(float(given), float(given))
            high = most * own.high
            high = min(high, MOST_OHM) if field.endswith("_ohm") else high
            ends = Interval(least * own.low, max(high, own.high))
            if not ends.high > ends.low:  # nothing, or not given
                continue
            found[field] = ends
            if not is_interval:
                thought[*path, field] = own.low
        return changed(source, **found) if found else source

    source = opened(circuit.source, ("circuit", "source"))
    further = [
        opened(each, ("circuit", "further_sources", place))
        for place, each in enumerate(circuit.further_sources)
    ]
    return changed(circuit, source=source, further_sources=further), thought
