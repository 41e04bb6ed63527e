"""What a proof rests on, as its page and its words show it: readings, meters, supply, temperature.

A reading is written as it was given, so that whoever has the paper in his hand can compare.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from math import floor, log10
from typing import Any

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_told import both
from lastvolt_service.operations.meter.proof_answer import GainProof, Met, ProofOfCase
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.operations.meter.reading_fields import MeterReading, meter_of
from lastvolt_service.units import Interval
from lastvolt_service.words.amounts import SYMBOLS, amount, rounded

UNITS = {"volts": "V", "amperes": "A", "ohms": "ohm"}
# Decimals of a reading as it was given; more are a computer's.
MOST_DECIMALS = 6
# What someone writes on a proof by hand, and signs.
SIGNED_FOR = ("Vehicle", "Odometer", "Date before", "Date after", "Air before", "Air after")
SIGNATURE = "Read and signed by"
READ_SO = (
    "As the meters showed it, and how far off that may be, 19 times of 20, each reading by itself."
)
ENOUGH: Mapping[Met, str] = {"yes": "yes", "no": "no", "not_told": "not told"}


@dataclass(frozen=True, slots=True)
class Read:
    """One reading: its number in the request, what was shown and how far it may be off."""

    number: int
    text: str
    contradicts: bool


@dataclass(frozen=True, slots=True)
class ReadBoth:
    """What was read in one place, before, after or both."""

    case: str
    at: str
    before: Read | None
    after: Read | None


def read_both(asked: GainProofRequest, answer: GainProof) -> list[ReadBoth]:
    """All readings, those of one place before and after beside each other."""
    found: dict[tuple[str, str, str], tuple[list[Read], list[Read]]] = {}
    sides = (asked.before, answer.contradicts_before), (asked.after, answer.contradicts_after)
    for side, (readings, contradicts) in enumerate(sides):
        for number, each in enumerate(readings, 1):
            place = found.setdefault((each.case, _at(each), each.kind), ([], []))
            place[side].append(Read(number, _shown(each, asked), number in contradicts))
    return [
        ReadBoth(case, at, *pair)
        for (case, at, _), lists in found.items()
        for pair in zip_longest(*lists)
    ]


def _at(each: MeterReading) -> str:
    if each.through is not None:
        return f"clamp round {each.through}"
    if each.of is not None:
        return f"{each.of} by itself"
    return f"red {each.between[0]}, black {each.between[1]}"


def _shown(each: MeterReading, asked: GainProofRequest) -> str:
    """A reading with what its meter may be off, 19 times of 20."""
    off = Taken(0, each, meter_of(each, asked.meters)).most_off
    value = f"{each.value:.{MOST_DECIMALS}f}".rstrip("0")
    # The digits that were given, and where its last ones are zeros that of the uncertainty.
    decimals = max(len(value.partition(".")[2]), -floor(log10(off)))
    unit = UNITS[each.kind]
    most = rounded(off, unit, "up", decimals)
    return f"{each.value:.{decimals}f} ± {most} {SYMBOLS.get(unit, unit)}"


def meters_used(asked: GainProofRequest) -> list[str]:
    """Each meter that was read, with what it may be off by its sheet."""
    read = [*asked.before, *asked.after]
    own = any(known(each.own_uncertainty) for each in read)
    used = dict.fromkeys(
        meter_of(each, asked.meters) for each in read if not known(each.own_uncertainty)
    )
    told = [
        f"{each.name}: {each.kind}, {100.0 * each.share:g} % and {each.steps:g} digits"
        f"{' (usual, by practice)' if each.basis else ''}"
        for each in used
    ]
    return [*told, *(["with an uncertainty of its own: a recording or a mean"] if own else [])]


def conditions(asked: GainProofRequest) -> list[tuple[str, str]]:
    """Each case that was read or compared, with its supply, its temperatures and its parts."""
    return [(each.name, ", ".join(_conditions(each))) for each in asked.cases]


def _conditions(case: Case) -> Iterator[str]:
    yield _spanned(case.ambient_c, "degC")
    yield from (f"{zone} {_spanned(c, 'degC')}" for zone, c in case.zone_ambients_c.items())
    yield from _supply(case)
    if known(case.duration_s):
        yield f"for {_spanned(case.duration_s, 's')}"
    if case.ageing_factor != 1.0:
        yield f"contacts {_spanned(case.ageing_factor, '1')} times as poor"
    yield from (f"without {each}" for each in case.without)


def supply(asked: GainProofRequest) -> str:
    """What the source was given to have; nothing where its rating alone is given."""
    return ", ".join(_supply(asked.circuit.source))


def _supply(given: Any) -> Iterator[str]:
    if known(given.open_circuit_v):
        yield f"{_spanned(given.open_circuit_v, 'V')} at rest"
    if known(given.internal_resistance_ohm):
        yield f"{_spanned(given.internal_resistance_ohm, 'ohm')} inside"


def _spanned(value: float | Interval, unit: str) -> str:
    if not isinstance(value, Interval):
        return amount(value, unit)
    low, high = both(value.low, value.high, unit)
    return f"{low} to {high}"


def span(low: float | None, high: float | None) -> str:
    """An interval of volts; a dash where there is no state of rest."""
    return "-" if low is None or high is None else " to ".join(both(low, high, "V"))


def is_told(answer: GainProof) -> bool:
    """Whether anything follows: not from readings that contradict each other or the circuit."""
    return all(each.verdict != "unknown" for each in answer.checks if each.code == "gain")


def by_case(answer: GainProof) -> Sequence[ProofOfCase]:
    """The cases, that in which before and after are compared first."""
    return sorted(answer.by_case, key=lambda each: each.case != answer.gain.case)
