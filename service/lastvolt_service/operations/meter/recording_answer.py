"""What is told of a recording."""

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from lastvolt_service.operations.results import Result
from lastvolt_service.physics.recording import SLOWEST_CHATTER_S
from lastvolt_service.physics.recording_estimate import Estimate

_LOW = "lower end of the interval that holds it 19 times of 20"
_HIGH = "its upper end"
_ERROR = "standard uncertainty, as JCGM 100 has it"
_FACTOR = "half of that interval over the standard uncertainty: Student's factor for 95 %"
Factor = Annotated[float, _FACTOR]


@dataclass(frozen=True, slots=True)
class VoltsRead:
    """A voltage and its uncertainty."""

    value_v: Annotated[float, "most likely value"]
    low_v: Annotated[float, _LOW]
    high_v: Annotated[float, _HIGH]
    standard_uncertainty_v: Annotated[float, _ERROR]
    coverage_factor: Factor


@dataclass(frozen=True, slots=True)
class AmperesRead:
    """A current and its uncertainty."""

    value_a: Annotated[float, "most likely value"]
    low_a: Annotated[float, _LOW]
    high_a: Annotated[float, _HIGH]
    standard_uncertainty_a: Annotated[float, _ERROR]
    coverage_factor: Factor


@dataclass(frozen=True, slots=True)
class OhmsRead:
    """A resistance and its uncertainty."""

    value_ohm: Annotated[float, "most likely value"]
    low_ohm: Annotated[float, _LOW]
    high_ohm: Annotated[float, _HIGH]
    standard_uncertainty_ohm: Annotated[float, _ERROR]
    coverage_factor: Factor
    is_told: Annotated[bool, "whether that is told apart from none at all"]


@dataclass(frozen=True, slots=True)
class Warming:
    """By how much a winding warmed from the switching on to the end, and its uncertainty."""

    value_k: Annotated[float, "most likely value"]
    low_k: Annotated[float, _LOW]
    high_k: Annotated[float, _HIGH]
    standard_uncertainty_k: Annotated[float, _ERROR]
    coverage_factor: Factor
    is_told: Annotated[bool, "whether that is told apart from none at all"]
    temperature_c: Annotated[float, "what it has then"]
    over_s: Annotated[float, "time from the switching on to then"]


def told(kind: Any, estimate: Estimate, unit: str, **more: float | bool) -> Any:
    """Put an estimate into the class of its quantity; `unit` is the end of its names."""
    value, half = estimate.value, estimate.half
    low = value - half
    if kind is OhmsRead:
        low, more = max(low, 0.0), {"is_told": low > 0.0}
    return kind(
        **{
            f"value_{unit}": value,
            f"low_{unit}": low,
            f"high_{unit}": value + half,
            f"standard_uncertainty_{unit}": estimate.standard_uncertainty,
        },
        coverage_factor=estimate.coverage_factor,
        **more,
    )


@dataclass(frozen=True, slots=True)
class Sampling:
    """How the recording was taken."""

    samples: Annotated[int, "how many"]
    step_s: Annotated[float, "from one to the next: the median"]
    longest_step_s: Annotated[float, "the longest time between two"]
    gaps: Annotated[int, "steps of more than five times the usual one"]


