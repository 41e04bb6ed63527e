"""What cures a path that drops too much, or a part of it."""

from collections.abc import Iterator, Sequence

from lastvolt_service.operations.remedies.asking import New, Put, Said
from lastvolt_service.operations.remedies.options import (
    MOST_SIZES,
    RELAY_FEED_M,
    larger_sizes,
    sound_ohm,
)
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.wires.path_parts import Segment, SegmentDrop
from lastvolt_service.operations.wires.remedies import Options, better_insulation, next_sizes
from lastvolt_service.rows import given
from lastvolt_service.tables.limits import contact_limits

MOST_CONTACTS = 3
Values = dict[str, tuple[float | str, str]]
_HEAT = frozenset({"conductor_temperature", "permissible_current"})
_OF_A_CONTACT = frozenset({"contact_drop", "contact_current"})


def mend_path(
    segments: Sequence[Segment], drops: Sequence[SegmentDrop], current_a: float, trials: Trials
) -> None:
    """Look for what cures a failed check: contacts, ground, wires, a relay beside the load."""
    code = trials.decisive.code
    if code == "fuse_load":  # what draws so much is to be found, not led past the fuse
        return
    if code in _HEAT:
        _hot_wire(segments, trials)
    else:
        _contacts(segments, drops, current_a, trials)
        _own_ground(segments, drops, trials)
    if code not in _OF_A_CONTACT | _HEAT:
        _wires(segments, drops, trials)
    _relay(segments, drops, current_a, trials)


def _contacts(
    segments: Sequence[Segment], drops: Sequence[SegmentDrop], current_a: float, trials: Trials
) -> None:
    worn = [
        (index, str(segment.name), sound_ohm(str(segment.part), current_a))
        for index, (segment, drop) in enumerate(zip(segments, drops, strict=True))
        if segment.kind == "contact" and drop.drop_v > contact_limits()[str(segment.part)].limit_v
    ]
    worn.sort(key=lambda item: -drops[item[0]].drop_v)
    puts = [Put(("segments", index, "resistance_ohm"), ohm) for index, _, ohm in worn]
    for (_, name, ohm), put in zip(worn[:MOST_CONTACTS], puts, strict=False):
        trials.offer(
            Said("sound_contact", {"new": (ohm, "ohm"), "part": (name, "")}, repairs=True), (put,)
        )
    if len(worn) > 1:
        names = ", ".join(name for _, name, _ in worn[:MOST_CONTACTS])
        more = len(worn) - MOST_CONTACTS
        code = "more_contacts" if more > 0 else "sound_contacts"
        trials.offer(
            Said(code, {"parts": (names, ""), "more": (str(more), "")}, repairs=True), puts
        )


def _own_ground(segments: Sequence[Segment], drops: Sequence[SegmentDrop], trials: Trials) -> None:
    """A wire back beside the wires out, in place of the worst joint to the body."""
    wires = [segment for segment in segments if segment.kind == "wire"]
    grounds = [index for index, segment in enumerate(segments) if segment.part == "ground"]
    if not wires or not grounds:
        return
    worst = max(grounds, key=lambda index: drops[index].drop_v)
    thickest = wires[0]
    for wire in wires[1:]:
        if wire.size in _larger(thickest):
            thickest = wire
    length_m = float(f"{sum(wire.length_m for wire in wires):.3g}")
    path = ("segments", worst)
    said: Values = {
        "size": (str(thickest.size), ""),
        "length": (length_m, "m"),
        "part": (str(segments[worst].name), ""),
    }
    trials.offer(
        Said("own_ground", said),
        (
            Put((*path, "kind"), "wire"),
            *(Put((*path, field), None) for field in ("part", "resistance_ohm", "rating_a")),
            *(Put((*path, field), value) for field, value in _metal(thickest)),
            Put((*path, "length_m"), length_m),
        ),
    )


def _metal(wire: Segment) -> Iterator[tuple[str, New]]:
    for field in ("size", "standard", "material", "construction", "temperature_c", "ambient_c"):
        value = getattr(wire, field)
        if given(value):
            yield field, value


def _larger(wire: Segment) -> tuple[str, ...]:
    return larger_sizes(str(wire.size), wire.standard if isinstance(wire.standard, str) else None)


def _of(options: Options, part: object) -> Options:
    """Say of options which part they are for."""
    for said, puts in options:
        yield Said(said.code, {**said.values, "part": (str(part), "")}), puts


def _hot_wire(segments: Sequence[Segment], trials: Trials) -> None:
    hot = trials.decisive.part
    index = next(i for i, s in enumerate(segments) if s.kind == "wire" and s.name == hot)
    for options in (next_sizes, better_insulation):
        found = _of(options(segments[index], ("segments", index)), hot)
        trials.first_that_cures(found, most=MOST_SIZES)


def _wires(segments: Sequence[Segment], drops: Sequence[SegmentDrop], trials: Trials) -> None:
    wires = [index for index, segment in enumerate(segments) if segment.kind == "wire"]
    if not wires or _others_lose_all(segments, drops, trials):
        return
    worst = max(wires, key=lambda index: drops[index].drop_v)
    wire, path = segments[worst], ("segments", worst)
    cured = trials.first_that_cures(_of(next_sizes(wire, path), wire.name), most=MOST_SIZES)
    if not cured and len(wires) > 1:
        trials.first_that_cures(_all_larger(segments, wires), most=MOST_SIZES - 2)
    trials.just_passing(
        lambda value: Said("length_m", {"new": (value, "m"), "part": (str(wire.name), "")}),
        lambda value: (Put((*path, "length_m"), value),),
        float(wire.length_m),
        0.0,
    )


def _others_lose_all(
    segments: Sequence[Segment], drops: Sequence[SegmentDrop], trials: Trials
) -> bool:
    """Whether the path loses too much without any wire: then no wire can mend it."""
    limit_v = trials.decisive.limit
    if trials.decisive.code != "path_drop" or limit_v is None:
        return False
    others = (
        drop.drop_v for segment, drop in zip(segments, drops, strict=True) if segment.kind != "wire"
    )
    return sum(others) >= limit_v


def _all_larger(segments: Sequence[Segment], wires: Sequence[int]) -> Options:
    """All wires by two sizes at a time."""
    ladders = {index: _larger(segments[index]) for index in wires}
    for step in range(1, 8, 2):
        puts = tuple(
            Put(("segments", index, "size"), ladder[min(step, len(ladder) - 1)])
            for index, ladder in ladders.items()
            if ladder
        )
        if puts:
            yield Said("all_larger", {"steps": (str(step + 1), "")}), puts


def _relay(
    segments: Sequence[Segment], drops: Sequence[SegmentDrop], current_a: float, trials: Trials
) -> None:
    """A relay beside the load: the switch and the long wires then carry its coil alone."""
    switch = next((i for i, s in enumerate(segments) if s.part == "switch"), None)
    if switch is None:
        return
    path = ("segments", switch)
    wires = tuple(
        Put(("segments", index, "length_m"), RELAY_FEED_M)
        for index, segment in enumerate(segments)
        if segment.kind == "wire" and segment.length_m > RELAY_FEED_M
    )
    said: Values = {"length": (RELAY_FEED_M, "m"), "part": (str(segments[switch].name), "")}
    is_worn = drops[switch].drop_v > contact_limits()["switch"].limit_v
    trials.offer(
        Said("relay_past_worn_switch" if is_worn else "relay", said),
        (
            Put((*path, "part"), "relay"),
            Put((*path, "resistance_ohm"), sound_ohm("relay", current_a)),
            Put((*path, "rating_a"), None),
            *wires,
        ),
    )
