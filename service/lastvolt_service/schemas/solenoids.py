"""Requests about solenoids."""

from typing import ClassVar

from lastvolt_service.schemas.base import Groups, JSONObject, Request
from lastvolt_service.schemas.fields import Part, Quantity
from lastvolt_service.schemas.parts import supply


class RatedSolenoid(Request):
    """A solenoid by its maker's pull-in voltage, or by a test on the bench."""

    pull_in_v = supply("voltage at which the plunger is sure to move")
    hold_in_v = supply("voltage below which it lets go", minimum=0.01, optional=True)
    resistance_ohm = Quantity(
        "between its terminal and ground before it closes, for currents and paths",
        minimum=1e-3,
        optional=True,
    )
    reference_temperature_c = Quantity("winding temperature of these values", default=20.0)


class SolenoidWindings(Request):
    """A starter solenoid by its two windings."""

    pull_in_turns = Quantity("turns of the pull-in winding")
    pull_in_resistance_ohm = Quantity(
        "of the pull-in winding, which returns through the motor", minimum=1e-3
    )
    hold_in_turns = Quantity("turns of the hold-in winding")
    hold_in_resistance_ohm = Quantity("of the hold-in winding, which goes to ground", minimum=1e-3)
    motor_resistance_ohm = Quantity("of the starter motor at rest", default=0.0)
    ampere_turns = Quantity("of both windings together at which the plunger moves")
    hold_ampere_turns = Quantity("that keep the closed plunger", optional=True)
    reference_temperature_c = Quantity("temperature of these resistances", default=20.0)


class Plunger(Request):
    """A solenoid by the force that its plunger needs."""

    together: ClassVar[Groups] = (("hold_force_n", "hold_gap_mm"),)

    force_n = Quantity("force that moves the plunger")
    gap_mm = Quantity("air gap before it moves")
    area_mm2 = Quantity("area of the pole", minimum=0.1)
    turns = Quantity("turns of the winding")
    resistance_ohm = Quantity("of the winding at the reference temperature", minimum=1e-3)
    hold_force_n = Quantity("force that keeps the closed plunger", optional=True)
    hold_gap_mm = Quantity("air gap that is left when it has closed", optional=True)
    reference_temperature_c = Quantity("temperature of this resistance", default=20.0)


class SolenoidPullInRequest(Request):
    """A solenoid, the temperature of its windings, and what reaches it."""

    exactly_one_of: ClassVar[Groups] = (
        ("rated", "windings", "plunger"),
        ("available_v", "supply_v"),
    )
    together: ClassVar[Groups] = (("supply_v", "path_resistance_ohm"),)

    rated = Part(RatedSolenoid, "the solenoid by its pull-in voltage", optional=True)
    windings = Part(SolenoidWindings, "the solenoid by its two windings", optional=True)
    plunger = Part(Plunger, "the solenoid by force and air gap", optional=True)
    temperature_c = Quantity("temperature of the windings when it must pull in", maximum=250.0)
    available_v = supply(
        "voltage at the solenoid's terminal with its current flowing", optional=True
    )
    supply_v = supply(
        "voltage at the start of the path, with its path_resistance_ohm", optional=True
    )
    path_resistance_ohm = Quantity(
        "of the path to the solenoid, out and back", maximum=1e3, optional=True
    )
    dip_v = Quantity(
        "lowest voltage at the terminal while it must hold, such as in a cranking dip",
        maximum=60.0,
        optional=True,
    )

    example: ClassVar[JSONObject] = {
        "windings": {
            "pull_in_turns": 200,
            "pull_in_resistance_ohm": 0.35,
            "hold_in_turns": 200,
            "hold_in_resistance_ohm": 1.1,
            "motor_resistance_ohm": 0.02,
            "ampere_turns": 4500,
            "hold_ampere_turns": 700,
        },
        "temperature_c": 110,
        "supply_v": 12.2,
        "path_resistance_ohm": 0.06,
        "dip_v": 7.0,
    }
