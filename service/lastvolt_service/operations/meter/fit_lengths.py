"""Wires whose lengths were given as numbers: nobody measures a harness to the centimetre.

What a length is off by is taken up by no contact, and by no reading that would be called false.
"""

from collections.abc import Sequence

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.parts import CircuitWire
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_request import MOST_FIT, units_of
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_verdict import Verdict, judged
from lastvolt_service.units import Interval

# A length that was given as a number may be off by so much of it, joints and lay included. Common
# practice.
LENGTH_SHARE = 0.1


def about(
    model: CircuitModel, taken: Sequence[Taken], verdict: Verdict
) -> tuple[CircuitModel, Verdict]:
    """The fit with lengths that are about as given, where they do not hold together as they are."""
    if verdict.whole.check.agrees:
        return model, verdict
    circuit, begin = model.circuit, dict(model.described or {})
    branches = list(circuit.branches)
    for place, each in enumerate(branches):
        if isinstance(each, CircuitWire) and not isinstance(each.length_m, Interval):
            length = float(each.length_m)
            ends = Interval((1.0 - LENGTH_SHARE) * length, (1.0 + LENGTH_SHARE) * length)
            branches[place] = changed(each, length_m=ends)
            begin["circuit", "branches", place, "length_m"] = length
    opened = CircuitModel(changed(circuit, branches=branches), model.cases, begin)
    count = len(opened.unknowns)
    is_dear = len(model.cases) * units_of(count, len(circuit.parts)) > MOST_FIT
    if is_dear or count == len(model.unknowns):
        return model, verdict
    try:
        return opened, judged(opened, taken)
    except CalculationError:
        return model, verdict
