"""Readings of a battery that is charged, of which the circuit knows nothing."""

from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_told import sentence
from lastvolt_service.operations.meter.plan_stages import RESTS_AT_MOST_V, chargers
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.tables.battery import TABLE_NOMINAL_V
from lastvolt_service.words.amounts import amount


def charging(asked: CircuitFitRequest, emf_v: float) -> str | None:
    """Say that something charges where more was read than a battery rests at, and none is there."""
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
