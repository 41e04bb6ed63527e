# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Heat in wires, their sizes and their fuses."""

from typing import Literal

Zone = Literal[
    "cabin",
    "cabin_in_the_sun",
    "outside_body",
    "underbody",
    "battery_box",
    "engine_bay",
    "engine_bay_near_exhaust",
]
"""What `zone` may be."""

LoadProfile = Literal[
    "steady",
    "lamp",
    "motor",
    "glow_plug",
    "horn",
    "starter_solenoid",
    "cranking",
    "motor_brief",
    "winch",
]
"""What `load_profile` may be."""
