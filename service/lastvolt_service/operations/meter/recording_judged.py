"""What a recorded level is held against: a battery at work, a load's need, a contact's limit.

With the same limits as elsewhere; where what they need was not given, nothing is judged, and said.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from lastvolt_service.operations.common_fields import between_systems
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    PASS,
    UNKNOWN,
    Judged,
    reaches,
    stays_within,
    surely_reaches,
)
from lastvolt_service.operations.meter.recording_signals import OPEN_V, Signals
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Given
from lastvolt_service.operations.sources.supply import judge_too_low
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.rows import NOT_GIVEN, given
from lastvolt_service.tables import battery as table
from lastvolt_service.tables.limits import contact_limit

NEED = Given("voltage needed given by the caller")
# Less than this at a load is none, and over a path what a few amperes lose in a sound wire. [V].
# Common practice.
NONE_V, NONE_A = 0.5, 0.5
# Checks of what is read while it is on.
OF_LEVELS = frozenset({"supply", "load_voltage", "contact_drop"})
# A battery with no more than so many times a sound one's resistance is strong: where it sags, too
# much is drawn. Common practice.
STRONG_MULTIPLE = 1.25
NOTHING = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)


def stays(taken: Signals, columns: dict[str, Any]) -> str | None:
    """What it can be where nothing is switched in a recording; None where nothing tells."""
    volts, current = columns["volts"], columns["current"]
    if volts is not None:
        level_v = abs(volts.plateau.value_v)
        if taken.asked.between == "battery":
            return "steady_battery"
        if level_v >= OPEN_V:
            return "live_load" if taken.asked.between == "load" else "open_path"
        if level_v < NONE_V and (current is None or current.plateau.value_a < NONE_A):
            return "dead_load" if taken.asked.between == "load" else "no_current"
    if current is None:
        return None
    return "no_current" if current.plateau.value_a < NONE_A else "runs_on"


def levels(taken: Signals, columns: dict[str, Any]) -> Iterator[Checked]:
    """Judge the volts while it is on."""
    volts = columns["volts"]
    if volts is None or taken.switching is None:
        return
    if taken.asked.between == "battery":
        yield from _battery(taken, volts, columns["resistance"])
    elif taken.asked.between == "load":
        judged, needed_v = NOTHING, taken.asked.needed_v
        if given(needed_v):
            judged = surely_reaches(volts.plateau.low_v, volts.plateau.high_v, needed_v)
        yield Checked("load_voltage", judged, "V", NEED)
    else:
        yield _contact(taken, columns)


def _battery(taken: Signals, volts: Any, ohms: Any) -> Iterator[Checked]:
    """Judge a battery at work; a short dip is no level."""
    rest_v = volts.rest.value_v if volts.rest else NOT_GIVEN
    nominal_v = taken.asked.nominal_v
    if not given(nominal_v):
        if not given(rest_v) or between_systems(rest_v):
            yield Checked("supply", NOTHING, "V", COMMON_PRACTICE)
            return
        nominal_v = float(nominal_of(rest_v, NOT_GIVEN))
    level_v, lowest_v = volts.plateau.value_v, volts.lowest_v
    current_a = float(np.median(taken.current_a[taken.plateau])) if len(taken.current_a) else 0.0
    found = judge_too_low(level_v, nominal_v, current_a, starts=True)
    if given(rest_v):
        flat = judge_too_low(rest_v, nominal_v, 0.0, starts=False)
        found = replace(flat, detail="flat") if flat.judged.verdict == FAIL else found
    if found.detail is None and found.judged.verdict not in {FAIL, MARGINAL}:
        scale = nominal_v / table.TABLE_NOMINAL_V
        dip = reaches(lowest_v, table.COLD_CRANKING_V * scale, 0.0)
        if dip.verdict == FAIL:
            cited = table.cold_cranking_citation()
            found = Checked("supply", dip._replace(verdict=MARGINAL), "V", cited, detail="dips")
        else:
            warm = reaches(level_v, table.load_test().y[-1] * scale, 0.0)
            found = Checked("supply", warm, "V", table.load_test().citation)
    sags = found.judged.verdict in {FAIL, MARGINAL} and found.judged.margin < 0.0
    strong_ohm = STRONG_MULTIPLE * table.SOUND_OHM * nominal_v / table.TABLE_NOMINAL_V
    drags = sags and found.detail is None and ohms is not None and ohms.high_ohm <= strong_ohm
    yield replace(found, detail="drags") if drags else found


def _contact(taken: Signals, columns: dict[str, Any]) -> Checked:
    """Judge a contact by what it drops while it is closed."""
    part, level_v = taken.asked.part, abs(columns["volts"].plateau.value_v)
    if part is None:
        return Checked("contact_drop", NOTHING, "V", COMMON_PRACTICE)
    current = columns["current"]
    current_a = current.plateau.value_a if current is not None else 0.0
    limit = contact_limit(part, current_a)
    judged = stays_within(level_v, limit.limit_v)
    detail = "open" if level_v >= OPEN_V else None
    if detail is None and judged.verdict == PASS and current is None:
        detail = "current_not_read"
    return Checked("contact_drop", judged, "V", limit.citation, detail=detail)
