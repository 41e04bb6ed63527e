"""What a layman, a bot or an agent says of a load that gets too little, or might."""

from collections.abc import Iterator
from typing import ClassVar

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    choice,
    count,
    flag,
    known,
    quantity,
    size,
)
from lastvolt_service.operations.decision.choice_request import MOST_M
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.wires.fields import NOMINALS
from lastvolt_service.tables import usual
from lastvolt_service.tables.sizes import HOW_WRITTEN

# Where a load may lie, and the zone whose highest ambient it has there.
ZONES = {
    "cabin": "cabin",
    "engine_bay": "engine_bay",
    "on_the_engine": "engine_bay_near_exhaust",
    "outside": "outside_body",
}
# Loads that one relay does not serve, and what each takes one for.
ONE_FOR_EACH = {
    "headlamps": "beam",
    "wipers": "speed",
    "power_window": "direction",
    "winch": "direction",
}
RETURNS = ("body", "positive_body", "wire")
# How it fails where volts at the load tell little of it.
COMPLAINTS = ("sometimes", "blows_fuse", "gets_hot", "turns_slowly", "not_charged")
FAILS = ("never", "hot", "cold", "always", *COMPLAINTS)
WEAR = ("new", "used", "old", "very_old")
OTHER = "other"
FAN, BLOWER, CABIN = "fan", "blower", "cabin"
# Beyond this no wire of the trade's relays, nor a usual switch, is meant. [A]
MOST_A = 100.0
TOO_MUCH = (
    f"Up to {MOST_A:g} A are told of here. For more, such as a large winch or a starter's motor, "
    "ask wire-sizing, with its load_profile, for its cables and fuse."
)


class QuickAnswerRequest(Fields):
    """A load, how far off it is, and whatever else is known."""

    system_v: float = count("nominal voltage of the system", choices=NOMINALS)
    load: str = choice(
        "what is fed; by default something else, and then what it takes must be given",
        tuple(usual.loads()),
        default=OTHER,
    )
    distance_m: float = quantity(
        "about how far it is from the battery to the load, along the wire",
        minimum=0.2,
        maximum=MOST_M,
    )
    current_a: float = quantity(
        f"what the load takes, up to {MOST_A:g}; by default what is usual for it",
        minimum=0.1,
        default=ABSENT,
    )
    return_path: str = choice(
        "how the current comes back: through the body at the negative post, through the body at "
        "the positive post, or through a wire of its own (of a starter: at it the heavy cable back "
        "begins)",
        RETURNS,
        default="body",
    )
    wear: str | None = choice(
        "how worn switch, plugs and grounds are; by default anything from new to very old",
        WEAR,
        default=ABSENT,
    )
    zone: str | None = choice(
        "where the load lies; by default where such a load does", tuple(ZONES), default=ABSENT
    )
    fails: str | None = choice(
        "when the load fails or is weak, sometimes if it comes and goes, or how: its fuse blows; "
        "switch, button or plug gets hot or melts; a starter pulls in and turns slowly; the "
        "battery is not charged; by default it is not known",
        FAILS,
        default=ABSENT,
    )
    wire: str | None = size(
        f"size of its wire: {HOW_WRITTEN}; by default what is usual for its current",
        default=ABSENT,
    )
    switch_to_be_had: bool = flag("whether its switch can be cleaned, or bought new", default=True)

    example: ClassVar = {
        "system_v": 12,
        "load": "starter_solenoid",
        "distance_m": 11,
        "wear": "old",
        "fails": "hot",
    }

    def broken_rules(self) -> Iterator[Broken]:
        """What is usual of nothing in particular is not known."""
        yield from super().broken_rules()
        unknown = self.load == OTHER and not known(self.current_a)
        yield unknown, ("current_a",), "Give what it takes: of another load it is not known."
        slow = self.fails == "turns_slowly" and self.load != STARTER_SOLENOID
        yield slow, ("fails",), "Of a starter only: of what else is slow say when it is."
        yield known(self.current_a) and self.current_a > MOST_A, ("current_a",), TOO_MUCH

    @property
    def usual(self) -> usual.UsualLoad:
        """What is usual of such a load; a fan in the cabin blows for its heater."""
        blows = (self.load, self.zone) == (FAN, CABIN)
        return usual.loads()[BLOWER if blows else self.load]

    @property
    def place(self) -> str:
        """Where the load lies."""
        return self.zone or self.usual.zone

    @property
    def fails_at_times(self) -> bool:
        """Whether it is known to fail."""
        return self.fails not in {None, "never"}
