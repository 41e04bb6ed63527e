"""Readings of a battery that is charged, of which the circuit knows nothing."""

from collections.abc import Sequence

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.meter.fit_about import with_supplies
from lastvolt_service.operations.meter.fit_ends import middle_of
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_told import sentence
from lastvolt_service.operations.meter.plan_stages import RESTS_AT_MOST_V, chargers
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.tables.battery import TABLE_NOMINAL_V
from lastvolt_service.words.amounts import amount


def as_charged(
    asked: CircuitFitRequest, circuit: Circuit, cases: Sequence[Case]
) -> tuple[CircuitModel, str | None]:
    """The model to fit, and what is said of a battery that something charges.

    Its volts are those of what charges it: what was given for the battery at rest holds them not.
    """
    model = CircuitModel(circuit, cases)
    said = charging(asked, model)
    if said is None:
        return model, None
    opened, thought = with_supplies(circuit, intervals=True)
    return CircuitModel(opened, cases, thought), said


def charging(asked: CircuitFitRequest, model: CircuitModel) -> str | None:
    """Say that something charges where more was read than a battery rests at, and none is there."""
    place = model.place_of(asked.readings[0].case, 0)
    try:
        emf_v = model.here(place, middle_of(model)).state.model.emf_v
    except CalculationError:
        return None
    source = asked.circuit.source
    posts = {source.plus, source.minus or asked.circuit.ground_node}
    cases = {each.name: each for each in asked.cases}
    most_v = RESTS_AT_MOST_V * float(nominal_of(emf_v, asked.sure_v)) / TABLE_NOMINAL_V
    for each in asked.readings:
        is_high = each.kind == "volts" and abs(each.value) > most_v
        if is_high and set(each.between) == posts and not chargers(asked.circuit, cases[each.case]):
            volts = amount(abs(each.value), "V")
            return sentence("charging", case=each.case, volts=volts, most=amount(most_v, "V"))
    return None
