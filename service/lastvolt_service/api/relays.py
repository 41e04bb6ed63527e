"""Relay coils and contacts."""

from lastvolt_service.api.operations import Operation, topic
from lastvolt_service.operations.relays import coil, contact

OPERATIONS = (Operation.of(coil.OPERATION), Operation.of(contact.OPERATION))
blueprint = topic("relays", OPERATIONS)
