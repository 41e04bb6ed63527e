"""A plan of readings in words: how each is taken, what it means when it is off, what to heed."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.meter.plan_bands import Band
from lastvolt_service.operations.meter.plan_places import Place, PlaceCode
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.reading_fields import Kind
from lastvolt_service.operations.results import CLAMP, HOT_SURFACE, STARTER
from lastvolt_service.tables.load_profiles import load_profiles
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

NAME = "meter-plan"
Phase = Literal["at_rest", "steady", "pull_in", "held", "cranking"]
# What is hotter burns the hand that holds a lead there. [degC]. Common practice.
HOT_C = 60.0
_WHOLE: Mapping[PlaceCode, tuple[str, str]] = {
    "at_rest": ("rest_more", "rest_less"),
    "supply": ("supply_more", "supply_less"),
    "cranking": ("cranking_more", "cranking_less"),
    "new_feed": ("new_feed_more", "side_less"),
    "across_contact": ("new_contact_more", "part_less"),
    "across_coil": ("coil_more", "coil_less"),
    "live_side": ("side_more", "side_less"),
    "ground_side": ("side_more", "side_less"),
    "across_load": ("load_more", "load_less"),
    "through_part": ("through_more", "through_less"),
}
_PARTS = {
    "wire": "wire_more",
    "fuse": "fuse_more",
    "ground": "joint_more",
    "terminal": "joint_more",
    "resistance": "resistance_more",
}


@dataclass(frozen=True, slots=True)
class PlannedReading:
    """One reading of a plan."""

    number: Annotated[int, "in the order in which they are taken"]
    code: Annotated[PlaceCode, "what is read"]
    case: Annotated[str, "the case in which it is read, as the request names it"]
    phase: Annotated[
        Phase,
        "what is going on: at_rest, all is off; steady; pull_in, the plunger of a solenoid moves, "
        "or would; held, it has moved before; cranking",
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
    least_duration_s: Annotated[float, "what is read lasts so long at least"]
    to_be_caught: Annotated[
        bool, "whether it is too short for a meter to settle: by hold, recording, or a known load"
    ]
    text: Annotated[str, "what it tells"]
    how: Annotated[str, "how it is taken"]
    means_if_more: Annotated[str, "what it means when the meter shows more"]
    means_if_less: Annotated[str, "what it means when it shows less"]
    cautions: Annotated[tuple[str, ...], "what can hurt someone at this reading"]


@dataclass(frozen=True, slots=True)
class Before:
    """What is done before the first reading."""

    number: Annotated[int, "of the step"]
    code: Annotated[str, "which step it is, in a word that stays the same"]
    text: Annotated[str, "what to do"]


def sentence(code: str, **values: float | str | bool | None) -> str:
    """Say something of a plan; what it says of a value that is None is left out."""
    return say(catalogue()[NAME].reasons[code], Named(None, values))


def means(place: Place, load: str) -> tuple[str, str]:
    """What it means when a meter shows more, and when it shows less."""
    more, less = _WHOLE.get(place.code) or (
        _PARTS.get(place.kind or "", "contact_more"),
        "part_less",
    )
    return (
        sentence(more, part=place.part, load=load),
        sentence(less, part=place.part, load=load),
    )


def what(place: Place, asked: MeterPlanRequest) -> str:
    """What a reading tells."""
    return sentence(
        place.code,
        load=asked.load,
        switch=asked.switch,
        part=place.part,
        feed_node=asked.way.feed_node if asked.way else None,
    )


def before(asked: MeterPlanRequest, starts: bool) -> tuple[Before, ...]:
    """What is done first, in order."""
    codes = (
        "make_safe", "fans", "sockets", "clamp", "terminals",
        *(("pauses",) if starts else ()), "write",
    )  # fmt: skip
    profile = load_profiles()[STARTER_SOLENOID]
    return tuple(
        Before(
            number,
            code,
            sentence(
                code,
                starts=starts,
                switch=asked.switch,
                on_s=profile.on_time_s,
                off_s=profile.off_time_s,
            ),
        )
        for number, code in enumerate(codes, 1)
    )


def cautions(place: Place, phase: Phase, starts: bool, hottest_c: float) -> tuple[str, ...]:
    """What to heed at a reading."""
    found = []
    if starts and phase != "at_rest":
        found.append(STARTER)
    if place.pair is None:
        found.append(CLAMP)
    if hottest_c >= HOT_C:
        found.append(HOT_SURFACE)
    return tuple(found)
