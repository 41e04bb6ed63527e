"""What feeds the circuits, and what the driver's switch carries."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.sources import battery
from lastvolt_service.operations.switch_loading import switch_loading
from lastvolt_service.schemas.electrics import SwitchLoadingRequest

OPERATIONS = (
    Operation.of(battery.OPERATION),
    Operation(switch_loading, SwitchLoadingRequest()),
)
blueprint = topic("electrics", OPERATIONS)
