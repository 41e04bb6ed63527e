"""What is told of a battery by itself."""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.operations.results import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class BatteryVoltage(Result):
    """Answer of ``battery-voltage``."""

    open_circuit_v: Annotated[float, "at the posts without load, rested"]
    internal_resistance_ohm: Annotated[
        float | None,
        "of the battery at this temperature; null where it is colder than any cranking power that "
        "is published and none is given, and with it all that follows from it",
    ]
    internal_resistance_low_ohm: Annotated[
        float | None, "least that it may have: of a new one that betters its rating; as measured"
    ]
    internal_resistance_high_ohm: Annotated[
        float | None, "most that it may have by its charge and age; as measured"
    ]
    internal_resistance_estimated: Annotated[
        bool, "whether it is told from the cold-cranking rating, not measured"
    ]
    terminal_v: Annotated[float | None, "at the posts with the current flowing"]
    terminal_low_v: Annotated[float | None, "the same with the most internal resistance"]
    terminal_high_v: Annotated[float | None, "the same with the least internal resistance"]
    flat: Annotated[bool, "whether it is charged to a quarter at most"]
    too_hot: Annotated[bool, "whether it is too hot to be charged"]
    may_be_frozen: Annotated[
        bool, "whether it is colder than its electrolyte freezes at, or nearly so"
    ]
    short_circuit_a: Annotated[float | None, "into a dead short across the posts"]
    load_test_a: Annotated[float, "current of a load test: half of the cold-cranking rating"]
    load_test_v: Annotated[
        float | None,
        "what a load test asks a sound battery for at this temperature; null where it is colder "
        "than any that is published",
    ]
