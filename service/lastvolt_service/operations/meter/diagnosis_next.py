"""Which reading of a path to take next, by what the ones taken leave open."""

from collections.abc import Mapping, Sequence

from lastvolt_service.operations.meter.readings import DropDiagnosisRequest, Readings, ReadPart
from lastvolt_service.rows import given
from lastvolt_service.words import catalogue, say
from lastvolt_service.words.named import Named

# What is read next for why nothing else is told.
_BY_REASON: Mapping[str, str] = {
    "lost_elsewhere": "next_rest_of_path",
    "too_coarse": "next_finer",
    "too_thin_at_least": "next_finer",
    "current_contradicts": "next_current",
    "trickle": "next_current",
    "readings_contradict": "next_again",
    "read_twice": "next_again",
    "leads_swapped": "next_again",
    "open_part": "next_once_mended",
    "load_open": "next_load",
    "shorted": "next_load",
}
_OF_BATTERY = frozenset({"too_low", "low", "low_unless_cranking"})


def next_message(
    asked: DropDiagnosisRequest,
    taken: Readings,
    reason: str,
    supply_is: str | None,
    proven: Sequence[ReadPart],
    unsure: Sequence[ReadPart],
) -> str | None:
    """Name it; what makes others worthless comes first, then what is wrong, then what is open."""
    code, part = _BY_REASON.get(reason), None
    if code is None and supply_is in _OF_BATTERY:
        code = "next_battery"
    elif code is None and proven:
        code, part = "next_once_mended", proven[0].reading.name
    elif code is None and not (given(asked.supply_v) and given(asked.load_voltage_v)):
        code = "next_ends"
    if code is None:
        return None
    if code == "next_finer":
        part = max(unsure or taken.parts, key=lambda each: each.hidden_v).reading.name
    elif code == "next_once_mended" and part is None:
        part = max(taken.parts, key=lambda each: each.reading.measured_v).reading.name
    return say(catalogue()["drop-diagnosis"].reasons[code], Named(None, {"part": part}))
