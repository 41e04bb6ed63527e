"""The next reading that a fit asks for, and what to expect of it, told once for words and data."""

from collections.abc import Sequence

import numpy as np

from lastvolt_service.operations.meter.fit_answer import NextReading
from lastvolt_service.operations.meter.fit_mending import Mending
from lastvolt_service.operations.meter.fit_outputs import element
from lastvolt_service.operations.meter.fit_told import (
    TOLD_SHARE,
    Confounded,
    best_of,
    digits,
    sentence,
)
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.meter.next_reading import Candidate, Readable
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

# A reading is worth taking that narrows what is not known of the voltage by so much: a tenth, and
# one step of a usual voltmeter. Common practice.
WORTH_SHARE, WORTH_V = 0.1, 0.01


def following_reading(
    solved: Solved, readable: Readable, slopes: FloatArray
) -> tuple[NextReading, str] | None:
    """The reading that narrows the decisive voltage most; None where none is worth it."""
    best = readable.best(slopes[None, :])
    deviation = solved.of(slopes)
    if best is None:
        return None
    then = _then(deviation, best)
    worth = max(WORTH_SHARE * deviation, WORTH_V / COVERAGE_FACTOR)
    if deviation - then < worth:
        return None
    return _told(readable, best, deviation, then), _message(readable, best)


def of_parts(
    solved: Solved,
    readable: Readable,
    slopes: FloatArray,
    mend: Mending,
    apart: Sequence[Confounded],
    *,
    lacks: bool,
) -> tuple[NextReading, str] | None:
    """The reading that tells most of what part it is; None where none is asked for.

    First across a part of a row of which one is or may be poor, then what tells apart the values
    that readings leave together, and, where the load `lacks` volts, what no reading tells.
    """
    found: Candidate | None = None
    told: str | None = mend.asks
    if told is not None:
        row = mend.asked_of
        if row is not None:
            found = across_one(readable, readable.place_of(row.case), row.parts, slopes)
    elif apart and apart[0].measure_in is not None:
        case = readable.place_of(apart[0].measure_in)
        found = readable.at(case, apart[0].measure_between, None, slopes[None, :])
        told = apart[0].message
    elif lacks:
        untold = [place for place in range(solved.count) if solved.share(place) > TOLD_SHARE]
        most = np.eye(solved.count)[untold] / solved.problem.deviations[untold][:, None]
        best = readable.best(most) if untold else None
        found = best and readable.at(best.case, best.between, best.through, slopes[None, :])
    if found is None:
        return None
    return told_next(solved, readable, found, slopes), told or _message(readable, found)


def told_next(
    solved: Solved, readable: Readable, found: Candidate, slopes: FloatArray
) -> NextReading:
    """Tell a reading, and how near what has slopes is told now and then."""
    deviation = solved.of(slopes)
    return _told(readable, found, deviation, _then(deviation, found))


def across_one(
    readable: Readable, place: int, parts: Sequence[str], slopes: FloatArray
) -> Candidate | None:
    """Volts across the first part of a row that were not read yet."""
    model = readable.here[place].state.model
    for name in parts:
        at = element(model, name)
        ends = at[-1].nodes if at is not None else ()
        if ends and not readable.is_read(place, ends):
            return readable.at(place, ends, None, slopes[None, :])
    return None


def _then(deviation: float, candidate: Candidate) -> float:
    """Standard uncertainty of the decisive voltage with one more reading."""
    return float(np.sqrt(max(deviation**2 - candidate.brings, 0.0)))


def _told(readable: Readable, found: Candidate, deviation: float, then: float) -> NextReading:
    low, high = found.expected
    return NextReading(
        readable.name_of(found.case),
        found.between,
        found.through,
        digits(low),
        digits(high),
        found.unit,
        digits(COVERAGE_FACTOR * deviation),
        digits(COVERAGE_FACTOR * then),
    )


def _message(readable: Readable, best: Candidate) -> str:
    case = readable.name_of(best.case)
    return sentence("next_volts" if best.between else "next_amperes", **best_of(best, case))
