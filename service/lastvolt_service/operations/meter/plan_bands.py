"""What a meter shows at places of a circuit in a case, within its intervals and its own error."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, TypeVar

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.operations.circuits.assembly import rest, rest_all
from lastvolt_service.operations.circuits.bounds import CasePins, plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.intervals import Spread, study
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.meter.fit_outputs import clamped, element
from lastvolt_service.operations.meter.leads import between, volts
from lastvolt_service.operations.meter.reading_fields import MeterData
from lastvolt_service.units import Interval

Key = TypeVar("Key", bound=Hashable)
# By this a `Shown` knows what a load has over what it needs, if it needs anything.
MARGIN = "margin"
# What lies on the way of a current; its coils and loads are no worse for more ohms.
_ON_THE_WAY = frozenset({"source", "further_sources", "branches"})


@dataclass(frozen=True, slots=True)
class Held:
    """Where a meter is held: its leads at two nodes, or its clamp round a part."""

    red: str | None = None
    black: str | None = None
    through: str | None = None

    def nodes(self, turned: bool) -> tuple[str, ...]:
        """Nodes of the red and the black lead; empty where there are none."""
        if self.red is None or self.black is None:
            return ()
        return (self.black, self.red) if turned else (self.red, self.black)


@dataclass(frozen=True, slots=True)
class Band:
    """What a reading shows that passes."""

    usual: Annotated[float, "with all inputs in the middle, by a meter without error"]
    low: Annotated[float, "least that passes"]
    high: Annotated[float, "most that passes"]
    step: Annotated[float, "of the last digit of the meter there"]
    is_about: Annotated[
        bool,
        "whether a relay or a load switches, chatters or finds no rest within the bounds, so that "
        "there may be less or more",
    ]


@dataclass(frozen=True, slots=True)
class Shown:
    """What is at some places of a circuit in a case, before any meter errs.

    Attributes
    ----------
    spreads : mapping of Spread
        By place; without those that the case leaves out.
    state : State
        The circuit at rest, with all inputs in the middle.
    is_about : bool
        As of a `Band`.
    closes : mapping of str to bool or None
        Whether each relay is closed, within all bounds; None where that depends on them.
    """

    spreads: Mapping[Hashable, Spread]
    state: State
    is_about: bool
    closes: Mapping[str, bool | None]

    def band(self, key: Hashable, meter: MeterData, turned: bool = False) -> Band | None:
        """What passes at a place; `turned` with the leads the other way round."""
        found = self.spreads.get(key)
        if found is None:
            return None
        usual, low, high = found.nominal, found.low, found.high
        if turned:
            usual, low, high = 0.0 - usual, 0.0 - high, 0.0 - low
        low, high = meter.least_and_most(low, high)
        step = float(meter.step(max(abs(low), abs(high))))
        return Band(usual, low, high, step, self.is_about)


def shown(
    circuit: Circuit, case: Case, places: Mapping[Key, Held], load: str | None = None
) -> Shown:
    """Find what is at places, within the bounds of all inputs.

    Parameters
    ----------
    circuit, case : Circuit, Case
        With their intervals.
    places : mapping of Held
        By whatever the caller knows them by.
    load : str, optional
        A load that must be fed, and of which `MARGIN` is told.

    Raises
    ------
    CalculationError
        If there is no state of rest with all inputs in the middle.
    """
    pins = CasePins(circuit, case)
    states: list[State] = []
    patterns: set[bytes] = set()

    def outputs(
        points: Sequence[tuple[float, ...]],
    ) -> list[Mapping[Hashable, float] | CalculationError]:
        found: list[Mapping[Hashable, float] | CalculationError] = []
        for state in rest_all([pins.put(each) for each in points]):
            if isinstance(state, State) and load in state.unfed:
                found.append(state.unfed[load])
            elif isinstance(state, State):
                states.append(state)
                solution = state.solution
                patterns.add(solution.energised.tobytes() + solution.drawing.tobytes())
                row = _margin(state, load)
                row.update(at(state, places).items())
                found.append(row)
            else:
                found.append(state)
        return found

    study_ = study([each for _, each in pins.given], outputs)
    spreads: Mapping[Hashable, Spread] = study_.spreads
    if len(patterns) > 1:
        # Where a relay switches no slope leads from one state to the ends of the other.
        spreads = _wider(
            spreads, outputs([_end(pins.given, best=True), _end(pins.given, best=False)])
        )
    chatters = any(state.solution.chatter for state in states)
    is_about = chatters or len(patterns) > 1 or bool(study_.unsolved)
    return Shown(spreads, states[0], is_about, _closes(states))


def _end(given: Sequence[tuple[Path, Interval]], *, best: bool) -> tuple[float, ...]:
    """All that is on the way at its best, or at its worst: the most of volts, the least of ohms."""
    found = []
    for path, each in given:
        is_ohm, is_volt = str(path[-1]).endswith("_ohm"), str(path[-1]).endswith("_v")
        is_contact = path[-1] == "contact_resistance_ohm"
        is_there = path[:1] == ("circuit",) and (is_contact or path[1] in _ON_THE_WAY)
        if is_there and (is_ohm or is_volt):
            found.append(each.high if is_volt == best else each.low)
        else:
            found.append(0.5 * (each.low + each.high))
    return tuple(found)


def _wider(
    spreads: Mapping[Hashable, Spread],
    rows: Sequence[Mapping[Hashable, float] | CalculationError],
) -> dict[Hashable, Spread]:
    found = dict(spreads)
    for row in (each for each in rows if not isinstance(each, CalculationError)):
        for key, value in row.items():
            own = found.get(key)
            if own is not None:
                found[key] = Spread(own.nominal, min(own.low, value), max(own.high, value))
    return found


def usual(circuit: Circuit, case: Case, places: Mapping[Key, Held]) -> Shown:
    """The same with all inputs in the middle alone, where it hardly depends on them.

    Raises
    ------
    CalculationError
        If there is no state of rest.
    """
    state = rest(*plain(circuit, case))
    spreads: dict[Hashable, Spread] = {}
    for key, value in at(state, places).items():
        spreads[key] = Spread(value, value, value)
    return Shown(spreads, state, bool(state.solution.chatter), _closes([state]))


def _closes(states: Sequence[State]) -> dict[str, bool | None]:
    found: dict[str, bool | None] = {}
    for index, relay in enumerate(states[0].model.relays):
        on = {bool(each.solution.energised[index]) for each in states}
        chatters = any(index in each.solution.chatter for each in states)
        found[relay.name] = None if chatters or len(on) > 1 else on.pop()
    return found


def _margin(state: State, load: str | None) -> dict[Hashable, float]:
    part = None if load is None else state.named(load)
    if part is None or part.needed_v is None:
        return {}
    return {MARGIN: state.across_v(part.name) - part.needed_v}


def at(state: State, places: Mapping[Key, Held]) -> dict[Key, float]:
    """What is at places of a circuit at rest; without those that are not there."""
    nodes, found = volts(state), dict[Key, float]()
    for key, each in places.items():
        value = between(each.red, each.black, nodes)
        if each.through is not None:
            value = _through(state, each.through)
        if value is not None:
            found[key] = value
    return found


def _through(state: State, name: str) -> float | None:
    where = element(state.model, name)
    if where is None:
        return None
    held = clamped(state.model, *where)
    return held.sign * float(state.flow(held.group).current_a[held.index]) + 0.0
