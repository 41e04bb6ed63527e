"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.meter import drop_diagnosis

OPERATIONS = (Operation.of(drop_diagnosis.OPERATION),)
blueprint = topic("diagnosis", OPERATIONS)
