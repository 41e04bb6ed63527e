"""Conductors and paths."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.wires import resistance, voltage_drop
from lastvolt_service.operations.wires.conductor_table import ConductorsQuery, conductors
from lastvolt_service.schemas.described import schema_class

OPERATIONS = (
    Operation(conductors, schema_class(ConductorsQuery)(), method="GET"),
    Operation.of(resistance.OPERATION),
    Operation.of(voltage_drop.OPERATION),
)
blueprint = topic("wires", OPERATIONS)
