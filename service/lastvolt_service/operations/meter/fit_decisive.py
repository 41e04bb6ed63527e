"""The voltage at the load in the case that decides, before readings and by them."""

import math
from collections.abc import Iterator, Mapping, Sequence

from lastvolt_service.errors import CalculationError, ConflictingFields
from lastvolt_service.operations.circuits.assembly import rest_all
from lastvolt_service.operations.circuits.intervals import Spread, middle, study
from lastvolt_service.operations.circuits.model import LOAD_GROUPS, State
from lastvolt_service.operations.meter.fit_answer import Decisive
from lastvolt_service.operations.meter.fit_explained import Explained
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_outputs import Output, across
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_told import digits
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.meter.next_reading import Readable
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR

# A load with less than so much of the supply is off.
OFF_SHARE = 0.05


def load_state(state: State, load: str) -> tuple[float, float | None, Output] | None:
    """Voltage of a load, what it needs, and where it is; None where the case leaves it out."""
    for part, volts, _ in state.carrying(*LOAD_GROUPS):
        if part.name == load and part.is_load:
            return volts, part.needed_v, across(state.model, *part.nodes)
    return None


def worst_case(asked: CircuitFitRequest, readable: Readable) -> int:
    """Place of the case that decides.

    Raises
    ------
    ConflictingFields
        If it has no state of rest.
    """
    if asked.worst_case is not None:
        return readable.place_of(asked.worst_case)
    least: dict[int, tuple[bool, int, float]] = {}
    for place, here in sorted(readable.here.items()):
        found = load_state(here.state, asked.load)
        if found is not None:  # where it is off, nothing is decided
            is_off = abs(found[0]) < OFF_SHARE * here.state.model.drive_v
            left_out = len(asked.cases[place].without) if is_off else 0
            least[place] = is_off, left_out, found[0] - (found[1] or 0.0)
    if not least:
        raise ConflictingFields("No case with this load has a state of rest.", ("cases",))
    return min(least, key=least.__getitem__)


def decisive_of(
    asked: CircuitFitRequest, found: Explained, readable: Readable, worst: int
) -> tuple[Decisive, FloatArray]:
    """The voltage that decides, by all that may be, and its slopes with what is not known."""
    here = readable.here[worst]
    state = load_state(here.state, asked.load)
    if state is None:
        raise ConflictingFields("This case leaves the load out.", ("worst_case",))
    slopes = here.state.model.sign * here.slopes([state[2]])[0]
    before = _before(found.model, worst, asked.load)
    reached = [*_reached(found.possible, worst, asked.load)]
    values = [volts for volts, _ in reached]
    low = min((volts - COVERAGE_FACTOR * each for volts, each in reached), default=math.nan)
    high = max((volts + COVERAGE_FACTOR * each for volts, each in reached), default=math.nan)
    if before is not None and all(before.low <= each <= before.high for each in values):
        low, high = max(low, before.low), min(high, before.high)
    likeliest = reached[0] if reached else (math.nan, math.nan)
    return (
        Decisive(
            asked.cases[worst].name,
            None if before is None else digits(min(before.low, *values, before.high)),
            None if before is None else digits(max(before.high, *values, before.low)),
            _if_told(likeliest[0]),
            _if_told(low),
            _if_told(high),
            _if_told(likeliest[1]),
            COVERAGE_FACTOR,
            None if state[1] is None else digits(state[1]),
        ),
        slopes,
    )


def _if_told(value: float) -> float | None:
    return None if math.isnan(value) else digits(value)


def _reached(fits: Sequence[Solved], worst: int, load: str) -> Iterator[tuple[float, float]]:
    """The voltage that decides by each fit, and its standard uncertainty."""
    for each in fits:
        try:
            here = each.problem.model.here(worst, each.point)
        except CalculationError:
            continue
        state = load_state(here.state, load)
        if state is not None:
            yield state[0], each.of(here.slopes([state[2]])[0])


def _before(model: CircuitModel, worst: int, load: str) -> Spread | None:
    """What the voltage does within the bounds given; None without a state of rest in the middle."""
    given = [each for _, each in model.pins[worst].given]

    def outputs(
        points: Sequence[tuple[float, ...]],
    ) -> list[Mapping[str, float] | CalculationError]:
        states = rest_all([model.pins[worst].put(each) for each in points])
        return [
            {load: state.across_v(load)} if isinstance(state, State) else state for state in states
        ]

    try:
        found = study(given, outputs) if given else None
    except CalculationError:
        return None
    if found is None:
        volts = outputs([middle(given)])[0]
        return None if isinstance(volts, CalculationError) else Spread(*[volts[load]] * 3)
    return found.spreads[load]
