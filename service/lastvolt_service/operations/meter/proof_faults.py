"""What readings after go with that contradict the way as it is described: one fault at a time.

Built otherwise than described, a relay that does not open or close, a part that is open or got
worse. Whether a reading is false is asked only where none of these goes with all of them.
"""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from itertools import islice
from typing import Literal

import numpy as np

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.meter.circuit_fit import agreement_of
from lastvolt_service.operations.meter.fit_beyond import MOST_TOLD, OPEN_OHM, held, opened
from lastvolt_service.operations.meter.fit_ends import moved
from lastvolt_service.operations.meter.fit_faults import open_parts, stuck_fits
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_points import first_points
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_told import named
from lastvolt_service.operations.meter.fit_verdict import ALIKE, Verdict
from lastvolt_service.operations.meter.fit_worn import if_open, likeliest
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.operations.meter.proof_answer import Wired
from lastvolt_service.operations.meter.proof_both import Side
from lastvolt_service.operations.meter.proof_circuits import Built, ends_of, open_ends
from lastvolt_service.operations.meter.proof_moved import sizes
from lastvolt_service.operations.meter.proof_read import part_is_read
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.units import Interval, low_end

FaultCode = (
    Wired
    | Literal[
        "relay_stays_in",
        "fuse_open",
        "relay_stays_out",
        "coil_open",
        "load_takes_more",
        "load_takes_less",
        "part_open",
        "got_worse",
    ]
)
# Contacts that are tried: by the slopes, and by what is missed with them open.
MOST_FAULTS_TRIED, MOST_OPEN = 5, 2
# So many times what it is given to be a load is looked at first.
LOOKS_AT = (0.1, 10.0)
# Faults that miss the readings by no more than the likeliest, in squares of their uncertainty, are
# told in the order of `FIRST`: what misses them by two standard uncertainties more comes later.
NEARLY = 4.0
OF_A_LOAD: frozenset[FaultCode] = frozenset({"load_takes_more", "load_takes_less"})
OF_A_PART = frozenset({"resistance_ohm", "contact_resistance_ohm"})
# Of faults that are as likely by the readings the first is the one to look at first.
FIRST: tuple[FaultCode, ...] = (
    "relay_stays_in",
    "old_wire_left_on",
    "coil_swapped",
    "fed_from",
    "fuse_open",
    "relay_stays_out",
    "coil_open",
    "load_takes_more",
    "part_open",
    "got_worse",
    "load_takes_less",
)


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault that all readings after go with.

    Attributes
    ----------
    code, part : str
        What it is, and the relay or the part that it is about.
    built, side : Built, Side
        The circuit with it, and its fit.
    stuck : mapping of str to bool
        Relays that are in or out whatever their coils get.
    ohm, unit : Interval or None, str
        What the part would have, 19 times of 20, in ohms or, of a load, in its unit.
    most_ohm : float
        What it was given to have at the most.
    path : tuple or None
        Where that stands.
    """

    code: FaultCode
    part: str
    built: Built
    side: Side
    stuck: Mapping[str, bool] = field(default_factory=dict)
    ohm: Interval | None = None
    most_ohm: float = 0.0
    path: Path | None = None
    unit: str = "ohm"

    @property
    def missed(self) -> float:
        """What it misses, in squares of uncertainties."""
        return float(self.side.verdict.solved.fit.sum_of_squares)


def faults(
    described: Side, built: Built, wrong: Sequence[Built], new: AbstractSet[str]
) -> list[Fault]:
    """Find the faults that all readings go with, those as likely as the likeliest.

    What is `new` was worked on last, and is looked at before a load.
    """
    found = [*_relays(described, built), *_wired(described, wrong)]
    if not any(each.built.wired != "as_described" for each in found):
        found += _loads(described, built)
        found += islice(_beyond(described, built), MOST_TOLD)
    if not _is_certain(found, described):
        found += islice(_given_in_numbers(described, built), MOST_TOLD)
    least = min((each.missed for each in found), default=0.0)
    found = [each for each in found if each.missed <= least + ALIKE]
    of_load = min(FIRST.index(code) for code in OF_A_LOAD)

    def order(each: Fault) -> tuple[bool, float, float]:
        place = FIRST.index(each.code)
        first = of_load - 0.5 if each.part in new and place > of_load else place
        return each.missed > least + NEARLY, first, each.missed

    found.sort(key=order)
    first: dict[tuple[str, str | None], Fault] = {}
    for each in found:
        first.setdefault((each.part, each.built.node), each)
    return list(first.values())[:MOST_TOLD]


def _is_certain(found: Sequence[Fault], described: Side) -> bool:
    """Whether a fault is none of a part, or of one that was read by itself."""
    readings = described.readings
    return any(
        each.path is None
        or each.code == "fuse_open"
        or part_is_read(readings, each.built.circuit, each.part)
        for each in found
    )


def _side(described: Side, solved: Solved) -> Side:
    """A fit that all readings go with."""
    verdict = Verdict(solved, solved, (), fits=True)
    return Side(solved.problem.model, verdict, agreement_of(verdict), described.noise)


def _wired(described: Side, wrong: Sequence[Built]) -> Iterator[Fault]:
    """Circuits built wrong."""
    taken, cases = as_read(described.verdict.whole), described.model.cases
    for each in wrong:
        model = CircuitModel(each.circuit, cases, each.described)
        try:
            problem = Problem(model, taken)
            starts, _ = first_points(model, problem.cases)
            # The middle of any supply is far from each battery: the one found is nearer.
            near = moved(described.model, described.verdict.whole.point, model)
            solved = problem.solved_if_near([near, *starts])
        except CalculationError:
            continue
        if solved is not None and solved.check.agrees:
            yield Fault(each.wired, each.circuit.relays[-1].name, each, _side(described, solved))


def _relays(described: Side, built: Built) -> Iterator[Fault]:
    """Relays that do not open, or do not close, or that have an open coil."""
    taken = as_read(described.verdict.whole)
    is_closed = False
    for name, is_in, solved in stuck_fits(described.model, taken):
        is_closed = is_closed or not is_in
        code: FaultCode = "relay_stays_in" if is_in else "relay_stays_out"
        yield Fault(code, name, built, _side(described, solved), {name: is_in})
    if is_closed or not built.circuit.relays:
        return
    place = len(built.circuit.relays) - 1
    relay = built.circuit.relays[place]
    ohm = low_end(relay.coil_resistance_ohm)
    opened = changed(relay, coil_resistance_ohm=Interval(ohm, OPEN_OHM))
    circuit = changed(built.circuit, relays=[*built.circuit.relays[:place], opened])
    thought = {**built.described, ("circuit", "relays", place, "coil_resistance_ohm"): ohm}
    model = CircuitModel(circuit, described.model.cases, thought)
    for name, is_in, solved in stuck_fits(model, taken):
        if name == relay.name and not is_in:
            dead = replace(built, circuit=circuit, described=thought)
            yield Fault("coil_open", name, dead, _side(described, solved), {name: False})


def _loads(described: Side, built: Built) -> Iterator[Fault]:
    """Loads that take more, or less, than they were given to take."""
    taken, cases = as_read(described.verdict.whole), described.model.cases
    for size in sizes(built.circuit):
        middle = 0.5 * (size.given.low + size.given.high)
        model = CircuitModel(size.circuit, cases, {**built.described, size.path: middle})
        at = next((k for k, each in enumerate(model.unknowns) if each.path == size.path), None)
        if at is None:
            continue
        start = np.array([each.begin for each in model.unknowns])
        here = np.arange(len(start)) == at
        starts = [np.where(here, factor * middle, start) for factor in LOOKS_AT]
        try:
            solved = Problem(model, taken).solved_if_near(starts)
        except CalculationError:
            continue
        if solved is None or not solved.check.agrees:
            continue
        value, half = float(solved.point[at]), COVERAGE_FACTOR * float(solved.deviations[at])
        ends = Interval(max(value - half, 0.0), value + half)
        if ends.low < size.given.high and ends.high > size.given.low:
            continue
        is_more = (value < middle) == (size.unit == "ohm")
        code: FaultCode = "load_takes_more" if is_more else "load_takes_less"
        most = size.given.low if value < middle else size.given.high
        wider, side = replace(built, circuit=size.circuit), _side(described, solved)
        yield Fault(code, size.load, wider, side, {}, ends, most, size.path, size.unit)


def _beyond(described: Side, built: Built) -> Iterator[Fault]:
    """Parts that are open or have more than they were given to have, the first that go with all.

    Fuses are looked at before what else is new, and that before what was there.
    """
    model, whole = described.model, described.verdict.whole
    fuses = _fuses(built.circuit)

    def is_less_likely(place: int) -> tuple[bool, bool]:
        unknown = model.unknowns[place]
        return _part_at(built.circuit, unknown.path) not in fuses, unknown.described is None

    names = named(model.unknowns, built.circuit)
    places = [place for place in held(whole) if _is_of_a_part(model.unknowns[place].path)]
    for solved, told in opened(model, whole, names, sorted(places, key=is_less_likely)):
        path = next(each.path for each in model.unknowns if each.input == told.input)
        if told.estimate > told.given_high:
            ends = Interval(told.low, told.high)
            yield _worse(described, built, solved, path, ends, told.given_high)


def _given_in_numbers(described: Side, built: Built) -> Iterator[Fault]:
    """Contacts that were there, given as a number, and the ends of wires, that have more now."""
    model, whole = described.model, described.verdict.whole
    taken = as_read(whole)
    widened = dict(_widened(built.circuit))
    names = list(widened)
    likely = likeliest(model, whole, names)[:MOST_FAULTS_TRIED] if names else []
    likely += if_open(model, whole, names)[:MOST_OPEN] if names else []
    for name in dict.fromkeys(likely):
        wider, place, least = widened[name]
        path: Path = ("circuit", "branches", place, "resistance_ohm")
        thought = {**built.described, path: least}
        model = CircuitModel(wider, described.model.cases, thought)
        at = next(k for k, unknown in enumerate(model.unknowns) if unknown.path == path)
        start = np.array([unknown.begin for unknown in model.unknowns])
        far = np.where(np.arange(len(start)) == at, OPEN_OHM, start)
        try:
            solved = Problem(model, taken).solved_if_near([start, far])
        except CalculationError:
            continue
        if solved is None or not solved.check.agrees:
            continue
        value, half = float(solved.point[at]), COVERAGE_FACTOR * float(solved.deviations[at])
        ends = Interval(max(value - half, least), min(value + half, OPEN_OHM))
        yield _worse(described, replace(built, circuit=wider), solved, path, ends, least)


def _widened(circuit: Circuit) -> Iterator[tuple[str, tuple[Circuit, int, float]]]:
    """By name, the circuit with that part open, the place of its branch, what that had. [ohm]."""
    ends = {each.name for each in circuit.branches}
    for place, each in enumerate(circuit.branches):
        others = list(circuit.branches)
        if not isinstance(each, CircuitContact):
            first, second = each.nodes
            end = f"{each.name} [end]"
            if ends_of(each.name) in ends:  # new: left open already
                continue
            others[place] = changed(each, nodes=[first, end])
            others.append(open_ends(each, end, second, OPEN_OHM))
            yield each.name, (changed(circuit, branches=others), len(circuit.branches), 0.0)
        elif not isinstance(each.resistance_ohm, Interval):
            least = each.resistance_ohm
            others[place] = changed(each, resistance_ohm=Interval(least, OPEN_OHM))
            yield each.name, (changed(circuit, branches=others), place, least)


def _worse(
    described: Side, built: Built, solved: Solved, path: Path, ohm: Interval, most_ohm: float
) -> Fault:
    """A part that is open, or has got worse."""
    part = _part_at(built.circuit, path)
    code: FaultCode = "got_worse"
    if part in {each.part for each in open_parts(solved, is_told=False)}:
        code = "fuse_open" if part in _fuses(built.circuit) else "part_open"
    return Fault(code, part, built, _side(described, solved), {}, ohm, most_ohm, path)


def _fuses(circuit: Circuit) -> set[str]:
    return {
        each.name
        for each in circuit.branches
        if isinstance(each, CircuitContact) and each.part == "fuse"
    }


def _is_of_a_part(path: Path) -> bool:
    """Whether it is what a branch, or the contact of a relay, has in ohms."""
    return path[1] in {"branches", "relays"} and path[-1] in OF_A_PART


def _part_at(circuit: Circuit, path: Path) -> str:
    """Name of the part that a value is of; empty for others."""
    return str(getattr(circuit, str(path[1]))[int(path[2])].name) if _is_of_a_part(path) else ""


def as_read(solved: Solved) -> list[Taken]:
    """Readings, their leads as they were."""
    return [replace(each, turned=False) for each in solved.problem.taken]
