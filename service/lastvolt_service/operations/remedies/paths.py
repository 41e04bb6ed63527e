"""Remedies for a path that drops too much."""

from collections.abc import Iterator, Mapping
from typing import Any

from lastvolt_service.operations.remedies.options import (
    MOST_SIZES,
    RELAY_FEED_M,
    better_insulation,
    larger_sizes,
    next_sizes,
    sound_ohm,
)
from lastvolt_service.operations.remedies.trials import Arguments, Put, Trials
from lastvolt_service.operations.results import show
from lastvolt_service.operations.voltage_drop import SegmentDrop, VoltageDrop
from lastvolt_service.tables.limits import contact_limits

MOST_CONTACTS = 3
_HEAT = "heat of "
_OF_A_PART = ("drop of ", "current through ")
_WHOLE = "drop of the whole path"


def mend_drop(arguments: Arguments, answer: VoltageDrop, trials: Trials) -> None:
    """Look for remedies of ``voltage-drop``."""
    segments, name = arguments["segments"], trials.decisive.name
    if not name.startswith(_HEAT):
        _contacts(segments, answer, trials)
        _own_ground(segments, answer, trials)
    if name == _WHOLE or not name.startswith(_OF_A_PART):
        _wires(segments, answer, trials)
    _relay(segments, answer, trials)


def _contacts(segments: Any, answer: VoltageDrop, trials: Trials) -> None:
    worn = [
        (index, segment["name"], sound_ohm(segment["part"], answer.current_a))
        for index, (segment, part) in enumerate(zip(segments, answer.segments, strict=True))
        if segment["kind"] == "contact" and part.drop_v > contact_limits()[segment["part"]].limit_v
    ]
    worn.sort(key=lambda item: -answer.segments[item[0]].drop_v)
    puts = [(Put(("segments", index, "resistance_ohm"), ohm),) for index, _, ohm in worn]
    for (_, name, ohm), put in zip(worn[:MOST_CONTACTS], puts, strict=False):
        trials.offer(f"a sound contact of {show(ohm, 'ohm')} at {name}", put)
    if len(worn) > 1:
        names = " and ".join(name for _, name, _ in worn[:MOST_CONTACTS])
        more = f" and {len(worn) - MOST_CONTACTS} more" if len(worn) > MOST_CONTACTS else ""
        trials.offer(
            f"sound contacts at {names}{more}", tuple(each for put in puts for each in put)
        )


def _metal(segment: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    yield "size", segment["size"]
    for field in ("standard", "material", "construction", "temperature_c", "ambient_c"):
        if segment.get(field) is not None:
            yield field, segment[field]


def _own_ground(segments: Any, answer: VoltageDrop, trials: Trials) -> None:
    """A wire back beside the wires out, in place of the worst joint to the body."""
    wires = [segment for segment in segments if segment["kind"] == "wire"]
    grounds = [
        index
        for index, segment in enumerate(segments)
        if segment["kind"] == "contact" and segment["part"] == "ground"
    ]
    if not wires or not grounds:
        return
    worst = max(grounds, key=lambda index: answer.segments[index].drop_v)
    thickest = wires[0]
    for wire in wires[1:]:
        if wire["size"] in larger_sizes(thickest["size"], thickest.get("standard")):
            thickest = wire
    length = float(f"{sum(wire['length_m'] for wire in wires):.3g}")
    path = ("segments", worst)
    name = segments[worst]["name"]
    trials.offer(
        f"an own ground wire of {thickest['size']}, {show(length, 'm')}, in place of {name}",
        (
            Put((*path, "kind"), "wire"),
            *(Put((*path, field), None) for field in ("part", "resistance_ohm", "rating_a")),
            *(Put((*path, field), value) for field, value in _metal(thickest)),
            Put((*path, "length_m"), length),
        ),
    )


def _wires(segments: Any, answer: VoltageDrop, trials: Trials) -> None:
    wires = [index for index, segment in enumerate(segments) if segment["kind"] == "wire"]
    if not wires:
        return
    if trials.decisive.name.startswith(_HEAT):
        hot = trials.decisive.name.removeprefix(_HEAT)
        index = next(i for i in wires if segments[i]["name"] == hot)
        path = ("segments", index)
        trials.first_that_cures(next_sizes(segments[index], path, hot), most=MOST_SIZES)
        trials.first_that_cures(better_insulation(segments[index], path, hot), most=MOST_SIZES)
        return
    worst = max(wires, key=lambda index: answer.segments[index].drop_v)
    part = answer.segments[worst]
    sizes = next_sizes(segments[worst], ("segments", worst), part.name)
    cured = trials.first_that_cures(sizes, most=MOST_SIZES)
    if not cured and len(wires) > 1:
        trials.first_that_cures(_all_larger(segments, wires), most=MOST_SIZES - 2)
    _shorter(segments, worst, part, trials)


def _all_larger(segments: Any, wires: list[int]) -> Iterator[tuple[str, tuple[Put, ...]]]:
    """All wires by two sizes at a time."""
    ladders = {
        index: larger_sizes(segments[index]["size"], segments[index].get("standard"))
        for index in wires
    }
    for step in range(1, 8, 2):
        puts = tuple(
            Put(("segments", index, "size"), ladder[min(step, len(ladder) - 1)])
            for index, ladder in ladders.items()
            if ladder
        )
        if puts:
            yield f"all wires larger by {step + 1} sizes, as far as there are any", puts


def _shorter(segments: Any, index: int, part: SegmentDrop, trials: Trials) -> None:
    trials.just_passing(
        lambda value: f"{part.name} of {show(value, 'm')} at most",
        lambda value: (Put(("segments", index, "length_m"), value),),
        segments[index]["length_m"],
        0.0,
    )


def _relay(segments: Any, answer: VoltageDrop, trials: Trials) -> None:
    """A relay beside the load: the switch and the long wires then carry its coil alone."""
    switch = next(
        (i for i, s in enumerate(segments) if s["kind"] == "contact" and s["part"] == "switch"),
        None,
    )
    if switch is None:
        return
    path = ("segments", switch)
    ohm = sound_ohm("relay", answer.current_a)
    wires = tuple(
        Put(("segments", index, "length_m"), RELAY_FEED_M)
        for index, segment in enumerate(segments)
        if segment["kind"] == "wire" and segment["length_m"] > RELAY_FEED_M
    )
    trials.offer(
        f"a relay beside the load, fed from the heavy cable there through {RELAY_FEED_M:g} m for "
        f"each wire: {segments[switch]['name']} and the long wires then feed its coil only",
        (
            Put((*path, "part"), "relay"),
            Put((*path, "resistance_ohm"), ohm),
            Put((*path, "rating_a"), None),
            *wires,
        ),
    )
