"""Readings taken on a live circuit."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.drop_diagnosis import drop_diagnosis
from lastvolt_service.schemas.diagnosis import DropDiagnosisRequest

OPERATIONS = (Operation(drop_diagnosis, DropDiagnosisRequest()),)
blueprint = topic("diagnosis", OPERATIONS)
