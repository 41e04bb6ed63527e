"""Requests about conductors and paths."""

from typing import ClassVar

from lastvolt_service.schemas.base import Groups, JSONObject, Request
from lastvolt_service.schemas.fields import Choice, Kinded, Many, Name, Part, Quantity
from lastvolt_service.schemas.parts import DropLimit, Surroundings, WireSize
from lastvolt_service.tables.limits import contact_limits
from lastvolt_service.tables.sizes import STANDARDS

LENGTH = "length of the wire, one way"
HIGHEST_CONDUCTOR_C = 300.0


class ConductorsQuery(Request):
    """Which conductor sizes to list."""

    standard = Choice("list the sizes of this standard only", tuple(STANDARDS), optional=True)
    example: ClassVar[JSONObject] = {"standard": "SAE"}


class WireResistanceRequest(WireSize):
    """One wire."""

    length_m = Quantity(LENGTH)
    temperature_c = Quantity(
        "temperature of the conductor", maximum=HIGHEST_CONDUCTOR_C, default=20.0
    )

    example: ClassVar[JSONObject] = {"size": "12 AWG", "length_m": 6.5, "temperature_c": 60}


class WireRun(WireSize):
    """A length of wire at a temperature."""

    length_m = Quantity(LENGTH)
    temperature_c = Quantity(
        "temperature of the conductor; without it and without ambient_c it is 20 degC",
        maximum=HIGHEST_CONDUCTOR_C,
        optional=True,
    )


class WireSegment(WireRun, Surroundings):
    """A wire in a path, at a given temperature or at the one that its current heats it to."""

    at_most_one_of: ClassVar[Groups] = (("temperature_c", "ambient_c"),)

    name = Name("what the answer calls this wire")
    kind = Choice("wire", ("wire",))


class Contact(Request):
    """A contact as it is."""

    part = Choice("what makes the contact", tuple(contact_limits()))
    resistance_ohm = Quantity("resistance of the contact as it is", maximum=1e3)
    rating_a = Quantity("steady current that the part is rated for", minimum=1e-3, optional=True)


class ContactSegment(Contact):
    """A contact in a path."""

    name = Name("what the answer calls this contact")
    kind = Choice("contact", ("contact",))


class ResistanceSegment(Request):
    """A known resistance in a path."""

    name = Name("what the answer calls this part")
    kind = Choice("resistance", ("resistance",))
    resistance_ohm = Quantity("resistance of the part")


class LoadAtEnd(DropLimit):
    """What the load at the end of a path keeps, and what the path may drop."""

    exactly_one_of: ClassVar[Groups] = (("load_current_a", "load_resistance_ohm", "load_power_w"),)

    load_current_a = Quantity("load that takes this current at any voltage", optional=True)
    load_resistance_ohm = Quantity("load that keeps this resistance", minimum=1e-4, optional=True)
    load_power_w = Quantity("load that takes this power at any voltage", optional=True)


class VoltageDropRow(LoadAtEnd):
    """A path as a row of a table: a wire out, contacts, a wire back."""

    feed_wire = Part(WireRun, "the wire out")
    return_wire = Part(WireRun, "the wire back; none where the body is the way back", optional=True)
    contact_1 = Part(Contact, "a contact on the way", optional=True)
    contact_2 = Part(Contact, "another", optional=True)
    contact_3 = Part(Contact, "another", optional=True)
    contact_4 = Part(Contact, "another", optional=True)

    example: ClassVar[JSONObject] = {
        "supply_v": 12.2,
        "load_resistance_ohm": 1.25,
        "circuit": "starter_control",
        "feed_wire": {"size": "12 AWG", "length_m": 6.5, "temperature_c": 40},
        "contact_1": {"part": "switch", "resistance_ohm": 0.06, "rating_a": 15},
        "contact_2": {"part": "ground", "resistance_ohm": 0.004},
    }


class VoltageDropRequest(LoadAtEnd):
    """A load at the end of a series path, out and back."""

    segments = Many(
        Kinded({"wire": WireSegment, "contact": ContactSegment, "resistance": ResistanceSegment}),
        "parts that the current runs through, out and back, in order; the load is not one of them",
    )
    example: ClassVar[JSONObject] = {
        "supply_v": 12.2,
        "load_resistance_ohm": 1.25,
        "circuit": "starter_control",
        "segments": [
            {
                "name": "battery lead to switch",
                "kind": "wire",
                "size": "12 AWG",
                "length_m": 6.5,
                "temperature_c": 40,
            },
            {
                "name": "key switch",
                "kind": "contact",
                "part": "switch",
                "resistance_ohm": 0.06,
                "rating_a": 15,
            },
            {
                "name": "switch to solenoid",
                "kind": "wire",
                "size": "14 AWG",
                "length_m": 7.5,
                "temperature_c": 60,
            },
            {"name": "engine ground", "kind": "contact", "part": "ground", "resistance_ohm": 0.004},
        ],
    }
