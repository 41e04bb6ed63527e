"""What a proof answers."""

from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.meter.fit_answer import Agreement, NextReading
from lastvolt_service.operations.results import Result
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

Verdict = Literal["proven", "not_proven", "less_than_promised", "worse"]
What = Literal["feed", "contact", "outlet", "ground", "sound", "replaced"]
Wired = Literal["as_described", "coil_swapped", "old_wire_left_on", "fed_from", "not_told"]
Met = Literal["yes", "no", "not_told"]
_NOT_LESS, _NOT_MORE = "it is not less, 19 times of 20", "it is not more, 19 times of 20"


@dataclass(frozen=True, slots=True)
class Gain:
    """What the way brings the load, at one supply and temperature."""

    case: Annotated[str, "the case in which before and after are compared"]
    before_v: Annotated[float, "voltage at the load before"]
    before_standard_uncertainty_v: Annotated[float, "of that, by JCGM 100"]
    after_v: Annotated[float, "after, at the supply and the temperatures of before"]
    after_standard_uncertainty_v: Annotated[float, "of that"]
    correlation: Annotated[
        float | None,
        "of the two: what one meter errs in both, the winding and the supply they share, cancels "
        "in part; null where one of them is sure",
    ]
    gain_v: Annotated[float, "the second less the first"]
    low_v: Annotated[float, _NOT_LESS]
    high_v: Annotated[float, _NOT_MORE]
    standard_uncertainty_v: Annotated[float, "of the gain, with that correlation"]
    coverage_factor: Annotated[float, f"that widens it to 19 times of 20, {COVERAGE_FACTOR}"]


@dataclass(frozen=True, slots=True)
class Promise:
    """What the way promises by the circuit as it was found before, in the same case."""

    load_voltage_v: Annotated[float, "at the load"]
    gain_v: Annotated[float, "more than before"]
    missing_v: Annotated[float, "how much of it is missing; negative where more came"]
    missing_low_v: Annotated[float, _NOT_LESS]
    missing_high_v: Annotated[float, _NOT_MORE]


@dataclass(frozen=True, slots=True)
class SwitchCurrent:
    """What the switch carries, in the same case."""

    before_a: Annotated[float, "before"]
    before_low_a: Annotated[float, _NOT_LESS]
    before_high_a: Annotated[float, _NOT_MORE]
    after_a: Annotated[float, "after"]
    after_low_a: Annotated[float, _NOT_LESS]
    after_high_a: Annotated[float, _NOT_MORE]
    told: Annotated[
        bool, "whether the readings after rule out that it carries the load still, wired wrong"
    ]


@dataclass(frozen=True, slots=True)
class NewDrop:
    """What is lost over something new, or over the ground, in the same case."""

    what: Annotated[What, "feed, contact and outlet of the relay; ground; sound: made so; replaced"]
    part: Annotated[str, "what the request calls it"]
    between: Annotated[tuple[str, str], "its nodes"]
    drop_v: Annotated[float, "over it"]
    low_v: Annotated[float, _NOT_LESS]
    high_v: Annotated[float, _NOT_MORE]
    promised_v: Annotated[float, "what it was to drop"]


@dataclass(frozen=True, slots=True)
class ProofOfCase:
    """The load in a case, before and after; a case without readings is predicted from both fits."""

    case: Annotated[str, "the case"]
    is_read: Annotated[bool, "whether it was read before and after; else it is predicted"]
    needed_v: Annotated[float | None, "lowest voltage that the load works at there"]
    before_v: Annotated[float | None, "at the load before; null without a state of rest"]
    before_low_v: Annotated[float | None, _NOT_LESS]
    before_high_v: Annotated[float | None, _NOT_MORE]
    after_v: Annotated[float | None, "after, at the supply and the temperatures of before"]
    after_low_v: Annotated[float | None, _NOT_LESS]
    after_high_v: Annotated[float | None, _NOT_MORE]
    gain_v: Annotated[float | None, "the second less the first"]
    gain_low_v: Annotated[float | None, _NOT_LESS]
    gain_high_v: Annotated[float | None, _NOT_MORE]
    met: Annotated[Met, "whether the load gets what it needs, 19 times of 20"]


@dataclass(frozen=True, slots=True)
class LookAt:
    """What to look at where nothing is proven, or less than was promised."""

    code: Annotated[str, "what kind it is, in a word that stays the same"]
    part: Annotated[str | None, "part, node or case that it is about"]
    readings: Annotated[
        tuple[Annotated[int, "number of a reading"], ...],
        "readings that say so, by their number from 1 on: those after, unless the code names "
        "those before",
    ]
    message: Annotated[str, "the same in a sentence"]


@dataclass(frozen=True, slots=True, kw_only=True)
class GainProof(Result):
    """Answer of ``gain-proof``."""

    proof: Annotated[
        Verdict,
        "proven: more at the load, as promised, and enough in every case, all of it 19 times of "
        "20; less_than_promised; worse; not_proven: none of these is sure",
    ]
    gain: Annotated[Gain, "what the way brings the load"]
    promise: Annotated[Promise, "what it promises"]
    switch_current: Annotated[SwitchCurrent, "what the switch carries"]
    drops: Annotated[tuple[NewDrop, ...], "over what is new, and over the ground"]
    by_case: Annotated[
        tuple[ProofOfCase, ...], "the load in every case that has it, with a fault that was found"
    ]
    wired: Annotated[
        Wired,
        "as_described; or what the readings after say instead: coil_swapped with the contact, "
        "old_wire_left_on the load, fed_from another node; not_told where they contradict "
        "themselves. What fails or got worse though it is wired rightly stands in look_at",
    ]
    look_at: Annotated[tuple[LookAt, ...], "what to look at, and which reading says so"]
    agreement_before: Annotated[Agreement, "how the readings before agree, as circuit-fit says it"]
    agreement_after: Annotated[Agreement, "how those after agree with the circuit so wired"]
    contradicts_before: Annotated[
        tuple[Annotated[int, "number of a reading"], ...],
        "the reading that contradicts the rest, from 1 on, or those of which one does",
    ]
    contradicts_after: Annotated[
        tuple[Annotated[int, "number of a reading"], ...], "the same of those after"
    ]
    next_reading: Annotated[
        NextReading | None,
        "after: what to read next; null of what is proven, and where nothing more is worth it",
    ]
    next_message: Annotated[str | None, "the same in a sentence"]
    rounded: Annotated[
        str | None,
        "that all volts seem to be rounded to a coarser step than their meter shows; else null",
    ]
