"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.meter import circuit_fit, drop_diagnosis, meter_plan

OPERATIONS = tuple(
    map(Operation.of, (drop_diagnosis.OPERATION, circuit_fit.OPERATION, meter_plan.OPERATION))
)
blueprint = topic("diagnosis", OPERATIONS)
