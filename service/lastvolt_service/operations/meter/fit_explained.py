"""Readings fitted to a circuit, and, where they contradict it, what would make them hold together.

What is opened for that is opened here, and nowhere else: numbers that are about that only, then
each bound that a value is held at, each part given as a number, and several parts at once.
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from functools import cached_property

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.meter.fit_about import about
from lastvolt_service.operations.meter.fit_battery import battery_beyond
from lastvolt_service.operations.meter.fit_beyond import Beyond, beyond
from lastvolt_service.operations.meter.fit_ends import FIELDS, Worse
from lastvolt_service.operations.meter.fit_faults import (
    Fault,
    Stuck,
    one_of,
    open_parts,
    stuck_fits,
    stuck_relays,
    worn_parts,
    worth,
)
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_several import Several, Together, several
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_told import digits, named, sentence
from lastvolt_service.operations.meter.fit_verdict import ALIKE, Verdict
from lastvolt_service.operations.meter.fit_worn import Worn, worn, worse_by
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.words.amounts import amount


@dataclass(frozen=True)
class Explained:
    """A fit, and what would explain its readings where they contradict each other.

    Attributes
    ----------
    asked : CircuitFitRequest
        The circuit as it was given, its load and its readings.
    model, verdict : CircuitModel, Verdict
        What was fitted, numbers that are about that only open where need be, and how.
    wider : list of (Solved, Beyond)
        Values beyond the bounds given of which one would, the likeliest first.
    poor : list of Worn
        Parts given as numbers of which one would.
    stuck : list of Stuck
        Relays of which one would, in or out whatever its coil gets.
    several : Several or None
        Several parts at once, where no single part, relay or reading would, but maybe a load.
    """

    asked: CircuitFitRequest
    model: CircuitModel
    verdict: Verdict
    wider: list[tuple[Solved, Beyond]] = field(default_factory=list)
    poor: list[Worn] = field(default_factory=list)
    stuck: list[Stuck] = field(default_factory=list)
    several: Several | None = None

    @cached_property
    def worse(self) -> list[Worn]:
        """Parts of which one would, given as numbers or by bounds that it is beyond."""
        found = [*self.poor, *worn_beyond(self.wider, self.asked)]
        most = min((each.missed for each in found), default=0.0) + ALIKE
        # Of the equal the first on the list is, whatever their last digits say.
        alike = [each for each in found if each.missed <= most]
        return sorted(alike, key=lambda each: digits(each.missed))

    @property
    def by_parts(self) -> list[Solved]:
        """Fits that all readings go with, if a part is at fault or a bound is wrong."""
        both = [] if self.several is None else [self.several.solved]
        return [*(each for each, _ in self.wider), *(each.solved for each in self.poor), *both]

    @property
    def of_parts(self) -> list[Solved]:
        """Those of them whose supply and loads are as they were given; the likeliest first."""
        others = [each for each, told in self.wider if told.input.split("/")[1] not in FIELDS]
        found = [each for each in self.by_parts if each not in others]
        return sorted(found, key=lambda each: float(each.fit.sum_of_squares))

    def of_these(self, parts: AbstractSet[str]) -> Solved | None:
        """Of the fits that are as likely as the likeliest one of these parts alone."""
        most = self.of_parts[0].fit.sum_of_squares + ALIKE if self.of_parts else 0.0
        return next(
            (
                each
                for each in self.of_parts
                if each.fit.sum_of_squares <= most and set(self.parts_of(each)) <= parts
            ),
            None,
        )

    @property
    def likeliest(self) -> Solved:
        """The best of them; without any the fit as it is."""
        return min(
            self.by_parts,
            key=lambda each: float(each.fit.sum_of_squares),
            default=self.verdict.solved,
        )

    def parts_of(self, solved: Solved) -> tuple[str, ...]:
        """Names of what is worse, or another, in one of these fits."""
        if self.several is not None and solved is self.several.solved:
            rows = [name for row in self.several.together for name in row.parts]
            return (*(each.part for each in self.several.alone), *rows)
        found = [each.part for each in self.poor if each.solved is solved]
        wider = [pair for pair in self.wider if pair[0] is solved]
        return (*found, *(_of_part(*pair)[1] or pair[1].name for pair in wider))

    @property
    def possible(self) -> list[Solved]:
        """Fits of which one is right, the likeliest first; none where nothing explains them."""
        if self.verdict.whole.check.agrees:
            return [self.verdict.whole]
        found = [*self.by_parts, *self.verdict.without]
        return sorted(found, key=lambda each: each is not self.likeliest)


def explained(asked: CircuitFitRequest, model: CircuitModel, taken: Sequence[Taken]) -> Explained:
    """Fit readings, and look for what would explain them.

    Raises
    ------
    CalculationError
        If there is no state of rest within the bounds, or what was read is not there.
    """
    model, verdict = about(model, taken)
    if verdict.whole.check.agrees:
        return Explained(asked, model, verdict)
    wider = beyond(model, verdict.whole, named(model.unknowns, model.circuit))
    poor = worn(model, verdict.whole)
    stuck = [*stuck_fits(model, taken)]
    if not (wider or poor or stuck) and _are_of_posts(model, verdict):
        wider = battery_beyond(model, verdict.whole)
    only_loads = all(told.input.split("/")[1] == "loads" for _, told in wider)
    # Two parts that are worn are likelier than a load that nobody's bounds thought of.
    is_one = bool((wider and not only_loads) or poor or stuck or verdict.contradicts)
    both = None if is_one else several(model, verdict.whole)
    return Explained(asked, model, verdict, wider, poor, stuck, both)


def _are_of_posts(model: CircuitModel, verdict: Verdict) -> bool:
    """Whether what contradicts the rest, if anything by itself does, is read at the battery."""
    posts = set(model.circuit.posts)
    readings = {each.index: each.reading for each in verdict.whole.problem.taken}
    return all({*readings[index].between} == posts for index in verdict.contradicts)


def worn_beyond(wider: Sequence[tuple[Solved, Beyond]], asked: CircuitFitRequest) -> Iterator[Worn]:
    """Contacts that have more than was given at most, as parts that are worn.

    Of one that surely drops no more than a sound one may the bound is wrong, and no part.
    """
    for solved, told in wider:
        place, part = _of_part(solved, told)
        if not part or told.estimate <= told.given_high:
            continue
        path = solved.problem.model.unknowns[place].path
        try:
            each = worse_by(solved, Worse(part, path, told.given_high), place)
        except CalculationError:
            continue
        if each is not None and each.least_v > 0.0 and worth(each, asked) != "takes_more":
            yield each


def _of_part(solved: Solved, told: Beyond) -> tuple[int, str]:
    """Place of a value beyond its bounds, and the part whose ohms it is; empty for others."""
    model = solved.problem.model
    place = next(k for k, each in enumerate(model.unknowns) if each.input == told.input)
    path = model.unknowns[place].path
    if len(path) != 4 or FIELDS.get(str(path[1])) != path[-1]:
        return place, ""
    return place, str(getattr(model.circuit, str(path[1]))[int(path[2])].name)


def several_parts(found: Several, asked: CircuitFitRequest) -> Iterator[Fault]:
    """Parts that are worse at once, if all readings are right, and rows of which some are.

    What takes most comes first.
    """
    model = found.solved.problem.model
    rows: list[Worn | Together] = [*found.alone, *found.together]
    for row in sorted(rows, key=lambda each: -each.more_v):
        if isinstance(row, Worn):
            yield from worn_parts([row], asked)
            continue
        case, names = model.cases[row.case].name, " or ".join(row.parts)
        more = amount(row.more_v, "V")
        told = sentence("some_are_worn", part=names, more=more, case=case)
        for name in row.parts:
            yield Fault(name, "worn_part", case, digits(row.more_v), told)


def parts_at_fault(found: Explained, *, is_told: bool) -> tuple[Fault, ...]:
    """Parts that are open or worn and relays that are stuck, of a fit or what would make it one."""
    verdict = found.verdict
    if is_told:
        return tuple(open_parts(verdict.solved, is_told=True))
    wider = [each for each, _ in found.wider]
    opened = {
        fault.part: fault for each in wider[::-1] for fault in open_parts(each, is_told=False)
    }
    whole = verdict.whole.problem
    read = {node for each in whole.taken for node in each.reading.between}
    circuit = whole.model.circuit
    read.difference_update((circuit.ground_node, *circuit.posts))
    relays = {each.name for each in circuit.relays if read.isdisjoint(each.coil_nodes)}
    worse = [each for each in found.worse if each.part not in opened]
    one = one_of([*reversed(opened.values()), *worn_parts(worse, found.asked)], relays)
    stuck = [*stuck_relays(whole.model, found.stuck)]
    several = [] if found.several is None else [*several_parts(found.several, found.asked)]
    return *one, *stuck, *several
