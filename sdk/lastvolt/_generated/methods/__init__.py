# Generated from openapi.json by sdk/generate: do not edit.
"""One method per operation; its arguments are the fields of the request, name by name."""

from lastvolt._generated.methods.circuits import Circuits
from lastvolt._generated.methods.diagnosis import Diagnosis
from lastvolt._generated.methods.electrics import Electrics
from lastvolt._generated.methods.heat import Heat
from lastvolt._generated.methods.relays import Relays
from lastvolt._generated.methods.solenoids import Solenoids
from lastvolt._generated.methods.wires import Wires


class Operations(Wires, Heat, Relays, Solenoids, Electrics, Diagnosis, Circuits):
    """All operations of the service."""
