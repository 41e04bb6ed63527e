# Generated from openapi.json by sdk/generate: do not edit.
"""Types that several operations share. Whole circuits."""

from typing import Literal

OutputSpreadCode = Literal["load_voltage", "load_margin", "coil_voltage", "coil_margin"]
"""What `OutputSpread.code` may be."""

Advice = Literal[
    "mend",
    "relay",
    "mend_then_relay",
    "insurance",
    "not_the_wiring",
    "battery_first",
    "nothing_needed",
    "find_out_first",
    "unsafe",
    "none_suffices",
]
"""What `advice` may be."""

BatteryState = Literal["frozen", "dead", "low", "weak"]
"""What `battery_state` may be."""

Code = Literal[
    "as_is", "battery", "mend", "battery_and_mend", "relay", "mend_then_relay", "all_of_these"
]
"""What `code` may be."""
