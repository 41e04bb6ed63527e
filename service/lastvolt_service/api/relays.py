"""Relay coils and contacts."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.relay_coil import relay_coil
from lastvolt_service.operations.relay_contact import relay_contact
from lastvolt_service.schemas.relays import RelayCoilRequest, RelayContactRequest

OPERATIONS = (
    Operation(relay_coil, RelayCoilRequest()),
    Operation(relay_contact, RelayContactRequest()),
)
blueprint = topic("relays", OPERATIONS)
