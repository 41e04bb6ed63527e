"""What a recording is: times, volts, amperes, and how far the two channels may be off."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any, ClassVar

from lastvolt_service.fields import (
    ABSENT,
    Broken,
    Fields,
    Quantity,
    choice,
    count,
    flag,
    many,
    quantity,
)
from lastvolt_service.operations.meter.recording_example import EXAMPLE
from lastvolt_service.operations.wires.fields import NOMINALS
from lastvolt_service.tables.limits import contact_limits

# As many as fit into a body of 1 MiB with all their digits.
MOST_SAMPLES = 16_000
LEAST_SAMPLES = 3
MOST_V, MOST_A, MOST_S = 1e3, 1e4, 1e6
SHORTEST_STEP_S = 1e-9


def _channel(meaning: str, most: float, **options: Any) -> Any:
    number = Quantity(meaning="one sample", minimum=-most, maximum=most)
    return many(number, meaning, minimum=LEAST_SAMPLES, maximum=MOST_SAMPLES, **options)


class RecordingRequest(Fields):
    """A recording of volts, of amperes, or of both at once."""

    time_s: list[float] = _channel(
        "when each sample was taken, rising; it may begin below 0", MOST_S
    )
    volts_v: list[float] = _channel(
        "what the voltmeter, or that channel of an oscilloscope, read then",
        MOST_V,
        optional=True,
    )
    current_a: list[float] = _channel(
        "what the clamp read then; a clamp that sits the wrong way round is noticed",
        MOST_A,
        optional=True,
    )
    between: str = choice(
        "what the volts are read across: a path, a part or a contact that carries the current; the "
        "posts of the battery; or the load. The slope of volts over amperes is the resistance of "
        "the path; downwards, it is that of the battery, or of all there is before the load",
        ("path", "battery", "load"),
        default=ABSENT,
    )
    part: str | None = choice(
        "where a path is one contact, what makes it, to hold its drop against what a sound one has",
        tuple(contact_limits()),
        default=ABSENT,
    )
    needed_v: float = quantity(
        "lowest voltage at which the load works, as a solenoid's to pull in, to hold the volts "
        "across it against",
        minimum=0.01,
        maximum=100.0,
        default=ABSENT,
    )
    nominal_v: float = count(
        "nominal voltage of the system, 6, 12 or 24, to judge a battery by; by default told from "
        "what it has at rest",
        choices=NOMINALS,
        default=ABSENT,
    )
    winding: bool = flag(
        "whether the load is one copper winding, such as a relay's coil or a solenoid: its pull-in "
        "is looked for in the current, and with the volts across the load its warming",
        default=False,
    )
    start_temperature_c: float = quantity(
        "of that winding when it is switched on", minimum=-40.0, maximum=200.0, default=20.0
    )
    volts_accuracy_percent: float = quantity(
        "largest error of the volts, of what is read; the default is practice for a usual meter",
        maximum=20.0,
        default=0.5,
    )
    volts_resolution_v: float = quantity(
        "one step of the last digit of the volts; their zero may be off by as much",
        minimum=1e-6,
        maximum=10.0,
        default=0.01,
    )
    current_accuracy_percent: float = quantity(
        "largest error of the amperes, of what is read; the default is practice for a usual clamp",
        maximum=20.0,
        default=2.0,
    )
    current_resolution_a: float = quantity(
        "one step of the last digit of the amperes; their zero may be off by as much: clamp to "
        "zero first, and give what is left if it is more",
        minimum=1e-6,
        maximum=100.0,
        default=0.1,
    )

    at_least_one_of: ClassVar = (("volts_v", "current_a"),)
    together: ClassVar = (("volts_v", "between"),)
    bound: ClassVar = (
        f"A recording has from {LEAST_SAMPLES} to {MOST_SAMPLES:,} samples: of a longer one send "
        "what lies round the switching."
    )
    example: ClassVar = EXAMPLE

    def broken_rules(self) -> Iterator[Broken]:
        """Times rise, and each channel has a sample for each."""
        count = len(self.time_s)
        for name in ("volts_v", "current_a"):
            values = getattr(self, name)
            other = 0 < len(values) != count
            yield other, (name,), f"These are {len(values)} samples, and time_s has {count}."
        for place, (before, after) in enumerate(pairwise(self.time_s), 1):
            if after - before < SHORTEST_STEP_S:
                yield (
                    True,
                    ("time_s", place),
                    f"Times must rise: this is {after:g} s, and {before:g} s stand before it.",
                )
                return
