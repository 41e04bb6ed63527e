"""A battery that, with other volts and other ohms at once, makes readings hold together."""

from typing import Any

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.meter.fit_about import with_supplies
from lastvolt_service.operations.meter.fit_beyond import OPENED, SOURCE_OHM, Beyond
from lastvolt_service.operations.meter.fit_ends import moved
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_points import first_points
from lastvolt_service.operations.meter.fit_told import both, bounds, digits, named, sentence
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.units import Interval

VOLTS = ("circuit", "source", "open_circuit_v")


def battery_beyond(model: CircuitModel, whole: Solved) -> list[tuple[Solved, Beyond]]:
    """Find such a battery, told by its volts at rest; empty where none makes them hold together.

    Its posts must have been read: else any contact would do as well.
    """
    source = model.circuit.source
    posts = {source.plus, source.minus or model.circuit.ground_node}
    is_read = any({*each.reading.between} == posts for each in whole.problem.taken)
    if not is_read or model.circuit.further_sources:
        return []
    circuit, thought = with_supplies(model.circuit, intervals=True, ohms=OPENED)
    wide = CircuitModel(circuit, model.cases, {**(model.described or {}), **thought})
    places = {each.path: place for place, each in enumerate(wide.unknowns)}
    if not places.keys() >= {VOLTS, SOURCE_OHM}:
        return []
    try:
        starts, _ = first_points(wide, whole.problem.cases)
        near = moved(model, whole.point, wide)
        solved = Problem(wide, whole.problem.taken).solved_if_near([near, *starts])
    except CalculationError:
        return []
    if solved is None or not solved.check.agrees:
        return []
    volts, ohm = (wide.unknowns[places[each]] for each in (VOLTS, SOURCE_OHM))
    at_rest, inside = bounds(volts, solved), bounds(ohm, solved)
    texts = dict(zip(("volts", "most"), both(*at_rest, volts.unit), strict=True))
    texts |= dict(zip(("ohm", "most_ohm"), both(*inside, ohm.unit), strict=True))
    low, high = _ends(source.open_circuit_v)
    is_weak = inside.low > _ends(source.internal_resistance_ohm)[1]
    told = Beyond(
        input=volts.input,
        name=named([volts], circuit)[0],
        unit=volts.unit,
        given_low=low,
        given_high=high,
        estimate=digits(float(solved.point[places[VOLTS]])),
        low=at_rest.low,
        high=at_rest.high,
        message=sentence("weak_battery" if is_weak else "battery_beyond", **texts),
    )
    return [(solved, told)]


def _ends(given: Any) -> tuple[float, float]:
    return given if isinstance(given, Interval) else (float(given), float(given))
