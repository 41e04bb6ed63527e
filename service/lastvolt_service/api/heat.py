"""Heat in wires, their sizes and their fuses."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.fuse_selection import fuse_selection
from lastvolt_service.operations.wire_heating import wire_heating
from lastvolt_service.operations.wire_sizing import wire_sizing
from lastvolt_service.schemas.heat import (
    FuseSelectionRequest,
    WireHeatingRequest,
    WireSizingRequest,
)

OPERATIONS = (
    Operation(wire_heating, WireHeatingRequest()),
    Operation(wire_sizing, WireSizingRequest()),
    Operation(fuse_selection, FuseSelectionRequest()),
)
blueprint = topic("heat", OPERATIONS)
