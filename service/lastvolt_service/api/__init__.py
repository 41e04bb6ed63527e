"""HTTP only: no arithmetic here."""

from lastvolt_service.api import (
    circuits,
    diagnosis,
    electrics,
    health,
    heat,
    relays,
    solenoids,
    wires,
)

_TOPICS = (wires, heat, relays, solenoids, electrics, diagnosis, circuits)
OPERATIONS = tuple(operation for topic in _TOPICS for operation in topic.OPERATIONS)
BLUEPRINTS = (*(topic.blueprint for topic in _TOPICS), health.blueprint)
