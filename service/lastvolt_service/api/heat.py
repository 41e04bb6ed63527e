"""Heat in wires, their sizes and their fuses."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.fuses import selection
from lastvolt_service.operations.wires import heating, sizing

OPERATIONS = (
    Operation.of(heating.OPERATION),
    Operation.of(sizing.OPERATION),
    Operation.of(selection.OPERATION),
)
blueprint = topic("heat", OPERATIONS)
