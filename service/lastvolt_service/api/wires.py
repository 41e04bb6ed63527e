"""Conductors and paths."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.conductors import conductors
from lastvolt_service.operations.voltage_drop import voltage_drop
from lastvolt_service.operations.wire_resistance import wire_resistance
from lastvolt_service.schemas.wires import (
    ConductorsQuery,
    VoltageDropRequest,
    WireResistanceRequest,
)

OPERATIONS = (
    Operation(conductors, ConductorsQuery(), method="GET"),
    Operation(wire_resistance, WireResistanceRequest()),
    Operation(voltage_drop, VoltageDropRequest()),
)
blueprint = topic("wires", OPERATIONS)
