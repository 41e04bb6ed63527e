"""Requests about heat in wires, their sizes and their fuses."""

from typing import ClassVar

from lastvolt_service.schemas.base import Groups, JSONObject, Request
from lastvolt_service.schemas.fields import Choice, Quantity, Size
from lastvolt_service.schemas.parts import DropLimit, Metal, WireSize, Zoned
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.sizes import STANDARDS

LIMIT = ("insulation", "insulation_limit_c")


class Fuse(Request):
    """Fields that say what a fuse has to bear."""

    inrush_current_a = Quantity("first current of the load", optional=True)
    inrush_time_s = Quantity(
        "how long the first current flows", minimum=1e-3, maximum=3600.0, default=0.1
    )
    fuse_ambient_c = Quantity(
        "temperature around the fuse, where it is not that of the wire",
        maximum=250.0,
        optional=True,
    )
    fuse_family = Choice(
        "family of fuses; by default the first that has a rating which fits",
        fuse_families(),
        optional=True,
    )


class FuseSelectionRequest(WireSize, Zoned, Fuse):
    """A load and the wire that its fuse must protect."""

    exactly_one_of: ClassVar[Groups] = (
        *Zoned.exactly_one_of,
        ("size", "permissible_current_a"),
    )
    needs: ClassVar[Groups] = (("size", *LIMIT),)

    size = Size(optional=True)
    permissible_current_a = Quantity(
        "steady current that the wire may carry at its ambient, in place of the wire",
        minimum=1e-3,
        optional=True,
    )
    load_current_a = Quantity("steady current of the load", minimum=1e-6)

    example: ClassVar[JSONObject] = {
        "load_current_a": 12,
        "inrush_current_a": 60,
        "size": "12 AWG",
        "insulation": "GXL",
        "zone": "engine_bay",
        "fuse_ambient_c": 60,
    }


class WireSizingRequest(Metal, Zoned, DropLimit, Fuse):
    """A load, the way to it, and what the wire may drop and bear."""

    at_least_one_of: ClassVar[Groups] = (LIMIT,)

    load_current_a = Quantity("steady current of the load", minimum=1e-6)
    length_m = Quantity("length of the way to the load, one way")
    return_path = Choice(
        "how the current comes back: through a wire of the same size, or through the body",
        ("wire", "body"),
    )
    body_resistance_ohm = Quantity(
        "of the return through the body with its joints; by default what is satisfactory",
        maximum=1e3,
        optional=True,
    )
    standard = Choice("standard of the sizes", tuple(STANDARDS), default="AWG")

    example: ClassVar[JSONObject] = {
        "supply_v": 13.8,
        "load_current_a": 12,
        "length_m": 5.5,
        "return_path": "body",
        "zone": "engine_bay",
        "insulation": "GXL",
        "grouped_conductors": 4,
        "limit_drop_percent": 4,
        "inrush_current_a": 50,
        "fuse_ambient_c": 60,
    }
