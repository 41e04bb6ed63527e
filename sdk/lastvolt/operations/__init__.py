"""One method per operation; its arguments are the fields of the request, name by name."""

from lastvolt.operations.relays import Relays
from lastvolt.operations.solenoids import Solenoids
from lastvolt.operations.wires import Wires

__all__ = ["Relays", "Solenoids", "Wires"]
