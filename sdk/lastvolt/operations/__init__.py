"""One method per operation; its arguments are the fields of the request, name by name."""

from lastvolt.operations.circuits import Circuits
from lastvolt.operations.diagnosis import Diagnosis
from lastvolt.operations.electrics import Electrics
from lastvolt.operations.heat import Heat
from lastvolt.operations.relays import Relays
from lastvolt.operations.solenoids import Solenoids
from lastvolt.operations.wires import Wires

__all__ = ["Circuits", "Diagnosis", "Electrics", "Heat", "Relays", "Solenoids", "Wires"]
