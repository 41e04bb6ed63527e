"""Where readings are in a network, and what ohmmeters find there."""

import math
from dataclasses import dataclass

from lastvolt_service.errors import ConflictingFields, Path
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, Model, Part, State
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.physics.network.passive import cold_resistances, resistance_between
from lastvolt_service.words import case_name

# Groups in which a part carries a current of its own, the contact of a relay before its coil.
CARRYING = ("wires", "contacts", *LOAD_GROUPS)


# Parts in series carry the same but for what a computer leaves.
SAME_SHARE = 1e-6


@dataclass(frozen=True, slots=True)
class Output:
    """Where a reading is in the network of its case.

    Attributes
    ----------
    plus, minus : int
        Nodes of the leads, of volts.
    group, index : str, int
        Kind of element that a clamp lies round, and its place among them.
    sign : float
        Of what a clamp shows against the solver's current.
    """

    plus: int = -1
    minus: int = -1
    group: str = ""
    index: int = -1
    sign: float = 1.0


def output(state: State, reading: MeterReading, index: int) -> Output:
    """Find where volts or amperes were read.

    Raises
    ------
    ConflictingFields
        If the case has no such node or part; the path points at the reading.
    """
    model = state.model
    if reading.through is not None:
        found = element(model, reading.through)
        if found is None:
            raise _not_there(index, "through", reading)
        return clamped(model, *found)
    plus, minus = (node(model, reading, index, end) for end in (0, 1))
    connected = state.solution.connected
    for end, place in enumerate((plus, minus)):
        if not connected[place]:
            raise ConflictingFields(
                f"In {case_name(reading.case)} open contacts part {reading.between[end]} from the "
                "rest: what a meter shows there means nothing.",
                ("readings", index, "between", end),
            )
    return Output(plus, minus)


def across(model: Model, plus: str, minus: str) -> Output:
    """Leads at two nodes that the case has."""
    names = model.network.node_names
    return Output(names.index(plus), names.index(minus))


def clamped(model: Model, group: str, index: int, part: Part) -> Output:
    """A clamp round a part, with the sign that it shows."""
    return Output(group=group, index=index, sign=1.0 if part.is_load else model.sign)


def element(model: Model, name: str) -> tuple[str, int, Part] | None:
    """Find what carries the current of a part: group, place in it, and the part."""
    for group in CARRYING:
        for place, part in enumerate(model.parts[group]):
            if part.name == name:
                return group, place, part
    return None


def node(model: Model, reading: MeterReading, index: int, end: int) -> int:
    """Find the node of a lead.

    Raises
    ------
    ConflictingFields
        If the case has no such node.
    """
    try:
        return model.network.node_names.index(reading.between[end])
    except ValueError:
        raise _not_there(index, "between", reading, end) from None


def _not_there(index: int, field: str, reading: MeterReading, *end: int) -> ConflictingFields:
    return ConflictingFields(
        f"In {case_name(reading.case)} it is left out: nothing is to be read there.",
        ("readings", index, field, *end),
    )


def ohms(model: Model, index: int, reading: MeterReading) -> float:
    """Resistance that an ohmmeter finds with the power off. [ohm].

    Raises
    ------
    ConflictingFields
        If nobody knows; the path points at the reading.
    """
    path: Path = ("readings", index, "of" if reading.of is not None else "between")
    if reading.of is not None:
        found = next(
            (
                (group, place)
                for group in ("wires", "resistors", "coils", "motors", "contacts")
                for place, part in enumerate(model.parts[group])
                if part.name == reading.of
            ),
            None,
        )
        if found is None:
            raise ConflictingFields(
                "Nobody knows what this has in ohms when it is cold and off: read volts and "
                "amperes of it at work.",
                path,
            )
        group, place = found
        return float(cold_resistances(network=model.network)[group][place])
    plus, minus = (node(model, reading, index, end) for end in (0, 1))
    ohm, is_told = resistance_between(network=model.network, plus=plus, minus=minus)
    if math.isinf(ohm) or not is_told:
        raise ConflictingFields(
            "With the power off nothing joins these but the battery, or a lamp or a load of which "
            "nobody knows the ohms: read volts there with the load at work.",
            path,
        )
    return ohm
