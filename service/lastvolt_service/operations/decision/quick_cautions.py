"""What to beware of at a load of the quick answer: what it does by itself, or sets alight."""

from collections.abc import Iterable, Mapping

from lastvolt_service.operations.results import PYROTECHNIC, SPARKS

FAN = (
    "A fan may start by itself, with the ignition off and the engine hot: unplug it before hands "
    "or tools come near it."
)
MOVES = (
    "It moves as soon as it is fed: hands clear of glass, arms and linkage, and of all it drives."
)
WINCH = "Work on a winch without a load on its rope, and with nobody in line of the rope."
GLOWS = (
    "Glow plugs burn skin and light whatever is sprayed into the engine: use no starting fluid, "
    "neither now nor with plugs that work."
)
# By load; those of all others stand in every answer.
OF_LOADS: Mapping[str, str] = {
    "pump": SPARKS,
    "fan": FAN,
    "blower": MOVES,
    "wipers": MOVES,
    "power_window": MOVES,
    "winch": WINCH,
    "glow_plugs": GLOWS,
    "horn": PYROTECHNIC,
    "air_horns": PYROTECHNIC,
}


def cautions_for(load: str, of_all: Iterable[str]) -> tuple[str, ...]:
    """Put what such a load calls for before what every work on a vehicle does, each once."""
    own = OF_LOADS.get(load)
    return tuple(dict.fromkeys((*([own] if own else ()), *of_all)))
