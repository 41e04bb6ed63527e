"""HTTP only: no arithmetic here."""

from lastvolt_service.api import health, relays, solenoids, wires

OPERATIONS = (*wires.OPERATIONS, *relays.OPERATIONS, *solenoids.OPERATIONS)
BLUEPRINTS = (wires.blueprint, relays.blueprint, solenoids.blueprint, health.blueprint)
