"""Whole circuits."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.circuits import check
from lastvolt_service.operations.decision import relay_retrofit

OPERATIONS = (Operation.of(check.OPERATION), Operation.of(relay_retrofit.OPERATION))
blueprint = topic("circuits", OPERATIONS)
