"""What feeds the circuits, and what the driver's switch carries."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.relays import switch_loading
from lastvolt_service.operations.sources import battery

OPERATIONS = (Operation.of(battery.OPERATION), Operation.of(switch_loading.OPERATION))
blueprint = topic("electrics", OPERATIONS)
