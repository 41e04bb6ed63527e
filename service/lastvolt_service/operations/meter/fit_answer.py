"""What a fit answers."""

from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.meter.fit_beyond import Beyond
from lastvolt_service.operations.meter.fit_condition import Condition
from lastvolt_service.operations.meter.fit_faults import Fault
from lastvolt_service.operations.meter.fit_request import FittedCases
from lastvolt_service.operations.meter.fit_told import Confounded, Estimate, Residual, SetAside
from lastvolt_service.operations.results import Result
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

Agreement = Literal[
    "agrees", "reading_contradicts", "group_contradicts", "model_does_not_fit", "not_checked"
]


@dataclass(frozen=True, slots=True)
class Decisive:
    """Voltage at the load in the case that decides."""

    case: Annotated[str, "the case"]
    before_low_v: Annotated[float | None, "least within the bounds given; null without a state"]
    before_high_v: Annotated[float | None, "most within the bounds given"]
    voltage_v: Annotated[
        float | None,
        "most likely, after the readings; null, as the next three, where nothing explains them",
    ]
    low_v: Annotated[
        float | None,
        "it is not less, 19 times of 20, by all that would explain contradicting readings: each "
        "without the one that is wrong, or with the part at fault",
    ]
    high_v: Annotated[float | None, "it is not more, 19 times of 20"]
    standard_uncertainty_v: Annotated[float | None, "of the likeliest, by JCGM 100"]
    coverage_factor: Annotated[float, f"that widens it to 19 times of 20, {COVERAGE_FACTOR}"]
    needed_v: Annotated[float | None, "lowest voltage that the load works at there"]


@dataclass(frozen=True, slots=True)
class Consistency:
    """How readings hold together."""

    chi_squared: Annotated[
        float, "sum of the squares of what is missed, in units of its standard uncertainty"
    ]
    degrees_of_freedom: Annotated[
        float, "readings less what they had to tell; not whole, as bounds tell something, too"
    ]
    probability: Annotated[
        float | None, "of so much or more by chance; null where nothing is read twice over"
    ]
    limit: Annotated[float, "that one normalised residual exceeds in one of 25 sound circuits"]


@dataclass(frozen=True, slots=True)
class NextReading:
    """The reading that tells most about the decisive voltage, or, where that is sure, the parts."""

    case: Annotated[str, "the case to read it in"]
    between: Annotated[tuple[str, ...], "nodes at the red and at the black lead; empty of a clamp"]
    through: Annotated[str | None, "part that the clamp lies round; null of volts"]
    expected_low: Annotated[float, "the meter shows no less, 19 times of 20"]
    expected_high: Annotated[float, "and no more"]
    unit: Annotated[str, "of what is expected: V or A"]
    uncertainty_now_v: Annotated[float, "of the decisive voltage now, 19 times of 20"]
    uncertainty_then_v: Annotated[float, "and with this reading"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitFit(Result):
    """Answer of ``circuit-fit``."""

    agreement: Annotated[
        Agreement,
        "agrees; reading_contradicts: one reading, which the values do not rest on; "
        "group_contradicts: one of some readings that cannot be told apart; model_does_not_fit; "
        "not_checked: nothing is read twice over",
    ]
    contradicts: Annotated[
        tuple[Annotated[int, "number of a reading"], ...],
        "the reading that contradicts the rest, by its number from 1 on, or those of which one "
        "does",
    ]
    decisive: Annotated[Decisive, "the voltage that decides"]
    danger: Annotated[
        str | None,
        "what is to be stopped at once, at currents that these readings tell; null for nothing",
    ]
    charging: Annotated[
        str | None,
        "that something charges the battery, by its volts, of which the circuit knows nothing; "
        "null where no reading says so",
    ]
    battery: Annotated[
        str | None, "what is wrong with the battery, by all that readings leave open; null: nothing"
    ]
    mend: Annotated[
        str | None,
        "what to mend, by the volts that it costs, or else what to read closer; null for nothing",
    ]
    fuse: Annotated[
        str | None,
        "a fuse that is too large for a wire behind it, where that is known; else null",
    ]
    rounded: Annotated[
        str | None,
        "that all volts seem to be rounded to a coarser step than their meter shows; else null",
    ]
    sound: Annotated[str | None, "parts that are sound by these readings; null for none"]
    likely: Annotated[
        str | None, "parts that are sound as far as a coarse meter tells; null for none"
    ]
    unread: Annotated[str | None, "parts of which no reading tells; null for none"]
    parts: Annotated[
        tuple[Condition, ...],
        "every part that carried current, the poor ones first, by the volts that they cost",
    ]
    next_reading: Annotated[
        NextReading | None, "what to read next; null where nothing more is worth it"
    ]
    next_message: Annotated[str, "the same in a sentence"]
    estimates: Annotated[tuple[Estimate, ...], "every value that was not known"]
    beyond: Annotated[
        tuple[Beyond, ...],
        "values beyond their bounds of which one would make contradicting readings hold together, "
        "the volts of a battery with its ohms; else empty",
    ]
    faults: Annotated[
        tuple[Fault, ...], "parts that are open and relays that are stuck, by these readings"
    ]
    part_first: Annotated[
        bool,
        "whether a part that is poor takes more volts too many than the first of `faults` does: it "
        "is mended first",
    ]
    confounded: Annotated[tuple[Confounded, ...], "values that these readings cannot tell apart"]
    residuals: Annotated[tuple[Residual, ...], "every reading that tells something, in order"]
    set_aside: Annotated[tuple[SetAside, ...], "readings of ohms that are noise"]
    consistency: Annotated[Consistency, "how the readings hold together"]
    fitted: Annotated[
        FittedCases, "circuit and cases with the intervals narrowed, to post to any operation"
    ]
