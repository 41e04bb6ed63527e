"""Whole circuits."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.circuit_check import circuit_check
from lastvolt_service.operations.relay_retrofit import relay_retrofit
from lastvolt_service.schemas.cases import CircuitCheckRequest
from lastvolt_service.schemas.retrofit import RelayRetrofitRequest

OPERATIONS = (
    Operation(circuit_check, CircuitCheckRequest()),
    Operation(relay_retrofit, RelayRetrofitRequest()),
)
blueprint = topic("circuits", OPERATIONS)
