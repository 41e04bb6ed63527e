"""Requests about relay coils and contacts."""

from typing import ClassVar

from marshmallow import ValidationError, validates_schema

from lastvolt_service.schemas.base import JSONObject, Request
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

    @validates_schema
    def _value_of_the_kind(self, data: JSONObject, **_kwargs: object) -> None:
        needed = {"resistor": "resistance_ohm", "zener": "zener_v"}
        for kind, name in needed.items():
            if data["kind"] == kind and name not in data:
                raise ValidationError({name: [f"A {kind} needs this value."]})
            if data["kind"] != kind and name in data:
                raise ValidationError({name: [f"Only a {kind} has this value."]})


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

    @validates_schema
    def _opens_below_closing(self, data: JSONObject, **_kwargs: object) -> None:
        if data.get("drop_out_v", 0.0) >= data["pick_up_v"]:
            raise ValidationError({"drop_out_v": ["This must be below pick_up_v."]})

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

    @validates_schema
    def _curve_falls(self, data: JSONObject, **_kwargs: object) -> None:
        ambient, current = data["rating_ambient_c"], data["rating_a"]
        for index, point in enumerate(data["derating"]):
            errors = {}
            if point["ambient_c"] <= ambient:
                errors["ambient_c"] = ["This must be above the temperature of the point before."]
            if point["current_a"] > current:
                errors["current_a"] = ["This must not exceed the current of the point before."]
            if errors:
                raise ValidationError({"derating": {index: errors}})
            ambient, current = point["ambient_c"], point["current_a"]
