"""What readings of a circuit should be, by values of what is not known, and how it moves them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from lastvolt_service.errors import CalculationError, ConflictingFields, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import Posed, rest_each
from lastvolt_service.operations.circuits.bounds import CasePins
from lastvolt_service.operations.circuits.building import build, network_with
from lastvolt_service.operations.circuits.cases import AskedCases, Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.intervals import Pins, intervals, placed
from lastvolt_service.operations.circuits.model import Model, State
from lastvolt_service.operations.meter.fit_outputs import Output
from lastvolt_service.physics.network.elements import FloatArray, Network
from lastvolt_service.physics.network.sensitivity import changes
from lastvolt_service.physics.uncertainty import rectangular
from lastvolt_service.units import Interval, unit_of

# Share of an interval's width by which a value is moved for its slope.
_STEP = 1e-5
# Where parts stand whose values nothing else hangs on.
PARTS = frozenset({"branches", "loads", "relays"})
# What is narrower, as a share of its ends or in its unit, is a number.
_WIDTH, _LEAST_WIDTH = 1e-9, 1e-12


@dataclass(frozen=True, slots=True)
class Unknown:
    """A quantity that was given as an interval.

    Attributes
    ----------
    path : tuple
        Where it stands, as circuit-check names it.
    given : Interval
        Its bounds.
    described : float or None
        What it is thought to be beforehand, where that is not the middle of its bounds.
    """

    path: Path
    given: Interval
    described: float | None = None

    @property
    def input(self) -> str:
        """That path as answers give it."""
        return "/".join(map(str, self.path))

    @property
    def unit(self) -> str:
        """Its unit."""
        path = [str(each) for each in self.path]
        unit = unit_of(path[-2] if "zone_ambients_c" in path else path[-1])
        return unit.symbol if unit else "1"

    @property
    def begin(self) -> float:
        """What it is thought to be beforehand."""
        if self.described is not None:
            return self.described
        return 0.5 * (self.given.low + self.given.high)

    @property
    def deviation(self) -> float:
        """Standard uncertainty by its bounds alone."""
        if self.described is not None:  # it may lie as far off as its high end
            return float(rectangular(self.given.high - self.described))
        return float(rectangular(0.5 * (self.given.high - self.given.low)))

    def clipped(self, value: float) -> float:
        """The nearest value within its bounds."""
        return min(max(value, self.given.low), self.given.high)


class Here:
    """A circuit in one case, at some values of what is not known."""

    def __init__(self, model: "CircuitModel", place: int, values: list[float], state: State):
        """Take a state of rest at some values of what plays a part in its case."""
        self.unknowns, self.state = model.of_case[place], state
        self._model, self.place, self._values = model, place, values
        self._circuit, self.case = state.model.circuit, state.model.case

    @property
    def network(self) -> Network:
        """The network as it was solved."""
        return self.state.model.network

    @property
    def relays(self) -> Mapping[str, bool]:
        """Which relays are in."""
        names = (each.name for each in self.state.model.relays)
        is_in = (bool(each) for each in self.state.solution.energised)
        return dict(zip(names, is_in, strict=True))

    @cached_property
    def varied(self) -> tuple[list[Network], list[float]]:
        """The network with each unknown moved a little, and by how much."""
        networks, steps = [], []
        for at, k in enumerate(self.unknowns):
            (low, high), value = self._model.unknowns[k].given, self._values[at]
            step = _STEP * (high - low) * (1.0 if value <= 0.5 * (low + high) else -1.0)
            networks.append(self._moved(at, value + step))
            steps.append(step)
        return networks, steps

    def _moved(self, at: int, value: float) -> Network:
        """The network with another value in one place."""
        pins, like = self._model.pins[self.place], self.state.model
        path = pins.given[at][0]
        if path[0] == "circuit" and path[1] in PARTS:
            index = int(path[2])
            part = getattr(self._circuit, path[1])[index]
            return network_with(like, index, placed(part, path[3:], value))
        return build(*pins.moved(self._circuit, self.case, at, value), like).network

    def volts(self) -> FloatArray:
        """Voltage of every node, with the sign that a meter shows. [V]."""
        return np.asarray(self.state.model.sign * self.state.solution.node_voltage_v)

    def told(self, outputs: Sequence[Output]) -> FloatArray:
        """What ideal meters show."""
        volts, found = self.volts(), []
        for each in outputs:
            if each.group:
                amps = float(self.state.flow(each.group).current_a[each.index])
                found.append(each.sign * amps)
            else:
                found.append(float(volts[each.plus] - volts[each.minus]))
        return np.array(found)

    def slopes(self, outputs: Sequence[Output]) -> FloatArray:
        """Change of each with each of all unknowns, per unit."""
        solution, sign = self.state.solution, self.state.model.sign
        topology = solution.topology
        plus, minus, through, rows = [], [], [], []
        for each in outputs:
            element = topology.spans[each.group].start + each.index if each.group else -1
            if 0 <= element < topology.branches:
                through.append(element)
                continue
            rows.append(each)
            plus.append(topology.start[element] if each.group else each.plus)
            minus.append(topology.end[element] if each.group else each.minus)
        found = np.zeros((len(outputs), len(self._model.unknowns)))
        if not self.unknowns:
            return found
        variants, steps = self.varied
        moved = changes(
            network=self.network,
            solution=solution,
            variants=variants,
            plus=np.array(plus, dtype=np.int64),
            minus=np.array(minus, dtype=np.int64),
            through=np.array(through, dtype=np.int64),
        ) / np.array(steps)
        volts, amps = iter(moved[: len(plus)]), iter(moved[len(plus) :])
        for row, each in enumerate(outputs):
            if not each.group:
                found[row, self.unknowns] = sign * next(volts)
            elif each.group in {"current_loads", "power_loads"}:
                taken = self._taken(each, next(volts), variants, steps)
                found[row, self.unknowns] = each.sign * taken
            else:
                found[row, self.unknowns] = each.sign * next(amps)
        return found

    def _taken(
        self, each: Output, volts: FloatArray, variants: Sequence[Network], steps: Sequence[float]
    ) -> FloatArray:
        """Slopes of what a load of constant current or power takes."""
        flow = self.state.flow(each.group)
        amps, across = float(flow.current_a[each.index]), float(flow.drop_v[each.index])
        if amps <= 0.0:
            return np.zeros(len(steps))
        field = "current_a" if each.group == "current_loads" else "power_w"
        asked = np.array([getattr(getattr(one, each.group), field)[each.index] for one in variants])
        mine = getattr(getattr(self.network, each.group), field)[each.index]
        moved: FloatArray = (asked - mine) / np.array(steps)
        return moved if field == "current_a" else np.asarray((moved - amps * volts) / across)


class Wanted(NamedTuple):
    """A case to be brought to rest.

    Attributes
    ----------
    place : int
        Which one.
    near : State or None
        Of the same case, where the search begins.
    stuck : mapping of str to bool or None
        Relays that are in or out whatever their coils say.
    """

    place: int
    near: State | None = None
    stuck: Mapping[str, bool] | None = None


def has_width(given: Interval) -> bool:
    """Whether an interval leaves anything open."""
    ends = max(abs(given.low), abs(given.high))
    return given.high - given.low > max(_WIDTH * ends, _LEAST_WIDTH)


def bounds_of(asked: AskedCases) -> list[Interval]:
    """Every interval of a circuit and its cases."""
    return [given for part in (asked.circuit, asked.cases) for _, given in intervals(part)]


def leaves_open(asked: AskedCases) -> bool:
    """Whether anything is left to find."""
    return any(map(has_width, bounds_of(asked)))


def settled(asked: AskedCases) -> AskedCases:
    """Put a number in the place of each interval without width."""

    def put(part: Any) -> Any:
        pins = Pins(part)
        own: Any = (each if has_width(each) else each.low for _, each in pins.given)
        return pins.put(own)

    return changed(asked, circuit=put(asked.circuit), cases=[put(case) for case in asked.cases])


class CircuitModel:
    """A circuit in its cases, with everything in it that is known within bounds only.

    Attributes
    ----------
    circuit, cases : Circuit, sequence of Case
        As requested.
    unknowns : list of Unknown
        Those of the circuit, then those of each case.
    pins : list of CasePins
        Of each case.
    of_case : list of list of int
        Which unknowns play a part in each case.
    built : dict of int to Model
        What was built last of each case: most of its parts stay as they are.
    """

    built: dict[int, Model]

    def __init__(
        self, circuit: Circuit, cases: Sequence[Case], described: Mapping[Path, float] | None = None
    ) -> None:
        """Find the unknowns; `described` says by path what some are thought to be."""
        self.circuit, self.cases, self.described = circuit, cases, described
        self.built = {}
        shared = Pins(circuit)
        self.pins = [CasePins(circuit, case, shared) for case in cases]
        places: dict[Path, int] = {}
        self.unknowns: list[Unknown] = []
        self.of_case: list[list[int]] = []
        for pins in self.pins:
            for path, given in pins.given:
                if path not in places:
                    places[path] = len(self.unknowns)
                    self.unknowns.append(Unknown(path, given, (described or {}).get(path)))
            self.of_case.append([places[path] for path, _ in pins.given])

    @property
    def ends(self) -> tuple[FloatArray, FloatArray]:
        """Bounds of all unknowns."""
        ends = np.array([each.given for each in self.unknowns]).reshape(-1, 2)
        return ends[:, 0], ends[:, 1]

    def place_of(self, case: str, index: int) -> int:  # noqa: ARG002  # two circuits at once ask it
        """Place of the case of a reading."""
        return next(place for place, each in enumerate(self.cases) if each.name == case)

    def here(
        self,
        place: int,
        point: FloatArray,
        near: State | None = None,
        stuck: Mapping[str, bool] | None = None,
    ) -> Here:
        """Bring one case to rest.

        Raises
        ------
        CalculationError
            If it has no state of rest there.
        """
        (found,) = self.heres(point, [Wanted(place, near, stuck)])
        if isinstance(found, CalculationError):
            raise found
        return found

    def heres(self, point: FloatArray, wanted: Sequence[Wanted]) -> list[Here | CalculationError]:
        """Bring some cases to rest, side by side; or tell why one has no state of rest."""
        values = [[float(point[k]) for k in self.of_case[each.place]] for each in wanted]
        states = rest_each(
            [
                Posed(
                    *self.pins[each.place].put(own),
                    each.near,
                    self.stuck_in(each.place, each.stuck),
                    self.built.get(each.place),
                )
                for each, own in zip(wanted, values, strict=True)
            ]
        )
        found: list[Here | CalculationError] = []
        for each, own, state in zip(wanted, values, states, strict=True):
            if isinstance(state, CalculationError):
                found.append(state)
                continue
            self.built[each.place] = state.model
            is_steady = not state.solution.chatter
            found.append(
                Here(self, each.place, own, state) if is_steady else chatters(self, each.place)
            )
        return found

    def stuck_in(
        self,
        place: int,  # noqa: ARG002  # two circuits at once ask it
        stuck: Mapping[str, bool] | None,
    ) -> Mapping[str, bool] | None:
        """Relays that do not follow their coils in a case."""
        return stuck

    def narrowed(self, bounds: Sequence[Interval | float]) -> tuple[Circuit, list[Case]]:
        """Circuit and cases with other bounds in the place of those given."""
        values = [[bounds[k] for k in own] for own in self.of_case]
        put = [pins.put(each) for pins, each in zip(self.pins, values, strict=True)]  # type: ignore[arg-type]  # any value may stand there
        return put[0][0], [case for _, case in put]


def chatters(model: CircuitModel, place: int) -> ConflictingFields:
    """Say why nothing can be read in a case."""
    return ConflictingFields(
        f"Relays chatter in {model.cases[place].name}: no meter shows anything steady there. Leave "
        "out its readings.",
        ("cases", place),
    )
