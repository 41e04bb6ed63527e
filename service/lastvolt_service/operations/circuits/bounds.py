"""A circuit whose inputs are known only within bounds: what voltages and checks do in them."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.operations.circuits.assembly import open_coils_v, rest_all
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.fused_wires import InDoubt
from lastvolt_service.operations.circuits.intervals import (
    Pins,
    Study,
    middle,
    placed,
    study,
)
from lastvolt_service.operations.circuits.letting_go import KEEPS_IN, LettingGo
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.part_checks import GIVEN, Rested
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.circuits.source_checks import source_checks
from lastvolt_service.operations.circuits.states import (
    Influence,
    Output,
    OutputSpread,
    load_states,
    relay_states,
)
from lastvolt_service.operations.judging import FAIL, UNDECIDED, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.units import Interval, unit_of

Voltage = tuple[Output, str]  # which voltage of which part
Judgement = tuple[str, str | None, str | None]  # a check's code, part and detail
Key = Voltage | Judgement
# Of a load what its maker knows: nobody reads it on a vehicle.
NEEDS = frozenset({"needed_v", "works_from_v", "pull_in_v", "hold_v"})
# Margin of a check that fails without a number.
NO_NUMBER = -1e300


@dataclass(frozen=True, slots=True)
class Bounds:
    """The intervals of a circuit in a case, and what was found within them.

    Attributes
    ----------
    circuit : Circuit
        That was studied.
    given : tuple of (path, Interval)
        In the order in which `Pins` meets them.
    found : Study
        By output and part, and by what may keep a relay in.
    switches : bool
        Whether relays or loads are on at some points that were looked at and off at others.
    flipping : dict to Checked
        Checks that fail at some ends and pass at others, where they fail most.
    moves : dict to tuple of float
        What each interval does to the margins of these, from its low to its high end.
    """

    circuit: Circuit
    given: tuple[tuple[Path, Interval], ...]
    found: Study[Key]
    flipping: Mapping[Judgement, Checked]
    moves: Mapping[Judgement, tuple[float, ...]]
    switches: bool = False

    @property
    def spreads(self) -> tuple[OutputSpread, ...]:
        """What every decisive voltage does; empty where no input is an interval."""
        return tuple(
            OutputSpread(*key, spread.nominal, spread.low, spread.high, self.switches)
            for key, spread in self.found.spreads.items()
            if len(key) == 2
        )

    def influences(self, load: str) -> tuple[Influence, ...]:
        """What each interval does to the voltage of a load, strongest first."""
        return self._influences(self.found.effects.get(("load_voltage", load), ()))

    def effects(self, output: Output, part: str) -> dict[Path, float]:
        """What each interval does to a voltage from its low to its high end, by its path. [V]."""
        found = self.found.effects.get((output, part), ())
        return {path: effect for (path, _), effect in zip(self.given, found, strict=False)}

    def _influences(self, effects: Sequence[float]) -> tuple[Influence, ...]:
        told = (
            Influence("/".join(map(str, path)), effect)
            for (path, _), effect in zip(self.given, effects, strict=False)
        )
        return tuple(sorted(told, key=lambda item: -abs(item.change_v)))

    def checks(self, usual: Sequence[Checked], load: str) -> Iterator[Checked]:
        """Judge the worst of all bounds, given the checks with all inputs in the middle.

        What fails at some ends and passes at others is undecided, at its worst, and names the input
        that matters most. A circuit without a state of rest at some end is held against `load`.
        """
        if self.found.unsolved:
            judged = flatly(FAIL)
            why = self.found.unsolved[0]
            yield Checked("rest_within_bounds", judged, "V", GIVEN, part=load, detail=why)
        unsure = {key: self._unsure(key, check) for key, check in self.flipping.items()}
        frozen = {part for code, part, _ in unsure if code == "freezing"}
        for check in [*(unsure.pop(_name(each), each) for each in usual), *unsure.values()]:
            care = (
                check.code == "charge" and check.part in frozen and check.detail in {None, "joined"}
            )
            yield replace(check, detail="frozen") if care else check

    def _unsure(self, key: Judgement, check: Checked) -> Checked:
        undecided = replace(check, judged=check.judged._replace(verdict=UNDECIDED))
        if check.code == "freezing":  # what may be frozen is said so, and comes first
            return undecided
        paths = [each.input.split("/") for each in self._influences(self.moves[key])]
        path = next((each for each in paths if each[-1] not in NEEDS), paths[0])
        if key[0] == "contact_drop":  # it is read itself, with all that moves it
            return replace(undecided, measure=volts_across(str(key[1])))
        if key[0] == "load_voltage" and path is not paths[0]:
            return replace(undecided, measure=volts_at(str(key[1])))
        return replace(undecided, measure=measured(path, self.circuit))


class CasePins:
    """The places of the intervals of a circuit in a case."""

    def __init__(self, circuit: Circuit, case: Case, of_circuit: Pins | None = None) -> None:
        """Find them; `of_circuit` are those of the circuit, where they are known."""
        self._of_circuit, self._of_case = of_circuit or Pins(circuit), Pins(case)
        self.given: tuple[tuple[Path, Interval], ...] = (
            *((("circuit", *path), each) for path, each in self._of_circuit.given),
            *((("cases", case.name, *path), each) for path, each in self._of_case.given),
        )

    def put(self, values: Sequence[float]) -> tuple[Circuit, Case]:
        """Put numbers in their place, one for each."""
        numbers = iter(values)
        return self._of_circuit.put(numbers), self._of_case.put(numbers)

    def moved(self, circuit: Circuit, case: Case, at: int, value: float) -> tuple[Circuit, Case]:
        """Put another number in one place of those that are put."""
        path, _ = self.given[at]
        if path[0] == "circuit":
            return placed(circuit, path[1:], value), case
        return circuit, placed(case, path[2:], value)

    @property
    def plain(self) -> tuple[Circuit, Case]:
        """Circuit and case in plain numbers, the middle of each interval."""
        return self.put(middle([interval for _, interval in self.given]))


def plain(circuit: Circuit, case: Case) -> tuple[Circuit, Case]:
    """Put the middles of intervals in their place."""
    return CasePins(circuit, case).plain


class Points:
    """A circuit within the bounds of its inputs: at rest in the middle, at ends and at corners.

    Parameters
    ----------
    circuit : Circuit
        With its intervals.
    pins : CasePins
        Where they and those of a case are.
    plain_pair, at_middle : (Circuit, Case), Rested
        Circuit and case with all inputs in the middle, and how they rest.
    going : LettingGo
        What may keep its relays in.

    Attributes
    ----------
    rested : list of Rested
        How it rests at all points that have a solution, the middle first; of no interval, nowhere.
    """

    def __init__(
        self,
        circuit: Circuit,
        pins: CasePins,
        plain_pair: tuple[Circuit, Case],
        at_middle: Rested,
        going: LettingGo,
    ) -> None:
        """Solve them all, two times side by side."""
        self._circuit, self._given, self._going = circuit, pins.given, going
        self._pins, self._middle = pins, (plain_pair, at_middle)
        self.rested: list[Rested] = []
        self._others: list[tuple[tuple[Checked, ...], tuple[Checked, ...]]] = []
        # A relay that is meant to be open has no margin that could fall short.
        self._closed = {relay.name for relay in relay_states(at_middle.state) if relay.energised}
        self._patterns: set[bytes] = set()
        self._found: Study[Key] = Study({}, {}, ())
        if self._given:
            # What may keep a relay in is worst where leak, coil and battery are so together.
            self._found = study(
                [interval for _, interval in self._given],
                self._outputs,
                lambda key: len(key) == 2 or key[0] in KEEPS_IN,
            )

    def _outputs(
        self, points: Sequence[tuple[float, ...]]
    ) -> list[Mapping[Key, float] | CalculationError]:
        plain_pair, at_middle = self._middle
        new = points if self.rested else points[1:]
        pairs = [self._pins.put(values) for values in new]
        found = [*_at_rest(pairs, at_middle.nominal, at_middle.off)]
        if not self.rested:
            pairs, found = [plain_pair, *pairs], [at_middle, *found]
        seen = [
            (*pair, each.state)
            for each, pair in zip(found, pairs, strict=True)
            if isinstance(each, Rested)
        ]
        going = iter(self._going.checks(seen))
        return [
            self._told(each, next(going), *pair) if isinstance(each, Rested) else each
            for each, pair in zip(found, pairs, strict=True)
        ]

    def _told(
        self, rested: Rested, of_going: tuple[Checked, ...], circuit: Circuit, case: Case
    ) -> Mapping[Key, float] | CalculationError:
        state, middle = rested.state, self._middle[1].state
        self._patterns.add(state.solution.energised.tobytes() + state.solution.drawing.tobytes())
        # A load that can be fed in the middle and not here leaves no state to speak of.
        for name, error in state.unfed.items():
            if name not in middle.unfed:
                return error
        self.rested.append(rested)
        nominal = rested.nominal
        of_source = tuple(source_checks(circuit, case, state, nominal, nominal))
        self._others.append((of_source, of_going))
        decisive = _decisive_outputs(state, self._closed, rested.open_coil_v)
        return decisive | _margins({_name(check): check for check in of_going})

    def judged(self, of_parts: Sequence[tuple[Checked, ...]], in_doubt: InDoubt) -> Bounds:
        """Put together what was found, given the checks of parts at each point.

        Parameters
        ----------
        of_parts, in_doubt
            As of `checks_within`.
        """
        judged = [
            {_name(check): check for check in (*of_source, *here, *of_going)}
            for here, (of_source, of_going) in zip(of_parts, self._others, strict=True)
        ]
        flipping, margins = _flipping(judged, in_doubt), [*map(_margins, judged)]
        return Bounds(
            self._circuit,
            self._given,
            self._found,
            flipping,
            {key: self._found.effects_on(margins, key) for key in flipping},
            len(self._patterns) > 1,
        )


def _at_rest(
    pairs: Sequence[tuple[Circuit, Case]], nominal: int, off: AbstractSet[str]
) -> Iterator[Rested | CalculationError]:
    """Bring one circuit with many values to rest, all at once."""
    rested = rest_all(pairs)
    coils = iter(open_coils_v([state for state in rested if isinstance(state, State)]))
    for state, pair in zip(rested, pairs, strict=True):
        if isinstance(state, CalculationError):
            yield state
            continue
        before_v = next(coils)
        if isinstance(before_v, CalculationError):
            yield before_v
        else:
            yield Rested.of(state, before_v, *pair, nominal, off)


def measured(path: Sequence[str], circuit: Circuit) -> str:
    """Say how an input is found: an ohmmeter at a cold lamp or a motor that stands misleads.

    It reads no milliohms of a contact either.
    """
    *leading, field = path
    if field == "resistance_ohm" and leading[1] == "loads":
        return f"current of {circuit.loads[int(leading[2])].name} and the volts across it"
    if field == "resistance_ohm" and leading[1] == "branches":
        branch = circuit.branches[int(leading[2])]
        if isinstance(branch, CircuitContact):
            return volts_across(branch.name)
    return input_named(path, circuit)


def volts_across(part: str) -> str:
    """Say what is read of a contact, by itself."""
    return f"volts across {part}"


def volts_at(load: str) -> str:
    """Say what is read where the wires to a load end: on the vehicle, and not what it needs."""
    return f"volts at {load}"


def input_named(path: Sequence[str], circuit: Circuit) -> str:
    """Name an input as a mechanic would: ``length of the feed``, ``ambient in summer``."""
    *leading, field = path
    unit = unit_of(field)
    what = field.removesuffix(unit.suffix) if unit else field
    if unit is not None and unit.suffix == "_v":
        what += " voltage"
    what = f"ambient of {field}" if leading[-1] == "zone_ambients_c" else what.replace("_", " ")
    if leading[0] == "cases":
        return f"{what} in {leading[1]}"
    if leading[0] == "proposal":
        return f"{what} of the {leading[1]}"
    parts = getattr(circuit, leading[1])
    return f"{what} of {parts[int(leading[2])].name if isinstance(parts, list) else leading[1]}"


def _name(check: Checked) -> Judgement:
    part = check.part if isinstance(check.part, str) else None
    if check.code in KEEPS_IN:  # one question, however it fails
        return KEEPS_IN[0], part, None
    return check.code, part, check.detail


def _margin(check: Checked) -> float:
    """Margin that is below zero where the check fails, and nowhere else."""
    margin = float(check.judged.margin)
    if check.verdict == "fail":
        return margin if margin < 0 else NO_NUMBER
    return max(margin, 0.0)


def _margins(checks: Mapping[Judgement, Checked]) -> dict[Key, float]:
    decided = {"pass", "marginal", "fail"}
    return {key: _margin(check) for key, check in checks.items() if check.verdict in decided}


def _flipping(
    judged: Sequence[Mapping[Judgement, Checked]], in_doubt: InDoubt
) -> dict[Judgement, Checked]:
    """Checks that fail somewhere, where they fail most, and pass or are not there elsewhere.

    What may be frozen in the middle is not weighed against ends at which it is not. Of what is in
    doubt at all points nothing new is told where a check of it is missing.
    """
    found: dict[Judgement, Checked] = {}
    # Of a sound battery nothing is told: where its check is missing, nothing fails.
    doubtful = [
        {key[:2] for key, check in checks.items() if check.verdict not in {"pass", "marginal"}}
        for checks in judged
    ]
    for key in dict.fromkeys(key for checks in judged for key in checks):
        there = [checks[key] for checks in judged if key in checks]
        failed = [check for check in there if check.verdict == "fail"]
        passed = any(check.verdict in {"pass", "marginal"} for check in there)
        ever = key[:2] not in in_doubt
        missing = (
            ever and len(there) < len(judged) and any(key[:2] not in each for each in doubtful)
        )
        sure = key[0] == "freezing" and key in judged[0] and judged[0][key].verdict == "fail"
        new = key not in judged[0] and key[:2] not in doubtful[0]
        if failed and (passed or (ever and (missing or new))) and not sure:
            found[key] = min(failed, key=_margin)
    return found


def _decisive_outputs(
    state: State, closed: AbstractSet[str], before_v: Mapping[str, float]
) -> dict[Key, float]:
    found: dict[Key, float] = {}
    for load in load_states(state):
        found["load_voltage", load.name] = load.voltage_v
        if load.margin_v is not None:
            found["load_margin", load.name] = load.margin_v
    for place, relay in enumerate(relay_states(state)):
        found["coil_voltage", relay.name] = relay.coil_v
        if relay.name in closed:
            held = state.model.held[place]
            # It pulls in by the voltage before it closes, whatever its contact then does to it.
            volts = relay.coil_v if held else before_v.get(relay.name, relay.coil_v)
            needed = relay.drop_out_v if held else relay.pick_up_v
            found["coil_margin", relay.name] = volts - needed
    return found
