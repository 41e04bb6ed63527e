"""A plan of readings in words: how each is taken, what it means when it is off, what to heed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.operations.circuits.loads import (
    AnyLoad,
    MotorLoad,
    ResistanceLoad,
    SolenoidLoad,
)
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.meter.plan_places import Place, PlaceCode
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_stages import Phase
from lastvolt_service.operations.results import CLAMP, HOT_SURFACE, STARTER
from lastvolt_service.tables.load_profiles import load_profiles
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.amounts import amount
from lastvolt_service.words.named import Named

NAME = "meter-plan"
# What is hotter burns the hand that holds a lead there. [degC]. Common practice.
HOT_C = 60.0
# What is less is read, and told, in millivolts.
MILLIVOLTS_BELOW_V = 0.2
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
    "pulling_in": ("load_more", "load_less"),
    "through_part": ("through_more", "through_less"),
    "switched_off": ("off_more", "off_less"),
}
_PARTS = {
    "wire": "wire_more",
    "fuse": "fuse_more",
    "ground": "joint_more",
    "terminal": "joint_more",
    "resistance": "resistance_more",
    "relay": "new_contact_more",
}


@dataclass(frozen=True, slots=True)
class Before:
    """What is done before the first reading."""

    number: Annotated[int, "of the step"]
    code: Annotated[str, "which step it is, in a word that stays the same"]
    text: Annotated[str, "what to do"]


def sentence(code: str, **values: float | str | bool | None) -> str:
    """Say something of a plan; what it says of a value that is None is left out."""
    return say(catalogue()[NAME].reasons[code], Named(None, values))


def as_shown(value: float, unit: str, side: str = "") -> str:
    """A quantity as a meter shows it: small voltages as millivolts."""
    if unit == "V" and abs(value) < MILLIVOLTS_BELOW_V:
        return amount(1e3 * value, "mV", side=side)
    return amount(value, unit, side=side)


def means(
    place: Place, load: AnyLoad, switch: str, charged_by: Sequence[str] | None
) -> tuple[str, str]:
    """What it means when a meter shows more, and when it shows less.

    `charged_by` are names of what charges where the engine runs; none where nobody names it.
    """
    more, less = _WHOLE.get(place.code) or (
        _PARTS.get(place.kind or "", "contact_more"),
        "part_less",
    )
    if place.code == "supply" and charged_by is not None:
        more, less = "charging_more", "charging_less"
    if place.code == "through_part" and not _is_wound(load):
        more = "through_more_unwound"
    if place.code == "across_coil" and place.as_is.red is not None:
        more, less = "own_coil_more", "own_coil_less"
    if place.code == "switched_off" and place.as_is.red is not None:
        more = "off_more_as_is"
    texts = {
        "part": place.part,
        "load": load.name,
        "switch": switch,
        "charger": ", ".join(charged_by or ()) or None,
    }
    return sentence(more, **texts), sentence(less, **texts)


def _is_wound(load: AnyLoad) -> bool:
    copper = isinstance(load, ResistanceLoad) and load.copper
    return copper or isinstance(load, SolenoidLoad | MotorLoad)


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
