"""What to try where a circuit fails: sound contacts, larger wires, smaller fuses."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.bridging import Mend
from lastvolt_service.operations.circuits.fields import Circuit, RelayData
from lastvolt_service.operations.circuits.parts import ChainContact, ChainPart, ChainWire
from lastvolt_service.operations.remedies.asking import Put, Said
from lastvolt_service.operations.remedies.options import sound_ohm
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.wires.remedies import better_insulation, next_sizes
from lastvolt_service.tables.fuses import fuse_families, fuses
from lastvolt_service.units import Interval

MOST_PARTS = 3
MOST_SIZES = 4
MOST_RATINGS = 8
PROTECTION = frozenset({"fuse_protection", "fuse_overload"})
# What better insulation may cure.
BY_INSULATION = PROTECTION | {"conductor_temperature", "permissible_current", "duty_current"}
# Parts by name, and where each stands in the request.
Placed = Mapping[str, tuple[Path, ChainPart | RelayData]]
Currents = Mapping[str, float]
Options = Iterator[tuple[Said, tuple[Put, ...]]]


def placed_parts(circuit: Circuit) -> dict[str, tuple[Path, ChainPart | RelayData]]:
    """List every branch and relay with its place in the request."""
    return {
        part.name: (("circuit", group, index), part)
        for group in ("branches", "relays")
        for index, part in enumerate(getattr(circuit, group))
    }


def mend_parts(
    parts: Placed, currents: Currents, mend_first: Sequence[Mend], trials: Trials
) -> None:
    """Look for what cures a failed check of a circuit.

    Parameters
    ----------
    parts : mapping
        See `Placed`.
    currents : mapping of str to float
        Most that goes through each part. [A]
    mend_first : sequence of Mend
        What costs the decisive load most.
    trials : Trials
        To ask.
    """
    failed = trials.decisive
    if failed.code in PROTECTION:
        _smaller_fuses(parts, trials)
    # The part that fails first; where that is a load or a relay, what costs it most.
    names = dict.fromkeys(
        (failed.part or "", *(mend.name for mend in mend_first[: 2 * MOST_PARTS]))
    )
    there = [name for name in names if name in parts][:MOST_PARTS]
    sound: dict[str, tuple[Put, ...]] = {}
    for name in there:
        path, part = parts[name]
        if isinstance(part, ChainWire):
            trials.first_that_cures(_of(name, next_sizes(part, path)), most=MOST_SIZES)
            if failed.code in BY_INSULATION:
                trials.first_that_cures(_of(name, better_insulation(part, path)), most=2)
        elif puts := _sound_puts(path, part, currents.get(name, 0.0)):
            sound[name] = puts
            ohm: Any = puts[0].value
            trials.offer(
                Said("sound_contact", {"new": (ohm, "ohm"), "part": (name, "")}, repairs=True), puts
            )
    if len(sound) > 1:
        said = Said("sound_contacts", {"parts": (" and ".join(sound), "")})
        trials.offer(said, tuple(put for puts in sound.values() for put in puts))


def _of(part: str, options: Options) -> Options:
    """Say which part an option is about."""
    for said, puts in options:
        yield Said(said.code, {**said.values, "part": (part, "")}), puts


def _sound_puts(path: Path, part: ChainPart | RelayData, amps: float) -> tuple[Put, ...]:
    """Put a new contact in the place of one that is worn."""
    now: float | Interval
    if isinstance(part, RelayData):
        field, kind, now = "contact_resistance_ohm", "relay", part.contact_resistance_ohm
    elif isinstance(part, ChainContact):
        field, kind, now = "resistance_ohm", part.part, part.resistance_ohm
    else:
        return ()
    ohm = sound_ohm(kind, amps)
    if not isinstance(now, Interval):
        if ohm >= now and not part.ages:
            return ()
        ohm = min(ohm, now)
    return (Put((*path, field), ohm), Put((*path, "ages"), False))


def _smaller_fuses(parts: Placed, trials: Trials) -> None:
    # A wire that bears the opening current of no larger one: what is above is not tried.
    failed = trials.decisive
    most_a = failed.limit if failed.code == "fuse_protection" and failed.limit else math.inf
    for path, part in parts.values():
        if not (isinstance(part, ChainContact) and part.part == "fuse"):
            continue
        if known(part.rating_a) and not isinstance(part.rating_a, Interval):
            below_a = min(part.rating_a, most_a)
            options = _ratings(path, part, below_a)
            trials.first_that_cures(options, most=MOST_RATINGS)


def _ratings(path: Path, part: ChainContact, below_a: float) -> Options:
    families = (part.fuse_family,) if part.fuse_family else fuse_families()
    ratings = {fuse.rating_a for family in families for fuse in fuses(family)}
    for rating in sorted(ratings, reverse=True):
        if rating < below_a:
            said = Said("smaller_fuse", {"new": (rating, "A"), "part": (part.name, "")})
            yield said, (Put((*path, "rating_a"), rating),)
