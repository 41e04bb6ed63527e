"""A reading of a plan, as it is answered."""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.operations.meter.plan_bands import Band
from lastvolt_service.operations.meter.plan_places import PlaceCode
from lastvolt_service.operations.meter.plan_sound import SoundReading
from lastvolt_service.operations.meter.plan_stages import Phase
from lastvolt_service.operations.meter.plan_wrong import WiredWrong
from lastvolt_service.operations.meter.reading_fields import Kind


@dataclass(frozen=True, slots=True)
class PlannedReading:
    """One reading of a plan."""

    number: Annotated[int, "in the order in which they are taken"]
    code: Annotated[PlaceCode, "what is read"]
    case: Annotated[str, "the case in which it is read, as the request names it"]
    phase: Annotated[
        Phase,
        "what is going on: at_rest, all is off; steady; pull_in, the plunger of a solenoid moves, "
        "or would; held, it has moved before; cranking: of a starter's windings the hold-in one "
        "alone draws; switched_off again",
    ]
    part: Annotated[str | None, "the part that it is about"]
    kind: Annotated[Kind, "what the meter reads; amperes by a clamp"]
    unit: Annotated[str, "V or A"]
    red: Annotated[str | None, "where the red lead goes, in words; null of a clamp"]
    black: Annotated[str | None, "where the black lead goes"]
    clamp: Annotated[str | None, "what the clamp lies round; null of volts"]
    between: Annotated[
        tuple[str, ...], "nodes of the red and the black lead as it is; empty where there is none"
    ]
    between_with_way: Annotated[tuple[str, ...], "the same with the relay"]
    on: Annotated[tuple[str, ...], "loads that are on"]
    as_is: Annotated[Band | None, "what passes as it is; null where there is nothing to read yet"]
    with_way: Annotated[Band | None, "what passes with the relay; null without one"]
    sound_as_is: Annotated[
        SoundReading | None,
        "what is sound there, whatever was given: what passes may be at fault; null where nobody "
        "can say",
    ]
    sound_with_way: Annotated[SoundReading | None, "the same with the relay"]
    wired_wrong: Annotated[
        tuple[WiredWrong, ...], "faults of the new wiring that this reading shows"
    ]
    least_duration_s: Annotated[float, "what is read lasts so long at least"]
    to_be_caught: Annotated[
        bool, "whether it is too short for a meter to settle: by hold, recording, or a known load"
    ]
    text: Annotated[str, "what it tells"]
    how: Annotated[str, "how it is taken"]
    means_if_more: Annotated[str, "what it means when the meter shows more"]
    means_if_less: Annotated[str, "what it means when it shows less"]
    means_if_more_with_way: Annotated[
        str | None, "what more means with the relay, what is wired wrong first; null without one"
    ]
    means_if_less_with_way: Annotated[str | None, "what less means with the relay"]
    cautions: Annotated[tuple[str, ...], "what can hurt someone at this reading"]
