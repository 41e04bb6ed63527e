"""A switch of several positions and its loads, as requests say them."""

from collections.abc import Iterator
from typing import ClassVar

from lastvolt_service.fields import ABSENT, Broken, Fields, Name, flag, many, name, quantity
from lastvolt_service.operations.common_fields import same_names, supply

MAX_POSITIONS = 10
MAX_LOADS = 50
RELAY_COIL_A = 0.2  # common practice, no source


class SwitchLoad(Fields):
    """One load that a switch feeds."""

    name: str = name("what the answer calls this load")
    current_a: float = quantity("steady current of the load itself", minimum=1e-3)
    positions: list[str] = many(
        Name(meaning="a position"),
        "positions of the switch in which it is fed; you choose their names",
        maximum=MAX_POSITIONS,
    )
    through_relay: bool = flag(
        "whether it has a relay, so that the switch carries the relay's coil only", default=False
    )

    def broken_rules(self) -> Iterator[Broken]:
        """It is fed in a position or not, once."""
        twice = len(set(self.positions)) < len(self.positions)
        yield twice, ("positions",), "Name each position once."


class SwitchLoadingRequest(Fields):
    """A switch of several positions with its loads."""

    rating_a: float = quantity("steady current that the switch is rated for", minimum=1e-3)
    contact_resistance_ohm: float = quantity("of the closed switch, as it is", maximum=1e3)
    relay_coil_current_a: float = quantity(
        "what the coil of each relay takes", default=RELAY_COIL_A, maximum=10.0
    )
    supply_v: float = supply(
        "voltage at the switch, to tell the share of it that the contacts take", default=ABSENT
    )
    loads: list[SwitchLoad] = many(
        SwitchLoad, "what the switch feeds, in any position", maximum=MAX_LOADS
    )

    example: ClassVar = {
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

    def broken_rules(self) -> Iterator[Broken]:
        """Each load has a name of its own, and the positions are as many as a switch has."""
        twice = [*same_names("loads", self.loads)]
        yield from twice
        places = {place for load in self.loads for place in load.positions}
        many_places = not twice and len(places) > MAX_POSITIONS
        yield many_places, ("loads",), f"A switch may have {MAX_POSITIONS} positions at most."
