"""Requests about what feeds the circuits and what the driver's switch carries."""

from typing import ClassVar

from marshmallow import ValidationError, validates_schema

from lastvolt_service.schemas.base import JSONObject, Request
from lastvolt_service.schemas.fields import Count, Flag, Many, Name, Part, Quantity
from lastvolt_service.schemas.parts import NOMINALS, refuse_same_names, supply

MAX_POSITIONS = 10
MAX_SWITCH_LOADS = 50
RELAY_COIL_A = 0.2  # common practice, no source


class Battery(Request):
    """A lead-acid starter battery by its ratings and state."""

    nominal_v = Count("nominal voltage: 6, 12 or 24", choices=NOMINALS)
    cold_cranking_a = Quantity(
        "cold-cranking rating: the current that it delivers for 30 s at -18 degC",
        minimum=1.0,
        maximum=5000.0,
    )
    state_of_charge_percent = Quantity("state of charge", default=100.0)
    temperature_c = Quantity(
        "temperature of the electrolyte; by default the ambient of the case",
        maximum=100.0,
        optional=True,
    )
    internal_resistance_ohm = Quantity(
        "measured at this temperature and state of charge, in place of the estimate",
        minimum=1e-5,
        maximum=10.0,
        optional=True,
    )


class BatteryVoltageRequest(Battery):
    """A battery with a load on it."""

    temperature_c = Quantity("temperature of the electrolyte", maximum=100.0)
    current_a = Quantity("current that is drawn from it")

    example: ClassVar[JSONObject] = {
        "nominal_v": 12,
        "cold_cranking_a": 700,
        "state_of_charge_percent": 75,
        "temperature_c": -10,
        "current_a": 300,
    }


class SwitchLoad(Request):
    """One load that a switch feeds."""

    name = Name("what the answer calls this load")
    current_a = Quantity("steady current of the load itself", minimum=1e-3)
    positions = Many(
        Name("a position"),
        "positions of the switch in which it is fed; you choose their names",
        maximum=MAX_POSITIONS,
    )
    through_relay = Flag(
        "whether it has a relay, so that the switch carries the relay's coil only", default=False
    )

    @validates_schema
    def _each_position_once(self, data: JSONObject, **_kwargs: object) -> None:
        if len(set(data["positions"])) < len(data["positions"]):
            raise ValidationError({"positions": ["Name each position once."]})


class SwitchLoadingRequest(Request):
    """A switch of several positions with its loads."""

    rating_a = Quantity("steady current that the switch is rated for", minimum=1e-3)
    contact_resistance_ohm = Quantity("of the closed switch, as it is", maximum=1e3)
    relay_coil_current_a = Quantity(
        "what the coil of each relay takes", default=RELAY_COIL_A, maximum=10.0
    )
    supply_v = supply(
        "voltage at the switch, to tell the share of it that the contacts take", optional=True
    )
    loads = Many(  # type: ignore[assignment]  # a field of this name hides no method
        Part(SwitchLoad, "one load"),
        "what the switch feeds, in any position",
        maximum=MAX_SWITCH_LOADS,
    )

    example: ClassVar[JSONObject] = {
        "rating_a": 15,
        "contact_resistance_ohm": 0.012,
        "supply_v": 12.4,
        "loads": [
            {"name": "ignition coil", "current_a": 4.5, "positions": ["run", "start"]},
            {"name": "fuel pump", "current_a": 9, "positions": ["run", "start"]},
            {"name": "starter solenoid", "current_a": 9.5, "positions": ["start"]},
            {"name": "reading lamps", "current_a": 6, "positions": ["accessory", "run"]},
            {
                "name": "heater blower",
                "current_a": 12,
                "positions": ["run"],
                "through_relay": True,
            },
        ],
    }

    @validates_schema
    def _each_name_once(self, data: JSONObject, **_kwargs: object) -> None:
        refuse_same_names("loads", data["loads"])
        if len({name for load in data["loads"] for name in load["positions"]}) > MAX_POSITIONS:
            raise ValidationError(
                {"loads": [f"A switch may have {MAX_POSITIONS} positions at most."]}
            )
