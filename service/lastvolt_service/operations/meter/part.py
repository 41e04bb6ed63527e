"""What is told of each part that was read."""

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True, slots=True)
class PartDiagnosis:
    """What one reading says of its part."""

    name: Annotated[str, "the part as the request names it"]
    kind: Annotated[str, "wire or contact"]
    part: Annotated[str | None, "what makes the contact; null for a wire"]
    measured_v: Annotated[float, "what the meter shows"]
    uncertainty_v: Annotated[float, "largest error of that reading"]
    expected_v: Annotated[
        float,
        "of a new wire at this current and temperature, or the most that a sound contact drops",
    ]
    excess_v: Annotated[float, "measured over expected; 0 where it drops no more"]
    excess_uncertainty_v: Annotated[
        float,
        "largest error of the excess: of the reading, of what is expected, and of readings that "
        "contradict each other",
    ]
    excess_resistance_ohm: Annotated[float, "the excess as a resistance, at the current"]
    excess_at_work_v: Annotated[
        float | None,
        "the excess that it would be at working_current_a; null where all of the supply sends no "
        "such current through the part",
    ]
    proven: Annotated[bool, "whether the excess is beyond its largest error"]
    rank: Annotated[int, "1 is the part that gives the load most when mended"]
    regained_v: Annotated[
        float,
        "what the load gains when the excess is mended: a load of constant resistance with "
        "load_voltage_v, of constant current without it",
    ]
    share_percent: Annotated[float, "of all that is measured; 0 where nothing drops"]
