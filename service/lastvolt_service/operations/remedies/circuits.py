"""Remedies for whole circuits."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.operations.circuit_check import CircuitCheck
from lastvolt_service.operations.mending import Mend
from lastvolt_service.operations.relay_retrofit import RelayRetrofit
from lastvolt_service.operations.remedies.options import (
    better_insulation,
    next_sizes,
    sound_ohm,
)
from lastvolt_service.operations.remedies.trials import Arguments, Put, Trials
from lastvolt_service.operations.results import show
from lastvolt_service.tables.fuses import fuse_families, fuses
from lastvolt_service.units import Interval

MOST_PARTS = 3
MOST_SIZES = 4
Parts = Mapping[str, tuple[Path, Mapping[str, Any]]]
Currents = Mapping[str, float]


def mend_circuit(arguments: Arguments, answer: CircuitCheck, trials: Trials) -> None:
    """Look for remedies of ``circuit-check``."""
    parts = _parts(arguments)
    currents: dict[str, float] = {}
    for case in answer.cases:
        for part in case.parts:
            currents[part.name] = max(currents.get(part.name, 0.0), abs(part.current_a))
    _mend(parts, currents, answer.mend_first, trials)


def mend_retrofit(arguments: Arguments, answer: RelayRetrofit, trials: Trials) -> None:
    """Look for remedies of ``relay-retrofit``: what mends the version that fails."""
    parts = _parts(arguments)
    amps = max(
        abs(each.switch_current_a) for told in answer.cases for each in (told.as_is, told.proposed)
    )
    _mend(parts, dict.fromkeys(parts, amps), answer.mend_first, trials)


def _parts(arguments: Arguments) -> Parts:
    """Every branch and relay, those of a proposal among them, and where it stands."""
    found: dict[str, tuple[Path, Mapping[str, Any]]] = {}
    for group in ("branches", "relays"):
        for index, part in enumerate(arguments["circuit"][group]):
            found[part["name"]] = (("circuit", group, index), part)
    proposal = arguments.get("proposal")
    if proposal is not None:
        for field in ("feed", "outlet"):
            for index, part in enumerate(proposal[field]):
                found[part["name"]] = (("proposal", field, index), part)
        found[proposal["relay"]["name"]] = (("proposal", "relay"), proposal["relay"])
    return found


def _mend(parts: Parts, currents: Currents, mend_first: Sequence[Mend], trials: Trials) -> None:
    own = trials.decisive.name.rpartition(": ")[2]
    kind = trials.decisive.name.rpartition(": ")[0].rpartition(": ")[2]
    if kind == "protection by fuse":
        _smaller_fuses(parts, trials)
    # The part that fails first; where that is a load or a relay, what costs it most.
    names = dict.fromkeys((own, *(mend.name for mend in mend_first[: 2 * MOST_PARTS])))
    there = [name for name in names if name in parts][:MOST_PARTS]
    for name in there:
        path, part = parts[name]
        if part.get("kind") == "wire":
            trials.first_that_cures(next_sizes(part, path, name), most=MOST_SIZES)
            if kind in {"conductor temperature", "protection by fuse"}:
                trials.first_that_cures(better_insulation(part, path, name), most=2)
        else:
            _sound(path, part, currents.get(name, 0.0), trials)
    _all_sound(parts, there, currents, trials)


def _sound_puts(path: Path, part: Mapping[str, Any], amps: float) -> tuple[Put, ...]:
    """Put a new contact in the place of one that is worn."""
    field = "contact_resistance_ohm" if "contact_resistance_ohm" in part else "resistance_ohm"
    if part.get("kind") == "resistance" or field not in part:
        return ()
    ohm = sound_ohm(part.get("part", "relay"), amps)
    now = part[field]
    if not isinstance(now, Interval) and ohm >= now and not part.get("ages", False):
        return ()
    if not isinstance(now, Interval):
        ohm = min(ohm, now)
    return (Put((*path, field), ohm), Put((*path, "ages"), False))


def _sound(path: Path, part: Mapping[str, Any], amps: float, trials: Trials) -> None:
    puts = _sound_puts(path, part, amps)
    if puts:
        ohm = float(puts[0].value or 0.0)
        trials.offer(f"a sound contact of {show(ohm, 'ohm')} at {part['name']}, kept so", puts)


def _all_sound(parts: Parts, names: Sequence[str], currents: Currents, trials: Trials) -> None:
    worn = {
        name: puts
        for name in names
        if parts[name][1].get("kind") != "wire"
        and (puts := _sound_puts(*parts[name], currents.get(name, 0.0)))
    }
    if len(worn) > 1:
        change = f"sound contacts at {' and '.join(worn)}, kept so"
        trials.offer(change, tuple(put for puts in worn.values() for put in puts))


def _smaller_fuses(parts: Parts, trials: Trials) -> None:
    for path, part in list(parts.values()):
        rating = part.get("rating_a")
        if part.get("part") == "fuse" and isinstance(rating, float):
            trials.first_that_cures(_ratings(path, part["name"], rating), most=MOST_SIZES)


def _ratings(path: Path, name: str, now: float) -> Iterator[tuple[str, tuple[Put, ...]]]:
    known = sorted({fuse.rating_a for fuse in fuses(fuse_families()[0])}, reverse=True)
    for rating in known:
        if rating < now:
            yield f"{name} of {rating:g} A", (Put((*path, "rating_a"), rating),)
