"""What is told of each position of a switch, and of relays for its loads."""

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True, slots=True)
class SwitchPosition:
    """What the switch carries in one position."""

    name: Annotated[str, "the position as the request names it"]
    current_a: Annotated[float, "through the switch; relays with their coils only"]
    drop_v: Annotated[float, "across its contacts"]
    drop_percent: Annotated[float | None, "the same, of supply_v; null without it"]
    power_w: Annotated[float, "heat made in its contacts"]
    utilisation_percent: Annotated[float, "current of the rating"]
    loads: Annotated[tuple[str, ...], "names of what is fed in it"]


@dataclass(frozen=True, slots=True)
class SwitchRelief:
    """What one relay would take off the switch."""

    name: Annotated[str, "load that would get the relay"]
    positions: Annotated[tuple[str, ...], "positions that it relieves"]
    current_after_a: Annotated[float, "through the switch in its then worst position"]
    power_after_w: Annotated[float, "heat in the switch in that position"]
    power_saved_w: Annotated[float, "heat taken out of the worst position"]


@dataclass(frozen=True, slots=True)
class SwitchStep:
    """The switch after one more relay."""

    name: Annotated[str, "load that gets this relay, on top of those before"]
    worst_position: Annotated[str, "position that then carries most"]
    current_a: Annotated[float, "through the switch in it"]
    power_w: Annotated[float, "heat in the switch in it"]
    utilisation_percent: Annotated[float, "current of the rating"]
