"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.meter import drop_diagnosis, recording

OPERATIONS = (
    Operation.of(drop_diagnosis.OPERATION),
    Operation.of(recording.OPERATION),
)
blueprint = topic("diagnosis", OPERATIONS)
