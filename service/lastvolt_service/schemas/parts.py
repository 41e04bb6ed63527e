"""Groups of fields that several requests share."""

from typing import Any, ClassVar

from lastvolt_service.schemas.base import Groups, Request
from lastvolt_service.schemas.fields import Choice, Count, Quantity, Size
from lastvolt_service.tables.insulation import insulation_kinds
from lastvolt_service.tables.limits import drop_limits
from lastvolt_service.tables.materials import material_names
from lastvolt_service.tables.practice import zones
from lastvolt_service.tables.sizes import STANDARDS

MAX_SUPPLY_V = 60.0  # the ceiling of the low-voltage wiring that SAE J1127 and J1128 are made for
MAX_GROUPED = 200
MAX_ALTITUDE_M = 6000.0
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


class Metal(Request):
    """Fields that say what a conductor is made of."""

    material = Choice("metal of the conductor", material_names(), default="copper")
    construction = Choice("stranded or solid", CONSTRUCTIONS, default="stranded")


class WireSize(Metal):
    """Fields that describe a conductor."""

    size = Size()
    standard = Choice(
        "standard of the size; by default AWG, SAE or IEC 60228 by the way it is written",
        tuple(STANDARDS),
        optional=True,
    )


class Surroundings(Request):
    """Fields that say what a wire wears and where it lies."""

    insulation = Choice("kind of insulated wire", insulation_kinds(), optional=True)
    insulation_limit_c = Quantity(
        "temperature that the conductor may have, in place of that of the kind",
        minimum=40.0,
        maximum=300.0,
        optional=True,
    )
    outer_diameter_mm = Quantity(
        "over the insulation, in place of the usual one", minimum=0.2, maximum=60.0, optional=True
    )
    grouped_conductors = Count(
        "loaded conductors side by side in the loom, itself included",
        minimum=1,
        maximum=MAX_GROUPED,
        default=1,
    )
    altitude_m = Quantity("height above the sea", maximum=MAX_ALTITUDE_M, default=0.0)
    ambient_c = Quantity("temperature of the air around the wire", maximum=250.0, optional=True)


class Zoned(Surroundings):
    """Surroundings whose ambient may be named by a zone of the vehicle."""

    exactly_one_of: ClassVar[Groups] = (("ambient_c", "zone"),)

    zone = Choice(
        "zone of the vehicle, for its usual highest ambient", tuple(zones()), optional=True
    )


class DropLimit(Request):
    """Fields that say what a path may drop, with its supply."""

    at_most_one_of: ClassVar[Groups] = (("limit_drop_v", "limit_drop_percent"),)

    supply_v = supply("voltage at the start of the path, with the current flowing")
    nominal_v = Count(
        "nominal voltage of the system, for the default limit of the drop: 6, 12 or 24; by "
        "default told from supply_v",
        choices=NOMINALS,
        optional=True,
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
