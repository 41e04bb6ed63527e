"""Requests about what the driver's switch carries."""

from typing import ClassVar

from marshmallow import ValidationError, validates_schema

from lastvolt_service.schemas.base import JSONObject, Request
from lastvolt_service.schemas.fields import Flag, Many, Name, Part, Quantity
from lastvolt_service.schemas.parts import refuse_same_names, supply

MAX_POSITIONS = 10
MAX_SWITCH_LOADS = 50
RELAY_COIL_A = 0.2  # common practice, no source


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
