"""A circuit whose inputs are known only within bounds: what the decisive voltages do in them."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from lastvolt_service.errors import Path
from lastvolt_service.operations.circuit import Data, State
from lastvolt_service.operations.circuit_build import rest
from lastvolt_service.operations.circuit_checks import GIVEN, named
from lastvolt_service.operations.circuit_state import (
    Influence,
    OutputSpread,
    load_states,
    relay_states,
)
from lastvolt_service.operations.results import Check, show
from lastvolt_service.operations.tolerance import (
    NOT_STUDIED,
    Study,
    intervals,
    middle,
    pinned,
    study,
)
from lastvolt_service.units import Interval

NAME = "within all bounds"
VOLTAGE, MARGIN = "voltage at ", "margin of "
COIL, COIL_MARGIN = "coil voltage of ", "coil margin of "


@dataclass(frozen=True, slots=True)
class Bounds:
    """The intervals of a circuit in a case, and what was found within them.

    Attributes
    ----------
    given : tuple of (path, Interval)
        In the order in which `pinned` meets them.
    found : Study
        By output.
    """

    given: tuple[tuple[Path, Interval], ...]
    found: Study

    @property
    def spreads(self) -> tuple[OutputSpread, ...]:
        """What every decisive voltage does; empty where no input is an interval."""
        return tuple(
            OutputSpread(name, spread.nominal, spread.low, spread.high)
            for name, spread in self.found.spreads.items()
        )

    def influences(self, load: str) -> tuple[Influence, ...]:
        """What each interval does to the voltage of a load, strongest first."""
        effects = self.found.effects.get(f"{VOLTAGE}{load}", ())
        told = (
            Influence("/".join(map(str, path)), effect)
            for (path, _), effect in zip(self.given, effects, strict=False)
        )
        return tuple(sorted(told, key=lambda item: -abs(item.change_v)))

    def checks(self, load: str) -> tuple[tuple[str, Check], ...]:
        """Judge the worst of all bounds: a failed check for each part that fails in them.

        Parameters
        ----------
        load : str
            What a circuit without a state of rest at some end is held against.

        Returns
        -------
        tuple of (str, Check)
            Name of the part, and the check.
        """
        found = []
        if self.found.unsolved:
            message = f"at some ends it has no state of rest: {self.found.unsolved[0]}"
            found.append(named(load, Check(NAME, "fail", None, None, "V", None, GIVEN, message)))
        for output, spread in self.found.spreads.items():
            part = next(
                (output[len(p) :] for p in (MARGIN, COIL_MARGIN) if output.startswith(p)), None
            )
            if part is not None and spread.low < 0 <= spread.nominal:
                message = (
                    f"it works with all inputs in the middle of their bounds, and falls short by "
                    f"{show(-spread.low, 'V')} at the worst of their ends."
                )
                check = Check(NAME, "fail", spread.low, 0.0, "V", spread.low, GIVEN, message)
                found.append(named(part, check))
        return tuple(found)


def bounds(circuit: Data, case: Data) -> Bounds:
    """Study a circuit within the bounds of its inputs.

    Parameters
    ----------
    circuit, case : mapping
        As loaded.

    Returns
    -------
    Bounds

    Raises
    ------
    CalculationError
        If there is no state of rest even with all inputs in the middle.
    """
    given = _given(circuit, case)
    if not given:
        return Bounds((), NOT_STUDIED)

    usual = relay_states(rest(*plain(circuit, case)))
    # A relay that is meant to be open has no margin that could fall short.
    closed = {relay.name for relay in usual if relay.energised}

    def outputs(values: tuple[float, ...]) -> dict[str, float]:
        return _decisive_outputs(rest(*plain(circuit, case, values)), closed)

    return Bounds(given, study([interval for _, interval in given], outputs))


def plain(circuit: Data, case: Data, values: Sequence[float] | None = None) -> tuple[Data, Data]:
    """Put numbers in the place of intervals.

    Parameters
    ----------
    circuit, case : mapping
        As loaded.
    values : sequence of float, optional
        One for each interval; by default their middles.

    Returns
    -------
    circuit, case : mapping
    """
    found = [interval for _, interval in _given(circuit, case)]
    if not found:
        return circuit, case
    both = pinned([circuit, case], iter(middle(found) if values is None else values))
    return both[0], both[1]


def _given(circuit: Data, case: Data) -> tuple[tuple[Path, Interval], ...]:
    return (*intervals(circuit, ("circuit",)), *intervals(case, ("cases", case["name"])))


def _decisive_outputs(state: State, closed: AbstractSet[str]) -> dict[str, float]:
    found = {}
    for load in load_states(state):
        found[f"{VOLTAGE}{load.name}"] = load.voltage_v
        if load.margin_v is not None:
            found[f"{MARGIN}{load.name}"] = load.margin_v
    for place, relay in enumerate(relay_states(state)):
        found[f"{COIL}{relay.name}"] = relay.coil_v
        if relay.name in closed:
            needed = relay.drop_out_v if state.model.held[place] else relay.pick_up_v
            found[f"{COIL_MARGIN}{relay.name}"] = relay.coil_v - needed
    return found
