"""Solenoids."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.solenoids import pull_in

OPERATIONS = (Operation.of(pull_in.OPERATION),)
blueprint = topic("solenoids", OPERATIONS)
