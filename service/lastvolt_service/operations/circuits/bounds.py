"""A circuit whose inputs are known only within bounds: what the decisive voltages do in them."""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from lastvolt_service.errors import Path
from lastvolt_service.operations.circuits.assembly import open_coil_v, rest
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import (
    Circuit,
)
from lastvolt_service.operations.circuits.intervals import (
    Study,
    intervals,
    middle,
    pinned,
    study,
)
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.part_checks import GIVEN
from lastvolt_service.operations.circuits.states import (
    Influence,
    Output,
    OutputSpread,
    load_states,
    relay_states,
)
from lastvolt_service.operations.judging import FAIL, UNDECIDED, Judged
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.rows import NOT_GIVEN
from lastvolt_service.units import Interval

Key = tuple[Output, str]  # which output of which part


@dataclass(frozen=True, slots=True)
class Bounds:
    """The intervals of a circuit in a case, and what was found within them.

    Attributes
    ----------
    given : tuple of (path, Interval)
        In the order in which `pinned` meets them.
    found : Study
        By output and part.
    """

    given: tuple[tuple[Path, Interval], ...]
    found: Study[Key]

    @property
    def spreads(self) -> tuple[OutputSpread, ...]:
        """What every decisive voltage does; empty where no input is an interval."""
        return tuple(
            OutputSpread(*key, spread.nominal, spread.low, spread.high)
            for key, spread in self.found.spreads.items()
        )

    def influences(self, load: str) -> tuple[Influence, ...]:
        """What each interval does to the voltage of a load, strongest first."""
        return self._influences(("load_voltage", load))

    def _influences(self, key: Key) -> tuple[Influence, ...]:
        told = (
            Influence("/".join(map(str, path)), effect)
            for (path, _), effect in zip(self.given, self.found.effects.get(key, ()), strict=False)
        )
        return tuple(sorted(told, key=lambda item: -abs(item.change_v)))

    def checks(self, load: str) -> Iterator[Checked]:
        """Judge the worst of all bounds.

        What works in the middle and not at some end is undecided, and its detail is the input that
        matters most. A circuit without a state of rest at some end is held against `load`.
        """
        if self.found.unsolved:
            judged = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, FAIL)
            why = self.found.unsolved[0]
            yield Checked("rest_within_bounds", judged, "V", GIVEN, part=load, detail=why)
        for key, spread in self.found.spreads.items():
            code, part = key
            judges = code in {"load_margin", "coil_margin"}
            if judges and spread.low < 0 <= spread.nominal:
                judged = Judged(spread.low, 0.0, spread.low, UNDECIDED)
                measure = self._influences(key)[0].input
                yield Checked("within_bounds", judged, "V", GIVEN, part=part, detail=measure)


def bounds(circuit: Circuit, case: Case) -> Bounds:
    """Study a circuit within the bounds of its inputs.

    Raises
    ------
    CalculationError
        If there is no state of rest even with all inputs in the middle.
    """
    given = _given(circuit, case)
    if not given:
        return Bounds((), Study({}, {}, ()))

    usual = relay_states(rest(*plain(circuit, case)))
    # A relay that is meant to be open has no margin that could fall short.
    closed = {relay.name for relay in usual if relay.energised}

    def outputs(values: tuple[float, ...]) -> dict[Key, float]:
        return _decisive_outputs(rest(*plain(circuit, case, values)), closed)

    return Bounds(given, study([interval for _, interval in given], outputs))


def plain(
    circuit: Circuit, case: Case, values: Sequence[float] | None = None
) -> tuple[Circuit, Case]:
    """Put numbers in the place of intervals, one for each; by default their middles."""
    found = [interval for _, interval in _given(circuit, case)]
    if not found:
        return circuit, case
    numbers = iter(middle(found) if values is None else values)
    return pinned(circuit, numbers), pinned(case, numbers)


def _given(circuit: Circuit, case: Case) -> tuple[tuple[Path, Interval], ...]:
    return (*intervals(circuit, ("circuit",)), *intervals(case, ("cases", case.name)))


def _decisive_outputs(state: State, closed: AbstractSet[str]) -> dict[Key, float]:
    found: dict[Key, float] = {}
    for load in load_states(state):
        found["load_voltage", load.name] = load.voltage_v
        if load.margin_v is not None:
            found["load_margin", load.name] = load.margin_v
    before_v = open_coil_v(state)
    for place, relay in enumerate(relay_states(state)):
        found["coil_voltage", relay.name] = relay.coil_v
        if relay.name in closed:
            held = state.model.held[place]
            # It pulls in by the voltage before it closes, whatever its contact then does to it.
            volts = relay.coil_v if held else before_v.get(relay.name, relay.coil_v)
            needed = relay.drop_out_v if held else relay.pick_up_v
            found["coil_margin", relay.name] = volts - needed
    return found
