"""What feeds the circuits, and what the driver's switch carries."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.battery_voltage import battery_voltage
from lastvolt_service.operations.switch_loading import switch_loading
from lastvolt_service.schemas.electrics import BatteryVoltageRequest, SwitchLoadingRequest

OPERATIONS = (
    Operation(battery_voltage, BatteryVoltageRequest()),
    Operation(switch_loading, SwitchLoadingRequest()),
)
blueprint = topic("electrics", OPERATIONS)
