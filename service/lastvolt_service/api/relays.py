"""Relay coils and contacts."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.relay_contact import relay_contact
from lastvolt_service.operations.relays import coil
from lastvolt_service.schemas.relays import RelayContactRequest

OPERATIONS = (
    Operation.of(coil.OPERATION),
    Operation(relay_contact, RelayContactRequest()),
)
blueprint = topic("relays", OPERATIONS)
