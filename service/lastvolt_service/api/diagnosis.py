"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.meter import circuit_fit, drop_diagnosis

OPERATIONS = tuple(map(Operation.of, (drop_diagnosis.OPERATION, circuit_fit.OPERATION)))
blueprint = topic("diagnosis", OPERATIONS)
