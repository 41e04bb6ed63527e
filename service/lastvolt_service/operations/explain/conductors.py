"""Steps to the resistance of a conductor."""

from lastvolt_service.laws import recording
from lastvolt_service.operations.conductors import Conductor, conductor
from lastvolt_service.operations.steps import Steps

LINEAR = "IEC 28 (1913): the resistance of copper rises on a straight line from 20 degC"


def conductor_steps(
    steps: Steps, wire: Conductor, material: str, construction: str, prefix: str = ""
) -> None:
    """Take the steps from a size to section, resistance at 20 degC and temperature coefficient."""
    with recording(), steps.within(prefix):
        metal = conductor(wire.size, wire.standard, material, construction)
        for name in ("temperature_coefficient_per_k", "area_mm2", "resistance_20_ohm_per_m"):
            steps.result(name, getattr(metal, name), "")
