"""Relay coils and contacts."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.relays import contact, relay_coil

OPERATIONS = (Operation.of(relay_coil.OPERATION), Operation.of(contact.OPERATION))
blueprint = topic("relays", OPERATIONS)
