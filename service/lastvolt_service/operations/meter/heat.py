"""Whether wires and contacts of a path bear the current at work, which no voltage tells."""

import math
from collections.abc import Iterator

from lastvolt_service.operations.fuses.profile import OF_CIRCUIT
from lastvolt_service.operations.judging import UNDECIDED, UNKNOWN, Judged, stays_within
from lastvolt_service.operations.meter.readings import (
    ContactReading,
    DropDiagnosisRequest,
    Readings,
    WireReading,
    current_at_work,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.wires.sure_heat import (
    AT_BEST,
    BEST_AMBIENT_C,
    BEST_LIMIT_C,
    POOREST_AMBIENT_C,
    POOREST_LIMIT_C,
    alone_bears_a,
)
from lastvolt_service.rows import NOT_GIVEN, given
from lastvolt_service.tables.limits import BURNS_W, HOTTEST_MULTIPLE, SOCKET_A
from lastvolt_service.tables.load_profiles import load_profiles

OVERDRAWN = "overdrawn"


def judge_heat(
    asked: DropDiagnosisRequest, *, is_known: bool, is_shorted: bool
) -> tuple[tuple[Checked, ...], tuple[str, ...], tuple[str, ...]]:
    """Judge the wires; name those too hot whatever covers them, and those that may be.

    Of a current that the readings contradict nothing is known, of a short no current at work.
    """
    wires = [each for each in asked.readings if isinstance(each, WireReading)]
    current_a = float(current_at_work(asked)) if is_known and not is_shorted else 0.0
    flowed_a = float(asked.current_a) if is_known else 0.0
    may = sorted(((_most_a(asked, wire), wire.name) for wire in wires), key=lambda each: each[0])
    too_hot = tuple(name for most_a, name in may if most_a < current_a)
    checks = [
        Checked("wires_heat", stays_within(current_a, most_a), "A", AT_BEST, part=name)
        for most_a, name in may
        if most_a < current_a
    ]
    # What bears its current at work is no thicker wire's matter.
    checks += [
        Checked(
            "wires_heat", stays_within(flowed_a, most_a), "A", AT_BEST, part=name, detail=OVERDRAWN
        )
        for most_a, name in may
        if current_a <= most_a < flowed_a
    ]
    may_be = tuple(
        wire.name
        for wire in wires
        if wire.name not in too_hot and _surely_a(asked, wire) < current_a
    )
    if may_be:
        nothing = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        checks.append(Checked("wires_heat", nothing, "A", AT_BEST, detail=", ".join(may_be)))
    return tuple(checks), too_hot, may_be


def lets_flow(
    asked: DropDiagnosisRequest, measured_v: float, share: float, nominal_v: float
) -> bool:
    """Whether the working current can flow through a part: all of the supply is the most of it."""
    supply_v = asked.supply_v if given(asked.supply_v) else nominal_v
    return bool(measured_v <= share * supply_v)


def contact_heat(
    asked: DropDiagnosisRequest, taken: Readings, nominal_v: float
) -> Iterator[Checked]:
    """Tell the contacts that burn what holds them; a starter's do not get so hot in its time."""
    if asked.circuit.startswith("starter"):
        return
    for each in taken.parts:
        reading = each.reading
        if not isinstance(reading, ContactReading) or reading.part not in BURNS_W:
            continue
        if reading.measured_v <= HOTTEST_MULTIPLE * each.expected_v:
            continue
        volts, amps = float(reading.measured_v), float(asked.current_a)
        flowed = OVERDRAWN if taken.share > 1.0 else None
        currents: list[tuple[float, float, str | None]] = [(amps, volts, flowed)]
        if lets_flow(asked, volts, taken.share, nominal_v):
            currents.insert(0, (float(current_at_work(asked)), volts / taken.share, None))
        for amps, volts, detail in currents:
            if reading.part == "relay" and amps >= SOCKET_A:
                continue
            if volts * amps > BURNS_W[reading.part]:
                judged = stays_within(volts * amps, BURNS_W[reading.part])
                if reading.part == "relay":  # which may be a large one, bolted down
                    judged = judged._replace(verdict=UNDECIDED)
                yield Checked(
                    "contact_heat", judged, "W", COMMON_PRACTICE, part=reading.name, detail=detail
                )
                break


def _most_a(asked: DropDiagnosisRequest, reading: WireReading) -> float:
    """Most that a wire at its best bears for as long as its circuit is usually on. [A]."""
    if asked.circuit == "intermittent":  # nobody says how long
        return math.inf
    return _bears_a(asked, reading, BEST_LIMIT_C, BEST_AMBIENT_C)


def _surely_a(asked: DropDiagnosisRequest, reading: WireReading) -> float:
    """What the poorest wire of its size bears, too. [A]."""
    return _bears_a(asked, reading, POOREST_LIMIT_C, POOREST_AMBIENT_C)


def _bears_a(
    asked: DropDiagnosisRequest, reading: WireReading, limit_c: float, ambient_c: float
) -> float:
    profile = OF_CIRCUIT.get(asked.circuit)
    on_s = None if profile is None else load_profiles()[profile].on_time_s
    return alone_bears_a(reading, on_s, limit_c, ambient_c)
