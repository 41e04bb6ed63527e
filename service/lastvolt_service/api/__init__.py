"""HTTP only: no arithmetic here."""

from lastvolt_service.api import (
    batch,
    batch_lines,
    circuits,
    diagnosis,
    electrics,
    health,
    heat,
    relays,
    reports,
    solenoids,
    wires,
)

TOPICS = (wires, heat, relays, solenoids, electrics, diagnosis, circuits)
OPERATIONS = tuple(operation for topic in TOPICS for operation in topic.OPERATIONS)
BLUEPRINTS = (
    *(topic.blueprint for topic in TOPICS),
    reports.reports(OPERATIONS),
    batch.blueprint,
    batch_lines.lines(OPERATIONS),
    health.blueprint,
)
