"""Shorts: what joins the live side to the ground past every load, and what carries for it."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

from lastvolt_service.operations.circuits.load_way import NOTHING_A, Currents
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.model import Part, State
from lastvolt_service.operations.circuits.series import ALIKE_SHARE
from lastvolt_service.operations.judging import (
    FAIL,
    UNDECIDED,
    flatly,
    stays_about,
    stays_within,
    within_rating,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE

# What is given as ohms alone past every load is a short from here on: less may be a lamp, or a
# sense lead. [W]. Common practice.
AS_OHMS, LEAST_SHORT_W = "resistance", 60.0
# Of what all that is in a row with a short drops, what that itself does at least.
MOST_OF_IT = 0.5
# From here on it is asked about: where a chafe makes as much in one spot, insulation chars, and no
# fuse minds. [W]. Common practice.
LEAST_CHAFE_W = 5.0


def or_shorts(
    checks: Iterator[Checked], state: State, shorts: AbstractSet[str]
) -> Iterator[Checked]:
    """The same checks; a short where what drops so much joins both sides past every load."""
    made = [*checks]
    poor = {str(c.part) for c in made if c.code == "contact_drop" and c.verdict == "fail"}
    only_a = _of_shorts(state, shorts)
    for check in made:
        name = str(check.part)
        if name in only_a and name not in shorts and _is_for(check, state, only_a[name]):
            continue
        if check.code == "contact_drop" and name in shorts & poor:
            yield _short(state, name)
            if short := state.named(name):
                yield from _heated(state, short)
        elif check.code != "contact_heat" or name not in shorts:
            yield check
    drive_v = state.model.drive_v
    for part, _, current in state.carrying("wires", "resistors"):
        carries = part.group == "wires" and abs(current) > NOTHING_A
        # Behind a ballast that one gets hot, or a coil stays dead.
        makes_w = abs(drive_v * current) if part.kind == AS_OHMS else 0.0
        if part.name in shorts and (carries or makes_w > LEAST_CHAFE_W):
            verdict = FAIL if carries or makes_w > LEAST_SHORT_W else UNDECIDED
            yield _short(state, part.name, AS_OHMS if makes_w else None, verdict)
            if verdict == FAIL:
                yield from _heated(state, part)


def _heated(state: State, short: Part) -> Iterator[Checked]:
    """Ballasts, and others that are given as ohms, that all of a short's current runs through."""
    currents = Currents(state)
    for each in currents.through(short, least_a=ALIKE_SHARE * currents.of[short].amps):
        makes_w = each.across_v * each.amps
        if each.part.kind == AS_OHMS and not each.part.is_load and makes_w > LEAST_SHORT_W:
            judged, so = flatly(FAIL, makes_w), {"part": each.part.name, "detail": short.name}
            yield Checked("resistor_heat", judged, "W", COMMON_PRACTICE, **so)


def _of_shorts(state: State, shorts: AbstractSet[str]) -> dict[str, float]:
    """What of a short's current runs through others, by name: it drops more there than they do."""
    currents, found = Currents(state), dict[str, float]()
    for short in filter(None, map(state.named, sorted(shorts))):
        amps = currents.of[short].amps
        for each in currents.through(short, least_a=ALIKE_SHARE * amps) if amps else ():
            found[each.part.name] = max(found.get(each.part.name, 0.0), min(amps, each.amps))
    return found


def _is_for(check: Checked, state: State, short_a: float) -> bool:
    """Whether a contact drops, or carries, too much for nothing but what a short draws over it."""
    of_contacts = {
        "contact_drop": (1, stays_about),
        "contact_current": (1, within_rating),
        "contact_heat": (2, stays_within),
    }
    if check.verdict != "fail" or check.code not in of_contacts:
        return False
    own_share = 1.0 - short_a / abs(state.current_a(str(check.part)))
    power, within = of_contacts[check.code]
    own = check.judged.value * own_share**power
    return bool(within(own, check.judged.limit).verdict != FAIL)


def _short(state: State, name: str, detail: str | None = None, verdict: int = FAIL) -> Checked:
    judged = flatly(verdict, abs(state.current_a(name)))
    return Checked("short", judged, "A", COMMON_PRACTICE, part=name, detail=detail)


def shorts_of(state: State, metal: Metal) -> set[str]:
    """Names of parts that join the live side to that of the ground, as the relays rest.

    Whatever lies in series with a short does so, too: where ohms take most of it that is the short,
    else it is one of those without which most loads are fed, no short is left, whatever else feeds
    one, and most is live: one that is given as ohms sooner than the wires of a circuit.
    """
    is_open = state.open_contacts
    sides = metal.sides(is_open) if is_open else metal.all_sides
    are_joined = not sides.live.isdisjoint(sides.grounded)
    fed: dict[str, tuple[int, bool, int]] = {}
    to_feed = [*metal.loads, *metal.parts["coils"]]
    for part in (*state.model.parts["resistors"], *state.model.parts["wires"]):
        may_join = sides.feed(part) or (are_joined and part.nodes[0] in sides.live)
        if part.is_load or not may_join:
            continue
        left = metal.sides({part, *is_open})
        if left.feed(part):
            is_all = left.live.isdisjoint(left.grounded)
            then = metal.sides([part])  # a short lets go the relays that it starves
            fed[part.name] = sum(map(then.feed, to_feed)), is_all, len(then.live)
    most = max(fed.values(), default=None)
    told = [(abs(drop), part) for part, drop, _ in state.carrying("resistors", "wires")]
    _, worst = max(
        ((drop, part) for drop, part in told if part.name in fed),
        key=lambda each: each[0],
        default=(0.0, None),
    )
    if worst is not None and worst.kind == AS_OHMS:
        # A ballast before a chafe takes most of it, and feeds a load; a chafe feeds none.
        most_fed = max(each[0] for each in fed.values())
        here = [
            (drop, part.name)
            for drop, part in told
            if part.kind == AS_OHMS and part.name in fed and fed[part.name][0] == most_fed
        ]
        if here:
            return {max(here)[1]}
    if most is not None and (chafe := _most_of(told, fed, most)):
        return {chafe}
    found = {name for name, each in fed.items() if each == most}
    as_ohms = {part.name for _, part in told if part.kind == AS_OHMS}
    return found & as_ohms or found


def _most_of(
    told: Sequence[tuple[float, Part]],
    fed: Mapping[str, tuple[int, bool, int]],
    most: tuple[int, bool, int],
) -> str | None:
    """Name the contact that takes most of what a short drops in a row that feeds nothing else.

    Without any of these all loads are fed; on the rest of it nothing hangs, as a strap of its own.
    """
    row = [(drop, part) for drop, part in told if fed.get(part.name, ())[:2] == most[:2]]
    drop, part = max(row, key=lambda each: each[0])
    is_chafe = part.kind == "contact" and drop > MOST_OF_IT * sum(each for each, _ in row)
    return part.name if is_chafe else None
