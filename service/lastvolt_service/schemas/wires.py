"""Requests about conductors and paths."""

from typing import Any, ClassVar

from lastvolt_service.schemas.base import Groups, JSONObject, Request
from lastvolt_service.schemas.fields import Choice, Count, Kinded, Many, Name, Quantity, Size
from lastvolt_service.tables.limits import contact_limits, drop_limits
from lastvolt_service.tables.materials import material_names
from lastvolt_service.tables.sizes import STANDARDS

MAX_SUPPLY_V = 60.0  # the ceiling of the low-voltage wiring that SAE J1127 and J1128 are made for
CONSTRUCTIONS = ("stranded", "solid")
NOMINALS = tuple(sorted({nominal for _, nominal in drop_limits()}))
CIRCUITS = tuple(dict.fromkeys(circuit for circuit, _ in drop_limits()))


def supply(description: str, **options: Any) -> Quantity:
    """Make a field for a voltage of the vehicle's supply.

    Parameters
    ----------
    description : str
        Meaning.
    **options : object
        As for `Quantity`.

    Returns
    -------
    Quantity
    """
    return Quantity(description, **{"minimum": 0.1, "maximum": MAX_SUPPLY_V, **options})


class ConductorsQuery(Request):
    """Which conductor sizes to list."""

    standard = Choice("list the sizes of this standard only", tuple(STANDARDS), optional=True)
    example: ClassVar[JSONObject] = {"standard": "SAE"}


class Wire(Request):
    """Fields that describe a wire."""

    size = Size()
    standard = Choice(
        "standard of the size; by default AWG, SAE or IEC 60228 by the way it is written",
        tuple(STANDARDS),
        optional=True,
    )
    length_m = Quantity("length of the wire, one way")
    temperature_c = Quantity("temperature of the conductor", maximum=300, default=20.0)
    material = Choice("metal of the conductor", material_names(), default="copper")
    construction = Choice("stranded or solid", CONSTRUCTIONS, default="stranded")


class WireResistanceRequest(Wire):
    """One wire."""

    example: ClassVar[JSONObject] = {"size": "12 AWG", "length_m": 6.5, "temperature_c": 60}


class WireSegment(Wire):
    """A wire in a path."""

    name = Name("what the answer calls this wire")
    kind = Choice("wire", ("wire",))


class ContactSegment(Request):
    """A contact in a path."""

    name = Name("what the answer calls this contact")
    kind = Choice("contact", ("contact",))
    part = Choice("what makes the contact", tuple(contact_limits()))
    resistance_ohm = Quantity("resistance of the contact as it is", maximum=1e3)
    rating_a = Quantity("steady current that the part is rated for", minimum=1e-3, optional=True)


class ResistanceSegment(Request):
    """A known resistance in a path."""

    name = Name("what the answer calls this part")
    kind = Choice("resistance", ("resistance",))
    resistance_ohm = Quantity("resistance of the part")


class VoltageDropRequest(Request):
    """A load at the end of a series path, out and back."""

    exactly_one_of: ClassVar[Groups] = (("load_current_a", "load_resistance_ohm", "load_power_w"),)
    at_most_one_of: ClassVar[Groups] = (("limit_drop_v", "limit_drop_percent"),)

    supply_v = supply("voltage at the start of the path, with the current flowing")
    nominal_v = Count(
        "nominal voltage of the system, for the default limit of the drop: 6, 12 or 24; by "
        "default told from supply_v",
        choices=NOMINALS,
        optional=True,
    )
    load_current_a = Quantity("load that takes this current at any voltage", optional=True)
    load_resistance_ohm = Quantity("load that keeps this resistance", minimum=1e-4, optional=True)
    load_power_w = Quantity("load that takes this power at any voltage", optional=True)
    segments = Many(
        Kinded({"wire": WireSegment, "contact": ContactSegment, "resistance": ResistanceSegment}),
        "parts that the current runs through, out and back, in order; the load is not one of them",
    )
    circuit = Choice(
        "kind of circuit, for the default limit of the drop", CIRCUITS, default="continuous"
    )
    limit_drop_v = Quantity(
        "largest drop of the whole path", minimum=1e-3, maximum=MAX_SUPPLY_V, optional=True
    )
    limit_drop_percent = Quantity(
        "largest drop of the whole path, of the supply", minimum=0.01, optional=True
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
