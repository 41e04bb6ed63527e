"""Requests about relay coils and contacts."""

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from lastvolt_service.rows import given, pick
from lastvolt_service.schemas.base import Broken, JSONObject, Request
from lastvolt_service.schemas.fields import Choice, Many, Part, Quantity
from lastvolt_service.schemas.parts import supply
from lastvolt_service.tables.limits import inrush


class DeratingPoint(Request):
    """One point of a maker's derating curve."""

    ambient_c = Quantity("temperature around the part", maximum=250.0)
    current_a = Quantity("current allowed at it")


class RelayContactRequest(Request):
    """A relay's contact with its load."""

    rating_a = Quantity("steady current that the contact is rated for", minimum=1e-3)
    rating_ambient_c = Quantity("ambient temperature of that rating", default=23.0, maximum=250.0)
    derating = Many(
        Part(DeratingPoint, "one point of the curve"),
        "the maker's points above the rating's ambient, in rising order of temperature",
        minimum=0,
        maximum=20,
        optional=True,
    )
    make_rating_a = Quantity("current that the contact may close on", minimum=1e-3, optional=True)
    supply_v = supply("highest voltage that the contact breaks")
    rated_v = Quantity("DC voltage that the contact is rated for", minimum=1.0)
    load_current_a = Quantity("steady current of the load", minimum=1e-6)
    load_kind = Choice("kind of load, for its inrush", tuple(inrush()))
    inrush_current_a = Quantity(
        "first current of the load, measured or from its maker", optional=True
    )
    contact_resistance_ohm = Quantity("of the closed contact", maximum=1e3, optional=True)
    minimum_current_a = Quantity(
        "smallest current that keeps the contact material clean", optional=True
    )
    ambient_c = Quantity("temperature around the relay", maximum=250.0)

    example: ClassVar[JSONObject] = {
        "rating_a": 40,
        "rating_ambient_c": 23,
        "derating": [{"ambient_c": 85, "current_a": 30}, {"ambient_c": 125, "current_a": 17}],
        "make_rating_a": 120,
        "supply_v": 14.4,
        "rated_v": 16,
        "load_current_a": 10,
        "load_kind": "solenoid",
        "inrush_current_a": 48,
        "contact_resistance_ohm": 0.003,
        "ambient_c": 95,
    }

    def broken_rules(self, data: Mapping[str, Any]) -> Iterator[Broken]:
        """The curve falls."""
        ambient, current = data["rating_ambient_c"], data["rating_a"]
        for index, point in enumerate(data["derating"]):
            yield (
                point["ambient_c"] <= ambient,
                ("derating", index, "ambient_c"),
                "This must be above the temperature of the point before.",
            )
            yield (
                point["current_a"] > current,
                ("derating", index, "current_a"),
                "This must not exceed the current of the point before.",
            )
            here = given(point["ambient_c"])
            ambient = pick(here, point["ambient_c"], ambient)
            current = pick(here, point["current_a"], current)
