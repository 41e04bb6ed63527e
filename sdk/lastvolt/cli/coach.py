"""The demo: the mobile-library coach of Lindwater County, an invented place.

Its key switch at the dashboard feeds the starter solenoid at the rear through a long harness.
"""

from typing import TypedDict

from lastvolt.inputs import Circuit, Segment, SolenoidWindings

BATTERY_V = 12.2  # resting, half discharged, before the motor turns
CRANKING_V = 9.0  # at the battery while the motor cranks
CHARGING_V = 14.4
COLD_C, HOT_C = -10.0, 115.0  # winding of the solenoid: a frosty morning, and a hot restart
BAY_C = 85.0  # engine bay where the relay would sit

SOLENOID: SolenoidWindings = {
    "pull_in_turns": 190,
    "pull_in_resistance_ohm": 0.55,
    "hold_in_turns": 190,
    "hold_in_resistance_ohm": 1.5,
    "motor_resistance_ohm": 0.02,
    "ampere_turns": 3200,
    "hold_ampere_turns": 480,
}
HARNESS: list[Segment] = [
    {"name": "battery to key switch", "kind": "wire", "size": "12 AWG", "length_m": 10.5,
     "temperature_c": 30},
    {"name": "key switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.05,
     "rating_a": 20},
    {"name": "key switch to the rear", "kind": "wire", "size": "12 AWG", "length_m": 11.0,
     "temperature_c": 45},
    {"name": "body ground", "kind": "contact", "part": "ground", "resistance_ohm": 0.004},
]  # fmt: skip
BESIDE_STARTER: list[Segment] = [
    {"name": "fuse", "kind": "contact", "part": "fuse", "resistance_ohm": 0.002},
    {"name": "starter cable to relay", "kind": "wire", "size": "10 AWG", "length_m": 0.5,
     "temperature_c": BAY_C},
    {"name": "relay 30 to 87", "kind": "contact", "part": "relay", "resistance_ohm": 0.003,
     "rating_a": 40},
    {"name": "relay to solenoid", "kind": "wire", "size": "10 AWG", "length_m": 0.4,
     "temperature_c": BAY_C},
]  # fmt: skip
COIL_RESISTANCE_OHM = 90
PICK_UP_V = 6.9
DROP_OUT_V = 1.2
COIL_K_PER_W = 30
COIL_LIMIT_C = 155


class Other(TypedDict):
    """Another circuit of the coach."""

    title: str
    supply_v: float
    load_current_a: float
    circuit: Circuit
    segments: list[Segment]


OTHERS: list[Other] = [
    {
        "title": "Reading lamps over the shelves",
        "supply_v": 13.8, "load_current_a": 6.5, "circuit": "continuous",
        "segments": [
            {"name": "wire to the shelves", "kind": "wire", "size": "2.5 mm2", "length_m": 6.0},
            {"name": "lamp switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.008},
            {"name": "wire back", "kind": "wire", "size": "2.5 mm2", "length_m": 6.0},
        ],
    },
    {
        "title": "Step lift at the door",
        "supply_v": 12.4, "load_current_a": 28, "circuit": "intermittent",
        "segments": [
            {"name": "fuse", "kind": "contact", "part": "fuse", "resistance_ohm": 0.002},
            {"name": "wire to the door", "kind": "wire", "size": "6 mm2", "length_m": 7.0},
            {"name": "door switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.002},
            {"name": "chassis ground", "kind": "contact", "part": "ground",
             "resistance_ohm": 0.003},
        ],
    },
]  # fmt: skip
