"""Requests about relay coils and contacts."""

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from lastvolt_service.rows import NOT_GIVEN, are, given, pick
from lastvolt_service.schemas.base import Broken, JSONObject, Request
from lastvolt_service.schemas.fields import Choice, Flag, Many, Part, Quantity
from lastvolt_service.schemas.parts import supply
from lastvolt_service.tables.limits import inrush

SUPPRESSIONS = ("none", "diode", "resistor", "zener")


class Suppression(Request):
    """What is wired across a coil against its switch-off peak."""

    kind = Choice("none, diode, resistor or zener", SUPPRESSIONS)
    resistance_ohm = Quantity("of the resistor across the coil", minimum=1.0, optional=True)
    zener_v = Quantity(
        "clamping voltage of the zener with the diode in series with it",
        minimum=1.0,
        optional=True,
    )

    def broken_rules(self, data: Mapping[str, Any]) -> Iterator[Broken]:
        """Each kind has its own value."""
        for kind, name in (("resistor", "resistance_ohm"), ("zener", "zener_v")):
            is_kind, has = are(data["kind"], kind), given(data.get(name))
            yield is_kind > has, (name,), f"A {kind} needs this value."
            yield has > is_kind, (name,), f"Only a {kind} has this value."


class RelayCoilRequest(Request):
    """A relay's coil where it is mounted."""

    nominal_v = supply("nominal voltage of the coil")
    coil_resistance_ohm = Quantity("of the coil at the reference temperature", minimum=0.1)
    pick_up_v = supply("voltage at which the relay is sure to close, at the reference temperature")
    drop_out_v = supply(
        "voltage below which the relay opens, at the reference temperature",
        minimum=0.01,
        optional=True,
    )
    reference_temperature_c = Quantity("temperature of the maker's values", default=20.0)
    ambient_c = Quantity("temperature around the relay", maximum=200.0)
    available_v = supply("lowest voltage at the coil when the relay must close")
    dip_v = Quantity(
        "lowest voltage at the coil while it must hold, such as in a cranking dip",
        maximum=60.0,
        optional=True,
    )
    maximum_v = supply(
        "highest lasting voltage at the coil, such as the charging voltage", optional=True
    )
    thermal_resistance_k_per_w = Quantity("rise of the coil per watt", optional=True)
    coil_limit_c = Quantity("highest temperature of the coil's insulation", optional=True)
    energised_before = Flag(
        "whether the headline values are for a coil that was energised until just before",
        default=True,
    )
    suppression = Part(Suppression, "what is wired across the coil", default={"kind": "none"})
    switch_limit_v = Quantity(
        "highest voltage that the switch or driver of the coil stands",
        minimum=1.0,
        maximum=1e4,
        optional=True,
    )

    def broken_rules(self, data: Mapping[str, Any]) -> Iterator[Broken]:
        """It opens below the voltage that closes it."""
        wrong = data.get("drop_out_v", NOT_GIVEN) >= data["pick_up_v"]
        yield wrong, ("drop_out_v",), "This must be below pick_up_v."

    example: ClassVar[JSONObject] = {
        "nominal_v": 12,
        "coil_resistance_ohm": 90,
        "pick_up_v": 6.9,
        "drop_out_v": 1.2,
        "ambient_c": 85,
        "available_v": 11.4,
        "dip_v": 6.5,
        "maximum_v": 14.4,
        "thermal_resistance_k_per_w": 32,
        "coil_limit_c": 155,
        "suppression": {"kind": "resistor", "resistance_ohm": 680},
    }


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
