"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.meter import circuit_fit, drop_diagnosis, gain_proof, recording

OPERATIONS = tuple(
    map(
        Operation.of,
        (
            drop_diagnosis.OPERATION,
            circuit_fit.OPERATION,
            gain_proof.OPERATION,
            recording.OPERATION,
        ),
    )
)
blueprint = topic("diagnosis", OPERATIONS)
