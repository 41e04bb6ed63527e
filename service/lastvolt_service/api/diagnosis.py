"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.meter import (
    circuit_fit,
    drop_diagnosis,
    gain_proof,
    meter_plan,
    recording,
)

OPERATIONS = tuple(
    map(
        Operation.of,
        (
            drop_diagnosis.OPERATION,
            circuit_fit.OPERATION,
            meter_plan.OPERATION,
            gain_proof.OPERATION,
            recording.OPERATION,
        ),
    )
)
blueprint = topic("diagnosis", OPERATIONS)
