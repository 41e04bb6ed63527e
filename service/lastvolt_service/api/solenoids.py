"""Solenoids."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.solenoid_pull_in import solenoid_pull_in
from lastvolt_service.schemas.solenoids import SolenoidPullInRequest

OPERATIONS = (Operation(solenoid_pull_in, SolenoidPullInRequest()),)
blueprint = topic("solenoids", OPERATIONS)
