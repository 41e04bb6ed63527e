"""Heat in wires, their sizes and their fuses."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.fuse_selection import fuse_selection
from lastvolt_service.operations.wire_sizing import wire_sizing
from lastvolt_service.operations.wires import heating
from lastvolt_service.schemas.heat import (
    FuseSelectionRequest,
    WireSizingRequest,
)

OPERATIONS = (
    Operation.of(heating.OPERATION),
    Operation(wire_sizing, WireSizingRequest()),
    Operation(fuse_selection, FuseSelectionRequest()),
)
blueprint = topic("heat", OPERATIONS)