EventCode = Literal["on", "pull_in", "off"]


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened."""

    event: Annotated[
        EventCode,
        "on, off: switched; pull_in: the current of a winding dips while it rises, for its plunger "
        "or armature moves, and rises on once that has stopped",
    ]
    time_s: Annotated[float, "when, in the middle of the two that follow"]
    earliest_s: Annotated[float, "the last sample before"]
    latest_s: Annotated[float, "the first sample after"]


@dataclass(frozen=True, slots=True)
class Bounces:
    """How often a contact opened again after it had closed, by up to 0.1 s each."""

    times: Annotated[int, "how often"]
    longest_s: Annotated[float, "the longest that it was open"]
    last_s: Annotated[float, "from the switching on to the end of the last one; 0 without any"]


@dataclass(frozen=True, slots=True)
class Timing:
    """How long it was on, and how it came on."""

    times_on: Annotated[
        int, "how often it was on, bounces not counted unless it chatters; the rest is of the first"
    ]
    chatters_every_s: Annotated[
        float | None,
        "from one closing to the next where it goes on and off again and again, more often than "
        f"every {SLOWEST_CHATTER_S} s; else null",
    ]
    on_s: Annotated[
        float | None, "how long it was on; null where the recording begins or ends meanwhile"
    ]
    bounces: Annotated[
        Bounces | None, "of the contact that switched it on; null where that is not recorded"
    ]
    pull_in_after_s: Annotated[float | None, "from the switching on to the pull-in, if any is seen"]


@dataclass(frozen=True, slots=True)
class Amperes:
    """The current."""

    rest: Annotated[AmperesRead | None, "while it is off; null where it never is"]
    plateau: Annotated[AmperesRead, "what it settles to: over the last half of the time on"]
    settles: Annotated[bool, "whether it changes by less than a twentieth there"]
    peak_a: Annotated[float, "largest that was read"]
    peak_time_s: Annotated[float, "when"]
    is_inrush: Annotated[bool, "whether that stands out over the plateau"]
    peak_limit_a: Annotated[
        float | None,
        "what a peak between two samples may have been; null where nothing tells, for the inrush "
        "stands on one sample, or lasts less than a step",
    ]


@dataclass(frozen=True, slots=True)
class Volts:
    """The voltage."""

    rest: Annotated[VoltsRead | None, "while it is off; null where it never is"]
    plateau: Annotated[VoltsRead, "over the last half of the time on"]
    lowest_v: Annotated[float, "lowest that was read while it was on, or at all where it never is"]
    highest_v: Annotated[float, "highest likewise"]


@dataclass(frozen=True, slots=True)
class FittedLine:
    """How the resistance was found: a line of volts over amperes."""

    at_no_current: Annotated[
        VoltsRead, "volts where the line meets no current: of a battery, what it has unloaded"
    ]
    skew_s: Annotated[float, "by how much the volts come later than the amperes; taken out"]
    skew_uncertainty_s: Annotated[float, "standard uncertainty of that; counted in the resistance"]
    samples: Annotated[int, "that lie on the line"]
    new_samples: Annotated[
        float, "as many as tell something new, since noise that lasts repeats itself"
    ]


ReadingCode = Literal[
    "amperes_on",
    "volts_on",
    "volts_at_rest",
    "ohms_of_path",
    "ohms_of_battery",
    "ohms_before_load",
    "ohms_of_load",
]


@dataclass(frozen=True, slots=True)
class RecordedReading:
    """A reading that the recording gives, for a fit of the circuit."""

    reading: Annotated[ReadingCode, "what was read: say where, and in which case"]
    values: Annotated[
        dict[str, Annotated[float, "the number"]],
        "value_v, value_a or value_ohm, standard_uncertainty of the same unit, and duration_s",
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordingAnswer(Result):
    """Answer of ``recording``."""

    switched: Annotated[
        bool, "whether anything is switched on or off; if not, levels are those of all samples"
    ]
    level_message: Annotated[
        str | None,
        "what is said of the volts while it is on, where they are no good or hardly good enough; "
        "else null",
    ]
    sampling: Annotated[Sampling, "how it was taken"]
    events: Annotated[tuple[Event, ...], "what happened the first time that it was on, in order"]
    timing: Annotated[Timing, "how long it was on, and how it came on"]
    current: Annotated[Amperes | None, "the amperes; null without current_a"]
    volts: Annotated[Volts | None, "the volts; null without volts_v"]
    resistance: Annotated[
        OhmsRead | None,
        "of the path, of the battery or of all there is before the load, as `between` says; null "
        "where volts over amperes do not tell",
    ]
    line: Annotated[FittedLine | None, "how it was found"]
    load_resistance: Annotated[
        OhmsRead | None, "volts over amperes at the load, on the plateau; null elsewhere"
    ]
    warming: Annotated[
        Warming | None,
        "of the winding, from volts over amperes at it: the supply falls meanwhile, too, so that "
        "amperes alone tell nothing; null where it is not known",
    ]
    is_reversed: Annotated[
        bool, "whether the clamp sits the wrong way round: signs of the amperes are turned here"
    ]
    readings: Annotated[tuple[RecordedReading, ...], "what it gives for a fit of the circuit"]
